"""Records and one client -> a plan with every load and its origin."""
