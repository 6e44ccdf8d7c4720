"""A work material by whatever people call it: standards' numbers and names, words of the shop, trade names.

A name is looked up as it is typed, without case, spaces, dots and hyphens, then without the standard's letters in
front, then without the noun of its family ("brass C360"), then without a temper or condition at its end. Only names
that are listed are ever found. What is near to nothing listed is offered nothing; of several readings none is taken.
"""

from __future__ import annotations

import difflib
import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache

from calc.cutting.grades import Family, Word, families, grades, trade_names, words
from calc.cutting.material_data import Material
from calc.language.messages import Message

MOST_OFFERED = 6
LIKE_ENOUGH = 0.85  # share of letters that a misspelt name has in common with a listed one
MOST_WORDS = 8  # of a text that are read one by one
TELLING = 3  # letters that a beginning needs, to be taken for one of a name
LONG_ENOUGH = 5  # letters, for a misspelling to be told from another name

# Nouns of families that people add to a name, with the groups they leave open.
NOUNS = {
    "PMH": "steel stahl acier acciaio acero",
    "M": "stainless inox edelstahl rostfrei rostfreier ss",
    "PH": "tool werkzeugstahl spring bearing carbon alloy",
    "K": "iron cast castiron",
    "N": "aluminium aluminum alu ali alum dural brass messing laiton bronze copper kupfer magnesium zinc",
    "S": "titanium titan ti nickel cobalt",
    "": "bar rod round hex hexagon square flat stock plate sheet tube billet forging material werkstoff grade gr "
    "bright rund rundstahl stange stab vierkant sechskant blech rohr platte rond barre tondo barra natural black white "
    "type typ wnr nr no number uns bs bs970 din en iso astm asme aisi sae jis gb aa ams afnor uni alloy",
}
DOTTED = r"\b(\d|\d{3})\.(\d{4}|\d)\b"
STANDARDS = (
    r"^(aisi|sae|uns|astm|asme|din|iso|bs970|bs|jis|gbt|gb|sus|ss|wnr|werkstoffnr|werkstoff"
    r"|enaw|enac|aw|ac|aa|al(?=\d)|en)"
)
STANDARD = r"^(astm|en|din|bs|iso|jis|gb|gb/t|ams|sae)( en)?( iso)? ?[a-z]? ?\d{2,5}(-\d+)?(:\d{4})? (?=\S)"
TEMPERS = r"((?<=c\d{4})(bd|be|p|r|t|w)|t[3-9]\d{0,4}|h\d{2,3}|f\d{2}|o|tf|tb)$"
CONDITIONS = (
    r"([+ ](qt\d*|p\d+|n|ar|a|u|s|sr|c|ac|at|sh|cr|hr|cd)|annealed|normalised|normalized|as ?rolled|hot ?rolled"
    r"|cold ?drawn|cold ?rolled|bright|drawn|soft|geglüht|weichgeglüht|blank|gezogen|condition [a-z]"
    r"|[ -](wa|ka|r\d{3}|h\d{3}|f\d{2}))$"
)
# What people write of the bar beside its material: "1.4301 rund 30", "C45 Ø50 h9", "6082 bar 60 x 500 mm".
_AMOUNT = r"\d+(?:[.,]\d+)?(?:[- ]?\d+/\d+|/\d+)?"
_AMOUNTS = rf"{_AMOUNT}(?:\s*[x×]\s*{_AMOUNT})*"
_SHAPE = r"(?:rund|round|rd|bar|hex|sechskant|vierkant|square|flat|dia|diameter|[46]kt)"
_CLASS = r"(?:\s+h\d{1,2})?(?!\S)"
SIZED = (
    rf"(?:(?<=\s){_SHAPE}\.?\s+|[ø⌀]\s*){_AMOUNTS}\s*(?:mm|in|\")?{_CLASS}"
    rf"|(?<=\s){_AMOUNTS}\s*(?:mm|in|\"){_CLASS}"
)
SYSTEMATIC = (
    (r"g(\d{4})0", "aisi{}"),
    (r"s(\d{3})00", "aisi{}"),
    (r"a9(\d{4})", "{}"),
    (r"c(\d{3})00", "c{}"),
    (r"c(\d{3})", "c{}00"),
    (r"(\d)(\d{4})", "{}.{}"),
    (r"aisi(.+)", "{}"),
    (r"(\d{3,4}\w{0,3})", "aisi{}"),
    (r"a(\d{4})", "{}"),
)


DEGREES = "°"
"""What bears it is an angle or a temperature: no material is called so."""


