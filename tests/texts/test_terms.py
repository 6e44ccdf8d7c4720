"""A term of the trade is one word in each language, that of ISO 3002, DIN 6580, DIN 509, ISO 5608 and ISO 1832."""

from __future__ import annotations

import re

import pytest

from tests.texts.keeping import OTHERS, translations

TERMS = {
    # English: (German, Spanish), as patterns of which one must stand in the translation
    r"nose radius": ("eckenradi", "radio de punta"),
    r"nose centre": ("schneidenmittelpunkt", "centro de la punta"),
    r"entering angle": ("einstellwinkel", "ángulo de posición"),
    r"depth of cut": ("schnitttiefe", "profundidad de corte"),
    r"surface speed": ("schnittgeschwindigkeit", "velocidad(es)? de corte"),
    r"spindle speed": ("drehzahl", "(velocidad|la) del husillo"),
    r"tailstock": ("reitstock", "contrapunto"),
    r"roughing": ("schrupp", "desbast"),
    r"finishing": ("schlicht", "acabad"),
    r"undercut": ("freistich", "garganta"),
    r"jaws?": ("backe", "garra"),
    r"collets?": ("spannzange", "pinza"),
    r"mandrels?": ("dorn", "mandril"),
    r"steady rest": ("lünette", "luneta"),
    r"turret": ("revolver", "torreta"),
    r"pitch diameter": ("flankendurchmesser", "diámetro medio"),
    r"minor diameter": ("kerndurchmesser", "diámetro menor|diámetro interior"),
    r"inside corner": ("innenecke", "rincón|rincones"),
    r"part(?:ing|ed) off": ("abstech|abgest", "tronz"),
    r"knurls?": ("rändel", "molete|moleta"),
    r"tolerance": ("toleranz", "tolerancia"),
    r"shoulder": ("schulter", "escalón|escalones"),
    r"nose compensation": ("schneidenradiuskorrektur|schneidenkorrektur", "compensación"),
    r"chuck": ("futter|spann", "plato|portabrocas"),
    r"inserts?": ("platte|schneide", "plaquita"),
    r"holders?": ("halter", "portaplaquitas"),
    r"bores?": ("bohrung|ausdreh|innenmess", "agujero|mandr[ií]n|interiores"),
    r"feed": ("vorsch|schieben|schnittwerte|zustellen", "avan|alimentar"),
    r"chips?": ("span|spän", "viruta"),
    r"chamfers?": ("fase|anschnitt", "chafl|entrada"),
    r"threads?": ("gewinde|gang|gänge|flanken", "rosca|hilos"),
    r"grooves?": ("stechen|einst|nut|rille|lücke|riefe|spuren|freistich", "ranura|garganta|surco|hueco"),
}
"""The English term and what stands for it; where two words stand, the trade has two: Nut and Einstich, Fase and a tap's
Anschnitt, Gewinde and a Gang of it."""

CLAMPED = "the holder of a bar or a tool, not of an insert"
NOT_THE_TERM = {
    "Insert after": "a command",
    "friction between the holder and the work": "what holds the work",
    "The tap must leave at the feed of one pitch too: tap in step with the spindle or in a floating holder, and clear "
    "the chips before.": "a chuck for taps",
    "The holder's seat is for clearance {wanted} ({words}), the insert has {letter} ({own}).": "the insert's seat",
    "{feed} is below the {least} from which the finish formula holds with this edge: the chip is pressed aside, and "
    "the published model ends there with peaks of about {peak}. Expect no less; feed more, or take a sharper edge.": (
        "what is pressed aside is metal, no chip yet"
    ),
    "The tool stands {height} {side} the centre: a pip of {pip} stays on the axis and chips the nose, and the mouth "
    "comes out at {mouth}. Set the height first.": "to chip",
    "from the holder to the edge": CLAMPED,
    "from the holder out; none: one round bar": CLAMPED,
    "The holder is taken as rigid: it deflects too, and then everything here is larger and the frequency lower. Moduli "
    "are data sheet values, from memory.": CLAMPED,
    "The holder deflects as much as its stiffness says; the turret and the slide do too, and then everything here is "
    "larger. Moduli are data sheet values, from memory.": CLAMPED,
    "The bar sticks out {out}, less than the cut is long, {cut}: the holder strikes the work. Set it out farther.": (
        CLAMPED
    ),
}
"""Texts in which the English word means something else, or stands for itself, with the reason."""


@pytest.mark.parametrize("language", OTHERS)
def test_a_term_has_one_translation(language: str) -> None:
    found = {}
    for text, hyphened in translations(language).items():
        said = hyphened.replace("\u00ad", "")
        bare = re.sub(r"\{\w+\}", "", text)
        for term, words in TERMS.items():
            is_said = re.search(words[OTHERS.index(language)], said, re.I)
            if re.search(rf"\b{term}\b", bare, re.I) and not is_said and text not in NOT_THE_TERM:
                found[text] = (term, said)
    assert found == {}
