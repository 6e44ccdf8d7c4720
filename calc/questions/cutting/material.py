"""A work material looked up by any of its names: starting speeds, force, power, Taylor, with their sources."""

from __future__ import annotations

from collections.abc import Iterator

from calc.answer.feature import Answer, Feature, Rows
from calc.cutting import nouns
from calc.cutting.limits import Case, Running, limits
from calc.cutting.machine import Machine
from calc.cutting.materials import GROUPS, PLASTIC, Material, SpeedRange, material, materials, read, search
from calc.cutting.operation import material_cautions
from calc.cutting.speed import spindle_speed
from calc.cutting.starting import StartingCut, starting_cut
from calc.cutting.tools import tool_material
from calc.language.checks import require
from calc.language.fields import Declared, choice, part, result, word
from calc.language.messages import Caution, Message, Phrase, Value
from calc.language.problems import Fault, Missing
from calc.language.quantities import (
    COUNT,
    DENSITY,
    FEED,
    LENGTH,
    SPINDLE_SPEED,
    SURFACE_SPEED,
)
from calc.questions.cutting.material_rows import OPERATIONS, ChipRow, ForceRow, SpeedRow, TaylorRow, UnitRow, tables_of
from calc.tool.insert import read_insert

MOST_NAMES = 6  # beside each of several materials
SAID = 24  # names in the sentence; the list has them all


class MaterialInputs(Declared):
    """A name or a part of one; what is to be done, and with what."""

    material: str | None = nouns.MATERIAL.given(
        hint="any name: 1.0503, 4140, brass, C45 250 HB; a letter lists its group"
    )
    operation: str = choice("Operation", OPERATIONS, "rough")
    tool: str = nouns.TOOL.chosen()
    diameter: float | None = nouns.DIAMETER_OF_CUT.given(hint="for the spindle speed")
    chuck_limit: float | None = nouns.CHUCK_LIMIT.given()
    insert: str | None = nouns.INSERT.given(hint="for feed and depth: its nose and its edge")
    nose_radius: float | None = nouns.NOSE_RADIUS.given(hint="for feed and depth", blank="the insert's")


class StartResults(Declared):
    """Feed and depth to start turning with; blank without a nose, and where it is no turning."""

    feed: float | None = result(FEED, "Feed to start with", "f")
    feed_low: float | None = result(FEED, "Feed from")
    feed_high: float | None = result(FEED, "Feed to")
    depth: float | None = result(LENGTH, "Depth to start with", "a")
    depth_low: float | None = result(LENGTH, "Depth from")
    depth_high: float | None = result(LENGTH, "Depth to")


class MaterialResults(Declared):
    """What is known of one material; of several, only how many fit."""

    fits: float | None = result(COUNT, "Materials that fit")
    surface_speed: float | None = result(SURFACE_SPEED, "Surface speed to start with", "v")
    speed_low: float | None = result(SURFACE_SPEED, "Range from")
    speed_high: float | None = result(SURFACE_SPEED, "Range to")
    rpm: float | None = result(SPINDLE_SPEED, "Spindle speed", "n")
    start: StartResults = part(StartResults, "Feed and depth to start with")
    with_tool: str | None = word("Tool material")
    title: str | None = word("Material")
    condition: str | None = word("Condition")
    group: str | None = word("Group of ISO 513")
    names: str | None = word("Names")
    hardness: str | None = word("Hardness")
    density: float | None = result(DENSITY, "Density", "ρ")


class FitRow(Declared):
    """One material among several."""

    code: str = word("Name here")
    title: str = word("Material")
    condition: str = word("Condition")
    group: str = word("ISO 513")
    names: str = word("Other names")


def solve(inputs: MaterialInputs) -> Answer[MaterialResults]:
    """The material, or the list of those that fit. Raises Missing, and OutOfRange for a name that none has.

    >>> solve(MaterialInputs(material="aisi 1045")).results.surface_speed
    180000.0
    >>> [row.code for row in solve(MaterialInputs(material="100cr")).tables["fits"]]
    ['100Cr6', '100Cr6-60HRC']
    """
    require(inputs)
    if not inputs.material:
        raise Missing(Fault("material", Message(_ASK), tuple(GROUPS)))
    found = fitting(inputs.material)
    if len(found) > 1:
        return _listed(found)
    return _told(inputs, found[0])


def fitting(text: str) -> tuple[Material, ...]:
    """The material of this name, or those that a part of a name, a word or a group's letter fits.

    Raises OutOfRange, with what to type instead, when none does.

    >>> [one.code for one in fitting("K")][:2], [one.code for one in fitting("titanium")][:2]
    (['GJL-200', 'GJL-250'], ['Ti-6Al-4V', 'Ti-grade-2'])
    """
    found = read(text)
    if found.one is not None:
        return (found.one,)
    words = text.strip().casefold()
    letter = text.strip().upper()
    if letter in GROUPS:
        return tuple(one for one in materials() if one.group == letter)
    if any(each.isalnum() for each in words):
        several = found.several or search(text) or tuple(one for one in materials() if words in one.title.casefold())
        if several:
            return several
    return (material(text),)


