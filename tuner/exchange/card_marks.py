"""The drawn parts of a program card on paper: the program as a strip, the portion as it stands, the code for a phone."""

from __future__ import annotations

import segno

from tuner.domain.card import KeyedProgram, Placement
from tuner.exchange.paper import AIR, HAIRLINE, INK, MICROWAVE, MUTED, PLATE, Paper

_QUIET = 4
"""White modules around a code; readers need them."""


def draw_strip(page: Paper, x: float, y: float, w: float, h: float, program: KeyedProgram) -> None:
    """Stages from left to right, as wide as their share: air speed up, microwave down, from one line, on the same scale."""
    middle = y + h / 2
    half = h / 2 - 1.5
    left = x
    for number, stage in enumerate(program.stages, start=1):
        width = w * stage.share_pct / 100
        page.block(left + 0.4, y + 1.5, width - 0.8, h - 3, PLATE)
        up, down = half * stage.air_speed_pct / 100, half * stage.microwave_pct / 100
        page.block(left + 0.4, middle - up, width - 0.8, up, AIR)
        page.block(left + 0.4, middle, width - 0.8, down, MICROWAVE)
        page.words(left, y + h, width, f"{number}", size=8, bold=True, align="C")
        left += width
    page.rule(x, middle, w, colour=INK, width=0.5)


def draw_placement(page: Paper, x: float, y: float, w: float, h: float, placement: Placement) -> None:
    """The tray from above with its load, and one portion from the side with the places to probe."""
    top = h * 0.58
    page.set_draw_color(*MUTED)
    page.set_line_width(0.4)
    page.rect(x + 2, y + 1, w - 4, top - 2, style="D", round_corners=True, corner_radius=2)
    page.words(x + 2, y + top - 0.6, w - 4, "tray from above, front below", size=6.5, colour=MUTED, align="C")
    for left, up, width, height in _cells(x + 5, y + 4, w - 10, top - 8, min(placement.load, 12)):
        _portion_from_above(page, placement, left, up, width, height)
    _from_the_side(page, x, y + top + 3.2, w, h - top - 3.2, placement)


def _cells(x: float, y: float, w: float, h: float, count: int) -> list[tuple[float, float, float, float]]:
    columns = 1 if count == 1 else 2 if count <= 4 else 4
    rows = -(-count // columns)
    width, height = w / columns, h / rows
    return [(x + (place % columns) * width, y + (place // columns) * height, width, height) for place in range(count)]


def _portion_from_above(page: Paper, placement: Placement, x: float, y: float, w: float, h: float) -> None:
    page.set_fill_color(*PLATE)
    page.set_draw_color(*INK)
    page.set_line_width(0.4)
    side = min(w, h) * 0.8
    centre_x, centre_y = x + w / 2, y + h / 2
    if placement.shape == "sphere":
        page.ellipse(centre_x - side / 2, centre_y - side / 2, side, side, style="DF")
    elif placement.shape == "loose":
        piece = side / 5
        for step in range(9):
            page.rect(
                centre_x - side / 2 + (step % 3) * side / 2.6, centre_y - side / 2 + (step // 3) * side / 2.6, piece, piece,
                style="DF", round_corners=True, corner_radius=piece / 4,
            )  # fmt: skip
    else:
        long = min(w * 0.8, side * 1.6)
        page.rect(centre_x - long / 2, centre_y - side / 2, long, side, style="DF", round_corners=True, corner_radius=side / 6)


def _from_the_side(page: Paper, x: float, y: float, w: float, h: float, placement: Placement) -> None:
    body_x, body_w, body_y, body_h = x + w * 0.12, w * 0.5, y + h * 0.30, h * 0.34
    page.set_fill_color(*PLATE)
    page.set_draw_color(*INK)
    page.set_line_width(0.4)
    page.rect(body_x, body_y, body_w, body_h, style="DF", round_corners=True, corner_radius=body_h / 3)
    page.rule(x + 2, body_y + body_h + 0.6, w * 0.7, colour=MUTED, width=0.6)
    shown = min(placement.places, 5)
    for place in range(shown):
        tip = body_x + body_w * (place + 1) / (shown + 1)
        page.set_draw_color(*INK)
        page.line(tip, y, tip, body_y + body_h / 2)
        page.set_fill_color(*INK)
        page.ellipse(tip - 0.7, body_y + body_h / 2 - 0.7, 1.4, 1.4, style="F")
    page.words(x + w * 0.66, body_y - 0.4, w * 0.34, f"{placement.thickness_mm:g} mm thick", size=7, height=body_h)
    words = f"Side view: probe at {placement.places} places, tips in the middle."
    page.words(x + 2, body_y + body_h + 1.4, w - 4, words, size=6.5, colour=MUTED, height=6)


def draw_code(page: Paper, x: float, y: float, side: float, text: str) -> None:
    """A QR code of `text` with its white margin, drawn as squares."""
    matrix = segno.make(text, error="m", micro=False).matrix
    module = side / (len(matrix) + 2 * _QUIET)
    page.block(x, y, side, side, (255, 255, 255))
    page.set_fill_color(0, 0, 0)
    for row, line in enumerate(matrix):
        for column, dark in enumerate(line):
            if dark:
                page.rect(x + (column + _QUIET) * module, y + (row + _QUIET) * module, module + 0.01, module + 0.01, style="F")


def draw_table(page: Paper, x: float, y: float, w: float, program: KeyedProgram) -> float:
    """The program to key in: one line for each stage the oven holds; returns the y below it."""
    row = min(7.2, 44 / (program.slots + 1))
    size = min(12.0, row / 0.5)
    columns = ((0.16, "stage"), (0.28, "share of the time %"), (0.22, "air speed %"), (0.20, "microwave %"), (0.14, "seconds"))
    _line(page, x, y, w, [(share, name, False, MUTED) for share, name in columns], 7.0, row)
    y += row
    for slot in range(program.slots):
        page.rule(x, y, w, colour=HAIRLINE)
        if slot < len(program.stages):
            stage = program.stages[slot]
            texts = (
                (f"{slot + 1}", True, INK),
                (f"{stage.share_pct:g}", True, INK),
                (f"{stage.air_speed_pct:g}", True, AIR),
                (f"{stage.microwave_pct:g}", True, MICROWAVE),
                (f"{stage.seconds:g}", False, MUTED),
            )
        else:
            texts = ((f"{slot + 1}", False, MUTED), *((("0", False, MUTED),) * 3), ("not used", False, MUTED))
        cells = [(columns[place][0], text, bold, colour) for place, (text, bold, colour) in enumerate(texts)]
        _line(page, x, y, w, cells, size, row)
        y += row
    page.rule(x, y, w, colour=HAIRLINE)
    return y


def _line(
    page: Paper,
    x: float,
    y: float,
    w: float,
    cells: list[tuple[float, str, bool, tuple[int, int, int]]],
    size: float,
    row: float,
) -> None:
    for share, text, bold, colour in cells:
        smaller = 7.0 if text == "not used" else size
        page.words(x, y + (row - smaller * 0.43) / 2, w * share, text, size=smaller, bold=bold, colour=colour)
        x += w * share
