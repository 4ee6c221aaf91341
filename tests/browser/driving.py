"""How the browser is driven: the system's Chromium, pages waited for by what they say of themselves, never by the clock."""

from __future__ import annotations

import os
import shutil
from pathlib import Path
from typing import Any, Literal

from playwright.sync_api import Browser, BrowserContext, Page, Playwright

Size = Literal["desk", "phone"]
Scheme = Literal["light", "dark"]

SIZES: dict[Size, dict[str, Any]] = {
    "desk": {"viewport": {"width": 1440, "height": 900}},
    "phone": {"viewport": {"width": 390, "height": 844}, "is_mobile": True, "has_touch": True, "device_scale_factor": 2},
}
_FLAGS = (
    "--headless=new --no-sandbox --disable-gpu --disable-quic --no-first-run --disable-background-networking "
    "--disable-component-update --disable-sync --disable-dev-shm-usage"
)
_SETTLED = '[data-testid="stApp"][data-test-script-state="notRunning"][data-test-connection-state="CONNECTED"]'
_DRAWN = "!document.querySelector('[data-testid=stSkeleton]') && !document.querySelector('[data-stale=true]')"
_TALLEST_PX = 12000


def chromium_path() -> str | None:
    """Where the system's Chromium is; None where there is none."""
    named = os.environ.get("TUNER_CHROMIUM")
    return named or shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")


def launched(playwright: Playwright) -> Browser:
    """The browser."""
    return playwright.chromium.launch(executable_path=chromium_path(), args=_FLAGS.split())


def new_context(browser: Browser, size: Size, scheme: Scheme = "light") -> BrowserContext:
    """A person's browser of a size and with a theme."""
    return browser.new_context(color_scheme=scheme, locale="en-GB", timezone_id="Europe/Berlin", **SIZES[size])


def settle(page: Page) -> None:
    """Wait until the page says that it is done. Right after a click wait for what must appear instead."""
    page.locator(_SETTLED).wait_for(timeout=60_000)
    page.wait_for_function(_DRAWN, timeout=30_000)


def go(page: Page, address: str, path: str = "") -> None:
    """Open a screen."""
    page.goto(f"{address}/{path}")
    settle(page)


def picture(page: Page, file: Path) -> None:
    """The whole page as a picture: the inner box scrolls, so the window is made as tall as its content."""
    size = page.viewport_size or {"width": 1440, "height": 900}
    tall = int(page.evaluate("document.querySelector('.stMainBlockContainer').getBoundingClientRect().height"))
    page.set_viewport_size({"width": size["width"], "height": min(max(tall, size["height"]), _TALLEST_PX)})
    settle(page)
    page.evaluate("document.fonts.ready")
    page.screenshot(path=str(file), animations="disabled")
    page.set_viewport_size(size)  # type: ignore[arg-type]
