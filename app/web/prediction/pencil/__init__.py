"""What is worked by hand for a bag, and why the curve differs, subject by subject."""
