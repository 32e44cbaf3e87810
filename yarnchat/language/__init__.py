"""Text in, Query out: cleaning, scanning, phrases, roles, repair."""
