"""A second drawer of logs, written down after the first was read without a fault and before anything was changed for it."""

from __future__ import annotations

from tests.exchange.unseen.kitchen_log import OUNCE_G, Shelf, facts, fahrenheit

SHELF = Shelf()
TWO = "40/30/80 60/90/20"
THREE = "50/30/80 30/60/40 20/100/0"

SHELF.text(
    "stage columns named by verbs, times per stage in mm:ss",
    """
Attempt #,Chamber (°C),First blast length,First blast fan %,First blast micro %,Second blast length,Second blast fan %,Second blast micro %,Grams in,Grams out,Thickest part °C
1,250,1:24,30,80,2:06,90,20,181.5,158.2,76.4
2,250,1:30,30,80,2:15,90,20,180,155.2,78.4
""",
    [
        facts(air=250, s=210, st=TWO, m=181.5, out=158.2, core=[76.4]),
        facts(air=250, s=225, st=TWO, m=180, out=155.2, core=[78.4]),
    ],
    may="core stages duration column",
)

SHELF.text(
    "one cell: whole program with temperature, time and stages",
    """
Run;Setting;Raw weight (g);Finished weight (g);Core (°C);Sit time (s)
1;250C 3:30 | 40% F30 MW80 | 60% F90 MW20;181;158;76.4;120
2;245C 3:45 | 50% F30 MW80 | 30% F60 MW40 | 20% F100 MW0;180;155;78.4;120
""",
    [
        facts(air=250, s=210, st=TWO, m=181, out=158, core=[76.4], rest=120),
        facts(air=245, s=225, st=THREE, m=180, out=155, core=[78.4], rest=120),
    ],
    may="rest stages",
)

SHELF.text(
    "shares as vulgar fractions of the time",
    """
Run;Oven °C;Time s;Stage 1 share;Stage 1 air %;Stage 1 MW %;Stage 2 share;Stage 2 air %;Stage 2 MW %;Raw g;Core °C
1;250;210;1/2;30;80;1/2;90;20;181;76.4
2;250;225;2/5;30;80;3/5;90;20;180;78.4
""",
    [
        facts(air=250, s=210, st="50/30/80 50/90/20", m=181, core=[76.4]),
        facts(air=250, s=225, st=TWO, m=180, core=[78.4]),
    ],
    may="stages",
)

SHELF.text(
    "core per place by name in headings",
    """
Run;Oven °C;Time s;Stages (% air/mw);Raw g;Left °C;Centre °C;Right °C
1;250;210;40% 30/80, 60% 90/20;181;77;76;78
2;250;225;40% 30/80, 60% 90/20;180;79;78;80
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[77, 76, 78]),
        facts(air=250, s=225, st=TWO, m=180, core=[79, 78, 80]),
    ],
    may="core column",
)

SHELF.text(
    "temperatures before and after the rest",
    """
Run;Oven °C;Time s;Stages (% air/mw);Raw g;Core at end °C;Core after 2 min rest °C;Rest (min)
1;250;210;40% 30/80, 60% 90/20;181;72;76;2
2;250;225;40% 30/80, 60% 90/20;180;74;78;2
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76], rest=120),
        facts(air=250, s=225, st=TWO, m=180, core=[78], rest=120),
    ],
    may="core",
)

