"""A fourth drawer of logs: other words in six languages, and workbooks kept in other ways."""

from __future__ import annotations

from typing import Any

from tests.exchange.unseen.kitchen_log import Shelf, facts, fahrenheit

SHELF = Shelf()
TWO = "40/30/80 60/90/20"
PLAIN = [
    facts(air=250, s=210, st=TWO, m=181, out=158, core=[76]),
    facts(air=250, s=225, st=TWO, m=180, out=155, core=[78]),
]
ROWS = ("1;250;210;40;30;80;60;90;20;181;158;76", "2;250;225;40;30;80;60;90;20;180;155;78")


def _log(heading: str) -> str:
    return "\n".join([heading, *ROWS, ""])


SHELF.text(
    "German kitchen A",
    _log(
        "Gang;Kammertemp °C;Programmdauer s;Abschn. 1 Anteil;Abschn. 1 Gebläse;Abschn. 1 MW;Abschn. 2 Anteil;Abschn. 2 Gebläse;Abschn. 2 MW;Frischgewicht g;Fertiggewicht g;Innentemp. °C"
    ),
    PLAIN,
    may="core column",
)
SHELF.text(
    "German kitchen B",
    _log(
        "Charge Nr.;Backraum (°C);Laufzeit (s);Schritt 1 %;Schritt 1 Lüfterstufe %;Schritt 1 Mikrowellenstufe %;Schritt 2 %;Schritt 2 Lüfterstufe %;Schritt 2 Mikrowellenstufe %;Masse vor dem Garen (g);Masse nach dem Garen (g);KT (°C)"
    ),
    PLAIN,
    may="column",
)
SHELF.text(
    "German kitchen C, short",
    _log("#;T Ofen;t (s);S1 t%;S1 L%;S1 M%;S2 t%;S2 L%;S2 M%;m vor;m nach;T Kern"),
    PLAIN,
    may="air core mass_in mass_out stages column duration",
)
SHELF.text(
    "French kitchen A",
    _log(
        "Passage;Enceinte (°C);Durée (s);Phase 1 (% du temps);Phase 1 air pulsé (%);Phase 1 micro-ondes (%);Phase 2 (% du temps);Phase 2 air pulsé (%);Phase 2 micro-ondes (%);Masse initiale (g);Masse finale (g);Température cœur (°C)"
    ),
    PLAIN,
    may="column",
)
SHELF.text(
    "French kitchen B",
    _log(
        "Réf;Consigne four °C;Temps total s;P1 part %;P1 soufflerie %;P1 MO %;P2 part %;P2 soufflerie %;P2 MO %;Pesée avant g;Pesée après g;À cœur °C"
    ),
    PLAIN,
    may="column air stages",
)
SHELF.text(
    "Spanish kitchen A",
    _log(
        "Tanda;Temperatura cámara (°C);Tiempo de cocción (s);Tramo 1 %;Tramo 1 turbina %;Tramo 1 microondas %;Tramo 2 %;Tramo 2 turbina %;Tramo 2 microondas %;Peso antes (g);Peso después (g);Temperatura interna (°C)"
    ),
    PLAIN,
    may="column",
)
SHELF.text(
    "Italian kitchen A",
    _log(
        "Ciclo;Camera °C;Tempo totale s;Passo 1 quota %;Passo 1 aria %;Passo 1 microonde %;Passo 2 quota %;Passo 2 aria %;Passo 2 microonde %;Peso a crudo g;Peso a cotto g;Temp. interna °C"
    ),
    PLAIN,
    may="column core",
)
SHELF.text(
    "Dutch kitchen A",
    _log(
        "Ronde;Ovenruimte °C;Totale tijd s;Deel 1 %;Deel 1 lucht %;Deel 1 magnetron %;Deel 2 %;Deel 2 lucht %;Deel 2 magnetron %;Gewicht ervoor g;Gewicht erna g;Kerntemperatuur °C"
    ),
    PLAIN,
    may="column mass_in mass_out",
)
SHELF.text(
    "Danish kitchen",
    _log(
        "Forsøg;Ovntemp. °C;Tid s;Trin 1 andel %;Trin 1 luft %;Trin 1 mikrobølge %;Trin 2 andel %;Trin 2 luft %;Trin 2 mikrobølge %;Vægt før g;Vægt efter g;Kernetemp. °C"
    ),
    PLAIN,
    may="column air duration stages mass_in mass_out core",
)
SHELF.text(
    "English kitchen A",
    _log(
        "Bake;Box temp C;Run time sec;Seg 1 split;Seg 1 blower;Seg 1 mw power;Seg 2 split;Seg 2 blower;Seg 2 mw power;Green weight g;Plate weight g;Pull temp C"
    ),
    PLAIN,
    may="column air core mass_in mass_out stages",
)
SHELF.text(
    "English kitchen B",
    _log(
        "Test ID;Preheat °C;Cycle s;Ph1 pct time;Ph1 pct fan;Ph1 pct mw;Ph2 pct time;Ph2 pct fan;Ph2 pct mw;Net wt before g;Net wt after g;Int. temp °C"
    ),
    PLAIN,
    may="column air duration core",
)
SHELF.text(
    "English kitchen C, snake case",
    _log(
        "run_id;oven_temp_c;cook_time_s;stage1_share_pct;stage1_air_pct;stage1_mw_pct;stage2_share_pct;stage2_air_pct;stage2_mw_pct;mass_before_g;mass_after_g;core_temp_c"
    ),
    PLAIN,
)
SHELF.text(
    "English kitchen D, camel case",
    _log(
        "runNumber;ovenTempC;cookTimeSec;stage1Share;stage1Air;stage1Mw;stage2Share;stage2Air;stage2Mw;massInG;massOutG;coreTempC"
    ),
    PLAIN,
)
SHELF.text(
    "scores in German by a jury",
    "Nr;Ofen °C;Zeit s;Luft %;MW %;Rohgewicht g;Kern °C;Prüfer;Farbgebung;Bissfestigkeit;Saftgehalt\n"
    "1;250;210;50;60;181;76;Ute;2,5;3;3\n1;250;210;50;60;181;76;Jan;3;3;3,5\n",
    [facts(air=250, s=210, st="100/50/60", m=181, core=[76], sc={"Ute": "2.5/3/3", "Jan": "3/3/3.5"})],
)
SHELF.text(
    "scores in French by columns of people",
    "N°;Four °C;Temps s;Air %;MO %;Poids cru g;Cœur °C;Coloration (Léa);Coloration (Max);Croquant (Léa);Croquant (Max);Moelleux (Léa);Moelleux (Max)\n"
    "1;250;210;50;60;181;76;2,5;3;3;3;3;3,5\n",
    [facts(air=250, s=210, st="100/50/60", m=181, core=[76], sc={"Léa": "2.5/-/3", "Max": "3/-/3.5"}, other=2)],
    may="browning texture moisture other",
)
SHELF.text(
    "a scale told in the title",
    "Scores 1 to 9, 5 is right\nNo;Oven °C;Time s;Air %;MW %;Raw g;Core °C;Browning;Texture\n1;250;210;50;60;181;76;5;4\n2;250;225;50;60;180;78;3;5\n",
    [
        facts(air=250, s=210, st="100/50/60", m=181, core=[76], sc={"?1": "3/2.5/-"}),
        facts(air=250, s=225, st="100/50/60", m=180, core=[78], sc={"?1": "2/3/-"}),
    ],
    must="browning texture",
)
SHELF.text(
    "scores from -1 to 1",
    "No;Oven °C;Time s;Air %;MW %;Raw g;Core °C;Browning;Texture\n1;250;210;50;60;181;76;-1;0\n2;250;225;50;60;180;78;0;1\n",
    [facts(air=250, s=s, st="100/50/60", m=m, core=[c]) for s, m, c in ((210, 181, 76), (225, 180, 78))],
    may="browning texture",
)
SHELF.text(
    "plus and minus signs as scores",
    "No;Oven °C;Time s;Air %;MW %;Raw g;Core °C;Browning;Texture\n1;250;210;50;60;181;76;+;0\n2;250;225;50;60;180;78;++;-\n",
    [facts(air=250, s=s, st="100/50/60", m=m, core=[c]) for s, m, c in ((210, 181, 76), (225, 180, 78))],
    may="browning texture column air duration stages mass_in core",
)
SHELF.text(
    "stars as scores",
    "No;Oven °C;Time s;Air %;MW %;Raw g;Core °C;Overall\n1;250;210;50;60;181;76;***\n2;250;225;50;60;180;78;****\n",
    [facts(air=250, s=s, st="100/50/60", m=m, core=[c]) for s, m, c in ((210, 181, 76), (225, 180, 78))],
    may="column",
)
SHELF.text(
    "ranges for single measures",
    "No;Oven °C;Time s;Air %;MW %;Raw g;Start °C;Core °C\n1;250;210;50;60;178-182;3-5;76-78\n2;250;225;50;60;180;4;78\n",
    [
        facts(air=250, s=225, st="100/50/60", m=180, start=4, core=[78]),
    ],
    refused=1,
    may="mass_in start core air duration stages",
)
SHELF.text(
    "plus-minus behind values",
    "No;Oven °C;Time s;Air %;MW %;Raw g;Core °C\n1;250;210;50;60;181 ± 1;76 ± 0,5\n2;250;225;50;60;180 ± 1;78 ± 0,5\n",
    [facts(air=250, s=s, st="100/50/60", m=m, core=[c]) for s, m, c in ((210, 181, 76), (225, 180, 78))],
    may="mass_in core air duration stages",
)
SHELF.text(
    "percent written as words",
    "No;Oven;Time;Program;Raw;Core\n1;250 C;210 sec;40 percent: air 30 percent, microwave 80 percent / 60 percent: air 90 percent, microwave 20 percent;181 g;76 C\n",
    [facts(air=250, s=210, st=TWO, m=181, core=[76])],
    may="stages",
)
SHELF.text(
    "stages as a sentence",
    "No;Oven °C;Program;Raw g;Core °C\n1;250;84 s at fan 30 and microwave 80, then 126 s at fan 90 and microwave 20;181;76\n2;250;90 s at fan 30 and microwave 80, then 135 s at fan 90 and microwave 20;180;78\n",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76]),
        facts(air=250, s=225, st=TWO, m=180, core=[78]),
    ],
    may="duration stages",
)
SHELF.text(
    "stages with the air temperature in each",
    "No;Time s;Program;Raw g;Core °C\n1;210;40% 250C 30/80 | 60% 250C 90/20;181;76\n",
    [facts(air=250, s=210, st=TWO, m=181, core=[76])],
    may="stages air duration mass_in core",
)
SHELF.text(
    "different air temperatures in the stages: no program of ours",
    "No;Time s;S1 °C;S1 %;S1 air;S1 mw;S2 °C;S2 %;S2 air;S2 mw;Raw g;Core °C\n1;210;250;40;30;80;230;60;90;20;181;76\n",
    [],
    refused=1,
    may="air stages column duration core start mass_in",
)


