"""The taper: two diameters, a length and a slope that can be written in many ways, or a standard one by its name."""