SHELF.text(
    "scores in words",
    """
Run;Oven °C;Time s;Stages (% air/mw);Raw g;Core °C;Browning;Texture;Moisture
1;250;210;40% 30/80, 60% 90/20;181;76;a bit too pale;just right;just right
2;250;225;40% 30/80, 60% 90/20;180;78;just right;slightly too firm;a little too dry
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76], sc={"?1": "2/3/3"}),
        facts(air=250, s=225, st=TWO, m=180, core=[78], sc={"?1": "3/4/2"}),
    ],
    may="browning texture moisture",
)

SHELF.text(
    "school marks, 1 best and 6 worst",
    """
Versuch;Ofen °C;Zeit s;Stufen (Anteil Luft/MW);Gewicht g;Kern °C;Note Farbe;Note Textur;Note Saft
1;250;210;40% 30/80, 60% 90/20;181;76;2;1;3
2;250;225;40% 30/80, 60% 90/20;180;78;1;4;6
3;250;230;40% 30/80, 60% 90/20;180;79;2;2;3
""",
    [facts(air=250, s=s, st=TWO, m=m, core=[c]) for s, m, c in ((210, 181, 76), (225, 180, 78), (230, 180, 79))],
    may="browning texture moisture",
)

SHELF.text(
    "scores from 0 to 100",
    """
Run;Oven °C;Time s;Stages (% air/mw);Raw g;Core °C;Colour score;Texture score;Juiciness score
1;250;210;40% 30/80, 60% 90/20;181;76;50;60;45
2;250;225;40% 30/80, 60% 90/20;180;78;55;70;30
""",
    [facts(air=250, s=210, st=TWO, m=181, core=[76]), facts(air=250, s=225, st=TWO, m=180, core=[78])],
    may="browning texture moisture",
)

SHELF.text(
    "panel means only, with decimals",
    """
Run;Oven °C;Time s;Stages (% air/mw);Raw g;Core °C;Mean browning;Mean texture;Mean moisture
1;250;210;40% 30/80, 60% 90/20;181;76;2.75;3.1;3.0
2;250;225;40% 30/80, 60% 90/20;180;78;3.2;3.4;2.6
""",
    [facts(air=250, s=210, st=TWO, m=181, core=[76]), facts(air=250, s=225, st=TWO, m=180, core=[78])],
    may="browning texture moisture",
)

SHELF.text(
    "two tables in one text file, cooks then scores",
    """
COOKS
No;Oven °C;Time s;Stages (% air/mw);Raw g;Core °C
1;250;210;40% 30/80, 60% 90/20;181;76
2;250;225;40% 30/80, 60% 90/20;180;78

SCORES
No;Who;Browning;Texture;Moisture
1;Ida;2.5;3;3
1;Ole;3;3;3.5
2;Ida;3;3.5;2.5
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76], sc={"Ida": "2.5/3/3", "Ole": "3/3/3.5"}),
        facts(air=250, s=225, st=TWO, m=180, core=[78], sc={"Ida": "3/3.5/2.5"}),
    ],
    may="browning texture moisture who",
)

SHELF.text(
    "headings in the middle of the log again and page numbers",
    """
No;Oven °C;Time s;Stages (% air/mw);Raw g;Core °C
1;250;210;40% 30/80, 60% 90/20;181;76
2;250;225;40% 30/80, 60% 90/20;180;78
page 1;;;;;
No;Oven °C;Time s;Stages (% air/mw);Raw g;Core °C
3;250;230;40% 30/80, 60% 90/20;182;80
page 2;;;;;
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76]),
        facts(air=250, s=225, st=TWO, m=180, core=[78]),
        facts(air=250, s=230, st=TWO, m=182, core=[80]),
    ],
)

SHELF.text(
    "month names, two-digit years, 24-hour clock in one cell",
    """
No,Cooked,Oven C,Time s,Stages (% air/mw),Raw g,Core C
1,13-Mar-26 09:15,250,210,"40% 30/80, 60% 90/20",181,76
2,14-Mar-26 14:40,250,225,"40% 30/80, 60% 90/20",180,78
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76], at="2026-03-13T09:15"),
        facts(air=250, s=225, st=TWO, m=180, core=[78], at="2026-03-14T14:40"),
    ],
    may="when",
)

SHELF.text(
    "days without a year",
    """
No;Tag;Ofen °C;Zeit s;Stufen (Anteil Luft/MW);Gewicht roh g;Kern °C
1;Fr 13.3.;250;210;40% 30/80, 60% 90/20;181;76
2;Sa 14.3.;250;225;40% 30/80, 60% 90/20;180;78
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76], at="2026-03-13"),
        facts(air=250, s=225, st=TWO, m=180, core=[78], at="2026-03-14"),
    ],
    must="when",
    free=("2026",),
)

SHELF.text(
    "time stamps with zones and letters",
    """
id,timestamp,air_c,seconds,s1_share,s1_fan,s1_mw,s2_share,s2_fan,s2_mw,mass_g,core1,core2,core3
a7,2026-03-13T09:15:00+01:00,250,210,40,30,80,60,90,20,181,76,77,79
a8,2026-03-13T10:40:00+01:00,250,225,40,30,80,60,90,20,180,78,79,81
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76, 77, 79], at="2026-03-13T09:15"),
        facts(air=250, s=225, st=TWO, m=180, core=[78, 79, 81], at="2026-03-13T10:40"),
    ],
)

