"""A stretch of a contour: what there is to take beside it, and what of a planned pass is on it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from calc.contour import Chain, Line, Point, Vector
from calc.machining.job import Where
from calc.machining.passes import Piece
from calc.machining.removal.polygons import Area
from calc.machining.removal.region import ON_AXIS
from calc.machining.roughing.planning import Planned
from calc.tool.nose_path.distances import Distances

NO_FARTHER = 1e-6
"""mm: what touches no farther behind a stretch than this is still of it."""

FAR = 1e4
"""mm: farther than any stock reaches."""


@dataclass(frozen=True)
class Stretch:
    """The elements from `first` to `last` of a contour in cutting direction."""

    chain: Chain
    first: int
    last: int
    where: Where

    @property
    def is_whole(self) -> bool:
        """Whether it is all of the contour."""
        return self.first == 0 and self.last == len(self.chain) - 1

    @property
    def ends_on_the_axis(self) -> bool:
        """Whether it closes the outside at its far end: the bar that stands behind is not its own to take."""
        return self.where == "outside" and self.chain.end.r <= ON_AXIS and self.last == len(self.chain) - 1

    @property
    def is_bounded(self) -> bool:
        """Whether only what is beside it is its own to take."""
        return not self.is_whole or self.ends_on_the_axis

    def beside(self) -> Area:
        """Where what is taken for it lies: outside of it, in its bore, before its face; in front of all if it is first.

        >>> from calc.contour import Line
        >>> corners = [Point(0.0, 6.0), Point(-3.0, 6.0), Point(-3.0, 9.0), Point(-8.0, 9.0)]
        >>> chain = Chain(tuple(Line(a, b) for a, b in zip(corners, corners[1:])))
        >>> Stretch(chain, 2, 2, "outside").beside().bounds
        (-8.0, 9.0, -3.0, 10000.0)
        """
        import shapely  # noqa: PLC0415 - loaded on first use

        z_min, z_max, r_min, r_max = Chain(self.chain.elements[self.first : self.last + 1]).bounds
        if self.where == "face":
            return shapely.box(-FAR, r_min, FAR, FAR if self.first == 0 else r_max)
        front = FAR if self.first == 0 else z_max
        return shapely.box(z_min, -1.0, front, r_max) if self.where == "bore" else shapely.box(z_min, r_min, front, FAR)

    def only(self, planned: Iterable[Planned]) -> Iterator[Planned]:
        """Of passes along the contour the pieces that are on the stretch; straight ones end where it ends."""
        if not self.is_bounded:
            yield from planned
            return
        near = Distances(self.chain.elements)
        for each in planned:
            pieces = self._on(near, each.pieces) if _follows(each) else self._trimmed(each.pieces)
            if pieces and _cuts_face(each) <= (self.first == 0):
                away = each.away if pieces[0] is each.pieces[0] else _away(each, pieces)
                yield replace(each, pieces=tuple(pieces), away=away)

    def _trimmed(self, pieces: Sequence[Piece]) -> Sequence[Piece]:
        """Straight pieces along Z no farther toward the chuck than the stretch, at whose end the nose stops.

        Up the wall that a pass would come to behind that end it does not go.
        """
        end, kept = self.chain.elements[self.last].end.z, list[Piece]()
        for piece in pieces:
            kept.append(_no_farther(piece, end))
            if kept[-1] is not piece:
                break
        return kept

    def _on(self, near: Distances, pieces: Sequence[Piece]) -> Sequence[Piece]:
        """From the first to the last piece that touches an element of the stretch."""
        on = [index for index, piece in enumerate(pieces) if self._touches(near, piece)]
        kept = list(pieces[on[0] : on[-1] + 1]) if on else []
        if kept and self.where == "outside":
            kept[-1] = _ending_at(kept[-1], self._far)
        return [piece for piece in kept if not self._is_behind(piece)]

    @cached_property
    def _far(self) -> float:
        """Where the stretch ends toward the chuck, z (mm)."""
        return Chain(self.chain.elements[self.first : self.last + 1]).bounds.z_min

    def _is_behind(self, piece: Piece) -> bool:
        """Whether a piece lies behind the stretch: down there an edge is led in the shadow of its end, into the bar."""
        contact = piece.contact
        if self.where != "outside" or isinstance(contact, Point):
            return False
        return max(contact.start.z, contact.end.z) <= self._far - NO_FARTHER

    def _touches(self, near: Distances, piece: Piece) -> bool:
        if isinstance(piece.contact, Point):
            return False
        middle = piece.contact.point_at(piece.contact.length / 2.0)
        _, index = near.nearest_with_index_at(np.array([complex(*middle)]))
        return self.first <= int(index[0]) <= self.last


def _ending_at(piece: Piece, far: float) -> Piece:
    """A straight piece up to where it touches the contour at a z (mm)."""
    contact = piece.contact
    if not isinstance(contact, Line) or contact.end.z >= far - NO_FARTHER or contact.start.z <= far:
        return piece
    return piece.between(0.0, (contact.start.z - far) / (contact.start.z - contact.end.z))


def _no_farther(piece: Piece, end: float) -> Piece:
    path, contact = piece.centre, piece.contact
    if path is None or isinstance(contact, Point) or path.end.z >= end or path.start.z <= end:
        return piece
    short = path.length * (path.start.z - end) / (path.start.z - path.end.z)
    return replace(piece, centre=path.between(0.0, short), contact=contact.between(0.0, short))


def _follows(planned: Planned) -> bool:
    """Whether a pass goes along the contour, not straight over a face or a level."""
    return planned.name.startswith(("finish", "along")) and not _cuts_face(planned)


def _cuts_face(planned: Planned) -> bool:
    return planned.name.startswith("finish face")


def _away(planned: Planned, pieces: Sequence[Piece]) -> Vector:
    """The direction away from the surface where the pieces begin: on the side on which it was where the pass did."""
    left = _left(planned.pieces[0])
    return _left(pieces[0]).times(1.0 if left.dot(planned.away) > 0.0 else -1.0)


def _left(piece: Piece) -> Vector:
    assert piece.centre is not None, "a pass that is led has a path"
    return piece.centre.tangent_at(0.0).left()
