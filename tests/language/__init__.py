"""What a text means: characters, phrases, accounts of every number, and texts nobody should have typed."""
