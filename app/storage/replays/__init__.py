"""Replays: what was asked for, how far it is, and what came out."""
