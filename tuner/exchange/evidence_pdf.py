"""Evidence on paper: sections of facts and tables over as many pages as they need."""

from __future__ import annotations

from tuner.domain.evidence import EvidencePack, Section
from tuner.exchange.paper import HAIRLINE, INK, MUTED, Paper

_LEFT, _WIDTH, _TOP, _BOTTOM = 12.0, 186.0, 14.0, 283.0
_SIZE = 7.5


def evidence_pdf(pack: EvidencePack) -> bytes:
    """The pack as PDF; the same pack gives the same bytes.

    Raises
    ------
    InvalidDocument
        If it holds a letter that no font here can print.
    """
    with Paper([pack.title, *_texts(pack), _FIXED], made_at=pack.made_at, title=pack.title) as page:
        writer = _Writer(page, pack.title)
        writer.turn()
        writer.y = page.words(_LEFT, writer.y, _WIDTH, pack.title, size=17, bold=True) + 3
        for section in pack.sections:
            writer.section(section)
        return page.finished()


_FIXED = "0123456789 page of ·–"


def _texts(pack: EvidencePack) -> list[str]:
    found = []
    for section in pack.sections:
        found += [section.heading, section.note, *(text for fact in section.facts for text in fact)]
        found += [name for name, _ in section.columns] + [cell for row in section.rows for cell in row]
    return found


class _Writer:
    """Where the next line goes; a new page when the old one is full."""

    def __init__(self, page: Paper, title: str) -> None:
        self.page, self.title, self.y, self.number = page, title, _TOP, 0

    def turn(self) -> None:
        self.page.add_page()
        self.number += 1
        self.page.words(_LEFT, 7, _WIDTH - 30, self.title, size=7, colour=MUTED, height=4)
        self.page.words(_LEFT + _WIDTH - 30, 7, 30, f"page {self.number}", size=7, colour=MUTED, align="R")
        self.y = _TOP

    def room(self, height: float) -> None:
        if self.y + height > _BOTTOM:
            self.turn()

    def section(self, section: Section) -> None:
        self.room(16)
        self.page.rule(_LEFT, self.y, _WIDTH, colour=INK, width=0.4)
        self.y = self.page.words(_LEFT, self.y + 1.2, _WIDTH, section.heading, size=11, bold=True) + 1
        for name, text in section.facts:
            self.cells(((name, 0.27), (text, 0.73)), bold_first=True)
        if section.columns:
            self.cells(section.columns, bold_first=False, colour=MUTED)
            for row in section.rows:
                shares = tuple((cell, share) for cell, (_, share) in zip(row, section.columns, strict=True))
                self.cells(shares, bold_first=False)
        if section.note:
            self.cells(((section.note, 1.0),), bold_first=False, colour=MUTED)
        self.y += 3

    def cells(self, cells: tuple[tuple[str, float], ...], *, bold_first: bool, colour: tuple[int, int, int] = INK) -> None:
        heights = [
            self.page.height_of(_WIDTH * share - 1.5, text, size=_SIZE, bold=bold_first and not at)
            for at, (text, share) in enumerate(cells)
        ]
        self.room(max(heights) + 1)
        x = _LEFT
        for at, (text, share) in enumerate(cells):
            self.page.words(x, self.y + 0.5, _WIDTH * share - 1.5, text, size=_SIZE, bold=bold_first and not at, colour=colour)
            x += _WIDTH * share
        self.y += max(heights) + 1
        self.page.rule(_LEFT, self.y, _WIDTH, colour=HAIRLINE, width=0.1)
