"""A label as somebody typed or pasted it, held against the catalogue's entry."""
