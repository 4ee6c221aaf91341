"""A program card on one page of paper. The same card gives the same bytes."""

from __future__ import annotations

import io
from collections.abc import Iterator
from datetime import UTC, datetime, time

from tuner.domain.card import KeyedProgram, ProgramCard
from tuner.exchange.card_marks import draw_code, draw_placement, draw_strip, draw_table
from tuner.exchange.paper import AIR, INK, MICROWAVE, MUTED, PLATE, UNSAFE, Paper

LEFT, RIGHT, TOP = 12.0, 198.0, 11.0
WIDTH = RIGHT - LEFT
_LAST = "Local codes and licensed practice come first. A newer version replaces this card: take it down."
_FIXED = "0123456789.,:;%°C°FgmsABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz–×()/#"


def program_card_pdf(card: ProgramCard) -> bytes:
    """The card as PDF, one page.

    Raises
    ------
    InvalidDocument
        If a text is too long for the page, or holds a letter that no font here can print.
    """
    made = datetime.combine(card.released_on, time(), tzinfo=UTC)
    texts = [*_texts(card), _FIXED]
    with Paper(texts, made_at=made, title=f"{card.dish}, version {card.number}") as page:
        page.add_page()
        y = _head(page, card)
        y = _start(page, card, y)
        y = _program(page, card, y)
        y = _after(page, card, y)
        _words(page, card, y)
        _foot(page, card)
        return page.finished()


def _texts(card: ProgramCard) -> Iterator[str]:
    yield from (card.dish, card.customer or "", card.site or "", card.claim, card.placement.words, card.rest_words)
    yield from (*card.start, *card.before, *card.after, *card.probe, card.must_read or "", card.discard, card.allergens)
    yield from (*card.hold, card.limit, *(text for _, text in card.cautions), *card.signed, card.link, card.program.word)


def _head(page: Paper, card: ProgramCard) -> float:
    y = TOP
    if card.standing == "restricted":
        page.block(LEFT, y, WIDTH, 7, INK)
        text = "RESTRICTED: measure each portion and log it before it is served"
        page.words(LEFT + 2, y + 1.4, WIDTH - 4, text, size=10.5, bold=True, colour=(255, 255, 255))
        y += 8.5
    below = page.words(LEFT, y, WIDTH - 44, card.dish, size=23, bold=True, height=19, least=9)
    page.words(RIGHT - 42, y, 42, f"Version {card.number}", size=14, bold=True, align="R")
    dates = f"released {card.released_on.isoformat()}"
    if card.expires_on is not None:
        dates += f"\nexpires {card.expires_on.isoformat()}"
    page.words(RIGHT - 42, y + 7, 42, dates, size=8, colour=MUTED, align="R")
    whose = " · ".join(part for part in (card.customer, card.site) if part)
    y = max(below, y + 11) + 1
    line = f"{whose} · {card.claim}" if whose else card.claim
    y = page.words(LEFT, y, WIDTH, line, size=8.5, colour=MUTED, height=8)
    page.rule(LEFT, y + 1, WIDTH, colour=INK, width=0.5)
    return y + 3


def _start(page: Paper, card: ProgramCard, y: float) -> float:
    height, third = (54.0 if card.program.slots <= 5 else 46.0), WIDTH / 3
    draw_placement(page, LEFT, y, third - 4, height, card.placement)
    below = _heading(page, LEFT + third, y, third - 4, "Before the oven")
    start = "\n".join(card.start)
    below = page.words(LEFT + third, below, third - 4, start, size=10, bold=True, height=20)
    steps = "\n".join((card.placement.words, *card.before))
    page.words(LEFT + third, below + 0.8, third - 4, steps, size=8.5, height=y + height - below - 0.8)
    if card.photo is not None:
        x = LEFT + 2 * third + 2
        page.image(io.BytesIO(card.photo), x=x, y=y + 0.5, w=third - 2, h=height - 6, keep_aspect_ratio=True)
        page.words(x, y + height - 4.5, third - 2, "the result", size=7, colour=MUTED, align="C")
    return y + height + 2


def _heading(page: Paper, x: float, y: float, w: float, text: str) -> float:
    return page.words(x, y, w, text, size=8, bold=True, colour=MUTED) + 0.3


