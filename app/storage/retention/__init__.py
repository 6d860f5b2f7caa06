"""What is kept no longer: patients gone, past requests, old sessions. Content and acts never."""
