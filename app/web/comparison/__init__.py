"""The compare page: what was asked, and what is answered."""
