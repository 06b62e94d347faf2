"""Sleeves."""
