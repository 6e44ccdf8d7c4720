"""The plot drawer: axes, curves, limits and fields as SVG in the style of the sketches, and the table beside them."""

from server.plots.draw import draw_plot
from server.plots.legend import draw_plot_legend
from server.plots.table import plot_json, plot_table

__all__ = ["draw_plot", "draw_plot_legend", "plot_json", "plot_table"]
