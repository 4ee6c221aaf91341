"""The README's five minutes in the browser, step by step, on a demo of its own."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.driving import go, new_context, settle
from tests.browser.serving import ROOT, served
from tests.browser.test_working import take_in_hand, type_in
from tuner import services


@pytest.fixture
def walk(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Page]:
    folder = tmp_path_factory.mktemp("walk")
    url = f"sqlite:///{folder / 'tuner.sqlite'}"
    space = services.open_workspace(url)
    services.load_demo(space, services.Actor("R. Osei"))
    space.close()
    with served(url, folder / "app.log") as address:
        context = new_context(browser, "desk")
        page = context.new_page()
        page.set_default_timeout(30_000)
        go(page, address)
        yield page
        context.close()


def _open(page: Page, dish: str) -> None:
    page.get_by_role("link", name=dish).first.click()
    page.get_by_role("heading", name=dish).wait_for()


def test_from_who_waits_to_proven_and_a_copy_as_the_readme_says(walk: Page) -> None:
    page = walk
    for state in ("proven", "stalled", "confirming"):
        page.get_by_text(re.compile(rf"{state}$")).first.wait_for()
    _open(page, "Lamb kofta with cumin")
    page.get_by_text("Not proven yet: 2 of 3 confirmations").wait_for()
    page.get_by_role("button", name="Next cook").click()

    page.get_by_text(re.compile("Cook 13: confirm")).wait_for()
    take_in_hand(page)
    page.get_by_role("slider", name="Stage 1, microwave").press("ArrowDown")
    page.get_by_text("as proposed").first.wait_for()
    page.get_by_role("button", name="As proposed").click()
    page.get_by_role("button", name="Cook this", exact=True).first.click()

    page.get_by_text("Log it here once it is cooked").wait_for()
    page.get_by_text("The verdict stands here as soon as a reading is in").wait_for()  # the page is drawn to its end
    settle(page)
    type_in(page, "Mass in, g", "121")
    type_in(page, "Start temperature, °C", "3.2")
    type_in(page, "Rest, s", "2:00")
    page.get_by_text("Ran to its end", exact=True).click()
    page.get_by_text("Covered", exact=True).click()
    for place, reading in enumerate(("81.2", "80.4", "82,0"), start=1):
        assert page.get_by_text(re.compile("may taste today")).count() == 0
        type_in(page, f"Place {place}, °C", reading)
    type_in(page, "Mass out, g", "105")
    for part in ("hour", "minute"):
        page.get_by_role("spinbutton", name=f"{part}, Thermometer checked at").press_sequentially("05")
    page.keyboard.press("Tab")
    page.get_by_text("Safe to taste").first.wait_for()
    for taster in "ABC":
        page.get_by_text(f"Taster {taster} says: I may taste today").click()
        page.locator(f'[class*="score-moisture-{taster}"]').wait_for()
        settle(page)
        for attribute in ("browning", "texture", "moisture"):
            marks = page.locator(f'[class*="score-{attribute}-{taster}"]')
            marks.get_by_text("3", exact=True).click()
            marks.locator('[aria-checked="true"], [aria-pressed="true"]').wait_for()
            settle(page)
    for label, typed in (("Mass in, g", "121"), ("Start temperature, °C", "3.2"), ("Mass out, g", "105")):
        if page.get_by_label(label, exact=True).input_value() != typed:  # typed into a field that was just being redrawn
            type_in(page, label, typed)
        expect(page.get_by_label(label, exact=True)).to_have_value(typed)
    given = page.locator('[class*="score-"] :is([aria-checked="true"], [aria-pressed="true"])')
    expect(given).to_have_count(9)  # a mark that a redrawn page had dropped would be missed here, not only in the verdict
    page.get_by_role("button", name="Save this cook").click()
    page.get_by_text(re.compile(r"Saved as cook 13")).wait_for()
    settle(page)

    page.locator(".stMain").get_by_role("link", name="Development", exact=True).click()
    page.get_by_role("heading", name="Take away, close, copy").wait_for()
    page.locator(".tk-standing.proven").wait_for()
    expect(page.locator(".tk-standing.proven")).to_contain_text("no food-safety claim")
    page.get_by_role("button", name="Copy as a new development").click()
    settle(page)
    page.get_by_role("link", name="Next cook").first.click()
    page.get_by_text(re.compile("first guess")).first.wait_for()

    page.get_by_role("link", name="Import").first.click()
    page.get_by_role("heading", name=re.compile("Import|log")).first.wait_for()
    page.locator("input[type=file]").first.set_input_files(ROOT / "trials_demo" / "kofta_log.csv")
    page.get_by_text("What would go in: 5 cooks").wait_for()
    page.get_by_text("shares of the time 70 + 50 add up to 120").wait_for()
