"""The undercuts that a print calls: what their sizes rest on, and whether the standard has them for their diameter."""

from __future__ import annotations

from collections.abc import Iterator

from calc.contour.text import ContourGiven
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.quantities import DIAMETER
from calc.questions.part.choosing import is_level
from calc.questions.part.job import Print
from calc.shapes.shoulder.standards import Undercut, sizes_of
from calc.threads.on_print import undercut_named

LOADS = ("usual", "alternating")


def undercut_notes(*prints: ContourGiven | None) -> Iterator[Message]:
    """What the undercuts of DIN 509 rest on, once for all of a part's contours."""
    called = (corner for given in prints if given is not None for corner in given.breaks.values())
    if any(each.undercut is not None and each.undercut.words.startswith("DIN 509") for each in called):
        yield Message("Undercuts have the sizes of DIN 509:1998; their run-outs, 15° and 8°, are from memory.")


def undercut_cautions(given: ContourGiven | None, print_: Print | None) -> Iterator[Caution]:
    """A caution for each undercut of DIN 509 whose size the standard means for other diameters than its own."""
    if given is None or print_ is None:
        return
    for row, element in enumerate(given.elements, 1):
        undercut = None if element.corner is None else element.corner.undercut
        if undercut is None or not undercut.words.startswith("DIN 509"):
            continue
        form, size = undercut_named(undercut.words)
        d = _diameter_at(print_, row)
        if d is not None and not _is_for(size, d):
            yield _other_size(f"{form} {size.size}", form, d, given.corners[row - 1] or given.prefix)


def _is_for(size: Undercut, d: float) -> bool:
    return any(size.fits(d, load) for load in LOADS)


def _other_size(named: str, form: str, d: float, field: str) -> Caution:
    fitting = [each.size for each in sizes_of(form) if _is_for(each, d)]
    values: dict[str, Value] = {"named": named, "d": Quantity(d, DIAMETER, brief=True), "sizes": ", ".join(fitting)}
    text = "The undercut {named} is not for {d} in DIN 509, which has {sizes} there: check the print."
    if not fitting:
        text = "The undercut {named} is not for {d} in DIN 509, which has none of this form there: check the print."
    return Caution(Message(text, values), 1, field)


def _diameter_at(print_: Print, row: int) -> float | None:
    """The diameter (mm) of the cylinder beside the corner at the end of a row; None where the row has none."""
    for index in (row, row + 1):
        of = [each for each, number in zip(print_.chain, print_.numbers, strict=True) if number == index]
        level = [each for each in of if is_level(each)]
        if level:
            return 2.0 * max(each.start.r for each in level)
    return None
