"""What a page knows of a cut that made a good part, as the address of the form in which it is kept as proven."""

from __future__ import annotations

import datetime
from collections.abc import Mapping

from calc.language.fields import specs
from calc.language.quantities import UnitSystem
from server.links import address
from server.shop.model import LISTS, ProvenCut


def keeping_address(
    texts: Mapping[str, str], units: UnitSystem, back: str, today: datetime.date, more: Mapping[str, str]
) -> str:
    """The address of a new proven cut with the texts that it has a field for, `more` of them, and where to go back to.

    >>> given = {"material": "C45", "radius": "75", "feed": "0.2"}
    >>> keeping_address(given, "mm", "/dish?radius=75", datetime.date(2026, 11, 3), {})
    '/shop/cuts/new?material=C45&feed=0.2&proved_out=2026-11-03&units=mm&back=/dish%3Fradius%3D75'
    """
    apart = {"depth", "note", "kind"}  # which mean something else on some pages
    known = {spec.name: texts.get(spec.name, "") for spec in specs(ProvenCut) if spec.name not in apart}
    marks = {"proved_out": today.isoformat(), "units": units, "back": back}
    return address(f"/shop/{LISTS['cuts'].name}/new", {**known, **more, **marks})
