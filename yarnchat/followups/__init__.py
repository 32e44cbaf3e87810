"""A question read against the last one: what it changes, and what is kept from before."""
