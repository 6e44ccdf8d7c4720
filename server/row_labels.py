"""What the rows of a contour and their fields are called on a page."""

from __future__ import annotations

from collections.abc import Mapping

from calc.contour.text import RowKind
from calc.language.messages import say_text
from calc.language.quantities import View

TITLES: Mapping[RowKind, str] = {
    "start": "Start",
    "face": "Face",
    "cylinder": "Cylinder",
    "line": "Line",
    "arc": "Arc",
    "chamfer": "Chamfer",
    "radius": "Edge or fillet",
    "undercut": "Undercut",
    "relief": "Thread relief",
    "groove": "Groove",
    "thread": "Thread",
}
HINTS: Mapping[RowKind, str] = {
    "start": "",
    "face": "Z stays",
    "cylinder": "X stays",
    "line": "cone or slant",
    "arc": "",
    "chamfer": "1x45° or C1 along Z; 1 alone for equal legs",
    "radius": "a radius between two elements",
    "undercut": "DIN 509, before a shoulder",
    "relief": "DIN 76, before a shoulder",
    "groove": "in a cylinder, on toward the chuck; by its sizes or by name",
    "thread": "its cylinder, with chamfer and relief",
}
LABELS: Mapping[str, tuple[str, str]] = {
    "x": ("to X", ""),
    "z": ("to Z", ""),
    "dx": ("Step in X", "from the point before"),
    "dz": ("Step in Z", "from the point before"),
    "tp": ("Taper", "1:10, on diameter"),
    "ha": ("Half angle", "to the axis"),
    "at": ("Angle from +Z", "counter-clockwise"),
    "len": ("Length", ""),
    "r": ("Radius", ""),
    "cx": ("Centre X", ""),
    "cz": ("Centre Z", ""),
    "size": ("Size", ""),
    "named": ("Designation", ""),
    "undercut.named": ("Designation", "F 0.8x0.3; without a letter form F"),
    "relief.named": ("Designation", "A or B (short) outside, C or D inside; or the thread, M24x2-6g"),
    "cylinder.x": ("to X", "or with its thread or knurl: M24x2-6g, 42 DIN 82-RKE 1"),
    "groove.named": ("Designation", "DIN 471 or 472 for a retaining ring, O-ring 2.65; blank: by its sizes"),
    "w": ("Width", ""),
    "groove.x": ("Bottom X", ""),
    "dep": ("Depth", "or the bottom's X"),
    "groove.r": ("Radius in the bottom", ""),
    "br": ("Edges broken", "0.2x45° or R0.2"),
    "thread.named": ("Thread", "with its class: M24x2-6g, M30x1.5-6H in a bore"),
    "relief": ("Relief at its end, DIN 76", "A or B (short) outside, C or D inside; blank: none"),
    "thread.br": ("Chamfer at its start", "1.5x45°; blank: none"),
}
TOLD: Mapping[str, str] = {
    "x": "X", "z": "Z", "dx": "step X", "dz": "step Z", "tp": "taper", "ha": "half angle", "at": "angle",
    "len": "length", "r": "R", "cx": "centre X", "cz": "centre Z", "size": "", "named": "",
    "w": "width", "dep": "depth", "br": "edges", "relief": "relief", "thread.br": "chamfer",
}  # fmt: skip
FLAGS_TOLD: Mapping[str, str] = {
    "cw": "clockwise", "ccw": "counter-clockwise", "smooth": "joins smoothly", "down": "falls toward the axis",
    "outward": "away from the axis",
}  # fmt: skip
MAIN: Mapping[RowKind, tuple[str, ...]] = {
    "start": ("x", "z"),
    "face": ("x",),
    "cylinder": ("z", "dz", "x"),
    "line": ("x", "z", "ha"),
    "arc": ("r", "x", "z"),
    "chamfer": ("size",),
    "radius": ("size",),
    "undercut": ("named",),
    "relief": ("named",),
    "groove": ("w", "x", "dep", "named"),
    "thread": ("named", "z", "dz", "relief", "br"),
}


def label_of(kind: RowKind, name: str) -> tuple[str, str]:
    """The label and the hint of a row's field.

    >>> label_of("groove", "x"), label_of("line", "x")
    (('Bottom X', ''), ('to X', ''))
    """
    return LABELS.get(f"{kind}.{name}") or LABELS[name]


def as_z_points(label: str, view: View) -> str:
    """A label in the reader's words; angles stay as the sketch shows them, so where +Z points in they are from -Z.

    >>> as_z_points("Angle from +Z", View()), as_z_points("Angle from +Z", View(zplus="in"))
    ('Angle from +Z', 'Angle from -Z')
    """
    plus, minus = say_text("Angle from +Z", view), say_text("Angle from -Z", view)
    return minus if view.zplus == "in" and label == plus else label
