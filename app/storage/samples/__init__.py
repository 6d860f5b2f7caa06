"""Past findings drawn by chance, and what two people say of each."""
