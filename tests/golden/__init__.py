"""Answers worked by hand, held against the program's."""
