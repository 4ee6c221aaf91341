"""Writes invented cooks as kitchens would: in a layout chosen at random out of many, and tells what was lost on the way.

The cooks a log should give back are made from what was written, so that rounding (whole °F, tenths of an ounce) is no error of
the reader.
"""

from __future__ import annotations

import copy
import csv
import io
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise
from typing import Any

from openpyxl import Workbook

Cook = dict[str, Any]


@dataclass(frozen=True)
class Layout:
    """One way to keep a log."""

    file: str = "csv"
    separator: str = ","
    encoding: str = "utf-8"
    comma: bool = False
    language: str = "en"
    units: str = "brackets"
    heat: str = "°C"
    mass: str = "g"
    time: str = "s"
    stages: str = "columns"
    shares: str = "%"
    cores: str = "columns"
    tasters: str = "columns"
    groups: bool = False
    titles: int = 0
    blank_every: int = 0
    totals: bool = False
    missing: str = ""
    dates: str = "iso"
    ids: bool = True


WORDS: dict[str, dict[str, str]] = {
    "en": {
        "id": "Cook", "air": "Oven temp", "duration": "Duration", "stages": "Program (share air/mw)", "stage": "Stage", "share": "share",
        "fan": "air", "mw": "microwave", "mass": "Mass in", "out": "Mass out", "start": "Start temp", "core": "Core", "rest": "Rest",
        "covered": "Covered", "taster": "Taster", "browning": "Browning", "texture": "Texture", "moisture": "Moisture", "note": "Note",
        "date": "Date", "yes": "yes", "no": "no", "mean": "Mean",
    },
    "en2": {
        "id": "Run #", "air": "Cavity temperature", "duration": "Total time", "stages": "Steps: share % air/mw", "stage": "Step",
        "share": "time share", "fan": "fan speed", "mw": "MW power", "mass": "Weight before", "out": "Weight after",
        "start": "Initial temperature", "core": "Internal temp", "rest": "Standing time", "covered": "Lid", "taster": "Panelist",
        "browning": "Colour", "texture": "Firmness", "moisture": "Juiciness", "note": "Comments", "date": "When", "yes": "Y", "no": "N",
        "mean": "Average",
    },
    "de": {
        "id": "Versuch", "air": "Ofentemperatur", "duration": "Gardauer", "stages": "Stufen (Anteil Luft/Mikrowelle)", "stage": "Stufe",
        "share": "Anteil", "fan": "Luft", "mw": "Mikrowelle", "mass": "Gewicht vorher", "out": "Gewicht nachher",
        "start": "Starttemperatur", "core": "Kerntemperatur", "rest": "Ruhezeit", "covered": "abgedeckt", "taster": "Prüfer",
        "browning": "Bräunung", "texture": "Textur", "moisture": "Saftigkeit", "note": "Bemerkung", "date": "Datum", "yes": "ja",
        "no": "nein", "mean": "Mittelwert",
    },
    "fr": {
        "id": "Essai", "air": "Température four", "duration": "Durée", "stages": "Étapes (part air/micro-ondes)", "stage": "Étape",
        "share": "part", "fan": "air", "mw": "micro-ondes", "mass": "Poids avant", "out": "Poids après", "start": "Température initiale",
        "core": "Température à coeur", "rest": "Repos", "covered": "Couvert", "taster": "Dégustateur", "browning": "Coloration",
        "texture": "Texture", "moisture": "Jutosité", "note": "Remarques", "date": "Date", "yes": "oui", "no": "non", "mean": "Moyenne",
    },
    "es": {
        "id": "Prueba", "air": "Temperatura horno", "duration": "Duración", "stages": "Etapas (parte aire/microondas)", "stage": "Etapa",
        "share": "parte", "fan": "aire", "mw": "microondas", "mass": "Peso inicial", "out": "Peso final", "start": "Temperatura inicial",
        "core": "Núcleo", "rest": "Reposo", "covered": "Tapado", "taster": "Catador", "browning": "Color", "texture": "Textura",
        "moisture": "Jugosidad", "note": "Observaciones", "date": "Fecha", "yes": "sí", "no": "no", "mean": "Promedio",
    },
}  # fmt: skip


