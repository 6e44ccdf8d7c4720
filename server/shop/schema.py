"""The OpenAPI description of the shop's lists, made from their declarations."""

from __future__ import annotations

from typing import Any

from calc.language.fields import Spec, specs
from server.sheets.fields import LINE
from server.sheets.schema import NUMBER, TEXT, list_of, object_of, operation
from server.shop.model import LISTS, VERSION, Listed

Json = dict[str, Any]


def document_schema(listed: Listed) -> Json:
    """The schema of an entry's document.

    >>> document_schema(LISTS["tools"])["properties"]["format"]["enum"]
    ['chuckside tool']
    """
    return {
        "type": "object",
        "properties": {
            "format": {"type": "string", "enum": [listed.format]},
            "version": {"type": "integer", "enum": [VERSION]},
            "units": {"type": "string", "enum": ["mm", "inch"]},
            "texts": {
                "type": "object",
                "properties": {spec.name: _field(spec) for spec in specs(listed.row)},
                "additionalProperties": False,
            },
        },
        "required": ["format", "version", "texts"],
        "additionalProperties": False,
    }


def _field(spec: Spec) -> Json:
    described = {"type": "string", "description": spec.label + (f" ({spec.hint})" if spec.hint else "")}
    if spec.role == "choice":
        return described | {"enum": list(spec.choices)}
    return described | {"maxLength": spec.longest or LINE}


_REASONS = {
    403: "Not the owner, or asked for by another site's page",
    404: "Nothing begun, or no such entry",
    409: "Begun already, or somebody changed it in between; then both changes joined are there",
    413: "More than fits in one request",
    429: "Too often; Retry-After says how many seconds to wait",
    503: "The database cannot be reached; nothing was saved",
    507: "The list is full",
}
_READS = (503,)
_WRITES = (403, 404, 409, 413, 429, 503, 507)
_CHANGE = {"version": NUMBER, "change": NUMBER}


def _entry(listed: Listed) -> Json:
    schema = document_schema(listed)
    marks = {
        "key": TEXT,
        "revision": NUMBER,
        "saved_at": {"type": "string", "format": "date-time"},
        "removed": {"type": "boolean"},
        "values": {"type": "object", "description": "The values that the texts were read as, numbers with their unit"},
        "remarks": list_of(field=TEXT, message=TEXT),
    }
    return {"type": "object", "properties": {**marks, **schema["properties"]}}


def _many(listed: Listed) -> Json:
    return {"type": "array", "items": _entry(listed)}


def _key(listed: Listed) -> Json:
    described = {"name": "key", "in": "path", "required": True, "schema": TEXT}
    return described | {"description": f"The key of the {listed.one}"}


def _writing(listed: Listed, summary: str, description: str, **more: Any) -> Json:
    return operation(summary, description, _entry(listed), _WRITES, owner=True, reasons=_REASONS, **more)


def _of_list(listed: Listed) -> dict[tuple[str, str], Json]:
    """The calls for a list as a whole."""
    many = f"/api/shop/{listed.name}"
    return {
        ("GET", many): operation(
            f"List the shop's {listed.name}",
            "All that stand in the list, and those that were removed. Whoever reaches this server can read it.",
            object_of(**_CHANGE, **{listed.name: _many(listed), "removed": _many(listed)}),
            _READS,
            parameters=(),
            reasons=_REASONS,
        ),
        ("POST", many): _writing(
            listed,
            f"Add a {listed.one}",
            "Texts are kept as typed. A designation that is not known here is kept too, with a remark.",
            body=document_schema(listed),
            parameters=(),
            success=201,
        ),
    }


def _of_entry(listed: Listed) -> dict[tuple[str, str], Json]:
    """The calls for one entry of a list."""
    one, key = f"/api/shop/{listed.name}/{{key}}", _key(listed)
    changed = (
        "Keep its next revision. It names the one that it was based on; if somebody saved in between, the answer "
        "is 409 with both changes joined."
    )
    body = object_of(based_on=NUMBER, entry=document_schema(listed))
    revisions = object_of(revisions=_many(listed))
    return {
        ("PUT", one): _writing(listed, f"Change a {listed.one}", changed, body=body, parameters=(key,)),
        ("DELETE", one): _writing(
            listed, f"Remove a {listed.one}", "It can be brought back.", parameters=(key, _BASED_ON)
        ),
        ("POST", f"{one}/bring-back"): _writing(
            listed, f"Bring a removed {listed.one} back", "It stands in the list as it was.", parameters=(key,)
        ),
        ("GET", f"{one}/revisions"): operation(
            f"List the revisions of a {listed.one}",
            "The newest fifty as they were saved.",
            revisions,
            (404, 503),
            parameters=(key,),
            reasons=_REASONS,
        ),
    }


_BASED_ON = {"name": "based_on", "in": "query", "required": True, "schema": NUMBER, "description": "Its revision"}
OPERATIONS: dict[tuple[str, str], Json] = {
    ("GET", "/api/shop"): operation(
        "Read the shop's lists",
        "Its tools, and the speeds and feeds that are proven. `change` rises with every change of either.",
        object_of(**_CHANGE, **{name: _many(listed) for name, listed in LISTS.items()}),
        _READS,
        parameters=(),
        reasons=_REASONS,
    ),
    ("POST", "/api/shop"): operation(
        "Begin the shop's lists",
        "Once on a server. The secret is shown this once; it makes whoever has it the owner, who may change them.",
        object_of(owner_address=TEXT, secret=TEXT),
        (403, 409, 429, 503),
        parameters=(),
        success=201,
        reasons=_REASONS,
    ),
    **{call: described for listed in LISTS.values() for call, described in _of_list(listed).items()},
    **{call: described for listed in LISTS.values() for call, described in _of_entry(listed).items()},
}
