"""How results are written: names, figures as text, and figures that cannot both be right."""
