"""Bags counted, and plans kept for a shortage."""
