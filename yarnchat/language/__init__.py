"""Text in, Query out: cleaning, scanning, repair, phrases, sides, accounting."""
