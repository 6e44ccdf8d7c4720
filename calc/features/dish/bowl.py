"""The sharp-edged dish: radius, depth and mouth diameter, any two of which fix the third."""

from __future__ import annotations

import math
from dataclasses import dataclass

from calc.contour import Point
from calc.features.dish import formulas
from calc.features.dish.sizes import FLATTEST, SMALLEST, require_sizes
from calc.fields import choice, given, part
from calc.messages import Message, Quantity, Value
from calc.problems import Contradiction, Fault, Impossible, Missing
from calc.quantities import ANGLE, DIAMETER, LENGTH, RADIUS, slack_of

KINDS = {"radius": RADIUS, "depth": LENGTH, "mouth_diameter": DIAMETER}
WORDS = {"radius": "the radius", "depth": "the depth", "mouth_diameter": "the mouth diameter"}


@dataclass(frozen=True, kw_only=True)
class EdgeInputs:
    """Where the dish ends (mm): its edge at the mouth, its hole at the centre."""

    break_kind: str = choice(
        "Edge at the mouth", {"none": "sharp", "chamfer": "chamfer", "radius": "edge radius"}, "none"
    )
    break_size: float | None = given(
        LENGTH,
        "Edge size",
        "e",
        hint="edge radius, or the chamfer's leg from the sharp corner",
        brief="size",
        above=0.0,
    )
    break_angle: float | None = given(
        ANGLE, "Chamfer angle", "β", hint="from the face; blank: equal legs", above=0.0, most=math.pi / 2
    )
    hole_diameter: float | None = given(DIAMETER, "Centre hole", "d", hint="blank: none", least=0.0)


@dataclass(frozen=True, kw_only=True)
class DishInputs:
    """What a print gives of a dish (mm): any two of radius, depth and mouth diameter; its edge; its hole."""

    radius: float | None = given(RADIUS, "Dish radius", "R", above=0.0)
    depth: float | None = given(LENGTH, "Depth", "h", hint="from the face to the deepest point of the arc", above=0.0)
    mouth_diameter: float | None = given(
        DIAMETER, "Mouth diameter", "D", hint="where the arc meets the face, without the edge", above=0.0
    )
    edge: EdgeInputs = part(EdgeInputs, "Edge and hole")


@dataclass(frozen=True, slots=True)
class Bowl:
    """The dish without its edge and hole (mm): `slope` is its angle to the face at the mouth, rad.

    `solved` names the input that the others determined ("" when all three were given and agree).
    """

    radius: float
    depth: float
    mouth_diameter: float
    centre: Point
    slope: float
    solved: str

    @property
    def corner(self) -> Point:
        """The sharp corner between face and dish."""
        return Point(0.0, self.mouth_diameter / 2)


def solve_bowl(inputs: DishInputs) -> Bowl:
    """The sharp-edged dish from any two of its dimensions, or from three that agree.

    Raises `Missing`, `Contradiction`, `Impossible`, or `OutOfRange` for a length that is as good as 0.

    >>> bowl = solve_bowl(DishInputs(radius=90.0, depth=4.5))
    >>> round(bowl.mouth_diameter, 5), bowl.solved
    (56.20498, 'mouth_diameter')
    """
    require_sizes(inputs)
    radius, depth, mouth, solved = _complete(inputs)
    _require_hollow(radius, depth, mouth)
    centre = Point(formulas.centre_height(radius, depth), 0.0)
    return Bowl(radius, depth, mouth, centre, formulas.mouth_slope(mouth, centre.z), solved)


def _complete(inputs: DishInputs) -> tuple[float, float, float, str]:
    known = {name: getattr(inputs, name) for name in KINDS if getattr(inputs, name) is not None}
    if len(known) < 2:
        raise Missing(*_missing(known))
    if len(known) == 3:
        return _checked(inputs.radius, inputs.depth, inputs.mouth_diameter)  # type: ignore[arg-type]
    blank = next(name for name in KINDS if name not in known)
    known[blank] = _solved_for(blank, known)
    return known["radius"], known["depth"], known["mouth_diameter"], blank


def _solved_for(blank: str, known: dict[str, float]) -> float:
    if blank == "mouth_diameter":
        _require_shallow(known["radius"], known["depth"])
        return formulas.mouth_from_radius_and_depth(known["radius"], known["depth"])
    if blank == "depth":
        _require_spanning(known["radius"], known["mouth_diameter"])
        formulas.depth_from_radius_and_mouth(known["radius"], known["mouth_diameter"])
        return _depth(known["radius"], known["mouth_diameter"])
    _require_open(known["depth"], known["mouth_diameter"])
    return formulas.radius_from_depth_and_mouth(known["depth"], known["mouth_diameter"])


