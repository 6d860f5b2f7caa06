"""What people signed about pairs."""
