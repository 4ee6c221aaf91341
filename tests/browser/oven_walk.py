"""Every kind of screen of the page at the oven, in the order a cook meets them."""

from __future__ import annotations

import re
from collections.abc import Iterator

from tests.browser.oven_hand import Hand
from tuner.services import CookSheetRecord


def every_screen(at: Hand, sheet: CookSheetRecord) -> Iterator[str]:
    """Walks through the page; stops at every kind of screen."""
    at.open(sheet)
    at.at("Who is cooking today?")
    yield "who"
    at.page.get_by_role("button", name="R. Osei").click()
    at.at("Thermometer in ice water")
    yield "thermometer"
    at.type("0.3")
    at.tap("Next")
    at.at("Mass in")
    yield "mass"
    at.type("230")
    at.tap("Next")
    at.sees("Weighed with the tray")
    yield "asked"
    at.page.get_by_role("button", name="230 g is meant").click()
    at.at("Start temperature")
    at.type("4.6")
    at.tap("Next")
    at.at(re.compile("230 g"))
    yield "ready"
    at.tap("Start")
    at.at("Cooking")
    yield "cooking"
    at.tap("Out already")
    at.at("Resting, covered")
    yield "resting"
    at.page.clock.fast_forward(10 * 60_000)
    at.at("How did it rest?")
    yield "rest"
    at.tap("Covered")
    at.at(re.compile("place 1 of 3"))
    yield "reading-1"
    at.type("76.9")
    at.at(re.compile("place 2 of 3"))
    at.type("75.4")
    at.at(re.compile("place 3 of 3"))
    yield "reading-3"
    at.type("78.0")
    at.at("Mass out")
    yield "mass-out"
    at.type("190")
    at.tap("Next")
    at.at("How it stands")
    yield "not-safe"
    at.tap("Browning, by eye")
    at.at("Browning")
    yield "browning"
    at.tap("Back")
    at.at("How it stands")
    for heading in ("Mass out", re.compile("place 3"), re.compile("place 2")):
        at.tap("Back")
        at.at(heading)
    at.type("77.1")
    at.at(re.compile("place 3"))
    at.type("78.0")
    at.at("Mass out")
    at.type("190")
    at.tap("Next")
    at.at("How it stands")
    yield "safe"
    at.tap("Taste it")
    at.at(re.compile("may you taste"))
    yield "may-taste"
    at.tap("Not today")
    at.at("How it stands")
    at.save()
    yield "saved"
    at.tap("To the cook sheets")
    at.at(re.compile("Cook sheets"))
    yield "sheets"
    at.tap(re.compile("online|network"))
    at.at("What waits")
    yield "waiting"
    at.open(sheet, paper=True)
    at.at(re.compile("sheet"))
    yield "paper"
