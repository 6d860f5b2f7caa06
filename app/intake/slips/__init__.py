"""Slips of the pen: the word meant, where only one is near."""
