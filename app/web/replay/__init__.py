"""Pages of replays: a change tried on past orders."""
