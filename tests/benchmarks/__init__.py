"""Checks of the benchmarks' own parts."""
