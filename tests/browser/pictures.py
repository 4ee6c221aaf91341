"""Pictures of every screen: ``python -m tests.browser.pictures [FOLDER]``.

Loads the demo into a store of its own, serves the app, and takes each screen at the desk and on the phone, light and dark.
The two pictures of the README are made from them in ``docs/pictures``.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

from PIL import Image
from playwright.sync_api import Browser, Page, sync_playwright

from tests.browser.driving import SIZES, Scheme, go, launched, new_context, picture
from tests.browser.oven_hand import Hand
from tests.browser.oven_walk import every_screen
from tests.browser.screens import addresses
from tests.browser.serving import ROOT, served
from tests.oven_page.orders import sheets, taken
from tuner import services

SCHEMES: tuple[Scheme, ...] = ("light", "dark")


def in_hand(page: Page) -> None:
    """Take the proposed strip in hand and change it, so that the picture shows both forecasts."""
    page.get_by_role("button", name="Change it").first.click()
    handle = page.get_by_role("slider", name="Stage 1, microwave")
    handle.focus()
    for _ in range(2):
        handle.press("ArrowDown")
    page.get_by_text("as proposed").first.wait_for()


def measured(page: Page) -> None:
    """Type a first reading below the limit, so that the picture shows a verdict."""
    field = page.get_by_label("Place 1, °C")
    field.fill("68,5")
    field.press("Enter")
    page.get_by_text("Do not taste").first.wait_for()


def take(browser: Browser, address: str, screens: dict[str, str], folder: Path) -> int:
    """Take all pictures; how many."""
    count = 0
    for size in SIZES:
        for scheme in SCHEMES:
            context = new_context(browser, size, scheme)
            page = context.new_page()
            for name, path in screens.items():
                go(page, address, path)
                picture(page, folder / f"{name}-{size}-{scheme}.png")
                count += 1
                if name in ("next-cook", "log"):
                    (in_hand if name == "next-cook" else measured)(page)
                    picture(page, folder / f"{name}-in-use-{size}-{scheme}.png")
                    count += 1
            context.close()
    return count


def take_at_the_oven(browser: Browser, address: str, url: str, folder: Path) -> int:
    """Every kind of screen of the page at the oven, as on a phone; how many."""
    count = 0
    for scheme in SCHEMES:
        space = services.open_workspace(url)
        sheet = sheets(space, taken(space, 1), for_cook="R. Osei")[0]
        space.close()
        context = new_context(browser, "phone", scheme)
        hand = Hand(context, address)
        for name in every_screen(hand, sheet):
            hand.page.evaluate("document.fonts.ready")
            hand.page.screenshot(path=str(folder / f"oven-{name}-phone-{scheme}.png"), animations="disabled", full_page=True)
            count += 1
        context.close()
    return count


def for_the_readme(folder: Path, into: Path) -> None:
    """Two pictures, small enough to keep: the next cook at the desk, and the same in hand on the phone."""
    into.mkdir(parents=True, exist_ok=True)
    for name, source, width, tallest in (
        ("next-cook-desk", "next-cook-desk-light", 1200, 1300),
        ("next-cook-phone", "next-cook-in-use-phone-dark", 390, 1100),
    ):
        drawn = Image.open(folder / f"{source}.png").convert("RGB")
        drawn = drawn.resize((width, round(drawn.height * width / drawn.width)), Image.Resampling.LANCZOS)
        drawn = drawn.crop((0, 0, width, min(drawn.height, tallest)))
        drawn.save(into / f"{name}.png", optimize=True)


def main(folder: Path) -> None:
    """Make the folder and fill it."""
    folder.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as scratch:
        url = f"sqlite:///{Path(scratch) / 'demo.sqlite'}"
        space = services.open_workspace(url)
        services.load_demo(space, services.Actor("R. Osei"))
        space.close()
        with served(url, Path(scratch) / "app.log") as address, sync_playwright() as playwright:
            browser = launched(playwright)
            count = take(browser, address, addresses(url), folder)
            count += take_at_the_oven(browser, address, url, folder)
            browser.close()
    for_the_readme(folder, ROOT / "docs" / "pictures")
    print(f"{count} pictures in {folder}, two of them for the README in docs/pictures")


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else Path("shots"))
