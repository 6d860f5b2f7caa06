"""The line plan of one patient of the unit: from what runs to lumens over the shift."""
