"""The trade's maths: pure functions on plain floats, in the units their docstrings name."""
