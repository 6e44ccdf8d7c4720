"""What the sheets refuse, each with its HTTP status and a sentence for the person who asked."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from calc.language.messages import Phrase

MAXIMUM_WAIT = 3600


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that is wrong, at one field (`steps.2.note`; "" when it belongs to the whole)."""

    field: str
    message: str


class Refusal(Exception):
    """A request that is not carried out. Nothing was changed."""

    status = 422
    title = "Not taken"

    def __init__(self, message: str, field: str = "") -> None:
        super().__init__(message)
        self.faults: Sequence[Fault] = (Fault(field, message),)

    @property
    def headers(self) -> Mapping[str, str]:
        """Further headers of the answer."""
        return {}

    @property
    def more(self) -> Mapping[str, Any]:
        """What stands in the JSON answer beside the errors."""
        return {}


class Invalid(Refusal):
    """A document that does not hold what it must, with every fault that was found."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        super().__init__("; ".join(f"{fault.field}: {fault.message}" for fault in faults))
        self.faults = tuple(faults)


class NoSuchSheet(Refusal):
    """An address that leads to no sheet."""

    status = 404
    title = "No such sheet"

    def __init__(self) -> None:
        super().__init__("There is no sheet at this address. It may be a mistyped link.")


class NoSuchRevision(Refusal):
    """A revision that the sheet does not have."""

    status = 404
    title = "No such revision"

    def __init__(self, number: int) -> None:
        super().__init__(Phrase("This sheet has no revision {number}.", number=number), "revision")


class Ended(Refusal):
    """A sheet whose owner has ended its link."""

    status = 410
    title = "This sheet is gone"

    def __init__(self) -> None:
        super().__init__("The owner has ended this link. Ask whoever gave it to you for the sheet that counts now.")


class NotOwner(Refusal):
    """A change by somebody who has not shown the owner's secret, or a wrong one."""

    status = 403
    title = "Only the owner can do this"

    def __init__(self) -> None:
        super().__init__("Only the owner can do this. Open the owner's link on this device first, or copy the sheet.")


class ForeignSite(Refusal):
    """A change that a page of somebody else's asked the browser for."""

    status = 403
    title = "Not from here"

    def __init__(self) -> None:
        super().__init__("This request came from another site's page, so nothing was changed. Do it on our own page.")


class TooLarge(Refusal):
    """More than fits: in one request, one sheet."""

    status = 413
    title = "Too large"


class TooOften(Refusal):
    """More requests than one address, or all together, may make."""

    status = 429
    title = "Too many at once"

    def __init__(self, message: str, wait: int) -> None:
        super().__init__(message)
        self.wait = min(max(wait, 1), MAXIMUM_WAIT)

    @property
    def headers(self) -> Mapping[str, str]:
        """How long to wait."""
        return {"Retry-After": str(self.wait)}


class Full(Refusal):
    """The store holds as much as whoever runs it allows."""

    status = 507
    title = "No room"

    def __init__(self) -> None:
        super().__init__("No more saved work fits here. Export the sheet and tell whoever runs this server.")


class Unavailable(Refusal):
    """Saved work cannot be had or changed; nothing was saved. `state` is one word for whoever runs the server."""

    status = 503
    title = "Saved work cannot be reached"
    state = "unreachable"
    words = "Saved work cannot be reached just now, so nothing was saved. Try again in a moment."
    wait = 5

    def __init__(self) -> None:
        super().__init__(self.words)

    @property
    def headers(self) -> Mapping[str, str]:
        """When to try again, where that helps."""
        return {"Retry-After": str(self.wait)} if self.wait else {}


class Late(Refusal):
    """A step whose computing was stopped."""

    status = 503
    title = "No answer in time"
    headers: Mapping[str, str] = {"Retry-After": "5"}
