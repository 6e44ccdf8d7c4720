"""The contour: a chain of lines and arcs in the half plane (z, r)."""
