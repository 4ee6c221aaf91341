"""Writes the cook logs of the import walk, each as another kitchen might keep it, and a thermometer log.

    python trials_demo/make_logs.py

- `kofta_log.csv`: semicolons, decimal commas, Windows encoding, stages in columns, a note above the headings, a blank row, a
  line of means, one row with shares that do not add up, one row that stands there twice.
- `kofta_tasters.xlsx`: merged headings, one row a taster, the cook's own values only in its first row.
- `kofta_old_log.csv`: °F, oz, m:ss, a program in one cell, and a cook that was tasted below the limit.
- `kofta_thermometer.csv`: what a thermometer wrote during a rest.

Seeded; the values are those of the demo's simulated kitchen, with the chef's own programs.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import datetime, timedelta, timezone
from pathlib import Path

import numpy as np
from make_demo import SEEDS
from openpyxl import Workbook
from openpyxl.styles import Font

from tuner.cli.documents import read_program
from tuner.domain import Program, TestCook
from tuner.domain.quantities import celsius_to_fahrenheit, minutes_seconds
from tuner.rehearsal import Kitchen
from tuner.rehearsal.catalogue import _furnished as furnished
from tuner.rehearsal.named import NAMED

FOLDER = Path(__file__).resolve().parent
ZONE = timezone(timedelta(hours=1))
GRAMS_PER_OUNCE = 28.349523125
KITCHEN_SEED = 3
"""Of the kitchen in which the demo's kofta was cooked."""
OWN_PROGRAMS = (
    "250, 3:40, 70/60/40, 30/70/10",
    "250, 3:10, 60/50/40, 40/80/0",
    "260, 3:30, 70/60/40, 30/60/10",
    "240, 3:50, 80/50/40, 20/60/0",
    "250, 3:40, 50/40/50, 20/60/20, 30/80/0",
)
MARKS = ("browning", "texture", "moisture")


def cooked(kitchen: Kitchen, seed: int, day: datetime, programs: Sequence[str]) -> Iterator[TestCook]:
    """The chef's own programs, one every twenty minutes."""
    rng = np.random.default_rng(seed)
    for number, text in enumerate(programs):
        yield kitchen.cook(read_program(text), rng, cooked_at=day + timedelta(minutes=20 * number))


def comma(value: float | None, digits: int = 1) -> str:
    """A number with a decimal comma."""
    return "" if value is None else f"{value:.{digits}f}".replace(".", ",")


def stage_columns(program: Program, count: int = 3) -> list[str]:
    """Share, air speed and microwave of each stage, empty where there is none."""
    cells = [f"{value:g}" for stage in program.stages for value in (stage.share_pct, stage.air_speed_pct, stage.microwave_pct)]
    return cells + [""] * (3 * count - len(cells))


def marks_of(cook: TestCook, tasters: int) -> list[str]:
    """Marks of the first tasters, attribute by attribute; empty where nobody tasted."""
    return [comma(getattr(score, name)) for score in (cook.scores or ())[:tasters] for name in MARKS]


def kofta_log(kitchen: Kitchen) -> bytes:
    """One row a cook, as a spreadsheet of the continent saves it."""
    cooks = list(cooked(kitchen, 11, datetime(2026, 2, 23, 14, 0, tzinfo=ZONE), OWN_PROGRAMS))
    stages = [f"Stage {number} {what}" for number in (1, 2, 3) for what in ("share %", "air %", "microwave %")]
    heading = ["No", "Date", "Air °C", "Time (m:ss)", *stages, "Mass in g", "Start °C", "Core 1 °C", "Core 2 °C", "Core 3 °C"]
    heading += ["Rest s", "Covered", "Mass out g", *(f"{name.capitalize()} {who}" for who in "AB" for name in MARKS), "Remarks"]
    rows = []
    for number, cook in enumerate(cooks, start=1):
        assert cook.program is not None
        assert cook.cooked_at is not None
        row = [str(number), cook.cooked_at.strftime("%d.%m.%Y %H:%M"), f"{cook.program.air_temperature_c:g}"]
        row += [minutes_seconds(cook.program.duration_s), *stage_columns(cook.program), comma(cook.mass_g)]
        row += [comma(cook.start_temperature_c), *(comma(value) for value in cook.readings_c), "120", "yes"]
        row += [comma(cook.mass_out_g), *marks_of(cook, 2), ""]
        rows.append(row)
    rows[1][heading.index("Mass out g")], rows[1][-1] = "", "not weighed"
    wrong = [*rows[2]]
    wrong[0], wrong[heading.index("Stage 2 share %")], wrong[-1] = "6", "50", "shares as written on the sheet"
    means = ["Mean", *[""] * (len(heading) - 2), "of 5"]
    lines = [["Kofta trials, counter oven"], [], heading, *rows, wrong, rows[0], [""] * len(heading), means]
    text = io.StringIO(newline="")
    csv.writer(text, delimiter=";", lineterminator="\r\n").writerows(lines)
    return text.getvalue().encode("cp1252")


