"""The address that a step holds: a question on one of our own pages, and nothing else."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any
from urllib.parse import parse_qsl, urlsplit

from calc.answer.feature import Feature
from calc.language.messages import Phrase, Typed
from calc.language.translating import Language
from server.catalogue import PAGES
from server.links import address
from server.old_names import present
from server.query import Query, read_query

# What a page puts into its own address for the moment and a kept question does not need.
PASSING = ("was", "typing", "saved")
MOST_PARAMETERS = 120


@dataclass(frozen=True, slots=True)
class Question:
    """A page's address taken apart: the feature that answers it, and the question as it was asked."""

    feature: Feature[Any, Any]
    query: Query
    parameters: tuple[tuple[str, str], ...]

    @property
    def address(self) -> str:
        """The address in the spelling of our own links."""
        return address(self.feature.page, dict(self.parameters))


def question_at(typed: str, language: Language = "en") -> Question | str:
    """The question that an address asks, or a sentence that says why it is none; its answer's words in `language`.

    >>> question_at("/dish?radius=75&depth=4.5&was=mm").address
    '/dish?radius=75&depth=4.5'
    >>> question_at("https://elsewhere.example/dish")
    'This must be the address of a page here, such as /dish?radius=75&depth=4.5.'
    """
    try:
        parts = urlsplit(typed)
    except ValueError:
        return _NOT_OURS
    if not typed.startswith("/") or parts.scheme or parts.netloc or parts.fragment:
        return _NOT_OURS
    feature = PAGES.get(parts.path)
    if feature is None:
        return Phrase("There is no page {page} here.", page=Typed(parts.path[:60]))
    try:
        pairs = parse_qsl(parts.query, keep_blank_values=True, errors="strict", max_num_fields=MOST_PARAMETERS)
    except ValueError:
        return "The question in this address cannot be read."
    kept = tuple(present(feature.path, ((name, text) for name, text in pairs if name not in PASSING)))
    query = read_query(kept, feature.inputs, language)
    return _not_known(query, feature) or Question(feature, query, kept)


def _not_known(query: Query, feature: Feature[Any, Any]) -> str:
    """What of a question is not known here, "" where nothing is."""
    if query.unknown:
        name = Typed(query.unknown[0][:40])
        return Phrase("This address has “{name}”, which the page {page} does not know.", name=name, page=feature.page)
    if not _is_known(query.marks.get("version", ""), feature.version):
        return Phrase(_NEWER, version=feature.version)
    return ""


def _is_known(version: str, newest: int) -> bool:
    """Whether a question's version is one of ours; none is said where it is from before they were counted."""
    return not version or (version.isascii() and version.isdecimal() and len(version) < 4 and int(version) <= newest)


def fault_of(question: Question) -> str:
    """What is wrong with the values of a question, "" when each can be read.

    >>> fault_of(question_at("/dish?radius=-3"))
    'radius: Dish radius must be more than 0; R-3 mm is not.'
    """
    if not question.query.faults:
        return ""
    fault = question.query.faults[0]
    return f"{fault.field}: {fault.message.say(question.query.view)}"


_NEWER = "This is of a newer version than {version}, which this server reads: bring it up to date."
_NOT_OURS = "This must be the address of a page here, such as /dish?radius=75&depth=4.5."
