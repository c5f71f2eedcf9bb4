"""Benchmarks: they report, they never assert."""
