"""Pages -> PDF bytes."""
