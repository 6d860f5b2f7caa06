"""What people tell of lumens."""
