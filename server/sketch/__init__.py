"""The one drawer: turns what calc says should be seen into SVG, as a print would show it."""

from server.sketch.details import detail_count, draw_details
from server.sketch.draw import draw
from server.sketch.legend import draw_legend
from server.sketch.pictures import draw_pictures

__all__ = ["detail_count", "draw", "draw_details", "draw_legend", "draw_pictures"]
