"""A page's form as a browser without scripting would send it."""

from __future__ import annotations

from html.parser import HTMLParser


class _Forms(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.forms: list[tuple[str, dict[str, str]]] = []
        self._area = self._select = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        if tag == "form":
            self.forms.append((given.get("action", ""), {}))
        if not self.forms:
            return
        fields = self.forms[-1][1]
        if tag == "textarea":
            self._area = given["name"]
            fields[self._area] = ""
        elif tag == "select":
            self._select = given["name"]
        elif tag == "option" and ("selected" in given or self._select not in fields):
            self._area = "" if "value" in given else self._select  # without a value an option sends what it says
            fields[self._select] = given.get("value", "")
        elif (
            tag == "input"
            and (given.get("type") not in ("checkbox", "radio") or "checked" in given)
            and given.get("type") != "file"
        ):
            fields[given["name"]] = given.get("value", "")

    def handle_data(self, data: str) -> None:
        if self._area:
            self.forms[-1][1][self._area] += data

    def handle_endtag(self, tag: str) -> None:
        if tag in ("textarea", "option"):
            self._area = ""


def _is_sent(given: dict[str, str]) -> bool:
    """Whether a browser sends the field: a box or a choice only when it is ticked, a file not here."""
    kind = given.get("type")
    return kind != "file" and (kind not in ("checkbox", "radio") or "checked" in given)


def form_in(html: str, action: str) -> dict[str, str]:
    """The fields of the form that posts to `action`, as they stand."""
    reader = _Forms()
    reader.feed(html)
    return next(fields for address, fields in reader.forms if address == action)


class _Dangers(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        if tag in ("iframe", "object", "embed", "base", "style", "foreignobject"):
            self.found.append(tag)
        if tag == "script" and not given.get("src", "").startswith("/static/"):
            self.found.append("script")
        self.found += [name for name in given if name.startswith("on") or name == "style"]
        links = [given[name] for name in ("href", "src", "action", "formaction") if name in given]
        self.found += [link for link in links if not link.startswith(("/", "#", "http://shop.example/"))]


def dangers_in(html: str) -> list[str]:
    """Whatever of a page would run, or lead elsewhere, though no template of ours has it."""
    reader = _Dangers()
    reader.feed(html)
    return reader.found
