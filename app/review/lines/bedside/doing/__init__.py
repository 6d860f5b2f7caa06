"""What is done at a patient's lumens: when, in which order, and with which flush."""
