"""Accounts, their sessions, tokens of machines, and tries to sign in."""
