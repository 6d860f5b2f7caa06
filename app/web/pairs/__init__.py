"""What may share a lumen: the page, its signed notes, and the pairs nobody has told us of."""
