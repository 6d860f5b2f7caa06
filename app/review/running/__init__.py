"""What else runs into a patient over the hours looked ahead, as loads for a prediction."""
