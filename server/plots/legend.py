"""What each line of a plot means, in words beside a piece of the line."""

from __future__ import annotations

from calc.answer.plotting import Plot
from calc.language.messages import Message, say_text
from calc.language.quantities import View
from server.plots.draw import STYLES
from server.plots.field import STYLES as LIMIT_STYLES
from server.sketch.legend import legend_item
from server.sketch.markup import path, words

_TINTED = "thin lines: {label}, {unit}; the stronger the tint, the more"


def draw_plot_legend(plot: Plot, view: View) -> str:
    """A list of the plot's lines, "" where one curve stands alone and needs no words."""
    items = [
        legend_item(path(f"k{index % STYLES + 1}", "M0 8H40"), curve.label) for index, curve in enumerate(plot.curves)
    ]
    if plot.field is not None:
        items = [
            legend_item(path(f"b{index % LIMIT_STYLES + 1}", "M0 8H40"), f"{index + 1} {bound.label.say(view)}")
            for index, bound in enumerate(plot.field.bounds)
        ]
        if items:
            items.append(f"<li>{words(say_text('hatched: not allowed', view))}</li>")
        unit = plot.field.kind.unit(view).label
        tinted = Message(_TINTED, {"label": plot.field.label, "unit": unit}).say(view)
        items.append(f"<li>{words(tinted)}</li>")
    elif len(items) < 2:
        return ""
    return f'<ul class="sketch-legend">{"".join(items)}</ul>'
