"""A third drawer of logs, full of columns that look like what they are not."""

from __future__ import annotations

from datetime import date
from typing import Any

from tests.exchange.unseen.kitchen_log import Shelf, facts

SHELF = Shelf()
TWO = "40/30/80 60/90/20"
ST = "40% 30/80, 60% 90/20"
PLAIN = [facts(air=250, s=210, st=TWO, m=181, core=[76]), facts(air=250, s=225, st=TWO, m=180, core=[78])]
HEAD = "No;Oven °C;Time s;Stages (% air/mw);Raw g;Core °C"
ROWS = (f"1;250;210;{ST};181;76", f"2;250;225;{ST};180;78")


def _beside(heading: str, first: str, second: str) -> str:
    return f"{HEAD};{heading}\n{ROWS[0]};{first}\n{ROWS[1]};{second}\n"


SHELF.text("the weight of a sauce", _beside("Sauce weight g", "40", "42"), PLAIN, may="column mass_in mass_out")
SHELF.text("the time of preparing", _beside("Prep time min", "12", "15"), PLAIN, may="column duration rest")
SHELF.text("the time of waiting at the pass", _beside("Wait at pass (s)", "45", "60"), PLAIN, may="column rest serving")
SHELF.text("the temperature of a holding cabinet", _beside("Holding cabinet °C", "65", "65"), PLAIN, may="column core")
SHELF.text("the kitchen's temperature", _beside("Room temp °C", "23", "24"), PLAIN, may="column")
SHELF.text("a surface read by a camera", _beside("IR surface °C", "142", "150"), PLAIN, may="column")
SHELF.text("one overall mark", _beside("Overall score", "4", "3.5"), PLAIN, may="column browning texture moisture other")
SHELF.text("money", _beside("Food cost", "1,85", "1,92"), PLAIN, may="column start mass_out")
SHELF.text("a meter of energy", _beside("kWh", "0,21", "0,23"), PLAIN, may="column")
SHELF.text("the wattage of the plug", _beside("Power draw W", "2950", "3010"), PLAIN, may="column stages")
SHELF.text("number of guests", _beside("Covers", "40", "42"), PLAIN, may="column load")
SHELF.text("the fat content", _beside("Fat %", "8", "9"), PLAIN, may="column stages mass_out")
SHELF.text("the age of the meat", _beside("Days since slaughter", "3", "4"), PLAIN, may="column since")
SHELF.text("thickness", _beside("Thickness mm", "28", "27"), PLAIN, may="column")
SHELF.text("the time of day it was served", _beside("Served at", "12:31", "12:48"), PLAIN, may="column when serving")
SHELF.text("sum of the shares", _beside("Total %", "100", "100"), PLAIN, may="column")
SHELF.text("next step", _beside("Next", "less air", "stop"), PLAIN, may="column note")
SHELF.text("a decision", _beside("Keep?", "no", "yes"), PLAIN, may="column covered completed")

