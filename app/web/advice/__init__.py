"""What a review says, as views that several pages share."""
