"""The corner between two straight lines: rounded or with a chamfer, at any angle."""