SHELF.text(
    "weights before and after in one cell",
    f"No;Oven °C;Time s;Stages (% air/mw);Weight before/after (g);Core °C\n1;250;210;{ST};181/158;76\n2;250;225;{ST};180/155;78\n",
    [{**PLAIN[0], "mass_out": 158}, {**PLAIN[1], "mass_out": 155}],
    may="mass_in mass_out air duration stages core column",
)
SHELF.text(
    "start and core in one cell",
    f"No;Oven °C;Time s;Stages (% air/mw);Raw g;Temp before/after (°C)\n1;250;210;{ST};181;4/76\n2;250;225;{ST};180;4/78\n",
    [{**PLAIN[0], "start": 4}, {**PLAIN[1], "start": 4}],
    may="start core column",
)
SHELF.text(
    "lowest and highest core in one cell",
    f"No;Oven °C;Time s;Stages (% air/mw);Raw g;Core min-max (°C)\n1;250;210;{ST};181;76-81\n2;250;225;{ST};180;78-82\n",
    [{**PLAIN[0], "core": [76, 81]}, {**PLAIN[1], "core": [78, 82]}],
    may="core",
)
SHELF.text(
    "times as 3.30 for three minutes thirty",
    f"No;Oven °C;Time;Stages (% air/mw);Raw g;Core °C\n1;250;3.30;{ST};181;76\n2;250;3.45;{ST};180;78\n",
    PLAIN,
    must="duration",
)
SHELF.text(
    "two tasters in one cell",
    f"{HEAD};Browning (A/B);Texture (A/B)\n{ROWS[0]};2,5/3;3/3\n{ROWS[1]};3/3;3,5/3\n",
    [
        {**PLAIN[0], "scores": {"A": [2.5, 3, None], "B": [3, 3, None]}},
        {**PLAIN[1], "scores": {"A": [3, 3.5, None], "B": [3, 3, None]}},
    ],
    may="browning texture",
)
SHELF.text(
    "initials for the attributes",
    f"{HEAD};B;T;M\n{ROWS[0]};2,5;3;3\n{ROWS[1]};3;3,5;2,5\n",
    [{**PLAIN[0], "scores": {"?1": [2.5, 3, 3]}}, {**PLAIN[1], "scores": {"?1": [3, 3.5, 2.5]}}],
    may="browning texture moisture column",
)
SHELF.text(
    "what is wanted stands in the first row",
    f"{HEAD}\nTarget;;;;180;74\n{ROWS[0]}\n{ROWS[1]}\n",
    PLAIN,
)
SHELF.text(
    "means stand above the rows",
    f"{HEAD}\nAverage;250;217,5;;180,5;77\n{ROWS[0]}\n{ROWS[1]}\n",
    PLAIN,
)
SHELF.text(
    "columns grouped by what they hold",
    "No;Oven °C;Time s;Share 1;Share 2;Air 1;Air 2;MW 1;MW 2;Raw g;Core °C\n"
    "1;250;210;40;60;30;90;80;20;181;76\n2;250;225;40;60;30;90;80;20;180;78\n",
    PLAIN,
)
SHELF.text(
    "grouped with two header rows",
    "No;Oven;Time;Share of time %;;Air %;;Microwave %;;Raw;Core\n;°C;s;1;2;1;2;1;2;g;°C\n"
    "1;250;210;40;60;30;90;80;20;181;76\n2;250;225;40;60;30;90;80;20;180;78\n",
    PLAIN,
)
SHELF.text(
    "days without marks, zone in the heading",
    f"{HEAD};Date (CET)\n{ROWS[0]};20260313 0915\n{ROWS[1]};20260314 1440\n",
    [{**PLAIN[0], "when": "2026-03-13T09:15"}, {**PLAIN[1], "when": "2026-03-14T14:40"}],
    may="when",
)
SHELF.text(
    "units spelt out in the cells",
    f"No;Oven;Time;Stages (% air/mw);Raw;Core\n1;250 degrees C;210 seconds;{ST};181 grams;76 degrees C\n"
    f"2;250 degrees C;225 seconds;{ST};180 grams;78 degrees C\n",
    PLAIN,
)
SHELF.text(
    "thirds",
    "No;Oven °C;Time s;S1 %;S1 air;S1 mw;S2 %;S2 air;S2 mw;S3 %;S3 air;S3 mw;Raw g;Core °C\n"
    "1;250;210;33,3;30;80;33,3;60;40;33,3;90;20;181;76\n2;250;225;33,3;30;80;33,3;60;40;33,4;90;20;180;78\n",
    [
        {**PLAIN[0], "stages": [[33.333, 30, 80], [33.333, 60, 40], [33.333, 90, 20]]},
        {**PLAIN[1], "stages": [[33.3, 30, 80], [33.3, 60, 40], [33.4, 90, 20]]},
    ],
    may="stages",
)
SHELF.text(
    "cooks named by letters beside a running number",
    ";Cook;Oven °C;Time s;Stages (% air/mw);Raw g;Core °C\n"
    f"1;A;250;210;{ST};181;76\n2;B;250;225;{ST};180;78\n3;C;250;230;{ST};182;79\n",
    [*PLAIN, facts(air=250, s=230, st=TWO, m=182, core=[79])],
    may="column",
)
SHELF.text(
    "the person who cooks is called Cook",
    f"No;Cook;Oven °C;Time s;Stages (% air/mw);Raw g;Core °C\n1;Ada;250;210;{ST};181;76\n2;Ada;250;225;{ST};180;78\n",
    [{**PLAIN[0], "who": "Ada"}, {**PLAIN[1], "who": "Ada"}],
    may="who",
)
SHELF.text(
    "air temperature far above, in Fahrenheit without a unit, core in Celsius with one",
    f"No;Oven;Time s;Stages (% air/mw);Raw g;Core °C\n1;480;210;{ST};181;76\n2;480;225;{ST};180;78\n",
    [{**PLAIN[0], "air": (480 - 32) / 1.8}, {**PLAIN[1], "air": (480 - 32) / 1.8}],
    must="air",
)
SHELF.text(
    "minutes and seconds in two columns",
    f"No;Oven °C;Min;Sec;Stages (% air/mw);Raw g;Core °C\n1;250;3;30;{ST};181;76\n2;250;3;45;{ST};180;78\n",
    PLAIN,
    may="duration column air stages mass_in core",
    free=("210",),
)
SHELF.text(
    "thermometer checked once above",
    f"Thermometer checked 13.03.2026 07:40\nDate: 13.03.2026\n{HEAD}\n{ROWS[0]}\n{ROWS[1]}\n",
    [{**one, "check": "2026-03-13T07:40", "when": "2026-03-13"} for one in PLAIN],
    may="when check",
)
SHELF.text(
    "fan in three words, microwave in per cent",
    "No;Oven °C;Time s;Fan;Microwave %;Raw g;Core °C\n1;250;210;low;60;181;76\n2;250;225;high;60;180;78\n",
    [],
    may="stages column",
    refused=2,
)
SHELF.text(
    "microwave alone, no air told",
    "No;Oven °C;Time s;Microwave %;Raw g;Core °C\n1;250;210;60;181;76\n2;250;225;60;180;78\n",
    [],
    may="stages column",
    refused=2,
)


