"""The one drawer: turns what calc says should be seen into SVG, as a print would show it."""

from server.sketch.details import draw_details
from server.sketch.draw import draw

__all__ = ["draw", "draw_details"]
