"""The round nose on any contour: the path of its centre and of the tool point, and what it cannot reach."""

from calc.tool.nose_path.path import NosePath, Step, nose_path
from calc.tool.nose_path.saying import corner_of, left_in_corner, left_in_corners, span_of
from calc.tool.nose_path.unreached import Gouge, Spot, Unreached

__all__ = [
    "Gouge",
    "NosePath",
    "Spot",
    "Step",
    "Unreached",
    "corner_of",
    "left_in_corner",
    "left_in_corners",
    "nose_path",
    "span_of",
]
