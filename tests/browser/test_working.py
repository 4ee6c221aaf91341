from __future__ import annotations

import re

from playwright.sync_api import Page, expect

from tests.browser.conftest import Opener
from tests.browser.driving import settle
from tests.browser.screens import addresses, demo
from tests.browser.serving import ROOT
from tuner import services

WHO = services.Actor("R. Osei")
CORE = '.tk-row[aria-label^="Core temperature: forecast"][aria-label*="as proposed"]'


def type_in(page: Page, label: str, text: str) -> None:
    """Fill a field and leave it; wait for the run that follows."""
    field = page.get_by_label(label, exact=True)
    expect(field).to_have_count(1)  # while a page is drawn anew the old field may stand beside the new one
    field.fill(text)
    field.press("Tab")
    settle(page)


def a_development(store_url: str, dish: str, *, like: str = "lamb") -> str:
    """Id of a new development with the brief of one of the demo."""
    space = services.open_workspace(store_url)
    try:
        return services.copy_development(space, WHO, development_id=demo(store_url)[like].id, dish=dish).id
    finally:
        space.close()


def test_a_whole_card_opens_its_development_without_loading_the_app_again(open_page: Opener, store_url: str) -> None:
    page = open_page("")
    page.evaluate("window.same = true")
    card = page.locator(".tk-card").filter(has_text="Customer North")
    box = card.locator(".strip-cell").bounding_box()
    assert box is not None
    page.mouse.click(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    page.get_by_role("heading", name=re.compile("Breakfast egg squares")).wait_for()
    assert page.evaluate("window.same") is True
    assert f"development={demo(store_url)['breakfast'].id}" in page.url


def test_names_that_look_like_markup_are_shown_as_letters_and_fetch_nothing(open_page: Opener, store_url: str) -> None:
    dish = 'Bun <img src=x onerror="window.hit=1"> ![a](http://outside.example/a.png) :red[b]'
    key = a_development(store_url, dish)
    for path in ("", f"development?development={key}", f"brief?development={key}"):
        page = open_page(path)
        page.get_by_text("<img src=x").first.wait_for()
        assert page.evaluate("window.hit") is None
    space = services.open_workspace(store_url)
    services.archive_development(space, WHO, development_id=key, reason="only for looking at its name")
    space.close()


def take_in_hand(page: Page) -> None:
    page.get_by_role("button", name="Change it").first.click()
    page.get_by_role("slider", name="Stage 1, microwave").wait_for()
    expect(page.locator(CORE)).to_have_count(1)


def core_forecast(page: Page) -> str:
    said = page.locator(CORE).get_attribute("aria-label")
    assert said is not None
    return said


def test_pulling_a_level_moves_the_forecast_while_the_hand_holds_it(open_page: Opener, store_url: str) -> None:
    page = open_page(addresses(store_url)["next-cook"])
    take_in_hand(page)
    before = core_forecast(page)
    handle = page.get_by_role("slider", name="Stage 1, microwave")
    level = handle.get_attribute("aria-valuenow")
    box = handle.bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x, y - 40, steps=6)
    expect(page.locator(CORE)).not_to_have_attribute("aria-label", before)
    page.mouse.up()
    assert handle.get_attribute("aria-valuenow") != level
    assert "as proposed" in core_forecast(page)


def test_keys_move_a_level_by_the_oven_s_own_steps(open_page: Opener, store_url: str) -> None:
    page = open_page(addresses(store_url)["next-cook"])
    take_in_hand(page)
    handle = page.get_by_role("slider", name="Stage 1, air speed")
    handle.focus()
    handle.press("Home")
    low = float(handle.get_attribute("aria-valuenow") or "nan")
    handle.press("ArrowUp")
    step = float(handle.get_attribute("aria-valuenow") or "nan") - low
    assert low == float(handle.get_attribute("aria-valuemin") or "nan")
    assert step > 0
    handle.press("PageUp")
    assert float(handle.get_attribute("aria-valuenow") or "nan") == low + 5 * step


def test_a_typed_number_that_is_no_step_is_answered(open_page: Opener, store_url: str) -> None:
    page = open_page(addresses(store_url)["next-cook"])
    take_in_hand(page)
    field = page.locator('input[data-field="air"]')
    field.fill("72,4")
    field.press("Enter")
    page.get_by_text(re.compile(r"72\.4 is not one of this oven's steps: \d+ taken")).wait_for()


