"""Pages on the trail of acts and on the hazard log."""
