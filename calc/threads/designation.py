"""What a print writes of a thread (`M24x2-6g`, `3/4-16 UNF-2A`, `Tr 40x14 P7 LH`) taken apart."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal

from calc.language.messages import Message, Quantity, Value
from calc.language.problems import Fault, OutOfRange
from calc.language.quantities import DIAMETER, LENGTH
from calc.threads.inch_sizes import as_fraction, inch_size, inches_of
from calc.threads.refusing import refused
from calc.threads.tables import by_number, table

Family = Literal["M", "UN", "Tr", "ACME", "G", "R", "NPT", "Rd"]
INCH = 25.4
LONGEST = 60
MOST_STARTS = 12
LARGEST = 2000.0  # mm
STEEPEST = 2.0  # lead over diameter, about 33 degrees; common practice, no source


@dataclass(frozen=True, slots=True)
class Designation:
    """A thread as written: family, nominal diameter and pitch [mm], starts, hand, what is said of its class.

    `size` is how its family calls the diameter, `per_inch` its threads per inch (0 where the family counts in mm).
    `series` is UNC, UNF ..., or the letters of a pipe thread. `classes` are those written, as they stand. `own` marks
    a pitch that the series of the standard does not have for this diameter.
    """

    text: str
    family: Family
    size: str
    diameter: float
    pitch: float
    per_inch: float = 0.0
    starts: int = 1
    left: bool = False
    series: str = ""
    classes: tuple[str, ...] = ()
    engagement: str = ""
    own: bool = False

    @property
    def lead(self) -> float:
        """How far the thread advances in one turn [mm]."""
        return self.starts * self.pitch

    @property
    def is_taper(self) -> bool:
        """Whether it is a taper pipe thread."""
        return self.family == "NPT" or self.series in ("R", "Rc")


def read_designation(text: str) -> Designation:
    """What `text` says. Raises OutOfRange for what is no thread, has no pitch, or could not be cut.

    >>> found = read_designation("M24x2-6g")
    >>> found.family, found.diameter, found.pitch, found.classes
    ('M', 24.0, 2.0, ('6g',))
    >>> read_designation("Tr 40x14 P7 LH").starts, read_designation("10-32").series
    (2, 'UNF')
    """
    cleaned = _cleaned(text)
    if len(cleaned) > LONGEST:
        raise refused("This is too long for a thread's designation. Write it as {examples}.", text)
    for pattern, reader in _READERS:
        match = pattern.fullmatch(cleaned)
        if match is not None:
            found = _with_tail(replace(reader(match), text=text.strip()), match["tail"] or "")
            _require_sound(found)
            return found
    raise refused("“{typed}” is not a thread that is known here. Write it as {examples}.", text)


_SIGNS = str.maketrans("×*–−", "xx--", '″"⌀')


def _cleaned(text: str) -> str:
    swapped = text.strip().translate(_SIGNS)
    swapped = re.sub(r"(?<=\d),(?=\d)", ".", swapped)
    for sign, fraction in (("½", "1/2"), ("¼", "1/4"), ("¾", "3/4"), ("⅛", "1/8"), ("⅜", "3/8"), ("⅝", "5/8")):
        swapped = re.sub(rf"(?<=\d){sign}", f" {fraction}", swapped).replace(sign, fraction)
    return re.sub(r"\s+", " ", swapped)


# --- one reader for each family ------------------------------------------------------------------------------------

_NUMBER = r"\d+(?:\.\d+)?|\.\d+"
_INCHES = r"\d+[ -]\d+/\d+|\d+/\d+|\d+(?:\.\d+)?|\.\d+"
_TAIL = r"(?P<tail>(?:[ -]|LH|RH).*)?"
_MM_PITCH = (
    rf"(?: ?x ?(?:Ph ?(?P<lead>{_NUMBER}) ?P ?(?P<of>{_NUMBER})"
    rf"|(?P<pitch>{_NUMBER})(?: ?\(?P ?(?P<single>{_NUMBER})\)?)?))?"
)


def _metric(match: re.Match[str]) -> Designation:
    diameter = float(match["size"])
    family: Family = "M" if match["letter"].upper() == "M" else "Tr"
    standard = _standard_pitches(family, diameter)
    pitch, lead = _pitch_and_lead(match)
    if pitch is None:
        if not standard or not standard[0]:
            raise _no_pitch(diameter, standard, match[0])
        pitch = lead = float(standard[0])
    size = f"{family}{'' if family == 'M' else ' '}{diameter:g}"
    found = Designation("", family, size, diameter, pitch, own=pitch not in standard)
    return replace(found, starts=_starts(lead or pitch, pitch))


def _pitch_and_lead(match: re.Match[str]) -> tuple[float | None, float | None]:
    if match["lead"]:
        return float(match["of"]), float(match["lead"])
    if match["single"]:
        return float(match["single"]), float(match["pitch"])
    pitch = float(match["pitch"]) if match["pitch"] else None
    return pitch, pitch


def _standard_pitches(family: str, diameter: float) -> list[float]:
    rows = table("metric")["pitches"] if family == "M" else table("power")["trapezoidal"]["pitches"]
    return list(by_number(rows, diameter) or ())


def _no_pitch(diameter: float, standard: list[float], typed: str) -> OutOfRange:
    values: dict[str, Value] = {"diameter": Quantity(diameter, DIAMETER, brief=True)}
    fine = ", ".join(f"{pitch:g}" for pitch in standard if pitch)
    if fine:
        text = "{diameter} has no coarse pitch in ISO 261. Add one of its fine pitches: {fine}."
        return refused(text, typed, fine=fine, **values)
    text = (
        "{diameter} is not a diameter of the standard's series, so it has no standard pitch: write the pitch behind it."
    )
    return refused(text, typed, **values)


def _starts(lead: float, pitch: float) -> int:
    """How many starts a lead is of its pitch; refused unless it is a whole number."""
    starts = lead / pitch if pitch > 0.0 else 1.0
    if abs(starts - round(starts)) > 1e-6 or not 1 <= round(starts) <= MOST_STARTS:
        values: dict[str, Value] = {
            "lead": Quantity(lead, LENGTH, brief=True),
            "pitch": Quantity(pitch, LENGTH, brief=True),
        }
        text = "A lead of {lead} is not a whole number of starts with a pitch of {pitch}, from 1 to 12."
        raise OutOfRange(Fault("designation", Message(text, values)))
    return round(starts)


"""Numbered sizes of unified threads [in]. Source: ASME B1.1."""


def _unified(match: re.Match[str]) -> Designation:
    per_inch = float(match["tpi"])
    size, inches = inch_size(match["size"], match["number"], per_inch)
    series = (match["series"] or "").upper().replace("UNR", "UN")
    rows = table("unified")
    if not series:
        series = next((name for name in ("UNC", "UNF", "UNEF") if rows[name].get(size) == per_inch), "")
        series = series or ("UN" if per_inch in rows["constant"] else "UNS")
    listed = rows[series].get(size) == per_inch if series in rows else per_inch in rows["constant"]
    pitch = INCH / per_inch if per_inch else 0.0
    return Designation("", "UN", size, inches * INCH, pitch, per_inch, series=series, own=not listed)


def _acme(match: re.Match[str]) -> Designation:
    text, written = match["size"] or match["size2"], match["tpi"] or match["tpi2"]
    inches = inches_of(text)
    size = as_fraction(inches)
    usual = table("power")["acme"].get(size)
    if written is None and usual is None:
        raise refused("“{typed}” has no threads per inch, and its size is not in the general-purpose list.", text)
    per_inch = float(written) if written else float(usual)
    pitch = INCH / per_inch if per_inch else 0.0
    return Designation("", "ACME", size, inches * INCH, pitch, per_inch, own=per_inch != usual)


def _pipe(match: re.Match[str]) -> Designation:
    letters = {"G": "G", "R": "R", "RC": "Rc", "RP": "Rp"}[match["letter"].upper()]
    size = as_fraction(inches_of(match["size"]))
    rows = table("pipe")
    if size not in rows["parallel"] or (letters != "G" and size not in rows["taper"]):
        listed = ", ".join(rows["parallel" if letters == "G" else "taper"])
        raise refused(
            "There is no {letters} {size}. The sizes are {listed}.",
            "",
            letters=letters,
            size=size,
            listed=listed,
        )
    per_inch, diameter, *_ = rows["parallel"][size]
    return Designation("", "G" if letters == "G" else "R", size, diameter, INCH / per_inch, per_inch, series=letters)


def _npt(match: re.Match[str]) -> Designation:
    size = as_fraction(inches_of(match["size"] or match["size2"]))
    rows = table("pipe")["npt"]
    if size not in rows:
        raise refused("There is no NPT {size}. The sizes are {listed}.", "", size=size, listed=", ".join(rows))
    per_inch, inches, *_ = rows[size]
    written = match["tpi"] or match["tpi2"]
    if written and float(written) != per_inch:
        text = "NPT {size} has {right} threads per inch, not {typed}."
        raise refused(text, written, size=size, right=f"{per_inch:g}")
    return Designation("", "NPT", size, inches * INCH, INCH / per_inch, per_inch, series="NPT")


def _round(match: re.Match[str]) -> Designation:
    diameter = float(match["size"])
    usual = next((tpi for up_to, tpi in table("power")["round"].items() if diameter <= float(up_to)), None)
    written = match["tpi"]
    if written is not None:
        per_inch = float(written)
    elif usual is not None and diameter >= 8.0:
        per_inch = float(usual)
    else:
        raise refused("“{typed}” is outside the series of DIN 405: write its pitch, as in Rd 40x1/6.", match[0])
    pitch = INCH / per_inch if per_inch else 0.0
    return Designation("", "Rd", f"Rd {diameter:g}", diameter, pitch, per_inch, own=per_inch != usual)


_READERS: tuple[tuple[re.Pattern[str], Callable[[re.Match[str]], Designation]], ...] = (
    (re.compile(rf"(?P<letter>M|m|Tr|TR|tr) ?(?P<size>{_NUMBER}){_MM_PITCH}{_TAIL}"), _metric),
    (
        re.compile(rf"(?:ACME|Acme|acme) ?(?P<size>{_INCHES})(?: ?- ?(?P<tpi>{_NUMBER}))?(?P<size2>)(?P<tpi2>){_TAIL}"),
        _acme,
    ),
    (
        re.compile(rf"(?P<size2>{_INCHES}) ?- ?(?P<tpi2>{_NUMBER}) ?-? ?(?:ACME|Acme|acme)(?P<size>)(?P<tpi>){_TAIL}"),
        _acme,
    ),
    (re.compile(rf"(?P<letter>Rc|Rp|RC|RP|R|G|g) ?(?P<size>{_INCHES}){_TAIL}"), _pipe),
    (re.compile(rf"(?:NPT|npt) ?(?P<size>{_INCHES})(?: ?- ?(?P<tpi>{_NUMBER}))?(?P<size2>)(?P<tpi2>){_TAIL}"), _npt),
    (
        re.compile(rf"(?P<size2>{_INCHES})(?: ?- ?(?P<tpi2>{_NUMBER}))? ?-? ?(?:NPT|npt)(?P<size>)(?P<tpi>){_TAIL}"),
        _npt,
    ),
    (re.compile(rf"(?:Rd|RD|rd) ?(?P<size>{_NUMBER})(?: ?x ?1/(?P<tpi>{_NUMBER}))?{_TAIL}"), _round),
    (
        re.compile(
            rf"(?P<number>#|No\.? ?|Nr\.? ?)?(?P<size>{_INCHES}) ?- ?(?P<tpi>{_NUMBER})"
            rf"(?:[ -]?(?P<series>UNR?(?:C|F|EF|S)?|unr?(?:c|f|ef|s)?))?{_TAIL}"
        ),
        _unified,
    ),
)


# --- what stands behind the size: classes, engagement, starts, hand --------------------------------------------------


def _with_tail(found: Designation, tail: str) -> Designation:
    classes: list[str] = []
    for token in re.split(r"[ /-]+", tail.replace("(", " ").replace(")", " ").strip(" -")):
        if not token:
            continue
        if token.upper() in ("LH", "RH"):
            found = replace(found, left=token.upper() == "LH")
        elif token in ("S", "N", "L") and found.family == "M":
            found = replace(found, engagement=token)
        elif re.fullmatch(r"\d+(?:start|starts|START|STARTS)", token):
            found = replace(found, starts=_count(token))
        else:
            classes.append(token)
    return replace(found, classes=tuple(classes))


def _count(token: str) -> int:
    starts = int(re.sub(r"\D", "", token))
    if not 1 <= starts <= MOST_STARTS:
        raise refused("{typed} starts are not possible here: give 1 to 12.", str(starts))
    return starts


def _require_sound(found: Designation) -> None:
    values: dict[str, Value] = {
        "pitch": Quantity(found.pitch, LENGTH, brief=True),
        "diameter": Quantity(found.diameter, DIAMETER, brief=True),
    }
    if not found.pitch > 0.0:
        raise OutOfRange(Fault("designation", Message("A pitch of 0 is not a thread: write the pitch, as in M24x2.")))
    if not 0.0 < found.diameter <= LARGEST:
        text = "A diameter of {diameter} is not possible: threads here go up to Ø2000 mm."
        raise OutOfRange(Fault("designation", Message(text, {"diameter": values["diameter"]})))
    if found.pitch >= 0.6 * found.diameter:
        text = "A pitch of {pitch} leaves no core in {diameter}: are the two swapped, or is it a lead, as in x14 P7?"
        raise OutOfRange(Fault("designation", Message(text, values)))
    if found.lead > STEEPEST * found.diameter:
        values["lead"] = Quantity(found.lead, LENGTH, brief=True)
        text = "A lead of {lead} on {diameter} is steeper than any thread: check lead, pitch and starts."
        raise OutOfRange(Fault("designation", Message(text, {name: values[name] for name in ("lead", "diameter")})))
    if found.diameter > 1.0 and found.pitch < 0.002 * found.diameter:
        text = "A pitch of {pitch} on {diameter} is finer than any thread: check it."
        raise OutOfRange(Fault("designation", Message(text, values)))


def standard_pitches(found: Designation) -> tuple[float, ...]:
    """The pitches [mm] that the standard's series has for this diameter, coarse or preferred first.

    >>> standard_pitches(read_designation("M24x2"))
    (3.0, 2.0, 1.5, 1.0)
    """
    if found.family in ("M", "Tr"):
        return tuple(float(pitch) for pitch in _standard_pitches(found.family, found.diameter) if pitch)
    if found.family == "UN":
        rows = table("unified")
        named = [rows[name][found.size] for name in ("UNC", "UNF", "UNEF") if found.size in rows[name]]
        return tuple(INCH / per_inch for per_inch in named)
    if found.family == "ACME":
        usual = table("power")["acme"].get(found.size)
        return (INCH / usual,) if usual else ()
    return () if found.own else (found.pitch,)
