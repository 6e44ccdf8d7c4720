"""The OpenAPI description of the sheets, made from the declarations of the document."""

from __future__ import annotations

from collections.abc import Mapping
from http import HTTPStatus
from typing import Any

from calc.language.spec import Spec
from server.schema import ERROR
from server.sheets.fields import declarations
from server.sheets.model import FORMAT, VERSION, Sheet

Json = dict[str, Any]

TEXT: Json = {"type": "string"}
NUMBER: Json = {"type": "integer"}
SENTENCES: Json = {"type": "array", "items": TEXT}


def record_schema(of: type[Any]) -> Json:
    """The schema of a declared class.

    >>> from server.sheets.model import Check
    >>> record_schema(Check)["properties"]["nominal"]
    {'type': 'string', 'description': 'Nominal', 'maxLength': 40}
    """
    properties = {each.name: _field(each) for each in declarations(of)}
    return {"type": "object", "properties": properties, "additionalProperties": False}


def document_schema() -> Json:
    """The schema of a sheet's document."""
    schema = record_schema(Sheet)
    marks = {"format": {"type": "string", "enum": [FORMAT]}, "version": {"type": "integer", "enum": [VERSION]}}
    return {**schema, "properties": marks | schema["properties"], "required": ["format", "version"]}


def _field(declared: Spec) -> Json:
    described = {"description": declared.label + (f" ({declared.hint})" if declared.hint else "")}
    if declared.role == "part":
        return record_schema(declared.repeated.row) | described
    if declared.role == "rows":
        row = record_schema(declared.repeated.row)
        return {"type": "array", "items": row, "maxItems": declared.repeated.most} | described
    if declared.role == "flag":
        return {"type": "boolean"} | described
    if declared.most is not None:
        return {"type": "integer", "minimum": 0, "maximum": int(declared.most), "nullable": True} | described
    if declared.role == "choice":
        return {"type": "string", "enum": list(declared.choices)} | described
    return {"type": "string"} | described | {"maxLength": declared.longest}


def object_of(**properties: Json) -> Json:
    """The schema of an object with these properties."""
    return {"type": "object", "properties": properties}


def list_of(**properties: Json) -> Json:
    """The schema of a list of such objects."""
    return {"type": "array", "items": object_of(**properties)}


_DOCUMENT = document_schema()
_MARKS: Json = {
    "id": TEXT,
    "revision": NUMBER,
    "based_on": NUMBER,
    "saved_at": {"type": "string", "format": "date-time"},
}
_REVISION = object_of(**_MARKS, sheet=_DOCUMENT)
_NUMBERED = list_of(text=TEXT, steps={"type": "array", "items": NUMBER})
_STEP = list_of(key=TEXT, page=TEXT, headline=TEXT, answer=TEXT, problem=TEXT, cautions=SENTENCES, tool=TEXT)
_GATHERED = object_of(steps=_STEP, cautions=_NUMBERED, tools=_NUMBERED)
_READ = object_of(**_MARKS, sheet=_DOCUMENT, owner={"type": "boolean"}, gathered=_GATHERED)
_CREATED = object_of(**_MARKS, sheet=_DOCUMENT, address=TEXT, owner_address=TEXT, secret=TEXT)
_HISTORY = object_of(revisions=list_of(**_MARKS, changes=SENTENCES), more={"type": "boolean"})
_CONFLICT = object_of(
    errors=list_of(field=TEXT, message=TEXT),
    changes=SENTENCES,
    base=_REVISION,
    current=_REVISION,
    yours=_DOCUMENT,
    merged=_DOCUMENT,
    conflicts=list_of(field=TEXT, yours={"nullable": True}),
)
_REASONS = {
    403: "Not the owner, or asked for by another site's page",
    404: "No such sheet or revision",
    410: "The owner has ended the link",
    413: "More than fits in one request or one sheet",
    429: "Too often; Retry-After says how many seconds to wait",
    503: "The database cannot be reached; nothing was saved",
    507: "The store is full",
}
_SHEET = {
    "name": "sheet",
    "in": "path",
    "required": True,
    "schema": TEXT,
    "description": "The reading id, such as k7mp-3wxz-9dqr; capitals and dashes do not matter",
}
_OWNER: list[Json] = [{"owner": []}, {"ownerCookie": []}]
SECURITY_SCHEMES: Json = {
    "owner": {"type": "http", "scheme": "bearer", "description": "The secret that creating a sheet answered with"},
    "ownerCookie": {
        "type": "apiKey",
        "in": "cookie",
        "name": "sheet-owner",
        "description": "Given by the owner's link",
    },
}