SHELF.text(
    "ounces with fractions, clock with am and pm, Fahrenheit by sign",
    """
#,When,Oven,Minutes,Recipe (% / blower / micro),Wt in,Wt out,Temp out of cooler,Temp done
1,3/13/26 9:15a,480°F,3.5,40/30/80 60/90/20,6 1/2 oz,5 3/4 oz,38°F,169°F
2,3/13/26 1:40p,480°F,3.75,40/30/80 60/90/20,6 1/4 oz,5 1/2 oz,39°F,172°F
""",
    [
        facts(air=fahrenheit(480), s=210, st=TWO, m=6.5 * OUNCE_G, out=5.75 * OUNCE_G, start=fahrenheit(38),
              core=[fahrenheit(169)], at="2026-03-13T09:15"),
        facts(air=fahrenheit(480), s=225, st=TWO, m=6.25 * OUNCE_G, out=5.5 * OUNCE_G, start=fahrenheit(39),
              core=[fahrenheit(172)], at="2026-03-13T13:40"),
    ],
    may="when duration start core stages column",
)  # fmt: skip

SHELF.text(
    "weights with the tray told apart",
    """
Run;Oven °C;Time s;Stages (% air/mw);Tray g;Tray + raw g;Raw g;Core °C
1;250;210;40% 30/80, 60% 90/20;310;491;181;76
2;250;225;40% 30/80, 60% 90/20;310;490;180;78
""",
    [facts(air=250, s=210, st=TWO, m=181, core=[76]), facts(air=250, s=225, st=TWO, m=180, core=[78])],
    may="mass_in mass_out column",
)

SHELF.text(
    "weight loss in grams",
    """
Run;Oven °C;Time s;Stages (% air/mw);Raw g;Loss g;Core °C
1;250;210;40% 30/80, 60% 90/20;181;23;76
2;250;225;40% 30/80, 60% 90/20;180;25;78
""",
    [
        facts(air=250, s=210, st=TWO, m=181, out=158, core=[76]),
        facts(air=250, s=225, st=TWO, m=180, out=155, core=[78]),
    ],
    may="mass_out",
)

SHELF.text(
    "yield in percent",
    """
Run;Oven °C;Time s;Stages (% air/mw);Raw g;Yield;Core °C
1;250;210;40% 30/80, 60% 90/20;200;87,5%;76
2;250;225;40% 30/80, 60% 90/20;200;86%;78
""",
    [
        facts(air=250, s=210, st=TWO, m=200, out=175, core=[76]),
        facts(air=250, s=225, st=TWO, m=200, out=172, core=[78]),
    ],
    may="mass_out",
)

SHELF.text(
    "microwave first in the cells, told by the heading",
    """
Run;Oven °C;Time s;Stages (share: micro/fan);Raw g;Core °C
1;250;210;40%: 80/30, 60%: 20/90;181;76
2;250;225;40%: 80/30, 60%: 20/90;180;78
""",
    [facts(air=250, s=210, st=TWO, m=181, core=[76]), facts(air=250, s=225, st=TWO, m=180, core=[78])],
)

SHELF.text(
    "microwave written before air with letters",
    """
Run;Oven °C;Stages;Raw g;Core °C
1;250;M80 A30 1:24 then M20 A90 2:06;181;76
2;250;M80 A30 1:30 then M20 A90 2:15;180;78
""",
    [facts(air=250, s=210, st=TWO, m=181, core=[76]), facts(air=250, s=225, st=TWO, m=180, core=[78])],
    may="duration stages",
)

SHELF.text(
    "stages with from-to times",
    """
Run;Oven °C;Total;Steps (fan/mw);Raw g;Core °C
1;250;3:30;0:00-1:24 30/80; 1:24-3:30 90/20;181;76
2;250;3:45;0:00-1:30 30/80; 1:30-3:45 90/20;180;78
""".replace("; 1:", " then 1:"),
    [facts(air=250, s=210, st=TWO, m=181, core=[76]), facts(air=250, s=225, st=TWO, m=180, core=[78])],
    may="duration stages",
)

