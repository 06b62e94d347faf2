"""Marks, pieces, promises and proof."""
