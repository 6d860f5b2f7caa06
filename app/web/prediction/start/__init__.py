"""What each line of a prediction begins with, and what has nothing to begin with."""
