"""Measuring the pitch diameter of an outside thread over wires: with the helix, simply, and how wires may be chosen.

A wire lies in the groove like a cylinder, turned to the helix, and touches both flanks. ASME B1.2's formula takes the
flanks as flat, seen square to the helix. `contact_rest` adds what is left to the exact contact with the helicoid:
a tenth of a micrometre for fastening threads, several where the lead is large.
"""

from __future__ import annotations

from math import asin, atan, cos, pi, sin, sqrt, tan

from calc.language.quantities import Angle, Diameter, Length
from calc.language.working import formula

B1_2 = "ASME B1.2, lead angle included"
SIMPLE = "the wire between two flat flanks"
TURNS_OF_SOLVING = 60
CLOSE = 1e-12  # mm


@formula(source="wire touching the flanks at the pitch diameter", means="best wire", result="w_best")
def best_wire(P: Length, alpha: Angle) -> Length:
    """Diameter [mm] of the wire that touches at the pitch line of pitch `P` [mm], flanks at `alpha` [rad].

    Source: ASME B1.2.

    >>> from math import radians
    >>> round(best_wire(1.0, radians(30.0)), 5)
    0.57735
    """
    return P / (2 * cos(alpha))


@formula(source="wire level with the crests", means="smallest wire that works", result="w_min")
def smallest_wire(t: Length, alpha: Angle) -> Length:
    """Diameter [mm] of the wire that just stands out of a groove whose flanks meet `t` [mm] below the crests.

    Flanks at `alpha` [rad]. Source: geometry, as the least wire of handbooks (0.505 P at 60 degrees).

    >>> from math import radians
    >>> round(smallest_wire(0.875 * 0.8660254, radians(30.0)), 3)
    0.505
    """
    return 2 * t * sin(alpha) / (1 + sin(alpha))


@formula(source="wire touching the flanks at the crests", means="largest wire that works", result="w_max")
def largest_wire(t: Length, alpha: Angle) -> Length:
    """Diameter [mm] of the wire that touches the flanks at the crests, `t` [mm] above where they meet.

    Flanks at `alpha` [rad]. Source: geometry, as the largest wire of handbooks (1.010 P at 60 degrees).

    >>> from math import radians
    >>> round(largest_wire(0.875 * 0.8660254, radians(30.0)), 3)
    1.01
    """
    return 2 * t * sin(alpha) / cos(alpha) ** 2


@formula(source=SIMPLE, means="over three wires, without the helix", result="M_0")
def over_wires_simple(d_2: Diameter, w: Length, P: Length, alpha: Angle) -> Length:
    """Measure [mm] over wires `w` at pitch diameter `d_2`, pitch `P` [mm], flanks at `alpha` [rad], helix left out.

    Source: ASME B1.2.

    >>> from math import radians
    >>> round(over_wires_simple(18.376202, 1.4433757, 2.5, radians(30.0)), 4)
    20.5413
    """
    return d_2 + w * (1 + 1 / sin(alpha)) - P / 2 / tan(alpha)


@formula(source=B1_2, means="over three wires", result="M")
def over_wires_helix(d_2: Diameter, w: Length, P: Length, alpha: Angle, phi: Angle, c: Length) -> Length:
    """Measure [mm] over wires `w` at pitch diameter `d_2`, pitch `P` [mm], flanks at `alpha`, lead angle `phi` [rad].

    `c` [mm] is what the exact contact adds (`contact_rest`). Source: ASME B1.2.

    >>> from math import radians
    >>> round(over_wires_helix(18.376202, 1.4433757, 2.5, radians(30.0), 0.0432776, 0.0), 4)
    20.5433
    """
    return d_2 + w * (1 + sqrt(1 / sin(alpha) ** 2 + (tan(phi) / tan(alpha)) ** 2)) - P / 2 / tan(alpha) + c


@formula(source=B1_2, means="pitch diameter from the measure over wires", result="d_2")
def pitch_from_wires(M: Length, w: Length, P: Length, alpha: Angle, phi: Angle, c: Length) -> Diameter:
    """Pitch diameter [mm] that reads `M` over wires `w`, pitch `P` [mm], flanks at `alpha`, lead angle `phi` [rad].

    `c` [mm] is what the exact contact adds. Source: ASME B1.2.

    >>> from math import radians
    >>> round(pitch_from_wires(20.5433, 1.4433757, 2.5, radians(30.0), 0.0432776, 0.0), 4)
    18.3762
    """
    return M - w * (1 + sqrt(1 / sin(alpha) ** 2 + (tan(phi) / tan(alpha)) ** 2)) + P / 2 / tan(alpha) - c


@formula(source="one wire against the crest opposite", means="over one wire", result="M_1")
def over_one_wire(M: Length, d: Diameter) -> Length:
    """Measure [mm] over one wire and the crest opposite, the thread reading `M` over three, `d` [mm] over its crests.

    Source: symmetry.

    >>> over_one_wire(20.54, 19.86)
    20.2
    """
    return (M + d) / 2


@formula(source="one wire against the crest opposite", means="over three wires from the measure over one", result="M")
def three_from_one(M_1: Length, d: Diameter) -> Length:
    """Measure [mm] over three wires of a thread that reads `M_1` over one, `d` over its crests [mm]. Source: symmetry.

    >>> round(three_from_one(20.2, 19.86), 2)
    20.54
    """
    return 2 * M_1 - d


def exact_over_wires(d_2: float, w: float, P: float, alpha: float, lead: float) -> float:
    """Measure [mm] over wires `w` that touch the helicoid of pitch diameter `d_2`, pitch `P`, `lead` [mm] exactly.

    The flanks are straight in the plane of the axis, at `alpha` [rad] to the normal. By symmetry the wire turns about
    the line from the axis through its middle; it lies deepest when it is turned to the lead angle at its own radius.
    Raises ValueError where no wire of this size settles in the groove.

    >>> from math import radians
    >>> round(exact_over_wires(18.376202, 1.4433757, 2.5, radians(30.0), 2.5), 4)
    20.5432
    """
    p, t = lead / (2 * pi), tan(alpha)
    tip = d_2 / 2 - P / 4 / t
    centre, turn = tip + w / 2 / sin(alpha), 0.0
    for _ in range(TURNS_OF_SOLVING):
        tilt = atan(p / centre)
        slope = cos(turn) / (t * cos(tilt) - sin(turn) * sin(tilt))
        across = w / 2 * slope / sqrt(1 + slope**2)
        contact = tip + (across * cos(tilt) - p * turn) / t
        before, centre = centre, contact * cos(turn) + w / 2 / sqrt(1 + slope**2)
        turn = asin(max(-1.0, min(1.0, -across * sin(tilt) / contact)))
        if abs(centre - before) < CLOSE and contact > 0.0:
            return 2 * centre + w
    raise ValueError("the wire does not settle in this groove")


def contact_rest(d_2: float, w: float, P: float, alpha: float, lead: float) -> float:
    """What the exact contact adds [mm] to the formula of ASME B1.2; the arguments are those of `exact_over_wires`.

    >>> from math import radians
    >>> abs(contact_rest(18.376202, 1.4433757, 2.5, radians(30.0), 2.5)) < 1e-4
    True
    """
    phi = atan(lead / (pi * d_2))
    return exact_over_wires(d_2, w, P, alpha, lead) - over_wires_helix.function(d_2, w, P, alpha, phi, 0.0)
