from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page

from tests.browser.axe import serious_findings
from tests.browser.conftest import Opener
from tests.browser.driving import Scheme, Size, go
from tests.browser.screens import addresses

LOOKS: tuple[tuple[Size, Scheme], ...] = (("desk", "light"), ("phone", "dark"))


def trouble(page: Page) -> dict[str, object]:
    """What is wrong with the screen that is open; empty where nothing is."""
    wider = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
    found = {
        "shuts people out": serious_findings(page),
        "wider than the window, px": max(0, wider),
        "shows an error": page.get_by_text(re.compile("Traceback|Something went wrong")).count(),
    }
    return {what: how for what, how in found.items() if how}


@pytest.mark.parametrize("size, scheme", LOOKS)
def test_screens_shut_nobody_out_fit_their_width_and_show_no_error(
    open_page: Opener, address: str, store_url: str, size: Size, scheme: Scheme
) -> None:
    page = open_page("", size=size, scheme=scheme)
    found = {}
    for name, path in addresses(store_url).items():
        go(page, address, path)
        found[name] = trouble(page)
    assert {name: what for name, what in found.items() if what} == {}


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
    targets = page.locator(
        ".stMain :is([data-testid=stButton] button, [data-testid=stButtonGroup] button, [data-testid=stTextInputRootElement])"
    )
    heights = targets.evaluate_all("all => all.map(one => one.getBoundingClientRect().height)")
    assert len(heights) > 8
    assert min(heights) >= 48
