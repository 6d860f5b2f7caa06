"""Two things in one lumen, for people: read from words, told in sentences, kept apart, missed."""
