"""What a change would have said of past orders: counted before anybody approves it."""
