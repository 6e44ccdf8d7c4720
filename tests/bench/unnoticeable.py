"""Changes of the code that no test can notice, since no answer differs: each with its reason.

A change is named by a part of the line as it is, and as it would be. It is not counted among those that the tests have
to notice. Whoever changes such a line takes it out of here: the list knows words, not places.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

TOLERANCES = (
    "BESIDE", "GAP", "GRAZED", "JOINED", "LEAST_RUN_IN", "LEVEL", "MISSED", "NEAR", "NEARBY", "ON_AXIS", "ON_FACE",
    "ROUNDING", "SHALLOW", "SHORT", "SLIVER", "SMOOTH", "THINNEST", "TIED", "TINY", "TOUCH", "TOUCHED", "WORTH",
)  # fmt: skip
"""Below them a size is rounding or nothing: nobody meets just so much, so `<` and `<=` are one there."""

_LIMIT = re.compile(rf"([<>])=?(?= -?(?:1\.0 [-+] )?(?:{'|'.join(TOLERANCES)})\b)")
_FROM = re.compile(rf"\b((?:{'|'.join(TOLERANCES)}) [<>])=?")

ALIKE: Mapping[tuple[str, str], str] = {
    ('side == "left"', 'side <= "left"'): "the other word is right, which comes behind it",
    ('move.kind == "rapid"', 'move.kind >= "rapid"'): "the other word is feed, which comes before it",
    ('move.kind == "feed"', 'move.kind <= "feed"'): "the other word is rapid, which comes behind it",
    ("0.5j * angle", "(1+0.5j) * angle"): "the direction alone counts, not the length",
    ("len(stock.slabs) == 1", "len(stock.slabs) <= 1"): "there is a slab in every stock",
    ("z_high > chain.bounds.z_max", "z_high >= chain.bounds.z_max"): "a box without a width adds nothing",
    ("z_high > chain.bounds.z_max", "z_high != chain.bounds.z_max"): "before the stock's face there is none to take",
    ("(len(rim) - 1) // 3", "(len(rim) * 1) // 3"): "where a fan is cut is of no account below half a turn",
    (
        "< -TINY * abs(b - a)",
        "< +TINY * abs(b - a)",
    ): "an arc is cut where it runs along an edge: none is as good as so",
    ("real < least[0]", "real <= least[0]"): "a point of the rim that is as far ahead is the same place",
    ("- s > near", "- s >= near"): "a place that is cut off at just so much is rounding",
    ("if at_a >= at_b:", "if at_a > at_b:"): "of two places as high the top lies between",
    ("np.arange(1, steps)", "np.arange( 2, steps)"): "how the tool's side is closed far out is of no account",
    ("FAR * (reach", "FAR + (reach"): "how the tool's side is closed far out is of no account",
    ('move.why == "cut" or', 'move.why >= "cut" or'): "to ask first whether they meet is quicker, no more",
    ('move.why == "cut" or', 'move.why < "cut" or'): "to ask first whether they meet is quicker, no more",
    ("== 1 and areas[0]", "== 1 and areas[ -1]"): "of one area the first is the last",
    ("if cut < angle)", "if cut <= angle)"): "a corner that comes to lead where the arc ends leads nowhere",
    ("strict=True", "strict=False"): "both are of one length",
    ("[:, None] + square", "[:, None] - square"): "the square lies about its middle",
    ("self.distances)[0][0])", "self.distances)[0][ -1])"): "of one place the first is the last",
    ("chain.bounds.z_max) / 2.0, 0.0)", "chain.bounds.z_max) * 2.0, 0.0)"): "how it is closed far out is of no account",
    ("< -TINY * abs(b - a)", "< -TINY + abs(b - a)"): "what an edge that trails passes over is passed over as well",
    (
        "np.zeros(0, dtype=complex)",
        "np.zeros( 1, dtype=complex)",
    ): "parts on both sides of a cut too many are joined again",
    ('turn == "ccw"', 'turn <= "ccw"'): "the other word is cw, which comes behind it",
    ("around[0, 0]", "around[ -1, 0]"): "of one box the first is the last",
    ("- start >= element.length", "- start > element.length"): "an element from its start to its end is the same",
    ("start[first[0][0]]", "start[first[ -1][0]]"): "of one run the first is the last",
    ("if start <= 0.0 and", "if start == 0.0 and"): "it is never below 0",
    ("NEIGHBOURS = 256", "NEIGHBOURS = 255"): "how many places are looked at together is of no account",
    ('axis == "z"', 'axis >= "z"'): "the other word is x, which comes before it",
    ('where == "bore"', 'where <= "bore"'): "the other words are face and outside, which come behind it",
    ("end, -1.0)", "end, - 0.0)"): "in larger boxes nothing more is met",
    ("if index < len(bridges)", "if index != len(bridges)"): "there is no index behind the length",
    ("GROWN = 8.0", "GROWN = 7.0"): "in larger boxes nothing more is met",
    ("GROWN = 8.0", "GROWN = 9.0"): "in larger boxes nothing more is met",
    ("GROWN * line", "GROWN + line"): "in larger boxes nothing more is met",
    ("reach + nose)))", "reach * nose)))"): "how far a contour is led on is of no account",
    ('axis == "x"', 'axis <= "x"'): "the other word is z, which comes behind it",
    ("(-1.0, -1.0, 1.0, 1.0)", "(-1.0, - 2.0, 1.0, 1.0)"): "how far out it is closed is of no account",
    ("(start <= boxes[:, high])", "(start < boxes[:, high])"): "boxes are grown: nobody stands on their rims",
    ("along + step)", "along - step)"): "both sides are looked at",
    ("/ 2.0).r >= 0.0]", "/ 2.0).r > 0.0]"): "no nose's centre goes along the axis",
    ("+ 0.5)), 1.0", "+ 0.5)), 2.0"): "the first step is made whatever stands there",
    ("NARROWED = 45", "NARROWED = 46"): "so many steps narrow it down to a millionth of a micrometre as well",
    ("NARROWED = 45", "NARROWED = 44"): "so many steps narrow it down to a millionth of a micrometre as well",
    (").element(0)", ").element( -1)"): "of one the first is the last",
    ("if index + 1 < len", "if index + 1 != len"): "there is no index behind the length",
    ("<= AT_ONCE", "!= AT_ONCE"): "how many areas are united at once is of no account",
    ("<= AT_ONCE", "< AT_ONCE"): "how many places are looked at together is of no account",
    ("if len(centres) == 2", "if len(centres) >= 2"): "there are never more than two",
    (
        "between = self.spots[first : last + 1]",
        "between = self.spots[first : last ** 1]",
    ): "a pair ends at its last point",
    ("shares[0] <= shares[1]", "shares[0] != shares[1]"): "along which axis boxes are sorted is of no account",
    ("r_from < r_to", "r_from <= r_to"): "there is nothing between a limit and itself",
    ("steps = 64", "steps = 63"): "how it is closed far out is of no account",
    ("box(bottom, 0.0, self.face", "box(bottom, -1.0, self.face"): "beyond the axis there is no bar",
    ("if len(self.slabs) > 1", "if len(self.slabs) > 0"): "one slab united is that slab",
    ("<= r <= max(", "<= r < max("): "a cut at an end is none",
    ("(low, high) == (0.0, 1.0)", "(low, high) == (0.0, 0.0)"): "a shorter way to the same",
    ("(low, high) == (0.0, 1.0)", "(low, high) == (0.0, 2.0)"): "a shorter way to the same",
    ("(reach + nose) for sign", "(reach - nose) for sign"): "how far out it is closed is of no account",
    ("if lift <= 0.0", "if lift == 0.0"): "it is never below 0",
    ("direction.r > 0.0 and", "direction.r >= 0.0 and"): "a level along X goes in or out",
    ("made: int = 0", "made: int = 1"): "a plan says how many passes it has before",
    ("made: int = 0", "made: int = -1"): "a plan says how many passes it has before",
    ("(low, high) == (0.0, 1.0)", "(low, high) == ( -1.0, 1.0)"): "a shorter way to the same",
    ("if count == 1:", "if count <= 1:"): "there is always one",
    ("contact.length / 2)", "contact.length / 3)"): "all of it lies on one side: any place inside will do",
    ("4.0 * reach)", "5.0 * reach)"): "how far out it is closed is of no account",
    ("if end == 0", "if end <= 0"): "the ends are 0 and 1",
    ('move.why != "cut" and', 'move.why < "cut" and'): "to ask first whether they are far off is quicker, no more",
    ('move.why != "cut" and', 'move.why > "cut" and'): "to ask first whether they are far off is quicker, no more",
    ("if depth > (worst", "if depth >= (worst"): "nobody meets just so much",
    ("depth + BEYOND, 0.0,", "depth + BEYOND, -1.0,"): "neither is as much as counts",
    ("< -TINY * abs(b - a)", "!= -TINY * abs(b - a)"): "what an edge that trails passes over is passed over as well",
    ("in range(4):", "in range( 5):"): "four rounds end at less than a millionth of an edge",
    ('part.geom_type == "Polygon"', 'part.geom_type >= "Polygon"'): "no other kind's word comes behind it",
    ("if 0 < len(every)", "if 1 < len(every)"): "one alone united is that one",
    ("path[-1] - path[0]", "path[- 2] - path[0]"): "no edge comes to lead within a part: any chord of it will do",
    ("path[-1] - path[0]", "path[+1] - path[0]"): "no edge comes to lead within a part: any chord of it will do",
    ("z_high + 1.0, r_high", "z_high / 1.0, r_high"): "beyond the stock's face there is none",
    ("corners: int = 0", "corners: int = 1"): "every area has more corners than that",
    ("cut < angle - TINY", "cut <= angle - TINY"): "nobody meets just so much",
    ("len(self.corners) < 3", "len(self.corners) < 2"): "a core has one corner, or three and more",
    ("start.tangent_at(0.0), chain.start),", "start.tangent_at( -1.0), chain.start),"): (
        "whether it begins elsewhere is asked, not which way it goes there"
    ),
    ("2 * DENSE + 1)", "2 * DENSE + 0)"): "how many places are looked at about the worst is of no account",
    ("z_high + 1.0, r_high", "z_high ** 1.0, r_high"): "beyond the stock's face there is none",
    ("chain.bounds.z_max) / 2.0, 0.0)", "chain.bounds.z_max) / 3.0, 0.0)"): "how it is closed far out is of no account",
    ("FAR = 4.0", "FAR = 3.0"): "how far out it is closed is of no account",
    ("FAR = 4.0", "FAR = 5.0"): "how far out it is closed is of no account",
    ("FEW = 48", "FEW = 47"): "in how many slabs a stock lies is of no account",
    ("FEW = 48", "FEW = 49"): "in how many slabs a stock lies is of no account",
    ("for place in places), default=0.0)", "for place in places), default= 1.0)"): "of no places none is the first",
    ("if radius > fine", "if radius >= fine"): "at just so much both say half a turn",
    ("else self.slabs[0]", "else self.slabs[ -1]"): "of one slab the first is the last",
    ("cmath.exp(0.5j * angle)", "cmath.exp( (-1+0.5j) * angle)"): "the direction alone counts, not the length",
    ("in range(4) if TINY", "in range( 5) if TINY"): "no turn passes an axis five times",
    ("between(0.0, cuts[-2])", "between( -1.0, cuts[-2])"): "what is met before and after is met between as well",
    ("index == last.of", "index >= last.of"): "the last of a section has no element behind it there",
    ("self._nearest(places[:1])[0][0]", "self._nearest(places[: 2])[0][0]"): "the first is the first of two as well",
    ("centres[0] if joined", "centres[ 1] if joined"): "joined places are one but for rounding",
    ("first[0][-1]]", "first[ -1][-1]]"): "the first run is one alone",
    ("GROWN * line.tolerance", "GROWN / line.tolerance"): "to look at more boxes is slower, no more",
    ('speed_at == "contact"', 'speed_at <= "contact"'): "the other word is point, which comes behind it",
    ("number == len(steps)", "number >= len(steps)"): "they are counted to their end",
    ("_led_on(outward, ahead, spot, side, 1.0)", "_led_on(outward, ahead, spot, side, 2.0)"): (
        "whether it begins elsewhere is asked, not how far"
    ),
    ("(s >= -near) &", "(s > -near) &"): "nobody meets just so much",
    ("> ROUNDING / 64", "> ROUNDING / 65"): "nobody meets just so much",
    ("self.centre + self.radius * quarter", "self.centre - self.radius * quarter"): "all four quarters are looked at",
    ('kind.role == "z"', 'kind.role >= "z"'): "the other words are x and none, which come before it",
    ("<= 1e-14 * guess", "< 1e-14 * guess"): "nobody meets just so much",
    ('arc.turn == "cw"', 'arc.turn >= "cw"'): "the other word is ccw, which comes before it",
    ('move.why == "cut" or', 'move.why <= "cut" or'): "to ask first whether they meet is quicker, no more",
    ("if count < 2 or", "if count < 1 or"): "an area in one slab is that area",
    ("<= AT_ONCE", "> AT_ONCE"): "how many areas are united at once is of no account",
    ("depth, -1.0).argmax", "depth, - 0.0).argmax"): "of places that are off by nothing any will do",
    ("int(of[0])].nearest", "int(of[ -1])].nearest"): "of one the first is the last",
    ("corners: int = 0", "corners: int = -1"): "every area has more corners than that",
    ("given.lower) < LEAST and", "given.lower) <= LEAST and"): "nobody meets just so much",
}
"""Parts of lines, as they are and as they would be, in any module."""


def is_unnoticeable(was: str, now: str) -> bool:
    """Whether a change of a line changes no answer."""
    if was.startswith("def ") and was.replace(", *, ", ", /, ") == now:  # a sign of the signature is no product
        return True
    if was != now and any(each.sub(r"\1", was) == each.sub(r"\1", now) for each in (_LIMIT, _FROM)):
        return True
    return any(before in was and was.replace(before, after) == now for before, after in ALIKE)
