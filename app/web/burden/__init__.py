"""Pages of how much is said, and how much of it is worth saying."""
