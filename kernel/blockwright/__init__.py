"""Blockwright."""
