"""What the page "What will it do?" is made of."""
