"""A fifth drawer of logs, as they come from ordinary kitchens: nothing is odd but the way each one writes."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from tests.exchange.unseen.kitchen_log import OUNCE_G, Shelf, facts, fahrenheit

SHELF = Shelf()
TWO = "45/40/70 55/80/30"

SHELF.text(
    "a hotel kitchen",
    """
Hotel kitchen - combi replacement trials;;;;;;;;;;;;
Trial;Done by;Done on;Cavity;Run;Program (share: fan / microwave);Portion in;Portion out;Probe 1;Probe 2;Probe 3;Stand, foil;Verdict
T1;Mo;3 March 2026;245 °C;3 min 20 s;45%: 40 / 70 - 55%: 80 / 30;178 g;152 g;77,1;78,0;80,4;2 min;a touch pale
T2;Mo;3 March 2026;245 °C;3 min 30 s;45%: 40 / 70 - 55%: 80 / 30;182 g;154 g;78,9;79,3;82,0;2 min;good
""",
    [
        facts(air=245, s=200, st=TWO, m=178, out=152, core=[77.1, 78, 80.4], rest=120, who="Mo", at="2026-03-03"),
        facts(air=245, s=210, st=TWO, m=182, out=154, core=[78.9, 79.3, 82], rest=120, who="Mo", at="2026-03-03"),
    ],
    may="when rest covered core air duration column note",
)

SHELF.text(
    "a school canteen in America",
    """
Test #,Test date,Cook,Oven temp,Total time,Stg 1 time,Stg 1 fan,Stg 1 micro,Stg 2 time,Stg 2 fan,Stg 2 micro,Weight before,Weight after,Starting temp,Ending temp,Hold 2 min covered?,Notes
1,2/27/2026,JT,475°F,3:20,1:30,40%,70%,1:50,80%,30%,6.3 oz,5.4 oz,38°F,171°F,yes,edges dry
2,2/27/2026,JT,475°F,3:40,1:39,40%,70%,2:01,80%,30%,6.4 oz,5.4 oz,37°F,176°F,yes,
""",
    [
        facts(air=fahrenheit(475), s=200, st=TWO, m=6.3 * OUNCE_G, out=5.4 * OUNCE_G, start=fahrenheit(38),
              core=[fahrenheit(171)], cov=True, who="JT", at="2026-02-27", note="edges dry"),
        facts(air=fahrenheit(475), s=220, st=TWO, m=6.4 * OUNCE_G, out=5.4 * OUNCE_G, start=fahrenheit(37),
              core=[fahrenheit(176)], cov=True, who="JT", at="2026-02-27"),
    ],
    may="when covered rest column stages",
)  # fmt: skip

SHELF.text(
    "a bakery chain in Germany",
    """
Datum;Uhrzeit;Versuchs-Nr.;Bäcker;Ofentemperatur;Backdauer;1. Phase;2. Phase;Teiggewicht;Backgewicht;Kerntemp.;Bräunung 1-5;Krume 1-5;Feuchte 1-5;Bemerkungen
02.03.2026;08:10;17;Uwe;245 °C;3:20;45 % L40 M70;55 % L80 M30;178 g;152 g;77,1 °C;3;3;3,5;
02.03.2026;08:35;18;Uwe;245 °C;3:30;45 % L40 M70;55 % L80 M30;182 g;154 g;78,9 °C;3,5;3;3;Ränder dunkel
""",
    [
        facts(air=245, s=200, st=TWO, m=178, out=152, core=[77.1], at="2026-03-02T08:10", who="Uwe", sc={"?1": "3/3/3.5"}),
        facts(air=245, s=210, st=TWO, m=182, out=154, core=[78.9], at="2026-03-02T08:35", who="Uwe", sc={"?1": "3.5/3/3"},
              note="Ränder dunkel"),
    ],
    may="when texture who mass_in mass_out",
    encoding="cp1252",
)  # fmt: skip

SHELF.text(
    "a caterer in France",
    """
Date\tN° essai\tCuisinier\tTempérature enceinte\tTemps total\tPhases (durée : ventilation / MO)\tMasse entrée\tMasse sortie\tT° cœur mini\tRepos couvert\tNote couleur\tNote texture\tNote jutosité
02/03/2026\t17\tÉlise\t245\t3:20\t90 s : 40 / 70 ; 110 s : 80 / 30\t178\t152\t77,1\t2 min\t3\t3\t3,5
20/03/2026\t18\tÉlise\t245\t3:30\t95 s : 40 / 70 ; 115 s : 80 / 30\t182\t154\t78,9\t2 min\t3,5\t3\t3
""",
    [
        facts(air=245, s=200, st=TWO, m=178, out=152, core=[77.1], rest=120, at="2026-03-02", who="Élise", sc={"?1": "3/3/3.5"}),
        facts(air=245, s=210, st=TWO, m=182, out=154, core=[78.9], rest=120, at="2026-03-20",
              who="Élise", sc={"?1": "3.5/3/3"}),
    ],
    may="when core covered rest stages",
)  # fmt: skip

SHELF.text(
    "a tapas bar in Spain",
    """
