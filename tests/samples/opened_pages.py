"""Pages of a site opened in a browser as one viewer or another sees them: width, colours, paper, size of text."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal

if TYPE_CHECKING:
    from playwright.sync_api import Browser, BrowserContext, Page

PHONE = (320, 640)
"""The narrowest screen of WCAG 2.2, 1.4.10, in CSS pixels."""
DESK = (1280, 900)


@dataclass(frozen=True, slots=True)
class Medium:
    """How a page is seen."""

    size: tuple[int, int] = DESK
    """Of the window, in CSS pixels."""
    colours: Literal["light", "dark"] = "light"
    forced: bool = False
    """The reader's own palette (forced-colors: active)."""
    paper: bool = False
    zoom: float = 1
    """Device pixels to a CSS pixel, as after zooming in."""
    script: bool = True
    styles: str = ""
    """The reader's own styles, over the page's."""


ADD_STYLES = """(styles) => {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(styles);
  document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
}"""
"""The reader's styles do not stand in the page, so its policy has no say in them."""


def first_tab(page: Page) -> None:
    """Presses Tab until something has focus: a page that has only just come may not take its first one."""
    for _ in range(3):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement !== document.body"):
            return
    raise AssertionError(f"nothing on {page.url} takes focus")


class Opens:
    """Opens pages below an address, and notes what they say on the console and what they ask for."""

    def __init__(self, browser: Browser, address: str) -> None:
        self.address = address
        self.said: list[str] = []
        """Console messages and errors of every page so far."""
        self.asked: list[str] = []
        """Addresses of every request so far."""
        self._browser = browser
        self._contexts: dict[Medium, BrowserContext] = {}

    def __call__(self, path: str, medium: Medium = Medium(), *, ready: str = "") -> Page:
        """The page at a path of the site, loaded. `ready` is a script to run before the page's own."""
        page = self._context(medium).new_page()
        page.on("console", lambda message: self.said.append(f"{path}: {message.type}: {message.text}"))
        page.on("pageerror", lambda error: self.said.append(f"{path}: {error}"))
        page.on("request", lambda request: self.asked.append(request.url))
        if medium.paper:
            page.emulate_media(media="print")
        if ready:
            page.add_init_script(ready)
        page.goto(self.address + path.removesuffix("index.html"), wait_until="load")
        if medium.styles:
            page.evaluate(ADD_STYLES, medium.styles)
        return page

    def _context(self, medium: Medium) -> BrowserContext:
        if medium not in self._contexts:
            width, height = medium.size
            options: dict[str, Any] = {
                "viewport": {"width": width, "height": height},
                "color_scheme": medium.colours,
                "forced_colors": "active" if medium.forced else "none",
                "reduced_motion": "reduce",
                "device_scale_factor": medium.zoom,
                "java_script_enabled": medium.script,
            }
            self._contexts[medium] = self._browser.new_context(**options)
        return self._contexts[medium]

    def close(self) -> None:
        for context in self._contexts.values():
            context.close()
