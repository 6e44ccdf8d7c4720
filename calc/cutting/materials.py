"""Work materials as every page asks for them: by name, by a part of one, by a hardness or a force of one's own."""

from __future__ import annotations

from calc.cutting.grades import grades
from calc.cutting.material_data import GROUPS, PLASTIC, Hardness, Material, SpecificForce, SpeedRange, tabled
from calc.cutting.names import DEGREES, MOST_OFFERED, Reading, find, key, near
from calc.cutting.own_material import own_material
from calc.language.messages import Message, Value
from calc.language.problems import Fault, OutOfRange

__all__ = [
    "GROUPS",
    "PLASTIC",
    "Hardness",
    "Material",
    "SpecificForce",
    "SpeedRange",
    "material",
    "materials",
    "read",
    "search",
]


def materials() -> tuple[Material, ...]:
    """Every material with numbers of its own, in the order of ISO 513's groups.

    >>> len(materials()) >= 90
    True
    """
    return tuple(grades()[one.code] for one in tabled())


def material(name: str) -> Material:
    """The material that has this name, or the one that a hardness or a specific force in it describes.

    Case, spaces, dots, hyphens and the standard's letters in front do not matter. Raises OutOfRange at the field
    `material` for a name that none has, or that several have: the fault's `offers` are what it may mean.

    >>> material("aisi 1045").code, material("1045").code, material("ck 45").code, material("EN24T").code
    ('C45', 'C45', 'C45', '34CrNiMo6')
    >>> material("steel 250 HB").hardness.low, material("kc 1900 mc 0.25").forces[0].kc11
    (250.0, 1900.0)
    """
    found = read(name)
    if found.one is None:
        raise OutOfRange(_refused(name, found))
    return found.one


def read(name: str) -> Reading:
    """What a name means: one material, or several that it may be; neither for a name that is not here.

    >>> [one.code for one in read("brass").several][:2], read("cheese").several
    (['CuZn39Pb3', 'CuZn36Pb3'], ())
    """
    return find(name) or own_material(name) or Reading()


def search(text: str) -> tuple[Material, ...]:
    """The materials with numbers of their own that have a name with `text` in it, all of them for a blank text.

    Those of which a name begins with it come first, then those with it in the name they go by here, then the others.

    >>> [found.code for found in search("mncr")][:2]
    ['16MnCr5', '20MnCr5']
    """
    if DEGREES in text:
        return ()
    typed = key(text)
    fits = [one for one in materials() if any(typed in key(name) for name in (one.code, *one.names))]
    return tuple(sorted(fits, key=lambda one: _rank(typed, one)))


def _rank(typed: str, one: Material) -> int:
    if any(key(name).startswith(typed) for name in (one.code, *one.names)):
        return 0
    return 1 if typed in key(one.code) else 2


def _refused(name: str, found: Reading) -> Fault:
    values: dict[str, Value] = {"name": name.strip()[:40]}
    several = found.several or near(name)
    if not several:
        return Fault("material", Message(_UNKNOWN, values))
    offers = tuple(one.code for one in several[:MOST_OFFERED])
    values["near"] = ", ".join(offers)
    return Fault("material", Message(_SEVERAL if found.several else _NEAR, values), offers)


_UNKNOWN = "No material here is called “{name}”. Give its kind and hardness or its force: “steel 250 HB”, “kc 1900”."
_NEAR = "No material here is called “{name}”; names near to it: {near}. Or give its kind and hardness: “steel 250 HB”."
_SEVERAL = "“{name}” can mean several materials: {near}. Choose one."
