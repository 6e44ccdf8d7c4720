"""Insert designations: ISO 1832 and the inch form of ANSI B212.4, read position by position."""

from calc.tool.insert.model import NOSE_AS, Form, Insert, NoseAs, Position
from calc.tool.insert.outline import insert_core, insert_outline
from calc.tool.insert.reading import nose_of, read_insert

__all__ = ["NOSE_AS", "Form", "Insert", "NoseAs", "Position", "insert_core", "insert_outline", "nose_of", "read_insert"]