def _program(page: Paper, card: ProgramCard, y: float) -> float:
    program = card.program
    page.rule(LEFT, y, WIDTH)
    y += 2
    side = 44.0
    facts = f"{program.air_temperature:g} °{card.unit}"
    below = _heading(page, LEFT, y, side, "Air temperature")
    below = page.words(LEFT, below, side, facts, size=19, bold=True)
    below = _heading(page, LEFT, below + 1, side, "Whole time")
    below = page.words(LEFT, below, side, _seconds(program.duration_s), size=19, bold=True)
    below = _heading(page, LEFT, below + 1, side, "Read-back word")
    below = page.words(LEFT, below, side, program.word, size=19, bold=True)
    below = page.words(
        LEFT,
        below,
        side,
        "Type what the oven shows into the page behind the code: another word means a wrong digit.",
        size=7,
        colour=MUTED,
        height=13,
    )
    x, w = LEFT + side + 4, WIDTH - side - 4
    draw_strip(page, x, y, w, 20, program)
    legend = y + 24
    page.block(x, legend + 0.5, 3, 2.4, AIR)
    page.words(x + 4, legend, 40, "up: air speed", size=7, colour=MUTED)
    page.block(x + 32, legend + 0.5, 3, 2.4, MICROWAVE)
    page.words(x + 36, legend, 60, "down: microwave", size=7, colour=MUTED)
    return max(draw_table(page, x, legend + 4.5, w, program), below) + 2


def _seconds(duration_s: float) -> str:
    minutes, seconds = divmod(duration_s, 60)
    return f"{duration_s:g} s ({int(minutes)}:{int(seconds):02d})" if duration_s >= 60 else f"{duration_s:g} s"


def _after(page: Paper, card: ProgramCard, y: float) -> float:
    page.rule(LEFT, y, WIDTH)
    y += 2
    height, third = 36.0, WIDTH / 3
    x, w = LEFT, third - 4
    below = _heading(page, x, y, w, "Then rest")
    below = page.words(x, below, w, f"{card.rest_s:g} s, {card.rest_words}", size=13, bold=True, height=13)
    page.words(x, below + 0.6, w, "\n".join(card.after), size=8.5, height=y + height - below - 0.6)
    x += third
    below = _heading(page, x, y, w, "Probe")
    if card.must_read is not None:
        below = page.words(x, below, w, card.must_read, size=13, bold=True, height=13)
    page.words(x, below + 0.6, w, "\n".join(card.probe), size=8.5, height=y + height - below - 0.6)
    x += third
    below = _heading(page, x, y, w + 4, "Too cold?")
    if card.top_up is not None:
        below = page.words(x, below, w + 4, _in_one_line(card.top_up, card.unit), size=8.5, bold=True, height=13)
    page.words(x, below + 0.6, w + 4, card.discard, size=9, bold=True, colour=UNSAFE, height=y + height - below - 0.6)
    return y + height + 1


def _in_one_line(program: KeyedProgram, unit: str) -> str:
    stages = "; ".join(
        f"{one.share_pct:g} % at air {one.air_speed_pct:g}, microwave {one.microwave_pct:g}" for one in program.stages
    )
    return f"Top-up, once: {program.air_temperature:g} °{unit}, {program.duration_s:g} s: {stages} ({program.word})"


def _words(page: Paper, card: ProgramCard, y: float) -> None:
    allergens = 12.0
    page.block(LEFT, y, WIDTH, allergens, PLATE)
    page.words(LEFT + 2, y + 1.2, 24, "Allergens", size=8, bold=True, colour=MUTED)
    page.words(LEFT + 24, y + 1, WIDTH - 26, card.allergens, size=10, bold=True, height=allergens - 2, least=5.5)
    y += allergens + 2
    end = 297 - 11 - 31
    half = WIDTH * 0.60
    cautions = "\n".join(f"{code}  {text}" for code, text in card.cautions)
    page.words(LEFT, y, half - 5, cautions, size=10, height=end - y, least=5.5)
    others = "\n".join((*card.hold, card.limit))
    page.words(LEFT + half, y, WIDTH - half, others, size=10, height=end - y, least=5.5)


def _foot(page: Paper, card: ProgramCard) -> None:
    side = 28.0
    y = 297 - 11 - side
    page.rule(LEFT, y - 1, WIDTH, colour=INK, width=0.5)
    draw_code(page, RIGHT - side, y, side, card.link)
    w = WIDTH - side - 4
    below = page.words(LEFT, y + 0.5, w, "\n".join(card.signed), size=8, height=12)
    text = f"Release {card.sha256[:16]} · the code leads to its page: is this version still in force?\n{card.link}"
    below = page.words(LEFT, below + 1, w, text, size=7, colour=MUTED, height=9)
    page.words(
        LEFT,
        below + 1,
        w,
        "Local codes and licensed practice come first. A newer version replaces this card: take it down.",
        size=7,
        colour=MUTED,
        height=4,
    )
