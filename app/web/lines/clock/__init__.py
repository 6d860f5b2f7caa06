"""The plan by the clock: what to see to first, each step, and bags that run out."""
