"""The trade's maths: pure functions on plain numbers, in the units their docstrings name.

Densities and ratios take gauges and weight classes instead, and give their uncertainty besides.
"""
