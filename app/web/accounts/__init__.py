"""What the administrator keeps: accounts of others, and tokens of machines."""