SHELF.text(
    "a single stage for all cooks",
    """
Run;Oven °C;Time s;Fan %;Microwave %;Raw g;Core °C
1;250;210;50;60;181;76
2;250;225;50;60;180;78
""",
    [
        facts(air=250, s=210, st="100/50/60", m=181, core=[76]),
        facts(air=250, s=225, st="100/50/60", m=180, core=[78]),
    ],
)

SHELF.text(
    "a third stage used by some cooks only, zeros in the others",
    """
Run;Oven °C;Time s;Sh1;Fan1;MW1;Sh2;Fan2;MW2;Sh3;Fan3;MW3;Raw g;Core °C
1;250;210;40;30;80;60;90;20;0;0;0;181;76
2;250;225;50;30;80;30;60;40;20;100;0;180;78
3;250;230;40;30;80;60;90;20;;;;180;79
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76]),
        facts(air=250, s=225, st=THREE, m=180, core=[78]),
        facts(air=250, s=230, st=TWO, m=180, core=[79]),
    ],
)

SHELF.text(
    "microwave in kilowatts",
    """
Run;Oven °C;Time s;Share 1 %;Fan 1 %;MW 1 kW;Share 2 %;Fan 2 %;MW 2 kW;Raw g;Core °C
1;250;210;40;30;1.2;60;90;0.3;181;76
2;250;225;40;30;1.2;60;90;0.3;180;78
""",
    [facts(air=250, s=210, st=TWO, m=181, core=[76]), facts(air=250, s=225, st=TWO, m=180, core=[78])],
    may="stages",
)

SHELF.text(
    "remarks that hold separators, quotes and line ends",
    """
Run,Oven C,Time s,Stages (% air/mw),Raw g,Core C,Remarks
1,250,210,"40% 30/80, 60% 90/20",181,76,"pale, ""underdone"" look
edges fine; good"
2,250,225,"40% 30/80, 60% 90/20",180,78,"ok, 3/5 would serve"
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76], note='pale, "underdone" look'),
        facts(air=250, s=225, st=TWO, m=180, core=[78], note="ok, 3/5 would serve"),
    ],
)

SHELF.text(
    "a readable stop time beside a start time",
    """
Run;Day;In;Out;Oven °C;Stages (% air/mw);Raw g;Core °C
1;13.03.2026;09:15:00;09:18:30;250;40% 30/80, 60% 90/20;181;76
2;13.03.2026;10:40:00;10:43:45;250;40% 30/80, 60% 90/20;180;78
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76], at="2026-03-13T09:15"),
        facts(air=250, s=225, st=TWO, m=180, core=[78], at="2026-03-13T10:40"),
    ],
    may="when duration column stages mass_in mass_out air core",
)

SHELF.text(
    "who cooked, who tasted, lot, load and thermometer check",
    """
Run;Date;Cooked by;Batch;Portions at once;Thermometer checked on;Oven °C;Time s;Stages (% air/mw);Raw g;Core °C;Tasted by;Browning;Texture;Moisture
1;2026-03-13 09:15;Ada;L-77;1;2026-03-13 07:40;250;210;40% 30/80, 60% 90/20;181;76;Ida;2.5;3;3
2;2026-03-13 10:40;Bo;L-78;2;2026-03-13 07:40;250;225;40% 30/80, 60% 90/20;180;78;Ole;3;3.5;2.5
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76], at="2026-03-13T09:15", check="2026-03-13T07:40", who="Ada",
              lot="L-77", load=1, sc={"Ida": "2.5/3/3"}),
        facts(air=250, s=225, st=TWO, m=180, core=[78], at="2026-03-13T10:40", check="2026-03-13T07:40", who="Bo",
              lot="L-78", load=2, sc={"Ole": "3/3.5/2.5"}),
    ],
    may="when check",
)  # fmt: skip

