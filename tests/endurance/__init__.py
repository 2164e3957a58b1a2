"""Trials of what must not happen: nothing lost, nothing let in, nothing other elsewhere; short in CI, long by hand."""
