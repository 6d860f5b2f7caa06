"""One patient's lines: the plan, what people tell of lumens, and labels."""