def _wide(book: Any) -> None:
    sheet = book.active
    sheet.append(["", "", "", "Program", "", "", "", "", "", "Result", "", ""])
    sheet.append(
        [
            "No",
            "Date",
            "Oven °F",
            "Time (min:sec)",
            "40-60 split?",
            "Fan 1",
            "MW 1",
            "Fan 2",
            "MW 2",
            "Raw g",
            "Done g",
            "Core °F",
        ]
    )
    sheet.append([1, "3/21/26", 480, "3:30", "40/60", 30, 80, 90, 20, 181, 158, 169])
    sheet.append([2, "3/22/26", 480, "3:45", "40/60", 30, 80, 90, 20, 180, 155, 172])


SHELF.book(
    "shares of both stages in one cell, levels in columns",
    _wide,
    [
        facts(air=fahrenheit(480), s=210, st=TWO, m=181, out=158, core=[fahrenheit(169)], at="2026-03-21"),
        facts(air=fahrenheit(480), s=225, st=TWO, m=180, out=155, core=[fahrenheit(172)], at="2026-03-22"),
    ],
    may="when stages column",
)


def _three_sheets(book: Any) -> None:
    read_me = book.active
    read_me.title = "Read me"
    for line in (["This workbook holds our trials."], ["Ask Ada before changing anything."]):
        read_me.append(line)
    log = book.create_sheet("Trials")
    log.append(["No", "Oven °C", "Time s", "Air %", "MW %", "Raw g", "Core °C"])
    log.append([1, 250, 210, 50, 60, 181, 76])
    log.append([2, 250, 225, 50, 60, 180, 78])
    lists = book.create_sheet("Lists")
    for line in (["Tasters", "Ovens"], ["Ida", "Left"], ["Ole", "Right"]):
        lists.append(line)


