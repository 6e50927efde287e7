"""Findings as values, their catalogue, and the ways they are shown."""
