"""The drafting table: what a recipe works on, needs, promises and solves."""
