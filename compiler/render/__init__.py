"""Pages and sheets -> bytes."""
