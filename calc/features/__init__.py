"""Features: print dimensions in, a contour and its points out."""
