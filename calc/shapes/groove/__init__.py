"""A groove: in the outside, in a bore, or in a face."""
