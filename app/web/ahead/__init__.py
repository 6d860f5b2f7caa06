"""What will it do? in short, beside an order, a comparison and a patient."""
