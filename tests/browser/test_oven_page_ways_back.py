"""Ways back and on at the oven: a check made later, somebody else at the same device, a sheet withdrawn meanwhile."""

from __future__ import annotations

import re

from playwright.sync_api import expect

from tests.browser.test_oven_page import (  # noqa: F401
    Handed,
    development,
    hand,
    new_sheets,
    ovens,
    ovens_url,
    sheet,
    space,
)
from tests.services.invented import ANN
from tuner.services import Workspace
from tuner.services.cook_sheets import CookSheetRecord, withdraw_cook_sheet


def test_a_thermometer_that_was_not_checked_is_asked_about_before_the_next_sheet(
    hand: Handed,  # noqa: F811
    sheet: CookSheetRecord,  # noqa: F811
) -> None:
    at = hand()
    at.open(sheet)
    at.who_and_thermometer(checked=False)
    at.tap("Back")
    at.at(re.compile("Cook sheets on this device"))
    at.tap(re.compile(sheet.dish))
    at.at("Thermometer in ice water")
    at.type("0.3")
    at.tap("Next")
    at.at("Mass in")


def test_somebody_else_at_the_same_device_is_asked_for_the_name_alone(
    hand: Handed,  # noqa: F811
    sheet: CookSheetRecord,  # noqa: F811
) -> None:
    at = hand()
    at.open(sheet)
    at.who_and_thermometer()
    at.tap("Back")
    at.at(re.compile("Cook sheets on this device"))
    at.tap("Somebody else cooks now")
    at.at(re.compile("Cook sheets on this device"))
    at.tap(re.compile(sheet.dish))
    at.at("Who is cooking today?")
    at.page.get_by_label("Somebody else").fill("Sam")
    at.tap("Next")
    at.at("Mass in")


def test_the_link_of_a_sheet_withdrawn_meanwhile_begins_nothing_on_a_device_that_knows_it(
    hand: Handed,  # noqa: F811
    space: Workspace,  # noqa: F811
    sheet: CookSheetRecord,  # noqa: F811
) -> None:
    at = hand()
    at.open(sheet)
    at.who_and_thermometer()
    at.tap("Back")
    at.at(re.compile("Cook sheets on this device"))
    withdraw_cook_sheet(space, ANN, sheet_id=sheet.id, reason="dough changed")
    at.page.goto("about:blank")
    at.open(sheet)
    at.sees("dough changed")
    expect(at.page.get_by_role("button", name=re.compile(sheet.dish))).to_be_disabled()


def test_the_number_of_the_sheet_stays_readable_in_the_head(
    hand: Handed,  # noqa: F811
    sheet: CookSheetRecord,  # noqa: F811
) -> None:
    at = hand()
    at.open(sheet)
    at.who_and_thermometer()
    assert at.page.locator("#what").evaluate("one => one.scrollWidth <= one.clientWidth")