@dataclass(frozen=True, slots=True)
class Reading:
    """What a name means: one material, or several that it may be; `family` is the word for them."""

    one: Material | None = None
    several: tuple[Material, ...] = ()
    family: Family | None = None


def key(name: str) -> str:
    """A name without what people write differently: case, accents, spaces, dots, hyphens, slashes.

    The dot of a material number or of a cast aluminium counts: 5.2100 is an iron, 52100 a steel.

    >>> key("42 CrMo-4"), key("Sphäroguß"), key("EN AW-6061"), key("1.0503"), key("380.0")
    ('42crmo4', 'spharoguss', 'enaw6061', '1p0503', '380p0')
    """
    plain = re.sub(DOTTED, r"\1p\2", unicodedata.normalize("NFKD", name.casefold().strip()))
    return "".join(letter for letter in plain if letter.isalnum() or letter == "#")


def find(text: str) -> Reading | None:
    """What `text` means here, None when no listed name fits.

    >>> find("EN8").one.code, find("phosphor bronze").one.code, find("Messing").family.word
    ('C40', 'CuSn8', 'brass')
    >>> [one.code for one in find("1050").several]
    ['C50', 'EN AW-1050A']
    >>> find("cheese") is None, find("3° 25") is None
    (True, True)
    """
    if DEGREES in text:
        return None
    raw = " ".join(text.casefold().split())
    found = _looked_up(raw, text)
    if found is not None:
        return found
    sizeless = " ".join(re.sub(SIZED, " ", raw).split())
    return _conditioned(sizeless, text) or _word_by_word(sizeless.split()[:MOST_WORDS], text)


def _conditioned(raw: str, text: str) -> Reading | None:
    """What a text without a size means, as it stands or in a condition that it names at its end."""
    found = _looked_up(raw, text)
    without = re.sub(CONDITIONS, "", raw).strip(" +,-")
    if found is not None or without == raw:
        return found
    found = _looked_up(without, text)
    if found is None or found.one is None:
        return found
    note = Message("The numbers are for it {condition}.", {"condition": found.one.condition})
    return replace(found, one=replace(found.one, notes=(*found.one.notes, note)))


def near(text: str) -> tuple[Material, ...]:
    """Grades of one group whose names begin with `text` or are spelt almost so; none rather than a guess.

    >>> [one.code for one in near("42CrM")][:2], near("cheese")
    (['42CrMo4', '42CrMo4-A'], ())
    """
    typed = key(text)
    if len(typed) < TELLING:
        return ()
    known = {**{name: (word.take,) for name, word in _words().items()}, **_index()}
    starting = sorted((name for name in known if _begins(name, typed)), key=len)
    if not starting and len(typed) >= LONG_ENOUGH and sum(letter.isalpha() for letter in typed) >= TELLING:
        starting = difflib.get_close_matches(typed, known, n=MOST_OFFERED, cutoff=LIKE_ENOUGH)
    found = list(dict.fromkeys(code for name in starting for code in known[name]))
    materials = [grades()[code] for code in found]
    return tuple(one for one in materials if one.group == materials[0].group)[:MOST_OFFERED]


def _begins(name: str, typed: str) -> bool:
    """Whether a name begins with what is typed; a number that goes on is another one: 46 does not begin 464."""
    return name.startswith(typed) and not (typed[-1].isdigit() and name[len(typed) :][:1].isdigit())


def _looked_up(raw: str, text: str) -> Reading | None:
    """What a text means as a whole, without the number of its standard in front, or by all of its names at once."""
    for bare in dict.fromkeys((raw, re.sub(STANDARD, "", raw))):
        for typed, groups in _without_nouns(bare):
            found = _listed(typed, groups, text)
            if found is not None:
                return found
    parts = [part for part in re.split(r"\s*[/()|,;=]\s*", raw) if part]
    return _together(parts, text) if len(parts) > 1 else None


def _together(parts: Iterable[str], text: str) -> Reading | None:
    """What several names say together; None as soon as one of them is none, or they have no grade in common."""
    each = [_looked_up(part, text) for part in parts]
    codes = [{one.code for one in (*found.several, found.one) if one} for found in each if found]
    common = sorted(set.intersection(*codes)) if len(codes) == len(each) else []
    if not common:
        return None
    materials = tuple(grades()[code] for code in common)
    return Reading(one=materials[0]) if len(materials) == 1 else Reading(several=materials)


