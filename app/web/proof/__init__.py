"""What there is to check us by: receipts of findings, and how good the review is on cases."""
