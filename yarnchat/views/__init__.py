"""The views: one Answer as text, and a report of answers as text, Markdown, CSV, JSON or a page."""
