"""Pictures: pure geometry, and the words that go with it."""