SHELF.text(
    "status of a cook in words",
    """
Run;Oven °C;Time s;Stages (% air/mw);Raw g;Core °C;Status
1;250;210;40% 30/80, 60% 90/20;181;76;completed
2;250;225;40% 30/80, 60% 90/20;180;60;aborted, power cut
3;250;230;40% 30/80, 60% 90/20;180;79;completed
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76], done=True),
        facts(air=250, s=225, st=TWO, m=180, core=[60], done=False),
        facts(air=250, s=230, st=TWO, m=180, core=[79], done=True),
    ],
    may="completed",
)

SHELF.text(
    "planned cooks without results stand below the done ones",
    """
Run;Oven °C;Time s;Stages (% air/mw);Raw g;Core °C;Browning
1;250;210;40% 30/80, 60% 90/20;181;76;2.5
2;250;225;40% 30/80, 60% 90/20;180;78;3
3;255;230;40% 30/80, 60% 90/20;;;
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76], sc={"?1": "2.5/-/-"}),
        facts(air=250, s=225, st=TWO, m=180, core=[78], sc={"?1": "3/-/-"}),
        facts(air=255, s=230, st=TWO),
    ],
    may="rows",
)

SHELF.text(
    "units change half way, told in the cells",
    """
Run;Oven;Time;Stages (% air/mw);Raw;Core
1;250 C;210 s;40% 30/80, 60% 90/20;181 g;76 C
2;480 F;3:45;40% 30/80, 60% 90/20;6.35 oz;172 F
3;250 C;230 s;40% 30/80, 60% 90/20;0.18 kg;79 C
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76]),
        facts(air=fahrenheit(480), s=225, st=TWO, m=6.35 * OUNCE_G, core=[fahrenheit(172)]),
        facts(air=250, s=230, st=TWO, m=180, core=[79]),
    ],
)

SHELF.text(
    "one core in Fahrenheit among Celsius without a unit",
    """
Run;Oven °C;Time s;Stages (% air/mw);Raw g;Core
1;250;210;40% 30/80, 60% 90/20;181;76
2;250;225;40% 30/80, 60% 90/20;180;172
3;250;230;40% 30/80, 60% 90/20;180;79
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76]),
        facts(air=250, s=225, st=TWO, m=180, core=[fahrenheit(172)]),
        facts(air=250, s=230, st=TWO, m=180, core=[79]),
    ],
    must="core",
)

SHELF.text(
    "thousands marks in masses",
    """
Run;Oven °C;Time s;Stages (% air/mw);Raw total of 7 portions g;Raw g;Core °C
1;250;210;40% 30/80, 60% 90/20;1.267;181;76
2;250;225;40% 30/80, 60% 90/20;1.260;180;78
""",
    [facts(air=250, s=210, st=TWO, m=181, core=[76]), facts(air=250, s=225, st=TWO, m=180, core=[78])],
    may="mass_in column",
)

SHELF.text(
    "no mass at all, only cores and a remark",
    """
Run;Oven °C;Time s;Stages (% air/mw);Core °C;Comment
1;250;210;40% 30/80, 60% 90/20;76;pale
2;250;225;40% 30/80, 60% 90/20;78;
""",
    [facts(air=250, s=210, st=TWO, core=[76], note="pale"), facts(air=250, s=225, st=TWO, core=[78])],
)

SHELF.text(
    "Portuguese",
    """
Ensaio;Data;Temp. do forno (°C);Duração (s);Etapa 1 parte (%);Etapa 1 ventilador (%);Etapa 1 micro-ondas (%);Etapa 2 parte (%);Etapa 2 ventilador (%);Etapa 2 micro-ondas (%);Peso cru (g);Peso cozido (g);Temp. inicial (°C);Temp. no centro (°C);Repouso (s);Coberto;Cor;Textura;Suculência;Observações
1;13/03/2026;250;210;40;30;80;60;90;20;181,5;158,2;4,1;76,4;120;sim;2,5;3;3;primeiro
2;14/03/2026;250;220;40;30;80;60;90;20;180,0;155,2;3,9;78,4;120;não;3;3,5;2,5;
""",
    [
        facts(air=250, s=210, st=TWO, m=181.5, out=158.2, start=4.1, core=[76.4], rest=120, cov=True,
              sc={"?1": "2.5/3/3"}, at="2026-03-13", note="primeiro"),
        facts(air=250, s=220, st=TWO, m=180, out=155.2, start=3.9, core=[78.4], rest=120, cov=False,
              sc={"?1": "3/3.5/2.5"}, at="2026-03-14"),
    ],
    may="when",
)  # fmt: skip

