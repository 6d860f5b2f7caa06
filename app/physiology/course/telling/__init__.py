"""What a course says beside its series: what is not to be drawn, and what is not modelled."""
