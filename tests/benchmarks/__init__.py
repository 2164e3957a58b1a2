"""Measurements as ratios against something in the same run: ``python -m tests.benchmarks``. Nothing is asserted."""
