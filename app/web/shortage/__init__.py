"""The pages on a shortage."""
