"""What is known of two things in one lumen."""
