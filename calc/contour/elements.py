"""What a contour is made of."""

from typing import TypeAlias

from calc.contour.arc import Arc
from calc.contour.line import Line

Element: TypeAlias = Line | Arc