def _depth(radius: float, mouth: float) -> float:
    """The depth that the shown formula gives, without the digits that its differences lose on a shallow dish."""
    half = mouth / 2
    return half**2 / (radius + math.sqrt((radius - half) * (radius + half)))


def _require_hollow(radius: float, depth: float, mouth: float) -> None:
    found = zip(KINDS, (radius, depth, mouth), strict=True)
    said = {name: Quantity(value, KINDS[name], brief=True) for name, value in found}
    if depth < SMALLEST:
        text = "A mouth of {mouth_diameter} on {radius} is as good as flat. Check which one is misread."
        raise Impossible(Fault("mouth_diameter", Message(text, said)))
    if radius > FLATTEST:
        text = "A depth of {depth} under a mouth of {mouth_diameter} is as good as flat. Check which one is misread."
        raise Impossible(Fault("depth", Message(text, said)))


def _missing(known: dict[str, float]) -> list[Fault]:
    blanks = [name for name in KINDS if name not in known]
    if len(blanks) == 3:
        return [Fault(name, Message("Give any two of radius, depth and mouth diameter.")) for name in blanks]
    have = WORDS[next(iter(known))]
    others = " or ".join(WORDS[name] for name in blanks)
    message = Message("With {have}, one more is needed: {others}.", {"have": have, "others": others})
    return [Fault(name, message) for name in blanks]


def _require_shallow(radius: float, depth: float) -> None:
    if depth > radius:
        values = {"depth": Quantity(depth, LENGTH, brief=True), "radius": Quantity(radius, RADIUS, brief=True)}
        text = "A dish cannot be deeper than its radius: {depth} is more than {radius}. Check which one is misread."
        raise Impossible(Fault("depth", Message(text, values)))


def _require_spanning(radius: float, mouth: float) -> None:
    if mouth > 2 * radius:
        values = {"mouth": Quantity(mouth, DIAMETER, brief=True), "widest": Quantity(2 * radius, DIAMETER)}
        text = "The mouth {mouth} is wider than the whole ball of this radius, {widest}."
        raise Impossible(Fault("mouth_diameter", Message(text, values)))


def _require_open(depth: float, mouth: float) -> None:
    if depth > mouth / 2:
        values = {"depth": Quantity(depth, LENGTH, brief=True), "half": Quantity(mouth / 2, LENGTH)}
        text = "A dish that is {depth} deep would close in above its widest place: at most half the mouth, {half}."
        raise Impossible(Fault("depth", Message(text, values)))


def _checked(radius: float, depth: float, mouth: float) -> tuple[float, float, float, str]:
    """All three given: the one that fits best within its own rounding follows the other two, or they disagree."""
    given_values = {"radius": radius, "depth": depth, "mouth_diameter": mouth}
    fits = []
    for name, value in given_values.items():
        found = _quietly_solved(name, given_values)
        if found is not None and abs(found - value) <= slack_of(value):
            fits.append((abs(found - value) / slack_of(value), name, found))
    if not fits:
        raise _disagreement(given_values)
    name, found = min(fits)[1:]
    given_values[name] = found
    return given_values["radius"], given_values["depth"], given_values["mouth_diameter"], ""


def _quietly_solved(name: str, values: dict[str, float]) -> float | None:
    """What the other two give for `name`, or None where they give none; no step of a working."""
    R, h, D = values["radius"], values["depth"], values["mouth_diameter"]
    if name == "mouth_diameter":
        return 2 * math.sqrt(h * (2 * R - h)) if h <= R else None
    if name == "depth":
        return _depth(R, D) if D <= 2 * R else None
    return (D**2 + 4 * h**2) / (8 * h) if h <= D / 2 else None


def _disagreement(values: dict[str, float]) -> Contradiction:
    said: dict[str, Value] = {name: Quantity(value, KINDS[name], brief=True) for name, value in values.items()}
    solved = {name: _quietly_solved(name, values) for name in KINDS}
    otherwise = {name: Quantity(value, KINDS[name]) for name, value in solved.items() if value is not None}
    mouth = otherwise.get("mouth_diameter")
    if mouth is None:
        text = "The three disagree: {depth} is deeper than {radius} allows. Leave out the one that is not on the print."
        return Contradiction(Fault("depth", Message(text, said)), fields=tuple(KINDS), otherwise=otherwise)
    text = (
        "{radius} and a depth of {depth} give a mouth of {found}; {mouth_diameter} differs from that by {gap}. "
        "Leave out the one that is not on the print."
    )
    gap = Quantity(abs(mouth.value - values["mouth_diameter"]), LENGTH)
    fault = Fault("mouth_diameter", Message(text, said | {"found": mouth, "gap": gap}))
    return Contradiction(fault, fields=tuple(KINDS), otherwise=otherwise)
