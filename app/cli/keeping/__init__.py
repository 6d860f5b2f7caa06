"""Commands for those who keep the database: its trail of acts, and what is kept no longer."""
