"""An invented card, and reading printed pages back."""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import date
from typing import Any

import pypdfium2
import zxingcpp
from PIL import Image
from pypdf import PdfReader

from tuner.domain.card import KeyedProgram, KeyedStage, Placement, ProgramCard


def photo() -> bytes:
    written = io.BytesIO()
    Image.new("RGB", (400, 300), "peru").save(written, "JPEG")
    return written.getvalue()


PROGRAM = KeyedProgram(250, 210, (KeyedStage(40, 30, 80, 84), KeyedStage(60, 90, 20, 126)), 3, "jute")
LINK = "https://kitchen.example/check-file?release=519c70e8-9c6d-5046-9cbe-6885f17b81dc"
CARD = ProgramCard(
    dish="Herb chicken strip",
    customer="Vale",
    number=3,
    standing="released",
    claim="proven: 95 % sure that at least 95 % comply at the worst corner",
    unit="C",
    site="North kitchen",
    start=("chilled, 1 to 5 °C", "171 to 189 g, 28 mm thick", "one at a time"),
    before=("Thaw overnight.", "Coat one side."),
    after=("Lift onto a warm plate.",),
    placement=Placement("slab", 28, 1, 3, "ceramic tray: centred"),
    program=PROGRAM,
    rest_s=120,
    rest_words="covered",
    probe=("After the rest, at 3 places; the lowest counts.",),
    must_read="at least 76 °C everywhere",
    top_up=None,
    discard="No top-up is proven: throw it away.",
    allergens="Contains milk, gluten. May contain sesame.",
    hold=("Serve at once.", "Serving 160 g"),
    limit="C8 Critical limit 74 °C + 2 °C guard (rule); approved by Quinn. The local code has the last word.",
    cautions=(("C3", "Hot oven: wear gloves."), ("C4", "No metal in the cavity.")),
    signed=("developer: Ann, 2026-03-02", "food-safety approver: Quinn, 2026-03-02"),
    sha256="ab" * 32,
    link=LINK,
    released_on=date(2026, 3, 2),
    expires_on=None,
    photo=photo(),
)


def card(**changes: Any) -> ProgramCard:
    return replace(CARD, **changes)


def stages(count: int, slots: int) -> KeyedProgram:
    share = 100 / count
    return KeyedProgram(250, 210, tuple(KeyedStage(share, 30, 80, 210 / count) for _ in range(count)), slots, "jute")


def pages(pdf: bytes) -> list[str]:
    """The text of every page."""
    return [page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages]


def picture(pdf: bytes, page: int = 0) -> Image.Image:
    with pypdfium2.PdfDocument(pdf) as document:
        image: Image.Image = document[page].render(scale=3).to_pil()
        return image


def codes(image: Image.Image) -> list[str]:
    return [found.text for found in zxingcpp.read_barcodes(image)]