SHELF.text(
    "Italian, two header rows, tasters as groups",
    """
Prova;Forno;Durata;Programma;Peso;;Temperatura al cuore;;;Giulia;;;Marco;;
;°C;min:s;% aria/mo;crudo g;cotto g;1;2;3;colore;consistenza;succosità;colore;consistenza;succosità
1;250;3:30;40% 30/80 + 60% 90/20;181,5;158,2;76,4;77,0;79,2;2,5;3;3;3;3;3,5
2;250;3:45;40% 30/80 + 60% 90/20;180,0;155,2;78,4;79,0;81,2;3;3,5;2,5;3;3;3
""",
    [
        facts(air=250, s=210, st=TWO, m=181.5, out=158.2, core=[76.4, 77, 79.2],
              sc={"Giulia": "2.5/3/3", "Marco": "3/3/3.5"}),
        facts(air=250, s=225, st=TWO, m=180, out=155.2, core=[78.4, 79, 81.2],
              sc={"Giulia": "3/3.5/2.5", "Marco": "3/3/3"}),
    ],
)  # fmt: skip

SHELF.text(
    "Dutch, one row a taster, days with dashes",
    """
Proef nr.;Datum;Oven (°C);Kooktijd (s);Stap 1 aandeel;Stap 1 ventilator;Stap 1 magnetron;Stap 2 aandeel;Stap 2 ventilator;Stap 2 magnetron;Begingewicht (g);Eindgewicht (g);Kern (°C);Proever;Kleur;Stevigheid;Sappigheid
1;13-03-2026;250;210;40%;30%;80%;60%;90%;20%;181,5;158,2;76,4;Sanne;2,5;3;3
1;13-03-2026;250;210;40%;30%;80%;60%;90%;20%;181,5;158,2;76,4;Joost;3;3;3,5
2;14-03-2026;250;220;40%;30%;80%;60%;90%;20%;180,0;155,2;78,4;Sanne;3;3,5;2,5
""",
    [
        facts(air=250, s=210, st=TWO, m=181.5, out=158.2, core=[76.4], sc={"Sanne": "2.5/3/3", "Joost": "3/3/3.5"},
              at="2026-03-13"),
        facts(air=250, s=220, st=TWO, m=180, out=155.2, core=[78.4], sc={"Sanne": "3/3.5/2.5"}, at="2026-03-14"),
    ],
    may="when",
)  # fmt: skip

SHELF.text(
    "French, turned, tasters as rows",
    """
Essai;1;2
Date;13/03/2026;14/03/2026
Four;250 °C;250 °C
Durée totale;3 min 30 s;3 min 45 s
Palier 1 : durée;84 s;90 s
Palier 1 : ventilation;30 %;30 %
Palier 1 : micro-ondes;80 %;80 %
Palier 2 : durée;126 s;135 s
Palier 2 : ventilation;90 %;90 %
Palier 2 : micro-ondes;20 %;20 %
Poids avant cuisson;181,5 g;180 g
Poids après cuisson;158,2 g;155,2 g
Cœur (3 points);76,4 / 77 / 79,2;78,4 / 79 / 81,2
Repos couvert;oui;oui
Couleur - Léa;2,5;3
Couleur - Max;3;3
""",
    [
        facts(air=250, s=210, st=TWO, m=181.5, out=158.2, core=[76.4, 77, 79.2], cov=True,
              sc={"Léa": "2.5/-/-", "Max": "3/-/-"}, at="2026-03-13"),
        facts(air=250, s=225, st=TWO, m=180, out=155.2, core=[78.4, 79, 81.2], cov=True,
              sc={"Léa": "3/-/-", "Max": "3/-/-"}, at="2026-03-14"),
    ],
    encoding="cp1252",
    may="when stages",
)  # fmt: skip

SHELF.text(
    "German, minutes with a decimal comma in the heading's unit",
    """
Lfd. Nr.;Garraumtemperatur in °C;Gesamtzeit in min;1. Stufe Zeit in s;1. Stufe Lüfter in %;1. Stufe Mikrowelle in %;2. Stufe Zeit in s;2. Stufe Lüfter in %;2. Stufe Mikrowelle in %;Rohgewicht in g;Endgewicht in g;Kerntemperatur nach Ruhe in °C;Ruhezeit in min
1;250;3,5;84;30;80;126;90;20;181,5;158,2;76,4;2
2;250;3,75;90;30;80;135;90;20;180,0;155,2;78,4;2
""",
    [
        facts(air=250, s=210, st=TWO, m=181.5, out=158.2, core=[76.4], rest=120),
        facts(air=250, s=225, st=TWO, m=180, out=155.2, core=[78.4], rest=120),
    ],
    may="duration",
)