def _word_by_word(tokens: list[str], text: str) -> Reading | None:
    """The one grade that a text names beside words for its kind ("dural 2024", "rostfreier Stahl 1.4305").

    None when a word is not known, when two grades are named, or when a word means another kind than the grade.
    """
    found: list[Reading] = []
    while tokens:
        fitting = ((n, _looked_up(" ".join(tokens[:n]), text)) for n in range(len(tokens), 0, -1))
        length, reading = next(((n, each) for n, each in fitting if each), (0, None))
        if reading is None:
            return None
        found.append(reading)
        tokens = tokens[length:]
    named = [each for each in found if each.one and each.one is grades()[each.one.code]]
    if len(found) < 2 or len({each.one.code for each in named if each.one}) != 1 or named[0].one is None:
        return None
    group = named[0].one.group
    kinds = [{one.group for one in (*each.several, each.one) if one} for each in found]
    return named[0] if all(group in kind for kind in kinds) else None


def _without_nouns(raw: str) -> Iterator[tuple[str, str]]:
    """The keys to look up, from the most literal to the barest, each with the groups that the words beside it allow."""
    yield from _systematic(key(raw), "")
    tokens = re.split(r"[\s,_/()]+", raw)
    nouns = {word: groups for groups, listed in NOUNS.items() for word in listed.split()}
    shapeless = [token for token in tokens if nouns.get(token.strip(".")) != ""]
    if shapeless and len(shapeless) < len(tokens):
        yield from _systematic(key(" ".join(shapeless)), "")
    kept = [token for token in tokens if token.strip(".") not in nouns]
    allowed = [set(nouns[token.strip(".")]) for token in tokens if nouns.get(token.strip("."))]
    if kept and len(kept) < len(tokens):
        groups = "".join(sorted(set.intersection(*allowed))) if allowed else ""
        if not allowed or groups:
            yield from _systematic(key("".join(kept)), groups)


def _systematic(typed: str, groups: str) -> Iterator[tuple[str, str]]:
    yield typed, groups
    for bare in dict.fromkeys((typed, re.sub(STANDARDS, "", typed), re.sub(TEMPERS, "", re.sub(STANDARDS, "", typed)))):
        if len(bare) > 1 or bare == typed:
            yield bare, groups
            for pattern, form in SYSTEMATIC:
                fits = re.fullmatch(pattern, bare)
                if fits:
                    yield key(form.format(*fits.groups())), groups


def _listed(typed: str, groups: str, text: str) -> Reading | None:
    """What a key stands for in the lists, in the `groups` that are allowed ("" for all)."""
    codes = [code for code in _index().get(typed, ()) if not groups or grades()[code].group in groups]
    if len(codes) == 1:
        return Reading(one=grades()[codes[0]])
    if codes:
        return Reading(several=tuple(grades()[code] for code in codes))
    word = _words().get(typed)
    if word is not None and (not groups or grades()[word.take].group in groups):
        return Reading(one=_taken(word, text))
    family = _families().get(typed)
    if family is None:
        return None
    return Reading(several=tuple(grades()[code] for code in family.members), family=family)


def _taken(word: Word, text: str) -> Material:
    """The grade that is taken for a word of the shop, with the sentence that says so."""
    work = grades()[word.take]
    others = ", ".join(grades()[code].code for code in word.others)
    note = Message("“{name}” is read as {taken}; it may also mean {others}.", _values(text, work, others))
    if key(text) in {key(name) for name in word.read}:
        note = Message("“{name}” is read as {taken}.", _values(text, work, others))
    return replace(work, notes=(note, *work.notes), others=word.others)


def _values(text: str, work: Material, others: str) -> dict[str, str | int]:
    return {"name": text.strip()[:40], "taken": work.title, "others": others}


@cache
def _index() -> Mapping[str, tuple[str, ...]]:
    """The codes that each key stands for; more than one where standards gave the same number to two grades."""
    found: dict[str, tuple[str, ...]] = {}
    for code, one in grades().items():
        alone = (code,)  # one for all its names: there are nine thousand of them
        for name in (code, *one.names, *trade_names().get(code, ())):
            for typed in _keys(name) - {""}:
                before = found.get(typed, ())
                if code not in before:
                    found[typed] = (*before, code) if before else alone
    return found


def _keys(name: str) -> set[str]:
    """The keys of a listed name: as it stands, and AISI, UNS, ASTM and EN- names without those letters too."""
    return {key(name), key(re.sub(r"^(AISI |UNS |ASTM |EN-)", "", name))}


@cache
def _words() -> Mapping[str, Word]:
    return {key(name): word for word in words() for name in (*word.names, *word.read)}


@cache
def _families() -> Mapping[str, Family]:
    return {key(name): family for family in families() for name in family.names}
