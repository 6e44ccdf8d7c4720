"""The tool: insert, holder, tool point, the nose's path along a contour."""
