"""A whole part as saved work: a sheet whose step is the part, saved from the part's page and back into it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from fastapi import FastAPI, Request
from fastapi.responses import RedirectResponse, Response

from calc.language.messages import Message
from server.saved_place import SavedPlace, place_in
from server.sheets.addresses import Question, question_at
from server.sheets.answers import Overtaken
from server.sheets.desk import whole_number
from server.sheets.editing import EditingPages, Form
from server.sheets.forms import form_of
from server.sheets.lanes import WRITING
from server.sheets.model import Heading, Sheet, Step
from server.sheets.pages import leading_on, sheet_of
from server.sheets.reading import as_sent, stored_sheet
from server.sheets.refusals import Fault, Invalid, NotOwner
from server.sheets.requests import client_of, secret_of
from server.sheets.showing import own_address

HEADED_BY = {
    "part": "part_name",
    "material": "material",
    "machine": "machine_name",
    "part_revision": "drawing_revision",
}
"""The fields of a sheet's heading, and those of a part's question that they are filled from."""


class SavedParts(EditingPages):
    """`POST /sheet/part` keeps a new part, `POST /sheet/{sheet}/part` the next revision of one.

    `POST /sheet/{sheet}/readings` keeps what was measured of a part with it.
    """

    def mount(self, app: FastAPI) -> None:
        """Give the app the routes."""
        self.route(app, "POST", "/sheet/part", self.keep)
        self.route(app, "POST", "/sheet/{sheet}/part", self.keep_again)
        self.route(app, "POST", "/sheet/{sheet}/readings", self.keep_readings)

    async def keep(self, request: Request) -> Response:
        """Keep a part as a sheet of its own; this browser is its owner."""
        form = await form_of(request, self.limits.body)
        return await WRITING.run(self._keep, request, form)

    def _keep(self, request: Request, form: Form) -> Response:
        question = part_in(form)
        sheet = Sheet(headed(Heading(), question), (Step(address=question.address, practice=True),))
        created = self.desk.create(as_sent(sheet), client_of(request))
        return leading_on(request, created.sheet, created.secret, to="")

    async def keep_again(self, request: Request) -> Response:
        """Keep the part as the next revision of its sheet; what somebody else saved meanwhile is joined with it."""
        form = await form_of(request, self.limits.body)
        return await WRITING.run(self._keep_again, request, form, part_in, with_part)

    async def keep_readings(self, request: Request) -> Response:
        """Keep readings as a step of their part's sheet, in its next revision; those opened from there are replaced."""
        form = await form_of(request, self.limits.body)
        return await WRITING.run(self._keep_again, request, form, readings_in, with_readings)

    def _keep_again(
        self,
        request: Request,
        form: Form,
        read: Callable[[Form], Question],
        put_in: Callable[[Sheet, SavedPlace, Question], Sheet],
    ) -> Response:
        sheet, secret = sheet_of(request), secret_of(request)
        if not self.desk.read(sheet, secret)[1]:
            raise NotOwner
        place, question = place_of(form), read(form)
        based_on = whole_number(str(place.revision), "place")
        before = stored_sheet(self.desk.revision(sheet, secret, based_on).document)
        mine = as_sent(put_in(before, place, question))
        try:
            self.desk.save(sheet, secret, based_on, mine, client_of(request))
        except Overtaken as overtaken:
            return self.overtaken(request, overtaken)
        return RedirectResponse(f"/sheet/{sheet}", 303, {"Cache-Control": "no-store"})


def part_in(form: Form) -> Question:
    """The part that a form sends. Raises `Invalid` for another page's question."""
    question = question_at(own_address(form.get("address", "")))
    if isinstance(question, str):
        raise Invalid([Fault("address", question)])
    if not question.feature.version:
        raise Invalid([Fault("address", "Only a whole part can be saved this way; put this on a sheet instead.")])
    return question


def readings_in(form: Form) -> Question:
    """The readings that a form sends. Raises `Invalid` for another page's question."""
    question = question_at(own_address(form.get("address", "")))
    if isinstance(question, str):
        raise Invalid([Fault("address", question)])
    if not question.feature.kept_with:
        raise Invalid([Fault("address", "Only readings of a part are kept with it; put this on a sheet instead.")])
    return question


def place_of(form: Form) -> SavedPlace:
    """Where the part was opened from. Raises `Invalid` where that is not said."""
    place = place_in(form.get("place", ""))
    if place is None:
        raise Invalid([Fault("place", "Open the part from its sheet once more, then save.")])
    return place


def headed(heading: Heading, question: Question) -> Heading:
    """The heading with what the part says of it; what it does not say stays."""
    texts = question.query.texts
    said = {name: texts[field].strip() for name, field in HEADED_BY.items() if texts.get(field, "").strip()}
    return replace(heading, **said, units=question.query.view.units)


def with_readings(sheet: Sheet, place: SavedPlace, question: Question) -> Sheet:
    """The sheet with readings in the step that they were opened from, or in one of their own, named by the revision.

    The revision is the one of the part that was measured; it stays with readings that are changed later.
    """
    own = next((step for step in sheet.steps if step.key == place.step and is_readings(step)), None)
    if own is not None:
        changed = replace(own, address=question.address)
        return replace(sheet, steps=tuple(changed if step is own else step for step in sheet.steps))
    title = Message("Measured, revision {revision} of the part", {"revision": place.revision}).say(question.query.view)
    return replace(sheet, steps=(*sheet.steps, Step(title=title, address=question.address)))


def is_readings(step: Step) -> bool:
    """Whether a step holds readings of a part.

    >>> is_readings(Step(address="/part-measured?readings=measured:42")), is_readings(Step(address="/part"))
    (True, False)
    """
    question = question_at(step.address)
    return not isinstance(question, str) and bool(question.feature.kept_with)


def with_part(sheet: Sheet, place: SavedPlace, question: Question) -> Sheet:
    """The sheet with the part in the step of its place. Raises `Invalid` where that step is gone."""
    key = place.step
    if all(step.key != key for step in sheet.steps):
        raise Invalid([Fault("place", "The step that held this part is gone: save it as another part.")])
    steps = [replace(step, address=question.address) if step.key == key else step for step in sheet.steps]
    first = sheet.steps[0].key == key
    return replace(sheet, heading=headed(sheet.heading, question) if first else sheet.heading, steps=tuple(steps))
