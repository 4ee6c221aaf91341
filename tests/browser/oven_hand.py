"""A hand at the page at the oven: types digits, counts its taps on everything else, and lets the clocks run."""

from __future__ import annotations

import re
from pathlib import Path

from playwright.sync_api import BrowserContext, Page, expect

from tuner.services.cook_sheets import CookSheetRecord


class Hand:
    """Drives one page. `taps` counts what is pressed besides digits and points."""

    def __init__(self, context: BrowserContext, address: str) -> None:
        self.page: Page = context.new_page()
        self.page.clock.install()
        self.page.set_default_timeout(20_000)
        self.address = address
        self.taps = 0

    def open(self, sheet: CookSheetRecord, *, paper: bool = False) -> None:
        self.page.goto(f"{self.address}/oven/#{sheet.fragment}{'&paper=1' if paper else ''}")

    def tap(self, name: str | re.Pattern[str]) -> None:
        self.taps += 1
        self.page.get_by_role("button", name=name, exact=isinstance(name, str)).click()

    def type(self, digits: str) -> None:
        named = {".": "Point", "-": "Minus"}
        for digit in digits:
            self.page.get_by_role("button", name=named.get(digit, digit), exact=True).click()

    def sees(self, words: str | re.Pattern[str]) -> None:
        expect(self.page.get_by_text(words).first).to_be_visible()

    def at(self, heading: str | re.Pattern[str]) -> None:
        """Wait until a question is drawn and takes taps."""
        self.page.get_by_role("heading", name=heading, level=1).wait_for()
        self.page.clock.run_for(400)
        expect(self.page.locator("main")).not_to_have_attribute("inert", re.compile(".*"))

    def who_and_thermometer(self, *, checked: bool = True) -> None:
        """Once a day: the offered name, and ice water."""
        self.at("Who is cooking today?")
        self.page.get_by_role("button", name="R. Osei").click()
        self.at("Thermometer in ice water")
        if checked:
            self.type("0.3")
            self.page.get_by_role("button", name="Next").click()
        else:
            self.page.get_by_role("button", name="Not checked").click()
        self.at("Mass in")

    def portion(self, mass: str = "183", start: str = "4.6") -> None:
        self.at("Mass in")
        self.type(mass)
        self.tap("Next")
        self.at("Start temperature")
        self.type(start)
        self.tap("Next")
        self.at(re.compile(r"\d+ g, .* °C"))

    def cook(self, rest: str | None = "Covered") -> None:
        """From Start to the answer about the rest; both clocks run."""
        self.tap("Start")
        self.at("Cooking")
        self.page.clock.run_for(1_000)
        self.page.clock.fast_forward(20 * 60_000)
        self.at("How did it rest?")
        if rest:
            self.tap(rest)

    def readings(self, *readings: str) -> None:
        for place, reading in enumerate(readings, 1):
            self.at(f"Core temperature · place {place} of 3")
            self.type(reading)

    def weigh(self, mass: str = "160.2") -> None:
        self.at("Mass out")
        self.type(mass)
        self.tap("Next")
        self.at("How it stands")

    def save(self) -> None:
        self.tap("Save cook")
        self.at("Saved")

    def whole_cook(self, *readings: str, photo: Path | None = None) -> None:
        self.portion()
        self.cook()
        self.readings(*(readings or ("76.4", "77.0", "79.1")))
        self.weigh()
        if photo is not None:
            self.page.get_by_label("Photo of the cut face").set_input_files(photo)
            self.sees("Photo taken")
            self.at("How it stands")
        self.save()