def _listed(found: tuple[Material, ...]) -> Answer[MaterialResults]:
    rows = [
        FitRow(code=one.code, title=one.title, condition=one.condition, group=one.group, names=_others(one))
        for one in found
    ]
    codes = ", ".join(one.code for one in found[:SAID])
    values: dict[str, Value] = {
        "codes": codes,
        "more": Message(" and {more} more", {"more": len(found) - SAID}) if len(found) > SAID else "",
    }
    return Answer(
        results=MaterialResults(fits=float(len(found))),
        headline="fits",
        notes=(Message("These fit: {codes}{more}. Tap one, or type the whole of its name.", values),),
        tables={"fits": rows},
        picks={"material": tuple(one.code for one in found[:SAID])},
    )


def _others(one: Material) -> str:
    """The first of the other names, those in letters before those in digits."""
    others = sorted(
        (name for name in one.names[: MOST_NAMES + 1] if name != one.code), key=lambda name: name[0].isdigit()
    )
    return ", ".join(others)


def _told(inputs: MaterialInputs, work: Material) -> Answer[MaterialResults]:
    start = work.speed(inputs.operation, inputs.tool or None)
    cut = _cut(inputs, work)
    return Answer(
        results=MaterialResults(
            surface_speed=start.usual if start else None,
            speed_low=start.low if start else None,
            speed_high=start.high if start else None,
            rpm=spindle_speed(start.usual, inputs.diameter) if start and inputs.diameter else None,
            start=_start_results(cut),
            with_tool=tool_material(start.tool).title if start else None,
            title=work.title,
            condition=work.condition,
            group=_group(work),
            names=", ".join(work.names),
            hardness=work.hardness.said,
            density=work.density,
        ),
        headline="surface_speed" if start else "title",
        cautions=(*material_cautions(work), *_limits(inputs, start)),
        notes=tuple(_notes(inputs, work, start)),
        sentences={
            "Feed and depth to start with": (cut.feed.why, cut.depth.why) if cut else (Message(_NO_NOSE),),
            "Cutting force": (Message("kc1.1 is for a chip 1 mm thick and 1 mm wide; the first pair is used here."),),
            "Density and hardness": (_plain(work),),
        },
        tables=tables_of(work),
    )


def _cut(inputs: MaterialInputs, work: Material) -> StartingCut | None:
    """Feed and depth for the nose and the edge that are given; None without a nose."""
    insert = read_insert(inputs.insert, "insert") if inputs.insert else None
    nose = inputs.nose_radius or (insert.nose if insert else None)
    if nose is None:
        return None
    return starting_cut(work, inputs.operation, nose, insert.edge_length if insert else None)


def _limits(inputs: MaterialInputs, start: SpeedRange | None) -> Iterator[Caution]:
    if start is not None and inputs.diameter:
        rpm = spindle_speed.function(start.usual, inputs.diameter)
        yield from limits(Case(running=Running(rpm, rpm)), Machine(chuck_limit=inputs.chuck_limit))


def _start_results(cut: StartingCut | None) -> StartResults:
    if cut is None:
        return StartResults()
    feed, depth = cut.feed, cut.depth
    return StartResults(
        feed=feed.usual,
        feed_low=feed.low,
        feed_high=feed.high,
        depth=depth.usual,
        depth_low=depth.low,
        depth_high=depth.high,
    )


def _group(work: Material) -> str:
    group = GROUPS[work.group]
    return group if work.group == PLASTIC else Phrase("{letter}, {group}", letter=work.group, group=group)


def _notes(inputs: MaterialInputs, work: Material, start: SpeedRange | None) -> Iterator[Message]:
    yield from work.notes
    values: dict[str, Value] = {"material": work.title, "operation": OPERATIONS[inputs.operation]}
    if start is None:
        text = "No starting speed is listed for {operation} in {material}."
        if inputs.tool:
            text = "No starting speed is listed for {operation} in {material} with {tool}."
            values["tool"] = tool_material(inputs.tool).title
        yield Message(text, values)
        return
    values |= {"tool": start.tool, "source": start.source}
    yield Message("For {operation} with {tool}: {source}. A range to start in, not a promise.", values)


def _plain(work: Material) -> Message:
    values: dict[str, Value] = {"hardness": work.hardness.source, "density": work.density_source}
    return Message("Hardness: {hardness}. Density: {density}.", values)


_NO_NOSE = "Give the nose radius or the insert to get feed and depth for roughing, finishing or boring."
_ASK = "Give a name of the material or a part of one; a letter of ISO 513 (P, M, K, N, S, H) lists its group."

FEATURE = Feature(
    path="speed-feed/material",
    title="Material",
    summary="A material by any of its names: speeds to start with, cutting force, unit power, tool life, with sources.",
    solve=solve,
    page="/material",
    supporting=("speed_low", "speed_high", "rpm", "density"),
    rows={
        "fits": Rows(FitRow, "Materials that fit", fills="material"),
        "speeds": Rows(SpeedRow, "Surface speeds to start with", "Speeds to start with"),
        "forces": Rows(ForceRow, "Specific cutting force, published pairs", "Cutting force"),
        "chips": Rows(ChipRow, "Specific cutting force over the chip's thickness", "Cutting force"),
        "unit_power": Rows(UnitRow, "Unit power, sharp edge", "Unit power"),
        "taylor": Rows(TaylorRow, "Taylor's equation, C for roughing and a life of 1 min", "Tool life"),
    },
    example={"material": "42CrMo4", "operation": "finish", "diameter": "60"},
)
