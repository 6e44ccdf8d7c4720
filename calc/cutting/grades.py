"""Every grade that has a name here: those with numbers of their own, and those to which a near one lends its numbers.

`data/names/` holds the names; what its tables mean stands in `data/README.md`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from typing import Any, NamedTuple

from calc.cutting.material_data import Hardness, Material, names_in, slower, tabled, with_hardness
from calc.cutting.tables import read, source
from calc.language.messages import Digits, Listed, Message, Phrase
from calc.language.quantities import DENSITY

FILES = ("steel", "stainless", "cast_iron", "non_ferrous", "heat_resistant", "hardened")
LENT = "The tables have no numbers for {grade}: it is calculated with those of {lender}."


@dataclass(frozen=True, slots=True)
class Word:
    """A word of the shop: the grade that is taken for it, others that it may mean, its spellings.

    `read` are trade names: they are understood, and never shown.
    """

    word: str
    take: str
    others: tuple[str, ...]
    names: tuple[str, ...]
    read: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Family:
    """A word for a whole family: the usual grades in it, the one whose numbers stand for it, its spellings."""

    word: str
    base: str
    members: tuple[str, ...]
    names: tuple[str, ...]


class _Listed(NamedTuple):
    """What the tables of names say."""

    grades: Mapping[str, Material]
    words: tuple[Word, ...]
    trade_names: Mapping[str, tuple[str, ...]]


@cache
def _listed() -> _Listed:
    """All of it from one reading of the tables, whose texts are not kept."""
    tables = [read(f"names/{name}") for name in FILES]
    words = tuple(_word(word, row) for rows in tables for word, row in rows.get("word", {}).items())
    return _Listed(_grades(tables), words, _trade_names(tables))


def grades() -> Mapping[str, Material]:
    """Every grade by its code, those with numbers of their own first.

    >>> grades()["C40"].title, grades()["C40"].group
    ('C40 carbon steel', 'P')
    >>> len(grades()) > 350
    True
    """
    return _listed().grades


def _grades(tables: Sequence[Mapping[str, Any]]) -> Mapping[str, Material]:
    own = {one.code: one for one in tabled()}
    for rows in tables:
        for code, more in rows.get("also", {}).items():
            own[code] = replace(own[code], names=tuple(dict.fromkeys((*own[code].names, *names_in(more)))))
    lent = [one for rows in tables for one in (*_alike(rows, own), *_apart(rows, own))]
    return own | {one.code: one for one in lent}


def words() -> tuple[Word, ...]:
    """The words of the shop that mean one narrow kind.

    >>> [one.take for one in words() if one.word == "silver steel"]
    ['115CrV3']
    """
    return _listed().words


@cache
def families() -> tuple[Family, ...]:
    """The words for whole families.

    >>> [one.base for one in families() if one.word == "brass"]
    ['CuZn39Pb3']
    """
    rows = read("names/families")["family"].items()
    return tuple(
        Family(word, row["base"], tuple(row["of"]), (word, *names_in(row["names"]), *names_in(row.get("read", ""))))
        for word, row in rows
    )


def trade_names() -> Mapping[str, tuple[str, ...]]:
    """Trade names by the code of the grade they are read as; they are never shown.

    >>> "POM" in trade_names()
    True
    """
    return _listed().trade_names


def _trade_names(tables: Sequence[Mapping[str, Any]]) -> Mapping[str, tuple[str, ...]]:
    names = {row["code"]: row.get("read", "") for row in read("materials/plastics")["material"]}
    for rows in tables:
        names |= {row.get("code", code): row.get("read", "") for code, row in rows.get("grade", {}).items()}
    return {code: names_in(text) for code, text in names.items() if text}


def _alike(rows: Mapping[str, Any], own: Mapping[str, Material]) -> Iterator[Material]:
    """Grades of the same kind, condition and hardness as the one that lends them its numbers."""
    for lender, listed in rows.get("like", {}).items():
        base = own[lender]
        kind = rows.get("kind", {}).get(lender) or _kind(base)
        for text in listed:
            grade, _, names = text.partition(": ")
            code, _, own_kind = grade.partition(" | ")
            work = _lent(base, code, own_kind or kind, names_in(names))
            yield replace(work, cautions=tuple(rows.get("cautions", {}).get(code, work.cautions)))


def _kind(base: Material) -> str:
    """What sort of metal it is, without its own designation and what stands in brackets.

    >>> [_kind(one) for one in tabled() if one.code in ("C45", "GJL-250", "6082-T6")]
    ['carbon steel', 'grey cast iron', 'aluminium']
    """
    designation = rf"^({re.escape(base.code)}|EN[ -]\S+( T\d+)?) "
    return re.sub(r"\s*\(.*?\)", "", re.sub(designation, "", base.title))


def _apart(rows: Mapping[str, Any], own: Mapping[str, Material]) -> Iterator[Material]:
    """Grades with a kind, a hardness or a density of their own."""
    for key, row in rows.get("grade", {}).items():
        work = _lent(own[row["like"]], row.get("code", key), row["kind"], (key, *names_in(row["names"])))
        work = replace(work, group=rows["group"], unit_power=row.get("unit_power", work.unit_power))
        if "hb" in row:
            low, high = row["hb"]
            work = with_hardness(work, Hardness(low, high, "HB", source("practice")))
        if "density" in row:
            work = replace(work, density=DENSITY.internal(row["density"]))
        work = replace(work, cautions=tuple(row.get("cautions", work.cautions)))
        yield _adjusted(work, row)


def _adjusted(work: Material, row: Mapping[str, Any]) -> Material:
    """With the factors on the lender's speed and force that the table gives; common practice, no source."""
    share, force = row.get("speed", 1.0), row.get("force", 1.0)
    forces = work.forces if force == 1.0 else tuple(replace(one, kc11=one.kc11 * force) for one in work.forces)
    if share == 1.0:
        return replace(work, forces=forces)
    speeds = slower(work.speeds, share, "{source}, times {share} for this grade", share=Digits(f"{share:g}"))
    return replace(work, forces=forces, speeds=speeds)


def _lent(base: Material, code: str, kind: str, names: tuple[str, ...]) -> Material:
    title = code if kind == code else Phrase("{code} {kind}", code=code, kind=kind)
    note = Message(LENT, {"grade": code, "lender": Listed((base.title, base.condition), last=", ")})
    return replace(base, code=code, title=title, names=tuple(dict.fromkeys((code, *names))), notes=(note,))


def _word(word: str, row: Mapping[str, Any]) -> Word:
    return Word(word, row["take"], tuple(row["or"]), (word, *names_in(row["names"])), names_in(row.get("read", "")))