def content(schema: Json) -> Json:
    """A schema as what a body or an answer holds."""
    return {"content": {"application/json": {"schema": schema}}}


def operation(
    summary: str,
    description: str,
    answer: Json,
    refuses: tuple[int, ...],
    *,
    success: int = 200,
    body: Json | None = None,
    parameters: tuple[Json, ...] = (_SHEET,),
    owner: bool = False,
    reasons: Mapping[int, str] = _REASONS,
) -> Json:
    """A call in the description of the API; `refuses` are its further statuses, with their `reasons`."""
    refusals: Json = {str(status): {**ERROR, "description": reasons[status]} for status in refuses}
    more: Json = {
        "parameters": list(parameters),
        "responses": {
            str(success): {"description": HTTPStatus(success).phrase, **content(answer)},
            "422": ERROR,
            **refusals,
        },
    }
    if body is not None:
        more["requestBody"] = {"required": True, **content(body)}
    if owner:
        more["security"] = _OWNER
    return {"summary": summary, "description": description, "more": more}


def _query(name: str, description: str, *, required: bool) -> Json:
    return {"name": name, "in": "query", "required": required, "schema": NUMBER, "description": description}


_ONE = "/api/sheets/{sheet}"
_WRITES = (403, 404, 410, 413, 429, 503, 507)
_OWNER_READS = (403, 404, 410, 503)
OPERATIONS: dict[tuple[str, str], Json] = {
    ("POST", "/api/sheets"): operation(
        "Create a sheet",
        "Keep a new sheet, or one that was exported. The secret is shown this once; it makes whoever has it the owner.",
        _CREATED,
        (403, 413, 429, 503, 507),
        success=201,
        body=_DOCUMENT,
        parameters=(),
    ),
    ("GET", _ONE): operation(
        "Read a sheet",
        "The newest revision, with what its steps answer today: results, cautions and tools.",
        _READ,
        (404, 410, 503),
    ),
    ("PUT", _ONE): operation(
        "Save a sheet",
        "Keep a further revision. It names the revision that it was based on; if somebody saved in between, the answer "
        "is 409 with what changed, all versions, and both changes joined.",
        _REVISION,
        _WRITES,
        body=object_of(based_on=NUMBER, sheet=_DOCUMENT),
        owner=True,
    ),
    ("DELETE", _ONE): operation(
        "End the link of a sheet",
        "Readers find the sheet gone. The owner can copy or export it for thirty days more.",
        object_of(ended={"type": "boolean"}),
        _OWNER_READS,
        owner=True,
    ),
    ("POST", f"{_ONE}/copy"): operation(
        "Copy a sheet",
        "Keep a copy as a sheet of one's own, with a link and a secret of its own. Whoever can read can copy.",
        _CREATED,
        (403, 404, 410, 413, 429, 503, 507),
        success=201,
    ),
    ("POST", f"{_ONE}/restore"): operation(
        "Restore an older revision",
        "Save an older revision again as the newest one; nothing in between is lost.",
        _REVISION,
        _WRITES,
        body=object_of(revision=NUMBER, based_on=NUMBER),
        owner=True,
    ),
    ("GET", f"{_ONE}/export"): operation(
        "Export a sheet",
        "The document alone, as a file. Creating a sheet from it gives the same sheet again.",
        _DOCUMENT,
        (404, 410, 503),
    ),
    ("GET", f"{_ONE}/revisions"): operation(
        "List the revisions",
        "The newest fifty, each with what it changed in words; `before` goes on from there.",
        _HISTORY,
        _OWNER_READS,
        parameters=(_SHEET, _query("before", "only revisions below this number", required=False)),
        owner=True,
    ),
    ("GET", f"{_ONE}/revisions/{{revision}}"): operation(
        "Read an older revision",
        "A revision as it was saved.",
        _REVISION,
        _OWNER_READS,
        parameters=(_SHEET, {"name": "revision", "in": "path", "required": True, "schema": NUMBER}),
        owner=True,
    ),
    ("GET", f"{_ONE}/difference"): operation(
        "Compare two revisions",
        "What changed from one revision to the other, in words.",
        object_of(**{"from": NUMBER, "to": NUMBER, "changes": SENTENCES}),
        _OWNER_READS,
        parameters=(
            _SHEET,
            _query("from", "the older revision", required=True),
            _query("to", "the newer revision", required=True),
        ),
        owner=True,
    ),
}
for (_method, _path), _described in OPERATIONS.items():
    if (_method, _path) == ("PUT", _ONE) or _path.endswith("/restore"):
        _described["more"]["responses"]["409"] = {"description": "Somebody saved in between", **content(_CONFLICT)}
