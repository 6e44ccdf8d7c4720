"""The JSON answers of the sheets."""

from __future__ import annotations

import datetime
import json
from typing import Any

from calc.language.messages import Phrase
from server.sheets.differences import differences
from server.sheets.gathering import Gathered, gather
from server.sheets.merging import merge
from server.sheets.model import Sheet
from server.sheets.reading import document_of, stored_sheet
from server.sheets.refusals import Refusal
from server.sheets.revisions import Revision

Json = dict[str, Any]


def said_time(milliseconds: int) -> str:
    """A time as ISO 8601 in UTC.

    >>> said_time(1_700_000_000_000)
    '2023-11-14T22:13:20Z'
    """
    return f"{datetime.datetime.fromtimestamp(milliseconds / 1000, datetime.UTC):%Y-%m-%dT%H:%M:%SZ}"


def revision_json(revision: Revision) -> Json:
    """A revision with its document."""
    return {**_marks(revision), "sheet": json.loads(revision.document)}


def sheet_json(revision: Revision, *, owner: bool) -> Json:
    """A sheet as its reader gets it: the document, and what its steps say today."""
    return {
        **revision_json(revision),
        "owner": owner,
        "gathered": gathered_json(gather(stored_sheet(revision.document))),
    }


def gathered_json(gathered: Gathered) -> Json:
    """The answers of the steps, and each caution and tool once with the numbers of its steps."""
    return {
        "steps": [
            {
                "key": each.step.key,
                "page": each.page,
                "headline": each.headline,
                "answer": each.answer,
                "problem": each.problem,
                "cautions": list(each.cautions),
                "tool": each.tool,
            }
            for each in gathered.outlines
        ],
        "cautions": [{"text": text, "steps": list(steps)} for text, steps in gathered.cautions],
        "tools": [{"text": text, "steps": list(steps)} for text, steps in gathered.tools],
    }


def history_json(revisions: list[Revision], most: int) -> Json:
    """Revisions, newest first, each with what it changed; one more than `most` shows that there are further ones."""
    sheets = [stored_sheet(revision.document) for revision in revisions]
    entries = []
    for index, revision in enumerate(revisions[:most]):
        before = sheets[index + 1] if index + 1 < len(sheets) else Sheet()
        entries.append({**_marks(revision), "changes": differences(before, sheets[index])})
    return {"revisions": entries, "more": len(revisions) > most}


class Overtaken(Refusal):
    """A save that somebody else's overtook: the answer holds all that is needed to merge."""

    status = 409
    title = "Somebody saved in between"

    def __init__(self, base: Revision, current: Revision, mine: Sheet) -> None:
        super().__init__(
            Phrase(
                "Somebody saved revision {newer} while you worked on revision {yours}. Nothing was overwritten, and "
                "nothing of yours is lost: see what changed, then save again.",
                newer=current.number,
                yours=base.number,
            ),
            "based_on",
        )
        self.base, self.current, self.mine = base, current, mine
        sheets = [stored_sheet(each.document) for each in (base, current)]
        self.changes = differences(*sheets)
        self.merged = merge(sheets[0], sheets[1], mine)

    @property
    def more(self) -> Json:
        """What changed in between, all three versions, and the two changes joined, with the fields where they meet."""
        merged = self.merged
        return {
            "changes": self.changes,
            "base": revision_json(self.base),
            "current": revision_json(self.current),
            "yours": document_of(self.mine),
            "merged": document_of(merged.sheet),
            "conflicts": [{"field": each.field, "yours": each.mine} for each in merged.conflicts],
        }


def _marks(revision: Revision) -> Json:
    return {
        "id": revision.sheet,
        "revision": revision.number,
        "based_on": revision.based_on,
        "saved_at": said_time(revision.saved_at),
    }
