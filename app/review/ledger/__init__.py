"""What everything by vein brings in 24 hours, source by source, against need."""
