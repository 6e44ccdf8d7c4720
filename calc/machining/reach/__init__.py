"""Does a tool reach: edges, flank, body and holder of an insert against every element of a contour."""
