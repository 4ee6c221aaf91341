"""Program cards: one page, everything readable on it, the same bytes, every script, nothing cut off."""

from __future__ import annotations

import io
import re
from datetime import date
from html.parser import HTMLParser
from typing import Any

import pytest
from pypdf import PdfReader

from tests.exchange.cards import CARD, LINK, card, codes, pages, picture, stages
from tuner.domain import InvalidDocument
from tuner.exchange.card_fonts import font_folder
from tuner.exchange.program_card_html import program_card_html
from tuner.exchange.program_card_pdf import program_card_pdf


def flat(text: str) -> str:
    return re.sub(r"\s+", " ", text)


def test_everything_a_cook_needs_is_on_one_page():
    [text] = pages(program_card_pdf(CARD))
    text = flat(text)
    for wanted in (
        *("Herb chicken strip", "Version 3", "released 2026-03-02", "North kitchen", "Vale", *CARD.start, *CARD.before),
        *("250 °C", "210 s", "jute", "120 s, covered", "at least 76 °C everywhere", *CARD.after, *CARD.probe),
        *(CARD.discard, CARD.allergens, *CARD.hold, CARD.limit, *CARD.signed, "Hot oven: wear gloves.", "ab" * 8),
    ):
        assert flat(wanted) in text, wanted


def test_the_table_to_key_in_has_a_line_for_every_stage_the_oven_holds():
    [text] = pages(program_card_pdf(card(program=stages(4, 10))))
    assert flat(text).count("not used") == 6


@pytest.mark.parametrize(("count", "slots"), [(1, 1), (3, 3), (5, 5), (8, 12), (20, 20)])
def test_as_many_stages_as_an_oven_holds_fit_on_the_page(count: int, slots: int):
    assert len(pages(program_card_pdf(card(program=stages(count, slots))))) == 1


def test_the_code_leads_to_the_release():
    assert codes(picture(program_card_pdf(CARD))) == [LINK]


def test_the_same_card_gives_the_same_bytes_and_another_others():
    assert program_card_pdf(CARD) == program_card_pdf(CARD)
    assert program_card_pdf(CARD) != program_card_pdf(card(number=4))
    assert program_card_html(CARD) == program_card_html(CARD)


def test_the_fonts_are_embedded_and_their_licence_is_there():
    reader = PdfReader(io.BytesIO(program_card_pdf(card(dish="دجاج 香草 ครัว"))))
    fonts = reader.pages[0]["/Resources"]["/Font"]  # type: ignore[index]
    assert len(fonts) >= 4
    for font in fonts.values():
        assert "/FontFile2" in font.get_object()["/DescendantFonts"][0]["/FontDescriptor"]
    assert "SIL Open Font License" in (font_folder() / "noto-sans-OFL.txt").read_text(encoding="utf-8")
    assert "SIL OPEN FONT LICENSE" in (font_folder().parent / "atkinson-next-OFL.txt").read_text(encoding="utf-8").upper()


DISHES = {
    "long": "Slow-braised shoulder with preserved lemon, barley, roasted carrots and a herb crumb, family style " * 2,
    "one long word": "Kräuterbröselüberbackenehähnchenstreifenpfanne" * 3,
    "Arabic": "دجاج بالأعشاب مع فتات الخبز",
    "Hebrew": "עוף בעשבי תיבול",
    "Chinese": "香草鸡柳配面包屑",
    "Japanese": "とりのこうそう焼き",
    "Greek and Cyrillic": "Κοτόπουλο с травами",
    "Devanagari and Thai": "हर्ब चिकन ไก่สมุนไพร",
    "Latin with marks": "Šťavnatý řízek, crème brûlée, phở, żurek",
    "mixed directions": "Chicken دجاج (180 g) with חלה",
}


@pytest.mark.parametrize("dish", DISHES.values(), ids=DISHES)
def test_names_of_every_kind_fit_and_stay_inside_the_page(dish: str):
    pdf = program_card_pdf(card(dish=dish))
    assert len(pages(pdf)) == 1
    image = picture(pdf).convert("L")
    width, height = image.size
    for box in ((0, 0, int(width * 0.04), height), (int(width * 0.96), 0, width, height)):
        assert image.crop(box).getextrema() == (255, 255)  # nothing runs into the margins
    assert codes(picture(pdf)) == [LINK]


def test_right_to_left_names_come_out_as_letters():
    [text] = pages(program_card_pdf(card(dish="عوف")))
    assert set("عوف") & set(text)


@pytest.mark.parametrize("dish", ["Chicken \U0001f357", "Fish \ue000"])
def test_a_letter_no_font_holds_is_named(dish: str):
    with pytest.raises(InvalidDocument, match=r"No font here can print .* \(U\+"):
        program_card_pdf(card(dish=dish))


def test_a_text_that_can_not_fit_is_refused_and_not_cut():
    with pytest.raises(InvalidDocument, match="too long for its place"):
        program_card_pdf(card(before=("Stir. " * 60,) * 9))


def test_a_restricted_card_says_what_must_be_done_and_when_it_ends():
    given = card(standing="restricted", expires_on=date(2026, 5, 31))
    for text in (flat(pages(program_card_pdf(given))[0]), program_card_html(given)):
        assert "RESTRICTED: measure each portion" in text
        assert "expires 2026-05-31" in text


def test_a_top_up_is_keyed_in_like_a_program():
    given = card(top_up=stages(1, 3))
    assert "Top-up, once: 250 °C, 210 s: 100 % at air 30, microwave 80 (jute)" in flat(pages(program_card_pdf(given))[0])
    assert program_card_html(given).count("<table>") == 2


class Page(HTMLParser):
    """Collects tags and text; nothing may be left open."""

    VOID = frozenset(["meta", "img", "br"])

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: list[tuple[str, dict[str, Any]]] = []
        self.text = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.text += data


def read_html(text: str) -> Page:
    page = Page()
    page.feed(text)
    assert page.open == []
    return page


def test_the_phone_shows_the_same_as_the_paper():
    page = read_html(program_card_html(CARD))
    for wanted in (
        CARD.dish,
        *CARD.start,
        "250 °C",
        "jute",
        "120 s, covered",
        CARD.must_read or "",
        CARD.allergens,
        CARD.limit,
        *CARD.signed,
    ):
        assert wanted in page.text, wanted
    assert [tag for tag, _ in page.tags].count("tr") == 4


def test_the_phone_page_fetches_nothing_and_runs_nothing():
    page = read_html(program_card_html(CARD))
    assert not {"script", "link", "iframe", "form"} & {tag for tag, _ in page.tags}
    for tag, attributes in page.tags:
        if tag == "img":
            assert attributes["src"].startswith("data:image/jpeg;base64,")
        assert not any(name.startswith("on") for name in attributes)


def test_texts_from_people_stay_texts():
    evil = "<img src=x onerror=alert(1)>\"&'"
    given = card(
        dish=evil, site=evil, customer=evil, start=(evil,), before=(evil,), after=(evil,), allergens=evil, discard=evil
    )
    page = read_html(program_card_html(given))
    assert not any("onerror" in attributes for _, attributes in page.tags)
    assert page.text.count(evil) == 9  # title, heading, customer, site, start, before, after, allergens, discard


def test_a_dish_of_the_other_direction_says_so():
    page = read_html(program_card_html(card(dish="דג")))
    assert ("h1", {"dir": "auto"}) in page.tags
