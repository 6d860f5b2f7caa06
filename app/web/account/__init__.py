"""Signing in and out, one's own account, and what the administrator keeps of others."""
