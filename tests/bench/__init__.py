"""Benchmarks, run by hand with `make bench`; no test depends on the clock."""