nº;fecha;horno ºC;tiempo;etapas (tiempo/aire/micro);peso;peso final;centro ºC;reposo;color;textura;jugosidad
1;2-3-26;245;3'20";45/40/70 - 55/80/30;178;152;77,1;2';3;3;3,5
2;2-3-26;245;3'30";45/40/70 - 55/80/30;182;154;78,9;2';3,5;3;3
""",
    [
        facts(air=245, s=200, st=TWO, m=178, out=152, core=[77.1], rest=120, at="2026-03-02", sc={"?1": "3/3/3.5"}),
        facts(air=245, s=210, st=TWO, m=182, out=154, core=[78.9], rest=120, at="2026-03-02", sc={"?1": "3.5/3/3"}),
    ],
    may="when core column mass_in",
)

SHELF.text(
    "a trattoria in Italy",
    """
prova,data,cuoco,forno,tempo,prima fase (%/aria/mo),seconda fase (%/aria/mo),crudo,cotto,cuore,colore,consistenza,succosità,annotazioni
1,02/03/26,Enzo,245°C,3'20,45/40/70,55/80/30,178g,152g,"77,1","3","3","3,5",
2,14/03/26,Enzo,245°C,3'30,45/40/70,55/80/30,182g,154g,"78,9","3,5","3","3",bordi scuri
""",
    [
        facts(air=245, s=200, st=TWO, m=178, out=152, core=[77.1], at="2026-03-02", who="Enzo", sc={"?1": "3/3/3.5"}),
        facts(air=245, s=210, st=TWO, m=182, out=154, core=[78.9], at="2026-03-14", who="Enzo", sc={"?1": "3.5/3/3"},
              note="bordi scuri"),
    ],
    may="when core mass_in mass_out",
)  # fmt: skip

SHELF.text(
    "a canteen in the Netherlands",
    """
Test;Kok;Temp oven;Totaaltijd;Stap 1;Stap 2;Inweeg;Uitweeg;Temp kern;Rusttijd;Afgedekt;Kleur;Structuur;Sappigheid
1;Bas;245 °C;200 sec;45% vent 40 mag 70;55% vent 80 mag 30;178 gram;152 gram;77,1 °C;120 sec;J;3;3;3,5
2;Bas;245 °C;210 sec;45% vent 40 mag 70;55% vent 80 mag 30;182 gram;154 gram;78,9 °C;120 sec;N;3,5;3;3
""",
    [
        facts(air=245, s=200, st=TWO, m=178, out=152, core=[77.1], rest=120, cov=True, who="Bas", sc={"?1": "3/3/3.5"}),
        facts(air=245, s=210, st=TWO, m=182, out=154, core=[78.9], rest=120, cov=False, who="Bas", sc={"?1": "3.5/3/3"}),
    ],
    may="mass_in mass_out texture column",
)

SHELF.text(
    "a laboratory",
    """
sample;T_air/degC;t_total/s;x1/%;v1/%;P1/%;x2/%;v2/%;P2/%;m0/g;m1/g;T_core1/degC;T_core2/degC;T_core3/degC
S-01;245;200;45;40;70;55;80;30;178.2;152.1;77.1;78.0;80.4
S-02;245;210;45;40;70;55;80;30;182.0;154.4;78.9;79.3;82.0
""",
    [
        facts(air=245, s=200, st=TWO, m=178.2, out=152.1, core=[77.1, 78, 80.4]),
        facts(air=245, s=210, st=TWO, m=182, out=154.4, core=[78.9, 79.3, 82]),
    ],
    may="stages mass_in mass_out column air duration core",
)

SHELF.text(
    "a franchise's form, exported",
    """
