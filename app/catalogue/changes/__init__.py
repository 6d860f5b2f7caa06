"""What the unit itself changes in fluids, limits and rules: drafted, approved, dated, kept."""
