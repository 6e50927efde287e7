"""Cells and the declaration -> typed records, with a flag at every cell that could not be read."""
