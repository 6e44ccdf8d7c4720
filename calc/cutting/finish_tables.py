"""Tables of the finish: every grade with the feed that reaches it, and Ra over feed and nose radius."""

from __future__ import annotations

from collections.abc import Iterator

from calc.contour.tolerance import ROUNDING
from calc.cutting.finish import FLAT, Surface
from calc.cutting.finish_formulas import feed_for_nose
from calc.cutting.roughness_grades import GRADES
from calc.cutting.scallop import Scallop, feed_for_ra, ra, widest_feed
from calc.language.fields import Declared, result, word
from calc.language.quantities import FEED, ROUGHNESS

FEEDS = (0.05, 0.08, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6)  # mm/rev
NOSES = (0.2, 0.4, 0.8, 1.2, 1.6, 2.4)  # mm, ISO 1832 nose radii 02, 04, 08, 12, 16, 24


class GradeRow(Declared):
    """A roughness grade in both systems, and the feed with which a nose reaches it."""

    grade: str = word("Grade")
    micrometres: str = word("Ra, µm")
    microinches: str = word("Ra, µin")
    feed: float | None = result(FEED, "Feed up to, by the finish alone")


class FeedRow(Declared):
    """Ra for one feed over the usual noses; None where the feed is more than half the nose."""

    feed: float = result(FEED, "Feed")
    nose_02: float | None = result(ROUGHNESS, "Nose 0.2 mm (.008 in)")
    nose_04: float | None = result(ROUGHNESS, "Nose 0.4 mm (1/64 in)")
    nose_08: float | None = result(ROUGHNESS, "Nose 0.8 mm (1/32 in)")
    nose_12: float | None = result(ROUGHNESS, "Nose 1.2 mm (3/64 in)")
    nose_16: float | None = result(ROUGHNESS, "Nose 1.6 mm (1/16 in)")
    nose_24: float | None = result(ROUGHNESS, "Nose 2.4 mm (3/32 in)")
    this: float | None = result(ROUGHNESS, "This nose")


def grades_for(nose_radius: float, surface: Surface = FLAT) -> Iterator[GradeRow]:
    """Every grade with the largest feed [mm/rev] that keeps it; None where half the nose [mm] is not enough.

    Source: ISO 1302:1992 for the grades; definition of Ra (ISO 21920-2), solved numerically.

    >>> rows = {row.grade: row for row in grades_for(0.8)}
    >>> rows["N7"].microinches, round(rows["N7"].feed, 4), rows["N12"].feed
    ('63', 0.1995, None)
    """
    shape = Scallop(nose_radius, surface.curvature)
    most = feed_for_nose.function(nose_radius)
    for grade, um, uin in GRADES:
        feed = feed_for_ra(shape, um / 1000)
        yield GradeRow(grade=grade, micrometres=f"{um:g}", microinches=f"{uin:g}", feed=feed if feed <= most else None)


def feeds_and_noses(nose_radius: float, surface: Surface = FLAT) -> Iterator[FeedRow]:
    """Ra [mm] of the usual feeds with the usual noses and with this one [mm]. Source: definition of Ra (ISO 21920-2).

    >>> row = next(row for row in feeds_and_noses(6.0) if row.feed == 0.2)
    >>> round(row.nose_08 * 1000, 4), row.nose_02
    (1.6088, None)
    """
    for feed in FEEDS:
        usual = [_ra(feed, nose, surface) for nose in NOSES]
        yield FeedRow(
            feed=feed,
            nose_02=usual[0],
            nose_04=usual[1],
            nose_08=usual[2],
            nose_12=usual[3],
            nose_16=usual[4],
            nose_24=usual[5],
            this=None if nose_radius in NOSES else _ra(feed, nose_radius, surface),
        )


def _ra(feed: float, nose: float, surface: Surface) -> float | None:
    if nose * surface.curvature >= 1.0 - ROUNDING or feed > feed_for_nose.function(nose) * (1 + ROUNDING):
        return None
    shape = Scallop(nose, surface.curvature)
    return ra(shape, feed) if feed <= widest_feed(shape) else None
