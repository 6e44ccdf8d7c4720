"""Every page under a hand: what is too small, cut off or covered; how far a typed field moves (a script)."""

from __future__ import annotations

import tempfile
from pathlib import Path
from urllib.parse import urlencode

from server.catalogue import PAGES
from tests.ui.browser import SIZES, chromium
from tests.ui.hand import KEYBOARD_UP, faults, typed_last
from tests.ui.live import live


def main() -> None:
    """Print a row for whatever a hand or an eye would complain of, then the largest movement in each size."""
    with tempfile.TemporaryDirectory() as folder, live(Path(folder)) as site, chromium() as browser:
        for name, (width, height) in SIZES.items():
            page = browser.new_page(base_url=site, viewport={"width": width, "height": height})
            for path, feature in PAGES.items():
                page.goto(f"{path}?{urlencode(feature.example)}")
                for fault in faults(page):
                    print(name, path, fault)
            page.close()
        for name, (width, height) in KEYBOARD_UP.items():
            context = browser.new_context(base_url=site, viewport={"width": width, "height": height})
            page = context.new_page()
            felt = {path: typed_last(page, path, feature) for path, feature in PAGES.items() if feature.example}
            context.close()
            asked = {path: one for path, one in felt.items() if one is not None}
            for path, one in asked.items():
                if abs(one.moved) > 1.0 or not (one.field_seen and one.headline_seen):
                    print(name, path, one)
            largest = max(abs(one.moved) for one in asked.values())
            print(f"{name}: {len(asked)} pages typed in, largest movement {largest:.1f} px")


if __name__ == "__main__":
    main()
