"""Signing in by the house's own sign-in: OpenID Connect, code flow with proof of possession."""
