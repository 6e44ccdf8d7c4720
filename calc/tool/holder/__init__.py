"""Holder and boring bar designations: ISO 5608, ISO 6261 and the inch form of ANSI B212.5."""

from calc.tool.holder.fit import misfits
from calc.tool.holder.model import Hand, Holder
from calc.tool.holder.reading import read_holder
from calc.tool.holder.tables import Style, styles, usual_offset

__all__ = ["Hand", "Holder", "Style", "misfits", "read_holder", "styles", "usual_offset"]
