"""Other fluids for an order."""
