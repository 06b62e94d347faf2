"""Codes and values in, text out: the only package that makes sentences of results."""
