"""What a bag brings, in words: potassium, acid and base, and what the vein bears."""
