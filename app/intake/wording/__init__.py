"""A fluid's name before it is taken apart: shorthand, slips of the pen, what is not meant."""