class Writer:
    """Cells and headings of one layout, and the cooks that are left after writing."""

    def __init__(self, layout: Layout, cooks: list[Cook]) -> None:
        self.layout, self.words = layout, WORDS[layout.language]
        self.cooks = [copy.deepcopy(cook) for cook in cooks]

    def number(self, value: float, decimals: int = 1) -> str:
        text = f"{value:.{decimals}f}" if decimals else f"{value:.0f}"
        text = text.rstrip("0").rstrip(".") if "." in text else text
        return text.replace(".", ",") if self.layout.comma else text

    def heat(self, holder: Cook, key: Any) -> str:
        """A temperature as written; the cook keeps what was written."""
        value = holder[key]
        if self.layout.heat == "°F":
            written = round(value * 1.8 + 32, 1)
            holder[key] = (written - 32) / 1.8
            return self.number(written)
        return self.number(value)

    def mass(self, holder: Cook, key: str) -> str:
        factor, decimals = {"g": (1.0, 1), "oz": (28.349523125, 2), "kg": (1000.0, 4)}[self.layout.mass]
        written = round(holder[key] / factor, decimals)
        holder[key] = written * factor
        return self.number(written, decimals)

    def time(self, seconds: float) -> str:
        whole = round(seconds)
        if self.layout.time == "mm:ss":
            return f"{whole // 60}:{whole % 60:02d}"
        if self.layout.time == "min":
            return self.number(seconds / 60, 4)
        if self.layout.time == "worded":
            return f"{whole // 60} min {whole % 60} s" if whole >= 60 else f"{whole} s"
        return str(whole)

    def heading(self, key: str, unit: str = "", extra: str = "") -> str:
        text = f"{self.words[key]} {extra}".strip()
        style = self.layout.units
        if not unit or style == "none":
            return text
        return {
            "brackets": f"{text} [{unit}]",
            "round": f"{text} ({unit})",
            "bare": f"{text} {unit}",
            "comma": f"{text}, {unit}",
        }[style]

    def time_unit(self) -> str:
        return {"s": "s", "mm:ss": "mm:ss", "min": "min", "worded": ""}[self.layout.time]


Columns = list[tuple[str, str, Any]]
"""Group, heading, and what fills the cell for (cook, index)."""


def _program(writer: Writer) -> Columns:
    layout, words = writer.layout, writer.words
    most = max(len(cook["program"]["stages"]) for cook in writer.cooks)
    if layout.stages == "cell":
        return [("", words["stages"], _stage_text(layout.shares))]
    if layout.stages == "labelled":
        return [("", words["stages"].split(" ")[0].rstrip(":"), _labelled_text(layout.shares))]
    if layout.stages == "lists":
        return [
            (
                "",
                writer.heading(name, "", ""),
                lambda cook, name=key: "/".join(f"{stage[name]:g}" for stage in cook["program"]["stages"]),
            )
            for name, key in (("share", "share_pct"), ("fan", "air_speed_pct"), ("mw", "microwave_pct"))
        ]
    columns: Columns = []
    for index in range(most):
        group = f"{words['stage']} {index + 1}"
        for name in ("share", "fan", "mw"):
            unit = {"%": "%", "fraction": "", "s": "s"}[layout.shares] if name == "share" else "%"
            heading = writer.heading(name, unit) if layout.groups else writer.heading(name, unit, str(index + 1))
            columns.append((group, heading, _stage_cell(writer, index, name)))
    return columns


def _stage_cell(writer: Writer, index: int, name: str) -> Any:
    key = {"share": "share_pct", "fan": "air_speed_pct", "mw": "microwave_pct"}[name]

    def cell(cook: Cook) -> str:
        stages = cook["program"]["stages"]
        if index >= len(stages):
            return writer.layout.missing
        value = stages[index][key]
        if name != "share" or writer.layout.shares == "%":
            return f"{value:g}"
        if writer.layout.shares == "fraction":
            return writer.number(value / 100, 2)
        return f"{_seconds(cook)[index]:g}"

    return cell


def _seconds(cook: Cook) -> list[int]:
    """Whole seconds of the stages that add up to the duration."""
    total, done, edges = cook["program"]["duration_s"], 0.0, [0]
    for stage in cook["program"]["stages"]:
        done += stage["share_pct"]
        edges.append(round(total * done / 100))
    return [later - earlier for earlier, later in pairwise(edges)]


def _stage_text(shares: str) -> Any:
    def cell(cook: Cook) -> str:
        lengths = [f"{seconds} s" for seconds in _seconds(cook)] if shares == "s" else None
        stages = cook["program"]["stages"]
        return " | ".join(
            f"{lengths[index] if lengths else format(stage['share_pct'], 'g') + '%'} {stage['air_speed_pct']:g}/{stage['microwave_pct']:g}"
            for index, stage in enumerate(stages)
        )

    return cell


def _labelled_text(shares: str) -> Any:
    def cell(cook: Cook) -> str:
        lengths = [f"{seconds}s" for seconds in _seconds(cook)] if shares == "s" else None
        return " / ".join(
            f"{lengths[index] if lengths else format(stage['share_pct'], 'g') + '%'} air {stage['air_speed_pct']:g} mw {stage['microwave_pct']:g}"
            for index, stage in enumerate(cook["program"]["stages"])
        )

    return cell


