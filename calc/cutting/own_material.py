"""A material described by what was measured: a grade or a family with a hardness, or a specific cutting force."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from calc.cutting.grades import grades
from calc.cutting.material_data import Hardness, Material, SpecificForce, with_hardness
from calc.cutting.names import Reading, find
from calc.language.messages import Digits, Message, Phrase

_NUMBER = r"(\d+(?:[.,]\d+)?)"
_SCALES = {"hb": "HB", "hbw": "HB", "brinell": "HB", "bhn": "HB", "hrc": "HRC", "rc": "HRC", "hv": "HV"}
_SCALE = r"(hbw|hb|brinell|bhn|hrc|rc|hv)"
_RANGE = rf"(?<![\w.]){_NUMBER}(?:\s*(?:-|–|to|\.\.\.?)\s*{_NUMBER})?"
_HARDNESS = re.compile(rf"{_RANGE}\s*{_SCALE}\b|\b{_SCALE}\s*{_NUMBER}", re.IGNORECASE)
_FORCE = re.compile(rf"\bk_?c(?:1[.,]?1)?\s*[=:]?\s*{_NUMBER}(?:\s*(?:n/mm2|n/mm²|mpa))?", re.IGNORECASE)
_EXPONENT = re.compile(r"\bm_?c\s*[=:]?\s*(0?[.,]\d+)", re.IGNORECASE)

# What a typed number may be, and what stands for a family; common practice, no source.
USUAL_EXPONENT = 0.25
LIMITS = {"HB": (20.0, 700.0), "HRC": (15.0, 70.0), "HV": (20.0, 1000.0)}
FORCES = (20.0, 8000.0)
HARD = 45.0  # HRC from which steel is turned as hard work, ISO 513 group H
HARD_GRADES = ((53.0, "42CrMo4-50HRC"), (57.0, "X40CrMoV5-1-52HRC"), (100.0, "100Cr6-60HRC"))
SOFT_STEEL = 230.0  # HB up to which a steel that has no other name is taken for a carbon steel
WITH_A_HARDNESS = ("steel", "stainless steel", "cast iron")


@dataclass(frozen=True, slots=True)
class _Typed:
    rest: str
    hardness: Hardness | None
    force: float | None
    exponent: float | None


def own_material(text: str) -> Reading | None:
    """What a text with a hardness or a specific force means; None for a text that has neither, or names nothing known.

    >>> own_material("C45 250 HB").one.title, own_material("kc 1900").one.title
    ('C45 carbon steel, 250 HB', 'steel with kc1.1 1900 N/mm²')
    >>> [one.code for one in own_material("220 HB").several]
    ['steel 220 HB', 'stainless steel 220 HB', 'cast iron 220 HB']
    """
    typed = _typed(text)
    if typed.hardness is None and typed.force is None:
        return None
    if not typed.rest and typed.force is None and typed.hardness and typed.hardness.scale != "HRC":
        kinds = (_described(replace(typed, rest=kind)) for kind in WITH_A_HARDNESS)
        return Reading(several=tuple(one for one in kinds if one))
    one = _described(typed)
    return None if one is None else Reading(one=one)


def _typed(text: str) -> _Typed:
    force, exponent, hardness = _FORCE.search(text), _EXPONENT.search(text), _HARDNESS.search(text)
    rest = text
    for pattern in (_EXPONENT, _FORCE, _HARDNESS):
        rest = pattern.sub(" ", rest)
    return _Typed(
        rest=" ".join(re.sub(r"[,;=]|\b(hardened|at|with|to|about|gehärtet)\b|@|N/mm2", " ", rest).split()),
        hardness=_hardness(hardness) if hardness else None,
        force=_within(FORCES, float(force[1].replace(",", "."))) if force else None,
        exponent=float(exponent[1].replace(",", ".")) if exponent else None,
    )


def _hardness(found: re.Match[str]) -> Hardness | None:
    low, high, after, before, single = found.groups()
    scale = _SCALES[(after or before).casefold()]
    ends = [float(text.replace(",", ".")) for text in (low or single, high or low or single)]
    if any(_within(LIMITS[scale], end) is None for end in ends):
        return None
    return Hardness(min(ends), max(ends), scale, "as typed")


def _within(limits: tuple[float, float], value: float) -> float | None:
    return value if limits[0] <= value <= limits[1] else None


def _described(typed: _Typed) -> Material | None:
    base = _base(typed)
    if base is None:
        return None
    if typed.hardness is not None:
        base = _harder(base, typed)
    if typed.force is not None:
        base = _with_force(base, typed, typed.force)
    return base


def _base(typed: _Typed) -> Material | None:
    """The grade that the rest of the text names, the one that stands for its family, or a steel."""
    if not typed.rest or typed.rest.casefold() == "steel":
        soft = typed.hardness is not None and typed.hardness.brinell < SOFT_STEEL
        return replace(grades()["C45" if soft else "42CrMo4"], title="steel", code="steel", names=("steel",))
    found = find(typed.rest)
    if found is None or found.one is not None:
        return found.one if found else None
    if found.family is None:
        return None
    base = grades()[found.family.base]
    return replace(base, title=found.family.word, code=found.family.word, names=(found.family.word,))


def _harder(base: Material, typed: _Typed) -> Material:
    hardness = typed.hardness
    assert hardness is not None
    hard = hardness.brinell >= Hardness(HARD, HARD, "HRC", "").brinell and base.group in "PMH"
    lender = base
    if hard:
        rockwell = (hardness.low + hardness.high) / 2 if hardness.scale == "HRC" else HARD
        lender = grades()[next(code for most, code in HARD_GRADES if rockwell < most)]
    work = with_hardness(lender, hardness)
    lent = Message(
        "Speeds and forces for this hardness are those of {lender}, brought to it.", {"lender": lender.title}
    )
    return replace(
        work,
        code=f"{base.code} {hardness.said}",
        title=Phrase("{title}, {hardness}", title=base.title, hardness=hardness.said),
        names=(f"{base.code} {hardness.said}",),
        condition=Phrase("{hardness}, as typed", hardness=hardness.said),
        notes=(*base.notes, lent),
        density=base.density,
    )


def _with_force(base: Material, typed: _Typed, force: float) -> Material:
    exponent = USUAL_EXPONENT if typed.exponent is None else typed.exponent
    said = Phrase("kc1.1 {force} N/mm²", force=Digits(f"{force:g}"))
    pair = SpecificForce(force, exponent, Phrase("as typed, mc {exponent}", exponent=Digits(f"{exponent:g}")))
    note = Message("Specific force as typed; speeds, thrust and density are those of {base}.", {"base": base.title})
    return replace(
        base,
        code=f"{base.code} kc {force:g}",
        title=Phrase("{title} with {said}", title=base.title, said=said),
        names=(f"{base.code} kc {force:g}",),
        forces=(pair,),
        unit_power=None,
        notes=(*base.notes, note),
    )
