"""Changes: pure functions from a pattern to a pattern, one verb a module; promises are carried."""
