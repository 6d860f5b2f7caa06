"""What kidneys defend, and what they pass to defend it."""
