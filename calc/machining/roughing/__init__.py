"""Roughing any contour: what the insert's edges let it reach, and the passes that take the rest off."""
