"""Changes: pure functions from a pattern to a pattern.  Each verb has a module."""
