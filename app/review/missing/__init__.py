"""Values that are missing, stale or in doubt, and what they could change."""
