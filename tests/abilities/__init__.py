"""What each ability answers, from a query."""