SHELF.text(
    "Spanish, stages in one cell with words",
    """
Nº prueba;Horno (ºC);Tiempo (s);Programa;Peso crudo (g);Peso final (g);Corazón (ºC);Color;Textura;Jugosidad
1;250;210;40 % del tiempo aire 30 % micro 80 %; 60 % del tiempo aire 90 % micro 20 %;181;158;76;2,5;3;3
""".replace("%; 60", "% / 60"),
    [facts(air=250, s=210, st=TWO, m=181, out=158, core=[76], sc={"?1": "2.5/3/3"})],
    may="stages core column",
)

SHELF.text(
    "pasted from a page: blanks between columns",
    """
Run   Oven C   Time s   Air %   MW %   Raw g   Core C
1     250      210      50      60     181     76
2     250      225      50      60     180     78
""",
    [
        facts(air=250, s=210, st="100/50/60", m=181, core=[76]),
        facts(air=250, s=225, st="100/50/60", m=180, core=[78]),
    ],
    filename="log.txt",
)

SHELF.text(
    "a text of forms, label and colon",
    """
Cook: 1
Oven: 250 C
Time: 210 s
Stages (% air/mw): 40% 30/80 + 60% 90/20
Raw weight: 181 g
Core: 76 C

Cook: 2
Oven: 250 C
Time: 225 s
Stages (% air/mw): 40% 30/80 + 60% 90/20
Raw weight: 180 g
Core: 78 C
""",
    [facts(air=250, s=210, st=TWO, m=181, core=[76]), facts(air=250, s=225, st=TWO, m=180, core=[78])],
    filename="log.txt",
)

SHELF.text(
    "flattened JSON headings",
    """
program.air_temperature_c,program.duration_s,program.stages.0.share_pct,program.stages.0.air_speed_pct,program.stages.0.microwave_pct,program.stages.1.share_pct,program.stages.1.air_speed_pct,program.stages.1.microwave_pct,mass_g,core_temperature_c.0,core_temperature_c.1
250,210,40,30,80,60,90,20,181,76,77
250,225,40,30,80,60,90,20,180,78,79
""",
    [facts(air=250, s=210, st=TWO, m=181, core=[76, 77]), facts(air=250, s=225, st=TWO, m=180, core=[78, 79])],
)

SHELF.text(
    "target columns beside done ones for time and weight",
    """
Run;Set temp °C;Planned time s;Real time s;Stages (% air/mw);Target raw g;Raw g;Core °C
1;250;210;210;40% 30/80, 60% 90/20;180;181;76
2;250;225;240;40% 30/80, 60% 90/20;180;180;78
""",
    [facts(air=250, s=210, st=TWO, m=181, core=[76]), facts(air=250, s=240, st=TWO, m=180, core=[78])],
    may="duration column",
)

SHELF.text(
    "core under the brief's limit and odd values kept",
    """
Run;Oven °C;Time s;Stages (% air/mw);Raw g;Core °C;Browning;Texture;Moisture
1;250;120;40% 30/80, 60% 90/20;181;58.4;1;1;5
2;250;225;40% 30/80, 60% 90/20;180;78;3;3;3
""",
    [
        facts(air=250, s=120, st=TWO, m=181, core=[58.4], sc={"?1": "1/1/5"}),
        facts(air=250, s=225, st=TWO, m=180, core=[78], sc={"?1": "3/3/3"}),
    ],
)

SHELF.text(
    "preference marks beside the three attributes",
    """
Run;Oven °C;Time s;Stages (% air/mw);Raw g;Core °C;Browning;Liking (1-9);Crispness;Salt
1;250;210;40% 30/80, 60% 90/20;181;76;2.5;7;3;3
2;250;225;40% 30/80, 60% 90/20;180;78;3;8;3.5;2.5
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76], sc={"?1": "2.5/-/-"}, other=3),
        facts(air=250, s=225, st=TWO, m=180, core=[78], sc={"?1": "3/-/-"}, other=3),
    ],
    may="browning texture moisture other",
)
