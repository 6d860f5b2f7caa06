"""What an order would do to this patient: a request read, reckoned and told. Nothing is kept."""
