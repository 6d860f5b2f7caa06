"""What people changed of content, and when."""
