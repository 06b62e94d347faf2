"""Blocks, formats and the host that loads them."""
