"""Readers: files back to pieces."""
