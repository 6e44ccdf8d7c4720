"""From an operation of a part to the form in which its cut is kept as proven."""

from __future__ import annotations

import datetime
from collections.abc import Mapping

from calc.language.fields import specs
from server.links import address
from server.row_texts import FIELD, BadRow, texts_of
from server.sheets.addresses import Question, question_at
from server.sheets.refusals import Fault, Invalid
from server.sheets.showing import own_address
from server.shop.kept import keeping_address


def keeping_operation(form: Mapping[str, str], today: datetime.date) -> str:
    """The address of a new proven cut with what a part says of the operation that a form names. Raises `Invalid`."""
    typed = own_address(form.get("address", ""))
    question = question_at(typed)
    if isinstance(question, str):
        raise Invalid([Fault("address", question)])
    row = _row(question, form.get("keep", ""))
    texts = {**question.query.texts, **row}
    saved = (("saved", form["place"]),) if form.get("place") else ()
    back = address(question.feature.page, [*question.parameters, *saved])
    return keeping_address(
        texts, question.query.view.units, back, today, {name: row.get(name, "") for name in ("kind", "depth")}
    )


def _row(question: Question, name: str) -> Mapping[str, str]:
    """The texts of the operation that is called so (`operations.2`). Raises `Invalid` where there is none."""
    found = FIELD.fullmatch(f"{name}.kind")
    spec = next((each for each in specs(question.feature.inputs) if found and each.name == found[1]), None)
    if found is not None and spec is not None and spec.rows is not None:
        try:
            rows = texts_of(question.query.texts[spec.name], spec.rows.row)
        except BadRow:
            rows = ()
        if int(found[2]) < len(rows):
            return rows[int(found[2])]
    raise Invalid([Fault("keep", "This operation is gone: open the part once more.")])
