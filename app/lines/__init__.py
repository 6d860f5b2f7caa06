"""Which lumen, and when: a plan that is proven, what clashes where there is none, and ways out."""