SHELF.book(
    "a sheet to read first and one of lists",
    _three_sheets,
    [
        facts(air=250, s=210, st="100/50/60", m=181, core=[76]),
        facts(air=250, s=225, st="100/50/60", m=180, core=[78]),
    ],
    may="parts",
)


def _per_taster_sheets(book: Any) -> None:
    cooks = book.active
    cooks.title = "Cooks"
    cooks.append(["No", "Oven °C", "Time s", "Air %", "MW %", "Raw g", "Core °C"])
    cooks.append([1, 250, 210, 50, 60, 181, 76])
    cooks.append([2, 250, 225, 50, 60, 180, 78])
    for name, marks in (("Ida", [(2.5, 3, 3), (3, 3.5, 2.5)]), ("Ole", [(3, 3, 3.5), (3, 3, 3)])):
        sheet = book.create_sheet(name)
        sheet.append(["Cook no", "Browning", "Texture", "Moisture"])
        for number, row in enumerate(marks, start=1):
            sheet.append([number, *row])


SHELF.book(
    "a sheet of marks for each taster",
    _per_taster_sheets,
    [
        facts(air=250, s=210, st="100/50/60", m=181, core=[76], sc={"Ida": "2.5/3/3", "Ole": "3/3/3.5"}),
        facts(air=250, s=225, st="100/50/60", m=180, core=[78], sc={"Ida": "3/3.5/2.5", "Ole": "3/3/3"}),
    ],
    may="browning texture moisture parts",
)


def _hidden_rows(book: Any) -> None:
    sheet = book.active
    sheet.append(["No", "Oven °C", "Time s", "Air %", "MW %", "Raw g", "Core °C", "Blank col", ""])
    sheet.append([1, 250, 210, 50, 60, 181, 76])
    sheet.append([2, 250, 225, 50, 60, 180, 78])
    sheet.row_dimensions[3].hidden = True


SHELF.book(
    "a hidden row is a cook like the others",
    _hidden_rows,
    [
        facts(air=250, s=210, st="100/50/60", m=181, core=[76]),
        facts(air=250, s=225, st="100/50/60", m=180, core=[78]),
    ],
)
