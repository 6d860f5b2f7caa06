"""Fluids as pages show them."""
