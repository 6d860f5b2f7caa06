"""One order in people's words, and the reasons written for it."""
