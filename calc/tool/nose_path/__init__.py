"""The round nose on any contour: the way of its centre and of the tool point, and what it cannot reach."""

from calc.tool.nose_path.path import NosePath, Step, nose_path
from calc.tool.nose_path.unreached import Gouge, Spot, Unreached, fillet_left

__all__ = ["Gouge", "NosePath", "Spot", "Step", "Unreached", "fillet_left", "nose_path"]