def _offset(book: Any) -> None:
    sheet = book.active
    sheet["C3"] = "Trials"
    for row, line in enumerate([HEAD.split(";"), [1, 250, 210, ST, 181, 76], [2, 250, 225, ST, 180, 78]], start=5):
        for column, cell in enumerate(line, start=3):
            sheet.cell(row, column, cell)


SHELF.book("a table that begins in column C", _offset, PLAIN)


def _typed(book: Any) -> None:
    sheet = book.active
    sheet.append([*HEAD.split(";"), "Date", "Covered", "Loss", "Tester"])
    sheet.append([1, 250, 210, ST, 200, 76, date(2026, 3, 13), True, 0.125, "#N/A"])
    sheet.append([2, 250, 225, ST, 200, 78, "14.03.2026", False, 0.14, "Ida"])
    for row in (2, 3):
        sheet.cell(row, 9).number_format = "0.0%"


SHELF.book(
    "typed and untyped days, truth values, a percent format and an error",
    _typed,
    [
        facts(air=250, s=210, st=TWO, m=200, out=175, core=[76], at="2026-03-13", cov=True),
        facts(air=250, s=225, st=TWO, m=200, out=172, core=[78], at="2026-03-14", cov=False),
    ],
    may="when mass_out who",
)


def _titles(book: Any) -> None:
    sheet = book.active
    for line in (["TEST KITCHEN"], ["Dish: Glazed chicken thigh", None, "Cook: Ada"], ["Oven temp 250 °C"], []):
        sheet.append(line)
    sheet.append(["No", "Time", "Stages (% air/mw)", "Weight", None, "Core"])
    sheet.append([None, "(s)", None, "raw (g)", "cooked (g)", "(°C)"])
    sheet.append([1, 210, ST, 181, 158, 76])
    sheet.append([2, 225, ST, 180, 155, 78])
    sheet.merge_cells("A1:F1")
    sheet.merge_cells("D5:E5")


SHELF.book(
    "dish, cook and oven temperature told above",
    _titles,
    [{**PLAIN[0], "mass_out": 158, "who": "Ada"}, {**PLAIN[1], "mass_out": 155, "who": "Ada"}],
    may="air",
)


def _lined(book: Any) -> None:
    sheet = book.active
    sheet.append(["No", "Oven\n(°C)", "Time\n[s]", "Stages\n(% air/mw)", "Raw\nweight\n(g)", "Core temp.\nafter rest\n(°C)"])
    sheet.append([1, 250, 210, "40% 30/80\n60% 90/20", 181, "76\n77\n79"])
    sheet.append([2, 250, 225, "40% 30/80\n60% 90/20", 180, "78\n79\n81"])


SHELF.book(
    "line ends in headings and cells",
    _lined,
    [{**PLAIN[0], "core": [76, 77, 79]}, {**PLAIN[1], "core": [78, 79, 81]}],
)
