"""What the trade publishes: weight classes, needles, yarn numbers, ribs; every value with its source."""
