"""The calculation package: pure functions over mm, min, N, rad, radius and ISO 841 signs."""
