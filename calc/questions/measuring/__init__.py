"""The questions of measuring, one module each."""
