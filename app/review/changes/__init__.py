"""Changes of content: drafted, laid beside what is in force, decided, and read at a moment."""
