"""Where fluids are to be had."""
