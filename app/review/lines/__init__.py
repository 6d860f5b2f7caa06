"""A line plan asked for, found, checked and told."""
