"""What drugs, blood and electrolytes come in."""
