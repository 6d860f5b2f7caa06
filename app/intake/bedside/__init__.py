"""What a problem list says of operations and in figures."""
