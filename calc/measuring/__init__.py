"""What measuring gives: arcs from points, spherometer, the first part, limits through, and the helps of the bench."""
