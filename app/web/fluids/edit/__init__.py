"""A fluid's entry written in a form, and a label held against it."""
