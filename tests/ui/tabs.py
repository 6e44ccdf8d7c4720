"""Tabs that tests use one after the other: a new one is a new process of the browser, most of what a short test costs.

A tab comes back as a new one would: without what a site kept, cached or was allowed, without routes and listeners, with
the window and colours that were asked for. One that was used in a way that cannot be taken back is closed instead.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, cast

from playwright.sync_api import Browser, BrowserContext, Error, Page

USUAL_TIMEOUT = 30_000
USUAL_WINDOW = {"width": 1280, "height": 720}
FORGET = "() => { if (location.protocol.startsWith('http')) sessionStorage.clear(); }"


class Tabs:
    """A browser whose contexts, once closed, are kept for the next test that asks for one of the same options."""

    def __init__(self, browser: Browser) -> None:
        self.browser = browser
        self.free: dict[str, list[_Tab]] = {}

    def new_context(self, **options: Any) -> BrowserContext:
        """A context that is as good as new."""
        kept = self.free.setdefault(repr(sorted(options.items())), [])
        tab = kept.pop() if kept else _Tab(self.browser.new_context(**options), options)
        return cast(BrowserContext, _Lent(tab, kept))

    def __getattr__(self, name: str) -> Any:
        return getattr(self.browser, name)


class _Tab:
    """A context and its one page."""

    def __init__(self, context: BrowserContext, options: Mapping[str, Any]) -> None:
        self.context, self.options = context, options
        self.page = context.new_page()
        self.devtools = context.new_cdp_session(self.page)
        self.spoilt = False
        self.heard: list[tuple[str, Callable[..., Any]]] = []
        listen = self.page.on

        def on(event: Any, handler: Callable[..., Any]) -> None:
            self.heard.append((event, handler))
            listen(event, handler)

        def spoil(*arguments: Any, **named: Any) -> None:
            self.spoilt = True
            add(*arguments, **named)

        add = self.page.add_init_script
        self.page.on, self.page.add_init_script = on, spoil  # type: ignore[method-assign, assignment]

    def as_new(self) -> bool:
        """Make it as a new one, and say whether that can be done: not while it is still on its way to a page."""
        if self.spoilt or self.page.is_closed() or self.context.pages != [self.page]:
            return False
        try:
            self._forget()
        except Error:
            return False
        self._restore()
        return True

    def _forget(self) -> None:
        """Leave nothing of what a site kept and of what listens."""
        self.page.evaluate(FORGET)
        origin = "/".join(self.page.url.split("/")[:3])
        self.page.unroute_all(behavior="ignoreErrors")
        self.page.goto("about:blank")
        if origin.startswith("http"):
            self.devtools.send("Storage.clearDataForOrigin", {"origin": origin, "storageTypes": "all"})
        self.devtools.send("Network.clearBrowserCache")
        self.devtools.send("Page.resetNavigationHistory")
        for event, handler in self.heard:
            self.page.remove_listener(event, handler)
        self.heard.clear()

    def _restore(self) -> None:
        """The window, the colours and what is allowed, as the options say."""
        self.context.set_offline(False)
        self.context.clear_permissions()
        self.context.clear_cookies()
        self.page.set_default_timeout(USUAL_TIMEOUT)
        self.page.set_viewport_size(self.options.get("viewport", USUAL_WINDOW))
        self.page.emulate_media(
            media="null",
            color_scheme=self.options.get("color_scheme", "light"),
            reduced_motion=self.options.get("reduced_motion", "no-preference"),
            forced_colors=self.options.get("forced_colors", "none"),
        )


class _Lent:
    """What a test has of a tab: a context that gives its page once, and comes back when it is closed."""

    def __init__(self, tab: _Tab, kept: list[_Tab]) -> None:
        self.tab, self.kept, self.given = tab, kept, False

    def new_page(self) -> Page:
        """The tab's page; then further ones, with which the tab does not come back."""
        if self.given:
            return self.tab.context.new_page()
        self.given = True
        return self.tab.page

    def close(self) -> None:
        """Give it back."""
        if self.tab.as_new():
            self.kept.append(self.tab)
        else:
            self.tab.context.close()

    def __getattr__(self, name: str) -> Any:
        return getattr(self.tab.context, name)
