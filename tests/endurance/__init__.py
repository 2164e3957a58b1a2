"""Trials of what must not happen: nothing lost, let in or different elsewhere; short in CI, long by hand."""
