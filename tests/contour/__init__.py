"""The contour core, held against high precision, general geometry libraries and handbook values."""
