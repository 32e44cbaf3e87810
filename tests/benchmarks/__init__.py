"""Benchmarks, run by hand (``python -m tests.benchmarks``, or with the names of some); none is a test."""
