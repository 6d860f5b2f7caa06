"""Pages on changes of content."""
