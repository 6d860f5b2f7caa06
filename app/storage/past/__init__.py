"""Past orders without their people: kept so that a change can be tried on them."""
