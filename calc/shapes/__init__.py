"""Shapes of a print, each of which yields a contour."""
