"""Whole conversations held to what a knitter would expect of them."""
