"""The prediction held against published groups of people."""
