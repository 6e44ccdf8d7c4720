"""What a batch takes from other questions instead of asking it again: parts from a bar, parts for one edge."""

from __future__ import annotations

from calc.cutting import nouns
from calc.cutting.life import edge_life, one_minute_speed, parts_of_an_edge
from calc.language.fields import Declared, given
from calc.language.kinds import COST
from calc.language.messages import Message
from calc.language.problems import Fault, Missing
from calc.questions.operations import bar_economy
from calc.questions.operations.bar_economy import BarEconomyInputs


class BatchBarInputs(Declared):
    """The bar that every way takes which does not say how many parts its own bar gives."""

    bar_length: float | None = nouns.BAR_LENGTH.given(hint="for the parts from it")
    part_length: float | None = nouns.PART_LENGTH.given(hint="finished")
    face_stock: float = nouns.FACE_STOCK.given(default=0.0, hint="faced off each part")
    blade_width: float | None = nouns.BLADE_WIDTH.given()
    remnant: float = nouns.REMNANT.given(default=0.0)
    bar_price: float = given(COST, "Price of a bar", "P", least=0.0, blank="not counted", default=0.0)


class BatchLifeInputs(Declared):
    """One known life of the edge, for every way that says its surface speed and its time in cut."""

    known_speed: float | None = nouns.KNOWN_SPEED.given()
    known_life: float | None = nouns.KNOWN_LIFE.given(hint="1 min: Taylor's C")
    exponent: float | None = nouns.LIFE_EXPONENT.given()


def parts_from_the_bar(bar: BatchBarInputs) -> float | None:
    """Parts from a bar, by the question of bar economy; None without a bar. Raises what that question raises.

    >>> parts_from_the_bar(BatchBarInputs(bar_length=3000.0, part_length=40.0, face_stock=1.0, blade_width=3.0))
    68.0
    >>> parts_from_the_bar(BatchBarInputs()) is None
    True
    """
    if bar.bar_length is None:
        return None
    lacks = [name for name in ("part_length", "blade_width") if getattr(bar, name) is None]
    if lacks or bar.part_length is None or bar.blade_width is None:
        said = Message("For the parts from a bar give its length, the part's and the blade's width.")
        raise Missing(*(Fault(name, said) for name in lacks))
    asked = BarEconomyInputs(
        bar_length=bar.bar_length,
        part_length=bar.part_length,
        face_stock=bar.face_stock,
        blade_width=bar.blade_width,
        remnant=bar.remnant,
    )
    return float(bar_economy.solve(asked).results.parts)


def parts_for_an_edge(life: BatchLifeInputs, speed: float, in_cut: float, way: str) -> float:
    """Parts for one edge at the surface `speed` [mm/min], `in_cut` [min] each; `way` names it in the working.

    Raises Missing where no life of an edge is known. Source: Taylor's tool life equation.

    >>> known = BatchLifeInputs(known_speed=200_000.0, known_life=15.0, exponent=0.25)
    >>> parts_for_an_edge(known, 200_000.0, 2.0, "first")
    7.0
    """
    told = (life.known_speed, life.known_life, life.exponent)
    known_speed, known_life, exponent = told
    if known_speed is None or known_life is None or exponent is None:
        said = Message("For the parts of an edge give one known life with its surface speed, and the exponent.")
        names = ("known_speed", "known_life", "exponent")
        raise Missing(*(Fault(name, said) for name, value in zip(names, told, strict=True) if value is None))
    constant = one_minute_speed.at("", v="v_1", T="T_1", result="C")(known_speed, known_life, exponent)
    lasts = edge_life.at(way)(constant, speed, exponent)
    return float(parts_of_an_edge.at(way)(lasts, in_cut))
