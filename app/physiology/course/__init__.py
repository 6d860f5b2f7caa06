"""The course of plasma over hours: volumes, ions, acid and base, while fluids run and are lost."""
