"""How an order runs, from words: rate, volume, length, times, and whether it runs at all."""