Submission time,Your name,Which oven?,Air temperature used (°C),How long in total? (seconds),Stage 1: share of time %,Stage 1: air speed %,Stage 1: microwave %,Stage 2: share of time %,Stage 2: air speed %,Stage 2: microwave %,Raw weight in grams,Weight after resting in grams,Lowest core temperature °C,Was it covered while resting?,Browning (1 much too pale - 5 much too dark),Anything else?
2026-03-02 10:15:00,Kim,Test kitchen left,245,200,45,40,70,55,80,30,178,152,77.1,Yes,3,"no, thanks"
2026-03-02 11:05:00,Kim,Test kitchen left,245,210,45,40,70,55,80,30,182,154,78.9,No,3.5,
""",
    [
        facts(
            air=245, s=200, st=TWO, m=178, out=152, core=[77.1], cov=True, sc={"?1": "3/-/-"}, at="2026-03-02T10:15", who="Kim"
        ),
        facts(
            air=245,
            s=210,
            st=TWO,
            m=182,
            out=154,
            core=[78.9],
            cov=False,
            sc={"?1": "3.5/-/-"},
            at="2026-03-02T11:05",
            who="Kim",
        ),
    ],
    may="when column note core who",
)


def _tasting_book(book: Any) -> None:
    sheet = book.active
    sheet.title = "Protokoll"
    sheet.append(["Protokoll Garversuche", None, None, None, None, None, None, None])
    sheet.append([None])
    sheet.append(
        ["Versuch", "Zeitpunkt", "Temp. Garraum", "Garzeit", "Stufen", None, None, "Gewicht", None, "Kern", "Panel", None, None]
    )
    sheet.append([None, None, "°C", "s", "Anteil %", "Luft %", "MW %", "roh g", "gar g", "°C", "Name", "Bräunung", "Textur"])
    when = datetime(2026, 3, 2, 8, 10)
    sheet.append([1, when, 245, 200, 45, 40, 70, 178, 152, 77.1, "Ute", 3, 3])
    sheet.append([None, None, None, None, 55, 80, 30, None, None, None, "Jan", 3.5, 3])
    sheet.append([2, when, 245, 210, 45, 40, 70, 182, 154, 78.9, "Ute", 3.5, 3])
    sheet.append([None, None, None, None, 55, 80, 30, None, None, None, "Jan", 3, 2.5])
    sheet.merge_cells("A1:M1")
    sheet.merge_cells("E3:G3")
    sheet.merge_cells("H3:I3")
    sheet.merge_cells("K3:M3")


SHELF.book(
    "stages and tasters side by side on two rows a cook",
    _tasting_book,
    [
        facts(
            air=245, s=200, st=TWO, m=178, out=152, core=[77.1], sc={"Ute": "3/3/-", "Jan": "3.5/3/-"}, at="2026-03-02T08:10"
        ),
        facts(
            air=245, s=210, st=TWO, m=182, out=154, core=[78.9], sc={"Ute": "3.5/3/-", "Jan": "3/2.5/-"}, at="2026-03-02T08:10"
        ),
    ],
    may="when stages rows",
)


def _planner(book: Any) -> None:
    sheet = book.active
    for line in (
        ["", "Mon", "Mon", "Tue"],
        ["Cook", 1, 2, 3],
        ["Air °C", 245, 245, 250],
        ["Time s", 200, 210, 200],
        ["Program", None, None, None],
        ["  stage 1 share %", 45, 45, 45],
        ["  stage 1 fan %", 40, 40, 40],
        ["  stage 1 microwave %", 70, 70, 70],
        ["  stage 2 share %", 55, 55, 55],
        ["  stage 2 fan %", 80, 80, 80],
        ["  stage 2 microwave %", 30, 30, 30],
        ["Results", None, None, None],
        ["  mass in g", 178, 182, 180],
        ["  mass out g", 152, 154, 153],
        ["  core °C", "77.1 / 78.0 / 80.4", "78.9 / 79.3 / 82.0", "79.0 / 79.5 / 81.8"],
    ):
        sheet.append(line)


SHELF.book(
    "turned, with rows that only head others",
    _planner,
    [
        facts(air=245, s=200, st=TWO, m=178, out=152, core=[77.1, 78, 80.4]),
        facts(air=245, s=210, st=TWO, m=182, out=154, core=[78.9, 79.3, 82]),
        facts(air=250, s=200, st=TWO, m=180, out=153, core=[79, 79.5, 81.8]),
    ],
    may="column when",
)


def _months(book: Any) -> None:
    for number, (name, day) in enumerate((("January", 15), ("February", 20))):
        sheet = book.active if number == 0 else book.create_sheet()
        sheet.title = name
        sheet.append(["Run", "Date", "Air °C", "Time s", "Stages (share/air/mw)", "Mass g", "Core °C"])
        for run in (1, 2):
            sheet.append(
                [run, datetime(2026, number + 1, day + run), 245, 190 + 10 * run, "45/40/70 + 55/80/30", 177 + run, 76 + run]
            )


SHELF.book(
    "a sheet a month, numbers begin again",
    _months,
    [
        facts(air=245, s=190 + 10 * run, st=TWO, m=177 + run, core=[76 + run], at=f"2026-0{month}-{day + run}")
        for month, day in ((1, 15), (2, 20))
        for run in (1, 2)
    ],
    may="when parts",
)
