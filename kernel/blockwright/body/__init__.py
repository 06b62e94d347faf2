"""Measurements, lengths and body sheets.  It knows no block and no curve."""
