"""The page at the oven."""
