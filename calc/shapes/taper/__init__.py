"""The taper: two diameters, a length and a slope that is told in many ways, or a standard one by its name."""
