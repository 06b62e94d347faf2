"""Plane geometry; knows no garment word."""
