"""Printed pages: fonts, colours, and text that is made to fit its box. The same content gives the same bytes."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from datetime import datetime
from typing import Literal, Self

from fpdf import FPDF
from fpdf.enums import MethodReturnValue, WrapMode
from fpdf.fonts import TTFFont

from tuner.domain import InvalidDocument
from tuner.exchange.card_fonts import MAIN, faces_for

INK, MUTED, HAIRLINE, PLATE = (30, 36, 34), (86, 96, 91), (201, 198, 188), (239, 237, 230)
AIR, MICROWAVE, UNSAFE = (179, 92, 0), (90, 61, 148), (163, 17, 63)
_LINE = 0.43
"""Height of a line for one point of font size [mm]."""

Align = Literal["L", "C", "R"]


class Paper(FPDF):
    """A4 pages on which every text fits or is refused."""

    def __init__(self, texts: Iterable[str], *, made_at: datetime, title: str) -> None:
        super().__init__(orientation="portrait", unit="mm", format="A4")
        faces = faces_for(texts)
        for face in faces:
            self.add_font(face.family, face.style, face.path)
        others = list(dict.fromkeys(face.family for face in faces if face.family != MAIN))
        if others:
            self.set_fallback_fonts(others, exact_match=False)
        self.set_text_shaping(True)
        self.set_creation_date(made_at)
        self.set_producer("test-cook tuner")
        self.set_creator("test-cook tuner")
        self.set_title(title)
        self.set_lang("en")
        self.set_auto_page_break(False)
        self.set_margin(0)
        self.c_margin = 0.0

    def colour(self, rgb: tuple[int, int, int]) -> None:
        """Colour of what is drawn and written next."""
        self.set_text_color(*rgb)
        self.set_draw_color(*rgb)
        self.set_fill_color(*rgb)

    def words(
        self,
        x: float,
        y: float,
        w: float,
        text: str,
        *,
        size: float = 9,
        bold: bool = False,
        colour: tuple[int, int, int] = INK,
        align: Align = "L",
        height: float | None = None,
        least: float = 6,
    ) -> float:
        """Write text into a box, smaller where it must be; returns the y below it.

        Raises
        ------
        InvalidDocument
            If it does not fit into `height` even at the least size.
        """
        clean = unicodedata.normalize("NFC", text)
        while True:
            self.set_font(MAIN, "B" if bold else "", size)
            lines = self._lines(w, clean, size)
            if height is None or lines * size * _LINE <= height + 0.01:
                break
            size -= 0.25
            if size < least:
                shown = clean if len(clean) <= 60 else f"{clean[:57]}..."
                raise InvalidDocument([f"{shown!r} is too long for its place on the page. Shorten it."])
        self.set_text_color(*colour)
        self.set_xy(x, y)
        self.multi_cell(w, size * _LINE, clean, align=align, new_x="LEFT", new_y="NEXT", wrapmode=self._mode(w, clean))
        return self.get_y()

    def height_of(self, w: float, text: str, *, size: float, bold: bool = False) -> float:
        """How high a text becomes in a box of this width [mm]."""
        self.set_font(MAIN, "B" if bold else "", size)
        return self._lines(w, unicodedata.normalize("NFC", text), size) * size * _LINE

    def _lines(self, w: float, text: str, size: float) -> int:
        lines = self.multi_cell(
            w, size * _LINE, text, dry_run=True, output=MethodReturnValue.LINES, wrapmode=self._mode(w, text)
        )
        return max(1, len(lines)) if isinstance(lines, list) else 1

    def _mode(self, w: float, text: str) -> WrapMode:
        """Break inside a word only where one word alone is wider than the box."""
        widest = max((self.get_string_width(word) for word in text.split()), default=0.0)
        return WrapMode.CHAR if widest > w else WrapMode.WORD

    def rule(self, x: float, y: float, w: float, *, colour: tuple[int, int, int] = HAIRLINE, width: float = 0.2) -> None:
        """A horizontal line."""
        self.set_draw_color(*colour)
        self.set_line_width(width)
        self.line(x, y, x + w, y)

    def block(self, x: float, y: float, w: float, h: float, colour: tuple[int, int, int]) -> None:
        """A filled rectangle."""
        self.set_fill_color(*colour)
        self.rect(x, y, w, h, style="F")

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        for font in self.fonts.values():
            if isinstance(font, TTFFont):
                font.ttfont.close()  # the library leaves the files open

    def finished(self) -> bytes:
        """The bytes of the document."""
        return bytes(self.output())
