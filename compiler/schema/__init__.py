"""The declaration of every sheet and column."""