def _measures(writer: Writer) -> Columns:
    layout = writer.layout
    columns: Columns = [
        ("", writer.heading("mass", layout.mass), lambda cook: writer.mass(cook, "mass_g")),
        ("", writer.heading("start", layout.heat), lambda cook: writer.heat(cook, "start_temperature_c")),
    ]
    count = len(writer.cooks[0]["core_temperature_c"])
    if layout.cores == "cell":
        columns.append(("", writer.heading("core", layout.heat), lambda cook: _readings(writer, cook)))
    else:
        for place in range(count):
            heading = str(place + 1) if layout.groups else writer.heading("core", layout.heat, str(place + 1))
            group = writer.heading("core", layout.heat)
            columns.append((group, heading, lambda cook, place=place: writer.heat(cook["core_temperature_c"], place)))
    columns += [
        ("", writer.heading("out", layout.mass), lambda cook: writer.mass(cook, "mass_out_g")),
        ("", writer.heading("rest", writer.time_unit()), lambda cook: writer.time(cook["rest_s"])),
        ("", writer.words["covered"], lambda cook: writer.words["yes" if cook["rest_covered"] else "no"]),
    ]
    return columns


def _readings(writer: Writer, cook: Cook) -> str:
    return " / ".join(writer.heat(cook["core_temperature_c"], place) for place in range(len(cook["core_temperature_c"])))


def _scores(writer: Writer) -> Columns:
    columns: Columns = []
    for index, score in enumerate(writer.cooks[0]["scores"]):
        for part in ("browning", "texture", "moisture"):
            heading = writer.words[part] if writer.layout.groups else f"{writer.words[part]} {score['taster']}"
            group = f"{writer.words['taster']} {score['taster']}"
            columns.append((group, heading, lambda cook, index=index, part=part: writer.number(cook["scores"][index][part])))
    return columns


def write_log(layout: Layout, cooks: list[Cook]) -> tuple[bytes, str, list[Cook]]:
    """A log as a file, its name, and the cooks it should give back."""
    writer = Writer(layout, cooks)
    columns: Columns = []
    if layout.ids:
        columns.append(("", writer.words["id"], lambda cook: str(cook["_number"])))
    if layout.dates != "none":
        columns.append(("", writer.words["date"], lambda cook: _date(cook["_when"], layout.dates)))
    columns += [
        ("", writer.heading("air", layout.heat), lambda cook: writer.heat(cook["program"], "air_temperature_c")),
        ("", writer.heading("duration", writer.time_unit()), lambda cook: writer.time(cook["program"]["duration_s"])),
    ]
    columns += _program(writer) + _measures(writer)
    rows_of_tasters = layout.tasters == "rows"
    if not rows_of_tasters:
        columns += _scores(writer)
    note = ("", writer.words["note"], lambda cook: cook.get("note", ""))
    rows: list[list[str]] = []
    for number, cook in enumerate(writer.cooks, start=1):
        cook["_number"] = number
        cook["_when"] = datetime(2026, 3, 13, 8, 30) + timedelta(hours=number)
        head = [fill(cook) for _, _, fill in columns]
        if rows_of_tasters:
            for score in cook["scores"]:
                marks = [score["taster"], *(writer.number(score[part]) for part in ("browning", "texture", "moisture"))]
                rows.append([*head, *marks, note[2](cook)])
        else:
            rows.append([*head, note[2](cook)])
        if layout.blank_every and number % layout.blank_every == 0:
            rows.append([])
    if rows_of_tasters:
        columns += [("", writer.words[key], None) for key in ("taster", "browning", "texture", "moisture")]
    columns.append(note)
    if layout.totals:
        rows.append([writer.words["mean"], *["" for _ in columns[1:]]])
    return _file(layout, columns, rows, writer)


def _date(when: datetime, form: str) -> str:
    return when.strftime(
        {"iso": "%Y-%m-%d %H:%M", "dots": "%d.%m.%Y %H:%M", "slashes": "%d/%m/%Y %H:%M", "zone": "%Y-%m-%dT%H:%M:00Z"}[form]
    )


def _file(layout: Layout, columns: Columns, rows: list[list[str]], writer: Writer) -> tuple[bytes, str, list[Cook]]:
    heading = [[name for _, name, _ in columns]]
    if layout.groups:
        groups = [group for group, _, _ in columns]
        top = [
            name if not group else (group if index == 0 or groups[index - 1] != group else "")
            for index, (group, name, _) in enumerate(columns)
        ]
        heading = [top, [name if group else "" for group, name, _ in columns]]
    lines = [*[[f"Test cooks, page {index + 1}"] for index in range(layout.titles)], *heading, *rows]
    if layout.file == "xlsx":
        book = Workbook()
        sheet = book.active
        for line in lines:
            sheet.append([_typed(cell) for cell in line])
        out = io.BytesIO()
        book.save(out)
        return out.getvalue(), "log.xlsx", writer.cooks
    text = io.StringIO(newline="")
    csv.writer(text, delimiter=layout.separator).writerows(lines)
    return text.getvalue().encode(layout.encoding), "log.csv", writer.cooks


def _typed(cell: str) -> Any:
    try:
        return float(cell) if "." in cell else int(cell)
    except ValueError:
        return cell
