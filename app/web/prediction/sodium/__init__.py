"""Sodium over a day: the limits that count in this person, and what is said of them."""
