"""What is really removed: the stock as an area of the half plane, the tool's true outline swept along its passes."""
