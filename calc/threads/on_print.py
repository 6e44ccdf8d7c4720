"""What a contour's rows may call by a standard's name: threads, their reliefs, undercuts, grooves for rings."""

from __future__ import annotations

import re
from typing import cast

from calc.contour import Point
from calc.contour.callouts import GrooveCalled, ThreadCalled
from calc.contour.undercut import Undercut
from calc.language.given import LEAST_SLACK, Given
from calc.language.limited import Limited, aimed
from calc.language.messages import Phrase, Value
from calc.language.problems import Problem
from calc.language.reading import ReadingError
from calc.shapes.grooves_on_print import groove_called
from calc.shapes.knurls_on_print import knurl_called
from calc.shapes.shoulder.geometry import undercut_contour
from calc.shapes.shoulder.standards import Undercut as SizeOfUndercut
from calc.shapes.shoulder.standards import sizes_of
from calc.threads.relief import Form, chamfer_to, relief_chain, relief_of
from calc.threads.thread import Thread, thread_of

_UNDERCUT = re.compile(
    r"\s*(?:DIN\s*509)?[\s-]*(?P<form>[A-Za-z]?)\s*(?P<radius>[\d.,]+)\s*[xX×]\s*(?P<depth>[\d.,]+)\s*"
)
_RELIEF = re.compile(r"\s*(?:DIN\s*76)?[\s-]*(?P<form>[A-Da-d]?)(?:\s+(?=\S)|(?=M)|\s*$)(?P<thread>.*)")
_THREAD = re.compile(r"\s*(?:M|Tr|Rd|G|Rp)\s*\d|.*(?:UN|NPT|ACME)", re.IGNORECASE)
_FORMS = {"": "", "A": "regular", "B": "short", "C": "regular", "D": "short"}


class StandardNames:
    """The designations of DIN 509, DIN 76, of rings and of threads."""

    def undercut(self, text: str) -> Undercut:
        """The undercut of DIN 509 that a print calls `text`; form F where it has no letter. Raises `ReadingError`.

        >>> found = StandardNames().undercut("DIN 509 - E 0.8x0.3")
        >>> found.words, found.profile.start.z
        ('DIN 509 - E 0.8 x 0.3', 2.5)
        """
        form, chosen = undercut_named(text)
        return Undercut(f"DIN 509 - {form} {chosen.size}", undercut_contour(form, chosen, Point(0.0, 0.0))[0])

    def relief(self, text: str, thread: str) -> Undercut:
        """The relief of DIN 76 that a print calls `text`: a letter, a thread or both; else that of `thread`.

        A and C are regular, B and D short. Raises `ReadingError`.

        >>> found = StandardNames().relief("A", "M24x2-6g")
        >>> found.words, round(min(e.end.r for e in found.profile), 3)
        ('DIN 76 - A for M24x2', -1.5)
        """
        match = _RELIEF.fullmatch(text)
        letter, named = ("", text) if match is None else (match["form"].upper(), match["thread"])
        if not (named.strip() or thread.strip()):
            raise ReadingError(text, "Whose relief is it? Write the thread, as in A M24x2-6g.")
        found = _thread(named.strip() or thread.strip())
        try:
            relief = relief_of(found, cast("Form", _FORMS[letter] or "regular"))
        except Problem as problem:
            raise _refused(text, problem) from problem
        if letter and (letter in "AB") != relief.outside:
            right = "A and B outside, C and D inside"
            raise ReadingError(
                text, "Form {form} is on the other side of this thread: {right}.", form=letter, right=right
            )
        begins = relief.thread if relief.outside else _middle(found.sizes.minor)
        up = 1.0 if relief.outside else -1.0
        chain = relief_chain(relief, 0.0, begins, begins + up * 100.0)
        profile = type(chain)(chain.elements[:-1]).shifted(0.0, -begins / 2.0)
        words = Phrase("DIN 76 - {letter} for {size_of}", letter=relief.letter, size_of=_size_of(found))
        return Undercut(words, profile if relief.outside else profile.mirrored(), begins, relief.outside)

    def groove(self, text: str, radius: float | None, *, outward: bool) -> GrooveCalled:
        """The groove for a ring that a print calls `text`, in a cylinder of `radius` (mm). Raises `ReadingError`.

        >>> StandardNames().groove("ring 40", None, outward=True).words
        'DIN 472 - 40 x 1.75'
        """
        return groove_called(text, radius, outward=outward)

    def is_thread(self, text: str) -> bool:
        """Whether a print would call a thread `text`.

        >>> [StandardNames().is_thread(text) for text in ("M24x2", "1/2-13 UNC-2A", "24 g6", "R8")]
        [True, True, False, False]
        """
        return _THREAD.match(text) is not None

    def thread(self, text: str) -> ThreadCalled:
        """The thread that a print calls `text`, of the usual class where it has none.

        Raises `ReadingError` for what is no thread, or one that is not on a cylinder.

        >>> called = StandardNames().thread("M24x2")
        >>> round(2 * called.radius.upper, 3), round(called.chamfer, 3), called.has_class
        (23.962, 1.28, False)
        """
        found = _thread(text)
        if found.plane is not None:
            raise ReadingError(text, "“{typed}” is a taper thread: give a line with the taper 1:16 here.")
        sizes = found.sizes
        size = sizes.major if sizes.outside else sizes.minor
        nominal = found.named.diameter if sizes.outside else sizes.basic.minor
        limits = (size.lower / 2.0, size.upper / 2.0) if isinstance(size, Limited) else None
        radius = Given(_middle(size) / 2.0, LEAST_SLACK["mm"], nominal / 2.0 if limits else None, limits)
        return ThreadCalled(radius, abs(aimed(size) - chamfer_to(found)) / 2.0, not sizes.assumed)

    def knurled(self, text: str) -> str | None:
        """The size that stands in `text` with a knurl beside it; None for no knurl. Raises `ReadingError`.

        >>> StandardNames().knurled("42 DIN 82-RGE 1"), StandardNames().knurled("42 h9")
        ('42', None)
        """
        called = knurl_called(text)
        return None if called is None else called.size

    def turned(self, text: str) -> Given | None:
        """The radius (mm) to turn or bore before the thread `text` with its class is cut; else None.

        Raises `ReadingError` for a thread with a class that is not known, or one that is not on a cylinder.

        >>> held = StandardNames().turned("M24x2-6g")
        >>> round(2 * held.lower, 3), round(2 * held.upper, 3)
        (23.682, 23.962)
        """
        if not self.is_thread(text):
            return None
        called = self.thread(text)
        return called.radius if called.has_class and called.radius.lower is not None else None


