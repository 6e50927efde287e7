"""Booklet value -> pages as values."""
