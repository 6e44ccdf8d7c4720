"""The dish: a concave arc in a face, centred on the axis."""