def undercut_named(text: str) -> tuple[str, SizeOfUndercut]:
    """Form and size of the undercut of DIN 509 that a print calls `text`; F without a letter. Raises `ReadingError`.

    >>> form, size = undercut_named("E 0.6x0.3")
    >>> form, size.code
    ('E', '0.6x0.3')
    """
    match = _UNDERCUT.fullmatch(text)
    if match is None:
        raise ReadingError(text, "“{typed}” is no undercut of DIN 509: write form, radius and depth, as F 0.8x0.3.")
    form = match["form"].upper() or "F"
    if not sizes_of(form):
        sentence = "Form {form} of DIN 509 is not in the tables here, E, F, G and H are: give its elements one by one."
        raise ReadingError(text, sentence, form=form)
    wanted = tuple(float(match[name].replace(",", ".")) for name in ("radius", "depth"))
    chosen = next((each for each in sizes_of(form) if (each.radius, each.depth) == wanted), None)
    if chosen is None:
        sizes = ", ".join(sorted({each.code for each in sizes_of(form)}))
        raise ReadingError(text, "DIN 509 has no undercut “{typed}”. Its sizes are {sizes}.", sizes=sizes)
    return form, chosen


def _thread(text: str) -> Thread:
    try:
        return thread_of(text)
    except Problem as problem:
        raise _refused(text, problem) from problem


def _refused(text: str, problem: Problem) -> ReadingError:
    fault = problem.faults[0].message
    values: dict[str, Value] = {name: value for name, value in fault.values.items() if name != "typed"}
    return ReadingError(text, fault.text, (), **values)


def _middle(size: float | Limited) -> float:
    return (size.lower + size.upper) / 2.0 if isinstance(size, Limited) else size


def _size_of(thread: Thread) -> str:
    return thread.named.text.partition("-")[0]


NAMES = StandardNames()
