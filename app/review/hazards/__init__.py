"""The hazard log: what may go wrong with this program, and what stands against it."""
