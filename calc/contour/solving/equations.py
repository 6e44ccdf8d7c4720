"""Which equations a contour gives, and which values are known from the start."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from calc.contour.solving.unknowns import Equation, Fact, Link, Part, Piece, Unknowns, Values, unit_at
from calc.contour.tolerance import ROUNDING


class Equations:
    """The equations of a contour with the facts that are taken (all but those ``dropped``).

    ``known`` are the values given, ``facts`` which fact gives each, ``spare`` the facts that say again what another
    has said already of the same unknown.
    """

    def __init__(self, unknowns: Unknowns, dropped: Collection[Fact] = ()) -> None:
        self.unknowns = unknowns
        self.known: Values = {}
        self.facts: dict[int, Fact] = {}
        self.spare: list[Fact] = []
        self.of_axis: dict[int, tuple[Fact, ...]] = {}
        self.axes: dict[int, Part] = {}
        self._steps: dict[tuple[int, int], Fact] = {}
        self._signs: dict[int, Fact] = {}
        self._running: set[Fact] = set()
        for fact in unknowns.facts:
            if fact not in dropped:
                self._take(fact)
        self._find_axes()
        self.all = [*self._of_signs(), *self._of_links(), *self._of_steps()]
        self._tell_unknown()

    def _take(self, fact: Fact) -> None:
        if fact.var < 0:
            part = 1 if fact.name == "dr" else 0
            piece = self.unknowns.pieces[fact.element]
            self._steps[piece.start + part, piece.end + part] = fact
        elif fact.var in self.facts or fact.var in self._signs:
            self.spare.append(fact)
        elif fact.name == "radius" and not self.unknowns.signs[fact.var]:
            self._signs[fact.var] = fact
        else:
            self.facts[fact.var] = fact
            self.known[fact.var] = self._value(fact)

    def _value(self, fact: Fact) -> complex:
        if fact.name == "angle":
            return unit_at(fact.value)
        return fact.value * self.unknowns.signs[fact.var] if fact.name == "radius" else float(fact.value)

    def _find_axes(self) -> None:
        """Find the directions that lie along an axis: of these one component of each link vanishes."""
        for var in self.unknowns.directions:
            direction = self.known.get(var)
            if direction is not None and 0.0 in (direction.real, direction.imag):
                self.axes[var] = 1 if direction.real == 0.0 else 0
        for _, link in self.unknowns.links():
            if link.direction not in self.axes and link.direction not in self.known:
                self._try_axis(link)

    def _try_axis(self, link: Link) -> None:
        """Two equal coordinates, or a step of 0, put a link along an axis."""
        parts: tuple[Part, Part] = (0, 1)
        for part in parts:
            facts = self._level(link, part)
            if facts:
                self.axes[link.direction] = part if link.is_quarter else parts[1 - part]
                self.of_axis[link.direction] = facts
                return

    def _level(self, link: Link, part: Part) -> tuple[Fact, ...]:
        step = self._steps.get((link.a + part, link.b + part))
        if step is not None and not step.value:
            return (step,)
        a, b = self.facts.get(link.a + part), self.facts.get(link.b + part)
        return (a, b) if a is not None and b is not None and _are_equal(a.value, b.value) else ()

    def _of_signs(self) -> Iterator[Equation]:
        for var, fact in self._signs.items():
            yield Equation("sign", fact.element, (var,), fact=fact, value=fact.value)

    def _of_links(self) -> Iterator[Equation]:
        pending = set(self.of_axis)
        parts: tuple[Part, Part] = (0, 1)
        for piece, link in self.unknowns.links():
            for part in parts:
                yield self._component(piece, link, part, pending)

    def _component(self, piece: Piece, link: Link, part: Part, pending: set[int]) -> Equation:
        a, b, var = link.a + part, link.b + part, link.direction
        axis = self.axes.get(var)
        if axis is None or (axis ^ link.is_quarter) == part:
            return self._run(piece, link, part) or Equation("link", piece.index, (a, b, link.size, var), link, part)
        if var in pending and self._level(link, part):
            pending.discard(var)
            return Equation("axis", piece.index, (var,), link, part, value=1j if axis else 1.0)
        return Equation("level", piece.index, (a, b), link, part)

    def _run(self, piece: Piece, link: Link, part: Part) -> Equation | None:
        """A component of a line whose step is given, where that is enough for its length or direction."""
        step = self._steps.get((link.a + part, link.b + part))
        other = self._steps.get((link.a + 1 - part, link.b + 1 - part))
        if step is None or not (other or {link.size, link.direction} & self.facts.keys()):
            return None
        self._running.add(step)
        involves = (link.size, link.direction)
        return Equation("run", piece.index, involves, link, part, fact=step, value=float(step.value))

    def _of_steps(self) -> Iterator[Equation]:
        for (a, b), fact in self._steps.items():
            yield Equation("step", fact.element, (a, b), fact=fact, value=float(fact.value))

    def _tell_unknown(self) -> None:
        self.users: dict[int, list[Equation]] = {}
        for equation in self.all:
            for var in equation.involves:
                self.users.setdefault(var, []).append(equation)
            equation.unknown = [var for var in equation.involves if var not in self.known]

    def forget(self, fact: Fact) -> None:
        """Take a fact back: what it gave is unknown again."""
        if fact.var in self.facts:
            del self.facts[fact.var], self.known[fact.var]
            for equation in self.users.get(fact.var, []):
                equation.unknown.append(fact.var)
        else:
            self.all = [equation for equation in self.all if equation.fact is not fact]

    def shapes(self, fact: Fact) -> bool:
        """Whether the equations are others without this fact."""
        return fact.name == "angle" or fact in self._running or any(fact in facts for facts in self.of_axis.values())


def _are_equal(a: float, b: float) -> bool:
    """Whether two coordinates are one but for what converting units leaves behind."""
    return abs(a - b) <= ROUNDING * max(abs(a), abs(b))
