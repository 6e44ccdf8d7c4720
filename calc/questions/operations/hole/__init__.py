"""A hole on the axis, tool by tool: what is asked, how it is drilled and finished, how it is drawn."""
