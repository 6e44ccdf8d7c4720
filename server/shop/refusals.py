"""What the shop's lists refuse, each with its HTTP status and a sentence for the person who asked."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calc.language.messages import Phrase
from server.sheets.refusals import Refusal
from server.shop.entry import Entry
from server.shop.joining import Joined


class NotBegun(Refusal):
    """A change of lists that nobody has begun."""

    status = 404
    title = "The shop has no list yet"

    def __init__(self) -> None:
        super().__init__("The shop has no list yet. Begin one on the page of the shop; whoever begins it owns it.")


class Begun(Refusal):
    """A second beginning."""

    status = 409
    title = "The shop has its list already"

    def __init__(self) -> None:
        super().__init__("The shop has its list already. Ask whoever began it for the owner's link.")


class NotShopOwner(Refusal):
    """A change by somebody who has not shown the owner's secret."""

    status = 403
    title = "Only the owner of the list can do this"

    def __init__(self) -> None:
        super().__init__("Only the owner of the shop's list can do this. Open the owner's link on this device first.")


class NoSuchEntry(Refusal):
    """An entry that is not there."""

    status = 404
    title = "Not in the shop's list"

    def __init__(self) -> None:
        super().__init__("This is not in the shop's list.")


class ListFull(Refusal):
    """More entries or bytes than fit."""

    status = 507
    title = "No room in the shop's list"

    def __init__(self, most: int) -> None:
        text = "The list holds {most} at most, and is full: remove what the shop no longer has."
        super().__init__(Phrase(text, most=most))


class EntryOvertaken(Refusal):
    """A change that somebody else's overtook: the answer holds both, joined."""

    status = 409
    title = "Somebody changed it in between"

    def __init__(self, current: Entry, both: Joined) -> None:
        super().__init__(
            "Somebody changed this while you did. Nothing was overwritten, and nothing of yours is lost: see both "
            "changes joined, then save again.",
            "based_on",
        )
        self.current, self.joined = current, both

    @property
    def more(self) -> Mapping[str, Any]:
        """The newest revision, both changes joined, and what of mine stands against what was saved."""
        content = self.joined.content
        return {
            "current": {"revision": self.current.revision, "removed": self.current.removed_at is not None},
            "merged": {"units": content.units, "texts": dict(content.texts)},
            "conflicts": [{"field": name, "yours": text} for name, text in self.joined.mine.items()],
        }
