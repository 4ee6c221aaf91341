from __future__ import annotations

import re

import pytest

from tests.browser.axe import serious_findings
from tests.browser.conftest import Opener
from tests.browser.driving import Scheme, Size
from tests.browser.screens import addresses

NAMES = ("who-waits", "development", "next-cook", "log", "brief", "brief-new", "ovens", "import")
LOOKS: tuple[tuple[Size, Scheme], ...] = (("desk", "light"), ("phone", "dark"))


@pytest.mark.parametrize("size, scheme", LOOKS)
@pytest.mark.parametrize("name", NAMES)
def test_a_screen_shuts_nobody_out_and_fits_its_width(
    open_page: Opener, store_url: str, name: str, size: Size, scheme: Scheme
) -> None:
    page = open_page(addresses(store_url)[name], size=size, scheme=scheme)
    assert serious_findings(page) == []
    wider = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
    assert wider <= 0
    assert page.get_by_text(re.compile("Traceback|Something went wrong")).count() == 0


def test_the_stalled_and_the_proven_are_told_apart_in_words(open_page: Opener, store_url: str) -> None:
    page = open_page(addresses(store_url)["development-proven"])
    page.get_by_text("no food-safety claim").wait_for()
    page = open_page(addresses(store_url)["development-stalled"])
    page.get_by_text("Stalled").first.wait_for()


def test_text_is_never_smaller_than_it_can_be_read_and_drawn_in_the_font_kept_here(open_page: Opener) -> None:
    page = open_page("")
    assert page.evaluate("document.fonts.ready.then(() => document.fonts.check('16px \"Atkinson Next\"'))")
    smallest = page.evaluate(
        "Math.min(...[...document.querySelectorAll('.tk, .tk *')].filter(e => e.childNodes.length && e.offsetHeight)"
        ".map(e => parseFloat(getComputedStyle(e).fontSize)))"
    )
    assert smallest >= 11


def test_marks_follow_the_theme_without_asking(open_page: Opener) -> None:
    colours = {}
    for scheme in ("light", "dark"):
        page = open_page("", scheme=scheme)
        colours[scheme] = page.locator(".tk-stage > .up").first.evaluate("e => getComputedStyle(e).backgroundColor")
    assert colours == {"light": "rgb(179, 92, 0)", "dark": "rgb(239, 160, 75)"}


def test_targets_for_fingers_are_large_enough(open_page: Opener, store_url: str) -> None:
    page = open_page(addresses(store_url)["log"], size="phone")
    small = page.evaluate(
        "[...document.querySelectorAll('.stMain button, .stMain input')].filter(e => e.offsetParent && e.type !== 'checkbox')"
        ".map(e => [e.innerText || e.getAttribute('aria-label'), e.closest('[data-testid]').getBoundingClientRect().height])"
        ".filter(([name, height]) => height < 24)"
    )
    assert small == []
