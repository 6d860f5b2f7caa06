"""What moves within the body: water, potassium and base of cells, plasma's water, what is burnt."""