def test_a_finger_pulls_a_level_and_the_page_stays(open_page: Opener, store_url: str) -> None:
    page = open_page(addresses(store_url)["next-cook"], size="phone")
    take_in_hand(page)
    handle = page.get_by_role("slider", name="Stage 1, microwave")
    handle.scroll_into_view_if_needed()
    level, box = handle.get_attribute("aria-valuenow"), handle.bounding_box()
    assert box is not None
    scrolled = page.locator('[data-testid="stMain"]').evaluate("e => e.scrollTop")
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    finger = page.context.new_cdp_session(page)
    finger.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": [{"x": x, "y": y}]})
    for step in range(1, 7):
        finger.send("Input.dispatchTouchEvent", {"type": "touchMove", "touchPoints": [{"x": x, "y": y - 6 * step}]})
    finger.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    expect(handle).not_to_have_attribute("aria-valuenow", level or "")
    assert page.locator('[data-testid="stMain"]').evaluate("e => e.scrollTop") == scrolled


def test_a_stage_can_be_split_and_joined_again(open_page: Opener, store_url: str) -> None:
    page = open_page(f"next-cook?development={demo(store_url)['breaded'].id}")
    take_in_hand(page)
    stages = page.get_by_role("slider", name=re.compile(r"Stage \d, microwave"))
    before = stages.count()
    page.get_by_role("button", name="Split this stage").click()
    expect(stages).to_have_count(before + 1)
    page.get_by_role("button", name="Join with its neighbour").click()
    expect(stages).to_have_count(before)


def test_from_a_taken_program_to_a_kept_cook_on_the_phone(open_page: Opener, store_url: str) -> None:
    key = a_development(store_url, "Lamb kofta for the phone")
    page = open_page(f"next-cook?development={key}", size="phone")
    page.get_by_role("button", name="Cook this").first.click()
    page.get_by_text("Log it here once it is cooked").wait_for()
    settle(page)
    assert page.get_by_text("Safe to taste").count() == 0
    type_in(page, "Mass in, g", "120")
    type_in(page, "Place 1, °C", "66,5")
    page.get_by_text("Not hot enough. Do not taste.").wait_for()
    assert page.get_by_text(re.compile("may taste today")).count() == 0
    page.get_by_role("button", name="Save this cook").click()
    page.get_by_text(re.compile(r"Saved as cook \d+")).wait_for()
    space = services.open_workspace(store_url)
    kept = services.view_development(space, WHO, development_id=key)
    services.archive_development(space, WHO, development_id=key, reason="only for trying")
    space.close()
    assert [cook.verdict.status for cook in kept.current_cooks] == ["not_safe"]
    assert kept.current_cooks[0].cook.readings_c == (66.5,)
    assert kept.current_cooks[0].logged_by == "R. Osei"


def test_a_changed_program_is_kept_as_ones_own_with_its_reason_and_waits_to_be_logged(
    open_page: Opener, store_url: str
) -> None:
    key = a_development(store_url, "Lamb kofta changed by hand")
    page = open_page(f"next-cook?development={key}")
    take_in_hand(page)
    before = core_forecast(page)
    page.get_by_role("slider", name="Stage 1, microwave").press("ArrowDown")
    expect(page.locator(CORE)).not_to_have_attribute("aria-label", before)
    page.get_by_role("button", name="Cook this instead").click()
    page.get_by_text("The reason is missing").wait_for()
    reason = page.get_by_role("textbox", name="Why this one?")
    reason.fill("less at first")
    reason.press("Tab")
    page.get_by_role("button", name="Cook this instead").click()
    page.get_by_text("Kept as your own program").wait_for()
    space = services.open_workspace(store_url)
    kept = services.view_development(space, WHO, development_id=key)
    services.archive_development(space, WHO, development_id=key, reason="only for trying")
    space.close()
    (waiting,) = kept.pending_proposals
    assert waiting.decision is not None
    assert (waiting.decision.decision, waiting.decision.reason) == ("change", "less at first")
    assert waiting.program != waiting.proposal.program


def test_a_kitchens_own_log_goes_in_once_after_its_question_is_answered(open_page: Opener, store_url: str) -> None:
    key = a_development(store_url, "Lamb kofta from a log")
    for expected in ("5 cooks added, 0 known already, 1 rows refused", "0 cooks added, 5 known already"):
        page = open_page(f"import?development={key}")
        page.locator("input[type=file]").first.set_input_files(ROOT / "trials_demo" / "kofta_log.csv")
        page.get_by_text("What would go in: 5 cooks").wait_for()
        page.get_by_text("shares of the time 70 + 50 add up to 120").wait_for()
        if expected.startswith("5"):
            zone = page.get_by_role("combobox", name=re.compile("carry no time zone"))
            zone.fill("Europe/Berlin")
            zone.press("Enter")
            page.get_by_text("23 Feb 2026").first.wait_for()
        page.get_by_role("button", name="Keep 5 cooks").click()
        page.get_by_text(expected).wait_for()
    space = services.open_workspace(store_url)
    kept = services.view_development(space, WHO, development_id=key)
    services.archive_development(space, WHO, development_id=key, reason="only for trying")
    space.close()
    assert len(kept.current_cooks) == 5
    assert {cook.source for cook in kept.current_cooks} == {"kofta_log.csv"}
