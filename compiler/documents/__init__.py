"""Plans -> booklets and sheets as values."""
