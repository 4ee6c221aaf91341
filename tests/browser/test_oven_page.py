from __future__ import annotations

import io
import re
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import Browser, BrowserContext, Route, expect

from tests.browser.axe import serious_findings
from tests.browser.conftest import Watch
from tests.browser.driving import Scheme, new_context
from tests.browser.oven_hand import Hand
from tests.browser.oven_walk import every_screen
from tests.browser.serving import served
from tests.oven_page.orders import sheets, taken
from tests.services.invented import ANN, LIMIT, brief
from tuner import services
from tuner.services import CookSheetRecord, Workspace

Handed = Callable[..., Hand]


@pytest.fixture(scope="module")
def ovens_url(tmp_path_factory: pytest.TempPathFactory) -> str:
    url = f"sqlite:///{tmp_path_factory.mktemp('oven page') / 'orders.sqlite'}"
    services.open_workspace(url).close()
    return url


@pytest.fixture(scope="module")
def ovens(ovens_url: str, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    with served(ovens_url, tmp_path_factory.mktemp("served oven page") / "app.log") as found:
        yield found


@pytest.fixture
def space(ovens_url: str) -> Iterator[Workspace]:
    made = services.open_workspace(ovens_url)
    yield made
    made.close()


@pytest.fixture
def development(space: Workspace) -> str:
    """A development of the test's own, with two taken programs."""
    return taken(space, 2)


@pytest.fixture
def sheet(space: Workspace, development: str) -> CookSheetRecord:
    return new_sheets(space, development, 1)[0]


def new_sheets(space: Workspace, development: str, count: int) -> list[CookSheetRecord]:
    return sheets(space, development, count, for_cook="R. Osei")


@pytest.fixture
def hand(browser: Browser, ovens: str) -> Iterator[Handed]:
    contexts: list[BrowserContext] = []
    watches: list[Watch] = []

    def handed(scheme: Scheme = "light") -> Hand:
        contexts.append(new_context(browser, "phone", scheme))
        made = Hand(contexts[-1], ovens)
        watches.append(Watch(made.page, ovens))
        return made

    yield handed
    for context in contexts:
        context.close()
    assert [url for watch in watches for url in watch.outside] == []
    assert [
        error for watch in watches for error in watch.errors if "ERR_" not in error and not re.search("40[49]", error)
    ] == []


def cooks(space: Workspace, development: str) -> list[services.CookRecord]:
    return list(services.view_development(space, ANN, development_id=development).cooks)


def test_from_the_link_to_a_kept_cook_in_six_taps(
    hand: Handed, space: Workspace, development: str, sheet: CookSheetRecord
) -> None:
    before = len(cooks(space, development))
    at = hand()
    at.open(sheet)
    at.who_and_thermometer()
    assert "s=" not in at.page.url
    at.taps = 0
    at.whole_cook()
    assert at.taps <= 6
    at.sees("Safe to taste")
    at.sees("Sent, and kept by the server.")
    kept = cooks(space, development)
    assert len(kept) == before + 1
    assert kept[-1].cook.core_temperature_c == (76.4, 77.0, 79.1)
    assert kept[-1].cook.rest_covered is True
    assert kept[-1].verdict.status == "safe_to_taste"
    assert kept[-1].cook.program == sheet.program


def test_an_unsafe_cook_is_said_so_at_once_and_asks_for_no_tasting(hand: Handed, sheet: CookSheetRecord) -> None:
    at = hand()
    at.open(sheet)
    at.who_and_thermometer()
    at.portion()
    at.cook()
    at.readings("75.9", "77.0", "79.1")
    at.at("Mass out")
    at.sees(re.compile("Not hot enough. Do not taste."))  # before the next answer
    at.weigh()
    at.sees("Too cold inside")
    at.sees("throw it away")
    assert at.page.get_by_role("button", name="Taste it").count() == 0
    assert at.page.get_by_role("button", name="Browning, by eye").count() == 1
    at.save()
    at.sees("Sent, and kept by the server.")


def test_a_safe_cook_may_be_marked_after_may_taste_today(
    hand: Handed, space: Workspace, development: str, sheet: CookSheetRecord
) -> None:
    at = hand()
    at.open(sheet)
    at.who_and_thermometer()
    at.portion()
    at.cook()
    at.readings("76.4", "77.0", "79.1")
    at.weigh()
    at.tap("Taste it")
    at.at(re.compile("may you taste today"))
    at.sees("Contains: milk.")
    at.tap("Yes, today I may")
    at.at("Texture")
    at.tap("3.5")
    at.at("Moisture")
    at.tap(re.compile("^3 ?just right"))
    at.at("How it stands")
    at.save()
    at.sees("Sent, and kept by the server.")
    score = (cooks(space, development)[-1].cook.scores or ())[0]
    assert (score.texture, score.moisture, score.browning) == (3.5, 3, None)


def test_a_reading_taken_back_takes_the_tasting_marks_with_it(
    hand: Handed, space: Workspace, development: str, sheet: CookSheetRecord
) -> None:
    at = hand()
    at.open(sheet)
    at.who_and_thermometer()
    at.portion()
    at.cook()
    at.readings("76.4", "77.0", "79.1")
    at.weigh()
    at.tap("Taste it")
    at.at(re.compile("may you taste today"))
    at.tap("Yes, today I may")
    at.at("Texture")
    at.tap("3.5")
    at.at("Moisture")
    at.tap("2.5")
    at.at("How it stands")
    at.tap("Back")
    at.at("Mass out")
    at.tap("Back")
    at.at("Core temperature · place 3 of 3")
    at.type("75.0")
    at.weigh()
    at.sees("Not hot enough")
    at.save()
    at.sees("Sent, and kept by the server.")
    assert cooks(space, development)[-1].cook.scores is None


def test_fahrenheit_is_asked_about_and_never_converted_silently(
    hand: Handed, space: Workspace, development: str, sheet: CookSheetRecord
) -> None:
    at = hand()
    at.open(sheet)
    at.who_and_thermometer()
    at.portion()
    at.cook()
    at.at("Core temperature · place 1 of 3")
    at.type("764")
    at.tap("Next")
    at.sees("Type the point: 76.4")
    for _ in range(3):
        at.page.get_by_role("button", name="Rub out").click()
    at.type("170.6")
    at.sees("170.6 °C? In °F that would be 77 °C.")
    at.tap("It was °F: take 77 °C")
    at.at("Core temperature · place 2 of 3")
    at.sees("coldest")
    at.type("78.0")
    at.at("Core temperature · place 3 of 3")
    at.tap("Not measured")
    at.weigh()
    at.sees("2 of 3 places read.")
    at.save()
    at.sees("Sent, and kept by the server.")
    kept = cooks(space, development)[-1].cook
    assert kept.core_temperature_c == (77.0, 78.0)
    assert "170.6 °F" in (kept.note or "")


def test_clocks_survive_a_reload_and_a_locked_screen(hand: Handed, sheet: CookSheetRecord) -> None:
    at = hand()
    at.open(sheet)
    at.who_and_thermometer()
    at.portion()
    at.tap("Start")
    at.at("Cooking")
    at.page.clock.run_for(30_000)
    shown = at.page.get_by_role("timer").inner_text()
    at.page.reload()
    at.at("Cooking")
    minutes, seconds = at.page.get_by_role("timer").inner_text().split(":")
    was = shown.split(":")
    assert 0 <= (int(was[0]) - int(minutes)) * 60 + int(was[1]) - int(seconds) < 30
    at.page.clock.fast_forward(30 * 60_000)  # asleep: past the program and the rest
    at.at("How did it rest?")
    at.sees(re.compile("over. That is noted."))
    at.tap("Covered")
    at.at("Core temperature · place 1 of 3")
    at.page.reload()
    at.at("Core temperature · place 1 of 3")
    at.tap("Back")
    at.at("How did it rest?")
    at.tap("Not seen")
    at.readings("76.4", "77.0", "79.1")
    at.weigh()
    at.sees("Rest not covered, or not seen.")


def cut_face(folder: Path) -> Path:
    """A large photo that knows where it was taken."""
    exif = Image.Exif()
    exif.get_ifd(0x8825)[2] = (52.0, 31.0, 12.0)
    Image.effect_noise((3000, 2000), 60).convert("RGB").save(folder / "cut.jpg", exif=exif)
    return folder / "cut.jpg"


def test_several_cooks_without_network_are_sent_once_and_in_order(
    hand: Handed, space: Workspace, development: str, tmp_path: Path
) -> None:
    at = hand()
    first, second = new_sheets(space, development, 2)
    before = len(cooks(space, development))
    at.open(first)
    at.who_and_thermometer()
    at.page.goto(f"{at.address}/oven/#{second.fragment}")
    at.at(re.compile("A cook is under way"))
    at.tap("Go on with it")
    at.at("Mass in")
    at.page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    context = at.page.context
    context.set_offline(True)
    at.page.reload()  # from the device
    at.whole_cook("76.4", "77.0", "79.1", photo=cut_face(tmp_path))
    at.sees("Kept on this device.")
    at.tap("To the cook sheets")
    at.at(re.compile("Cook sheets on this device: 1"))
    at.tap(re.compile("sheet"))
    at.at("Mass in")
    at.page.reload()
    at.whole_cook("80.1", "81.2", "82.3")
    at.sees(re.compile("no network · 2 waiting"))
    assert len(cooks(space, development)) == before
    # The first answer gets lost on its way back: the cook is sent again, and kept once.
    lost = []

    def lose_first(route: Route) -> None:
        route.fetch()
        lost.append(route.request.post_data_json["client_id"])
        route.abort()

    context.route("**/oven/api/v1/sheets/*/cooks", lose_first, times=1)
    context.set_offline(False)
    at.page.clock.run_for(40_000)
    at.sees(re.compile("online · all sent"))
    kept = cooks(space, development)[before:]
    assert [record.cook.core_temperature_c for record in kept] == [(76.4, 77.0, 79.1), (80.1, 81.2, 82.3)]
    assert lost == [kept[0].client_id]
    (photo,) = services.cook_photos(space, ANN, cook_id=kept[0].id)
    opened = Image.open(io.BytesIO(photo))
    assert (max(opened.size), bool(opened.getexif())) == (1600, False)


def test_conflicts_are_explained_and_nothing_is_thrown_away(hand: Handed, space: Workspace, development: str) -> None:
    at = hand()
    withdrawn, changed = new_sheets(space, development, 2)
    before = len(cooks(space, development))
    at.open(withdrawn)
    at.who_and_thermometer()
    services.withdraw_cook_sheet(space, ANN, sheet_id=withdrawn.id, reason="another program is cooked")
    at.whole_cook()
    at.sees(re.compile("Not taken yet"))
    at.tap(re.compile("need you"))
    at.at("What waits")
    at.sees("The cook sheet was withdrawn. Your cook is not lost")
    at.sees("another program is cooked")
    with at.page.expect_download() as download:
        at.page.get_by_role("link", name="Keep as a file").click()
    assert "76.4" in Path(download.value.path()).read_text()
    at.tap("Put aside, keep on this device")
    at.sees("put aside on this device")
    at.open(changed)
    at.at("Mass in")
    view = services.view_development(space, ANN, development_id=development)
    services.edit_brief(
        space,
        ANN,
        development_id=development,
        brief=brief(rest_s=130.0, critical_limit=LIMIT),
        expected_version=view.brief_version,
    )
    at.whole_cook()
    at.sees(re.compile("Not taken yet"))
    at.tap(re.compile("need you"))
    at.at("What waits")
    at.sees("The brief was changed while you cooked.")
    at.tap("Send it all the same")
    at.sees(re.compile("online · all sent"))
    assert len(cooks(space, development)) == before + 1


SMALL = (
    "[...document.querySelectorAll('button, .button, input:not(.hidden-file)')].filter(e => e.offsetParent)"
    ".map(e => [e.textContent, e.getBoundingClientRect()]).filter(([, box]) => box.height < 48 || box.width < 48).map(([t]) => t)"
)


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_kind_of_screen_shuts_nobody_out_and_has_targets_for_wet_fingers(
    hand: Handed, space: Workspace, development: str, scheme: Scheme
) -> None:
    at = hand(scheme)
    found: dict[str, object] = {}
    for name in every_screen(at, new_sheets(space, development, 1)[0]):
        wider = at.page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
        trouble = [serious_findings(at.page), at.page.evaluate(SMALL), max(0, wider)]
        if any(trouble):
            found[name] = trouble
    assert found == {}


def test_the_page_speaks_german(hand: Handed, space: Workspace, development: str) -> None:
    pending = services.view_development(space, ANN, development_id=development).pending_proposals
    at = hand()
    at.open(services.issue_cook_sheet(space, ANN, proposal_id=pending[0].id, language="de"))
    at.at("Wer kocht heute?")
    expect(at.page.locator("html")).to_have_attribute("lang", "de")


def test_a_link_that_is_not_whole_opens_nothing(hand: Handed, sheet: CookSheetRecord) -> None:
    at = hand()
    at.page.goto(f"{at.address}/oven/#{sheet.fragment[:-1]}")
    at.sees("This link opens no cook sheet")