def kofta_tasters(kitchen: Kitchen) -> bytes:
    """One row a taster, under merged headings."""
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = "Tastings"
    groups = (("Cook", 2), ("Program", 3), ("Portion", 3), ("Core °C", 3), ("Taster", 1), ("Marks 1-5", 3))
    column = 1
    for name, width in groups:
        cell = sheet.cell(row=1, column=column, value=name)
        cell.font = Font(bold=True)
        if width > 1:
            sheet.merge_cells(start_row=1, start_column=column, end_row=1, end_column=column + width - 1)
        column += width
    sheet.append(
        [
            "No",
            "Cooked at",
            "Air °C",
            "Duration s",
            "Stages (share/air/microwave)",
            "In g",
            "Out g",
            "Start °C",
            "Place 1",
            "Place 2",
            "Place 3",
            "Name",
            *(name.capitalize() for name in MARKS),
        ]
    )
    for number, cook in enumerate(cooked(kitchen, 12, datetime(2026, 2, 26, 9, 30, tzinfo=ZONE), OWN_PROGRAMS[2:]), start=1):
        assert cook.program is not None
        assert cook.cooked_at is not None
        stages = " + ".join(f"{s.share_pct:g}/{s.air_speed_pct:g}/{s.microwave_pct:g}" for s in cook.program.stages)
        own = [number, cook.cooked_at.replace(tzinfo=None), cook.program.air_temperature_c, cook.program.duration_s, stages]
        own += [cook.mass_g, cook.mass_out_g, cook.start_temperature_c, *cook.readings_c]
        for place, score in enumerate(cook.scores or ()):
            first = own if place == 0 else [number, *[None] * (len(own) - 1)]
            sheet.append([*first, score.taster, score.browning, score.texture, score.moisture])
    book.properties.created = book.properties.modified = datetime(2026, 2, 26, 12, 0)
    data = io.BytesIO()
    book.save(data)
    return data.getvalue()


def kofta_old_log(kitchen: Kitchen) -> bytes:
    """°F, ounces, a program in one cell; the second cook was tasted although it was below the limit."""
    programs = ("250, 3:50, 80/50/40, 20/60/0", "250, 2:30, 80/50/40, 20/60/0", OWN_PROGRAMS[0])
    heading = ["#", "date", "oven temp (F)", "time", "program", "in (oz)", "out (oz)", "start F", "center F", "side F", "end F"]
    lines = [[*heading, "brown", "bite", "juicy", "who"]]
    for number, cook in enumerate(cooked(kitchen, 13, datetime(2025, 11, 3, 15, 0, tzinfo=ZONE), programs), start=1):
        assert cook.program is not None
        assert cook.cooked_at is not None
        assert cook.mass_g is not None
        assert cook.mass_out_g is not None
        stages = " then ".join(f"{s.share_pct:g}% air {s.air_speed_pct:g} mw {s.microwave_pct:g}" for s in cook.program.stages)
        truth = kitchen.truth(cook.program, np.random.default_rng(number), 1)
        marks = [f"{round(float(truth[name][0]) * 2) / 2:g}" for name in MARKS]
        lines.append(
            [str(number), cook.cooked_at.strftime("%m/%d/%Y"), f"{celsius_to_fahrenheit(cook.program.air_temperature_c):.0f}"]
            + [minutes_seconds(cook.program.duration_s), stages]
            + [f"{mass / GRAMS_PER_OUNCE:.2f}" for mass in (cook.mass_g, cook.mass_out_g)]
            + [f"{celsius_to_fahrenheit(value):.0f}" for value in (cook.start_temperature_c or 0.0, *cook.readings_c)]
            + [*marks, "R.O."]
        )
    text = io.StringIO(newline="")
    csv.writer(text, lineterminator="\n").writerows(lines)
    return text.getvalue().encode()


def kofta_thermometer(kitchen: Kitchen) -> bytes:
    """Three places over a covered rest: the outside cools into the middle, the coldest place still rises."""
    program = read_program(OWN_PROGRAMS[2])
    places = next(cooked(kitchen, 14, datetime(2026, 2, 26, 11, 0, tzinfo=ZONE), [OWN_PROGRAMS[2]])).readings_c
    lines = [["seconds since end of cook", *(f"place {number} (°C)" for number in range(1, len(places) + 1))]]
    for second in range(0, 125, 5):
        left = float(np.exp(-second / 45.0))
        below = (6.0, 2.5, -3.0)[: len(places)]
        lines.append([str(second), *(comma(place - drop * left) for place, drop in zip(places, below, strict=False))])
    lines.insert(0, [f"Program: {program.air_temperature_c:g} °C for {minutes_seconds(program.duration_s)}"])
    text = io.StringIO(newline="")
    csv.writer(text, delimiter=";", lineterminator="\r\n").writerows(lines)
    return text.getvalue().encode("utf-8-sig")


def main() -> None:
    """Write all files."""
    kitchen = furnished(replace(NAMED["lamb-kofta"], seed=(SEEDS, KITCHEN_SEED)))
    for name, data in (
        ("kofta_log.csv", kofta_log(kitchen)),
        ("kofta_tasters.xlsx", kofta_tasters(kitchen)),
        ("kofta_old_log.csv", kofta_old_log(kitchen)),
        ("kofta_thermometer.csv", kofta_thermometer(kitchen)),
    ):
        (FOLDER / name).write_bytes(data)


if __name__ == "__main__":
    main()
