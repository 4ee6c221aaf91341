"""Logs in English kept as text."""

from __future__ import annotations

from tests.exchange.unseen.kitchen_log import OUNCE_G, POUND_G, Shelf, facts, fahrenheit

SHELF = Shelf()
TWO = "40/30/80 60/90/20"

SHELF.text(
    "semicolons, units in headings, one row a cook",
    """
Trial;Date;Oven °C;Total (s);S1 %;S1 fan;S1 MW;S2 %;S2 fan;S2 MW;Raw g;Cooked g;Fridge temp;Probe A;Probe B;Probe C;Rest s;Lid on;Colour;Bite;Juiciness;Chef;Remarks
1;13/03/2026;250;210;40;30;80;60;90;20;181,5;158,2;4,1;76,4;77,0;79,2;120;yes;2,5;3;3;Ada;first go
2;14/03/2026;250;225;40;30;80;60;90;20;179,0;154,0;3,8;79,4;80,0;82,2;120;yes;3;3,5;2,5;Ada;edges dark
""",
    [
        facts(air=250, s=210, st=TWO, m=181.5, out=158.2, start=4.1, core=[76.4, 77, 79.2], rest=120, cov=True,
              sc={"?1": "2.5/3/3"}, at="2026-03-13", who="Ada", note="first go"),
        facts(air=250, s=225, st=TWO, m=179, out=154, start=3.8, core=[79.4, 80, 82.2], rest=120, cov=True,
              sc={"?1": "3/3.5/2.5"}, at="2026-03-14", who="Ada", note="edges dark"),
    ],
    may="when start",
)  # fmt: skip

SHELF.text(
    "American units in headings, stages in two cells",
    """
Run,Date,Oven F,Cook time,Stage 1 (% time / fan / MW),Stage 2 (% time / fan / MW),Raw wt oz,Cooked wt oz,Start F,Internal F 1,Internal F 2,Internal F 3,Rest min,Tented,Color,Bite,Juiciness
7,3/21/2026,480,3:30,40/30/80,60/90/20,6.35,5.60,39,169,171,174,2,Y,2.5,3,3
8,3/22/2026,480,3:45,40/30/80,60/90/20,6.28,5.45,40,175,177,180,2,Y,3,3.5,2.5
""",
    [
        facts(air=fahrenheit(480), s=210, st=TWO, m=6.35 * OUNCE_G, out=5.6 * OUNCE_G, start=fahrenheit(39),
              core=fahrenheit(169, 171, 174), rest=120, cov=True, sc={"?1": "2.5/3/3"}, at="2026-03-21"),
        facts(air=fahrenheit(480), s=225, st=TWO, m=6.28 * OUNCE_G, out=5.45 * OUNCE_G, start=fahrenheit(40),
              core=fahrenheit(175, 177, 180), rest=120, cov=True, sc={"?1": "3/3.5/2.5"}, at="2026-03-22"),
    ],
    may="when",
)  # fmt: skip

SHELF.text(
    "everything with its unit in the cell, pounds and ounces mixed",
    """
cook|oven|time|stage 1|stage 2|weight before|weight after|start temp|core|rest|covered
A-1|482F|3m30|40% fan 30% mw 80%|60% fan 90% mw 20%|0.40 lb|5.6 oz|39F|76.4C/77.0C/79.2C|2 min|y
A-2|250C|215 s|40% fan 30% mw 80%|60% fan 90% mw 20%|181 g|0.35 lb|4C|170F/172F/175F|90 s|n
""",
    [
        facts(air=fahrenheit(482), s=210, st=TWO, m=0.4 * POUND_G, out=5.6 * OUNCE_G, start=fahrenheit(39),
              core=[76.4, 77, 79.2], rest=120, cov=True),
        facts(air=250, s=215, st=TWO, m=181, out=0.35 * POUND_G, start=4, core=fahrenheit(170, 172, 175), rest=90, cov=False),
    ],
)  # fmt: skip

SHELF.text(
    "a row of units below the headings",
    """
Cook,Air,Length,Share 1,Speed 1,Micro 1,Share 2,Speed 2,Micro 2,In,Out,Start,Core 1,Core 2,Core 3,Rest
,°C,min:sec,%,%,%,%,%,%,g,g,°C,°C,°C,°C,s
1,250,3:30,40,30,80,60,90,20,181.5,158.2,4.1,76.4,77.0,79.2,120
2,245,3:35,40,30,80,60,90,20,180.5,157.2,4.0,75.4,76.0,78.2,120
""",
    [
        facts(air=250, s=210, st=TWO, m=181.5, out=158.2, start=4.1, core=[76.4, 77, 79.2], rest=120),
        facts(air=245, s=215, st=TWO, m=180.5, out=157.2, start=4.0, core=[75.4, 76, 78.2], rest=120),
    ],
)

SHELF.text(
    "one row a taster, the cook written on its first row only",
    """
Cook no.\tOven temp °C\tSeconds\tStages: time% fan/mw\tWeight in g\tWeight out g\tStart °C\tCore °C\tTaster\tBrowning\tTexture\tMoisture
1\t250\t210\t40% 30/80, 60% 90/20\t181.5\t158.2\t4.1\t76.4; 77.0; 79.2\tAnna\t2.5\t3\t3
\t\t\t\t\t\t\t\tBen\t3\t3\t3.5
\t\t\t\t\t\t\t\tCarla\t3\t2.5\t3
2\t250\t220\t40% 30/80, 60% 90/20\t180.0\t155.2\t4.0\t78.4; 79.0; 81.2\tAnna\t3\t3\t3
\t\t\t\t\t\t\t\tBen\t3.5\t3\t2.5
""",
    [
        facts(air=250, s=210, st=TWO, m=181.5, out=158.2, start=4.1, core=[76.4, 77, 79.2],
              sc={"Anna": "2.5/3/3", "Ben": "3/3/3.5", "Carla": "3/2.5/3"}),
        facts(air=250, s=220, st=TWO, m=180, out=155.2, start=4.0, core=[78.4, 79, 81.2],
              sc={"Anna": "3/3/3", "Ben": "3.5/3/2.5"}),
    ],
    filename="log.txt",
)  # fmt: skip

SHELF.text(
    "one row a taster, the cook repeated on each, no number",
    """
Air °C,Time s,P1 %,P1 air,P1 mw,P2 %,P2 air,P2 mw,Mass g,Core min °C,Judge,Brown,Tender/firm,Dry/wet
250,210,40,30,80,60,90,20,181.5,76.4,MB,2.5,3,3
250,210,40,30,80,60,90,20,181.5,76.4,TK,3,3,3.5
250,220,40,30,80,60,90,20,180.0,78.4,MB,3,3,3
250,220,40,30,80,60,90,20,180.0,78.4,TK,3.5,3.5,2.5
""",
    [
        facts(air=250, s=210, st=TWO, m=181.5, core=[76.4], sc={"MB": "2.5/3/3", "TK": "3/3/3.5"}),
        facts(air=250, s=220, st=TWO, m=180, core=[78.4], sc={"MB": "3/3/3", "TK": "3.5/3.5/2.5"}),
    ],
    may="rows texture moisture",
)

SHELF.text(
    "one row a stage",
    """
Cook,Stage,Share %,Fan %,Microwave %,Oven °C,Total s,Raw g,Core °C,Cooked g
1,1,40,30,80,250,210,181.5,76.4,158.2
1,2,60,90,20,,,,,
2,1,50,30,80,250,220,180.0,79.1,155.0
2,2,30,60,40,,,,,
2,3,20,100,0,,,,,
""",
    [
        facts(air=250, s=210, st=TWO, m=181.5, out=158.2, core=[76.4]),
        facts(air=250, s=220, st="50/30/80 30/60/40 20/100/0", m=180, out=155, core=[79.1]),
    ],
)

SHELF.text(
    "stages by when they end",
    """
no;oven C;step 1 ends;step 1 fan %;step 1 micro %;step 2 ends;step 2 fan %;step 2 micro %;mass in (g);probe temp (C)
1;250;1:24;30;80;3:30;90;20;181,5;76,4
2;250;1:30;30;80;3:45;90;20;180,0;78,4
""",
    [
        facts(air=250, s=210, st=TWO, m=181.5, core=[76.4]),
        facts(air=250, s=225, st=TWO, m=180, core=[78.4]),
    ],
    may="duration stages",
)

SHELF.text(
    "stages with their own seconds that add up to the total",
    """
Test;Set °C;Total time s;St1 s;St1 air %;St1 MW %;St2 s;St2 air %;St2 MW %;Weight g;Core °C
1;250;210;84;30;80;126;90;20;181,5;76,4
2;250;200;50;30;80;150;90;20;180,5;75,4
""",
    [
        facts(air=250, s=210, st=TWO, m=181.5, core=[76.4]),
        facts(air=250, s=200, st="25/30/80 75/90/20", m=180.5, core=[75.4]),
    ],
    may="stages",
)

SHELF.text(
    "stages in one cell, letters and times joined by arrows",
    """
#,Oven,Program,Raw,Cooked,Core
1,250°C,A30 M80 84s -> A90 M20 126s,181g,158g,76.4
2,250°C,A30 M80 90s -> A90 M20 135s,180g,155g,78.0
""",
    [
        facts(air=250, s=210, st=TWO, m=181, out=158, core=[76.4]),
        facts(air=250, s=225, st=TWO, m=180, out=155, core=[78]),
    ],
    may="duration stages core air",
)

SHELF.text(
    "stages numbered in one cell over several lines",
    """
Cook,Oven temp (C),Time (s),Stages,Raw weight (g),Core temp (C)
1,250,210,"1) 40% fan 30 micro 80
2) 60% fan 90 micro 20",181.5,76.4
2,250,220,"1) 50% fan 30 micro 80
2) 30% fan 60 micro 40
3) 20% fan 100 micro 0",180.0,79.1
""",
    [
        facts(air=250, s=210, st=TWO, m=181.5, core=[76.4]),
        facts(air=250, s=220, st="50/30/80 30/60/40 20/100/0", m=180, core=[79.1]),
    ],
)

SHELF.text(
    "bare numbers of stages with nothing that says which is air and which microwave",
    """
Cook,Oven temp (C),Time (s),Stages,Raw weight (g),Core temp (C)
1,250,210,40/30/80 + 60/90/20,181.5,76.4
2,250,220,50/30/80 + 50/90/20,180.0,79.1
""",
    [
        facts(air=250, s=210, st=TWO, m=181.5, core=[76.4]),
        facts(air=250, s=220, st="50/30/80 50/90/20", m=180, core=[79.1]),
    ],
    must="stages",
)

SHELF.text(
    "lists of shares, speeds and levels in three cells",
    """
Cook,Oven temp (C),Time (s),Split (%),Fan (%),Microwave (%),Raw weight (g),Core temps (C)
1,250,210,40-60,30-90,80-20,181.5,76.4 77.0 79.2
2,250,220,50-30-20,30-60-100,80-40-0,180.0,79.1 80.0 81.5
""",
    [
        facts(air=250, s=210, st=TWO, m=181.5, core=[76.4, 77, 79.2]),
        facts(air=250, s=220, st="50/30/80 30/60/40 20/100/0", m=180, core=[79.1, 80, 81.5]),
    ],
)

SHELF.text(
    "fractions for shares and levels",
    """
Cook;Oven temp (C);Time (s);Frac 1;Fan 1;MW 1;Frac 2;Fan 2;MW 2;Raw weight (g);Core temp (C)
1;250;210;0.4;0.3;0.8;0.6;0.9;0.2;181.5;76.4
2;250;220;0.5;0.3;0.8;0.5;0.9;0.2;180.0;79.1
""",
    [
        facts(air=250, s=210, st=TWO, m=181.5, core=[76.4]),
        facts(air=250, s=220, st="50/30/80 50/90/20", m=180, core=[79.1]),
    ],
    may="stages",
)

SHELF.text(
    "shares that add up to 99 and 100.5",
    """
Cook;Oven temp (C);Time (s);Share 1 (%);Air 1 (%);MW 1 (%);Share 2 (%);Air 2 (%);MW 2 (%);Share 3 (%);Air 3 (%);MW 3 (%);Raw weight (g);Core temp (C)
1;250;210;33;30;80;33;60;40;33;90;20;181.5;76.4
2;250;220;40.5;30;80;40;60;40;20;90;20;180.0;79.1
3;250;220;50;30;80;30;60;40;20;90;20;180.0;79.1
""",
    [
        facts(air=250, s=210, st="33.33/30/80 33.33/60/40 33.33/90/20", m=181.5, core=[76.4]),
        facts(air=250, s=220, st="40.3/30/80 39.8/60/40 19.9/90/20", m=180, core=[79.1]),
        facts(air=250, s=220, st="50/30/80 30/60/40 20/90/20", m=180, core=[79.1]),
    ],
    may="stages",
)

SHELF.text(
    "shares that add up to 87: no program",
    """
Cook;Oven temp (C);Time (s);Share 1 (%);Air 1 (%);MW 1 (%);Share 2 (%);Air 2 (%);MW 2 (%);Raw weight (g);Core temp (C)
1;250;210;40;30;80;47;90;20;181.5;76.4
2;250;220;40;30;80;60;90;20;180.0;79.1
3;250;230;40;30;80;60;90;20;179.0;80.1
""",
    [
        facts(air=250, s=220, st=TWO, m=180, core=[79.1]),
        facts(air=250, s=230, st=TWO, m=179, core=[80.1]),
    ],
    may="stages",
    refused=1,
)

SHELF.text(
    "readings in one cell in several notations",
    """
Cook;Oven (°C);Time (s);Stages (share fan/mw);Raw (g);Core (°C)
1;250;210;40% 30/80 | 60% 90/20;181;76/78/81
2;250;215;40% 30/80 | 60% 90/20;181;76 / 78 / 81
3;250;220;40% 30/80 | 60% 90/20;181;76, 78, 81
4;250;225;40% 30/80 | 60% 90/20;181;76 - 78 - 81
5;250;230;40% 30/80 | 60% 90/20;181;76.5 + 78.5 + 81.5
6;250;235;40% 30/80 | 60% 90/20;181;76 78 81
""",
    [
        facts(air=250, s=s, st=TWO, m=181, core=core)
        for s, core in (
            (210, [76, 78, 81]), (215, [76, 78, 81]), (220, [76, 78, 81]), (225, [76, 78, 81]),
            (230, [76.5, 78.5, 81.5]), (235, [76, 78, 81]),
        )
    ],
)  # fmt: skip

SHELF.text(
    "notes above and below, means, totals, blank rows",
    """
Poultry bench - week 11;;;;;;;;
Prepared by the test kitchen;;;;;;;;
;;;;;;;;
Cook;Oven °C;Time s;Stages (share fan/mw);Raw g;Cooked g;Core °C;Rest s;Note
1;250;210;40% 30/80 + 60% 90/20;181;158;76;120;
2;250;220;40% 30/80 + 60% 90/20;183;157;78;120;pale
;;;;;;;;
Average;;215;;182;157,5;77;;
;;;;;;;;
3;250;230;40% 30/80 + 60% 90/20;182;155;80;120;good
Sum;;660;;546;470;;;
Best so far: no. 3;;;;;;;;
Next week: try less air at the start;;;;;;;;
""",
    [
        facts(air=250, s=210, st=TWO, m=181, out=158, core=[76], rest=120),
        facts(air=250, s=220, st=TWO, m=183, out=157, core=[78], rest=120, note="pale"),
        facts(air=250, s=230, st=TWO, m=182, out=155, core=[80], rest=120, note="good"),
    ],
)

SHELF.text(
    "missing cells in every spelling, approximate numbers",
    """
Cook;Oven °C;Time s;Stages (share fan/mw);Raw g;Cooked g;Start °C;Core °C;Rest s;Browning;Texture;Moisture
1;250;210;40% 30/80 + 60% 90/20;ca. 180;n/a;4;76;120;3;3;-
2;250;220;40% 30/80 + 60% 90/20;~182;157;?;78;;2,5;n.a.;3
3;250;230;40% 30/80 + 60% 90/20;181;155;--;80;120;;;
4;250;240;40% 30/80 + 60% 90/20;not weighed;150;3;>82;approx 120;3;3;2
""",
    [
        facts(air=250, s=210, st=TWO, m=180, start=4, core=[76], rest=120, sc={"?1": "3/3/-"}),
        facts(air=250, s=220, st=TWO, m=182, out=157, core=[78], sc={"?1": "2.5/-/3"}),
        facts(air=250, s=230, st=TWO, m=181, out=155, core=[80], rest=120),
        facts(air=250, s=240, st=TWO, out=150, start=3, rest=120, sc={"?1": "3/3/2"}),
    ],
)

SHELF.text(
    "days that may be read both ways",
    """
Cook,Date,Oven (C),Time (s),Stages (share fan/mw),Raw (g),Core (C)
1,03/04/2026,250,210,40% 30/80 + 60% 90/20,181,76
2,04/04/2026,250,220,40% 30/80 + 60% 90/20,180,78
3,05/05/2026,250,230,40% 30/80 + 60% 90/20,182,80
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76], at="2026-04-03"),
        facts(air=250, s=220, st=TWO, m=180, core=[78], at="2026-04-04"),
        facts(air=250, s=230, st=TWO, m=182, core=[80], at="2026-05-05"),
    ],
    must="when",
)

SHELF.text(
    "day and clock in two columns, am and pm, no zone",
    """
Cook,Day,At,Thermometer checked,Oven (C),Time (s),Stages (share fan/mw),Raw (g),Core (C)
1,Mar 13 2026,9:15 am,7:40 am,250,210,40% 30/80 + 60% 90/20,181,76
2,Mar 13 2026,12:05 pm,7:40 am,250,220,40% 30/80 + 60% 90/20,180,78
3,Mar 14 2026,1:30 pm,7:55 am,250,230,40% 30/80 + 60% 90/20,182,80
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76], at="2026-03-13T09:15", check="2026-03-13T07:40"),
        facts(air=250, s=220, st=TWO, m=180, core=[78], at="2026-03-13T12:05", check="2026-03-13T07:40"),
        facts(air=250, s=230, st=TWO, m=182, core=[80], at="2026-03-14T13:30", check="2026-03-14T07:55"),
    ],
    may="when check",
)

SHELF.text(
    "spreadsheet day numbers in a text file",
    """
Cook;Date;Oven (C);Time (s);Stages (share fan/mw);Raw (g);Core (C)
1;46094;250;210;40% 30/80 + 60% 90/20;181;76
2;46095;250;220;40% 30/80 + 60% 90/20;180;78
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76], at="2026-03-13"),
        facts(air=250, s=220, st=TWO, m=180, core=[78], at="2026-03-14"),
    ],
    may="when",
)

SHELF.text(
    "marks from 0 to 10 without saying so",
    """
Cook;Oven (C);Time (s);Stages (share fan/mw);Raw (g);Core (C);Colour;Texture;Moisture
1;250;210;40% 30/80 + 60% 90/20;181;76;5;4;6
2;250;220;40% 30/80 + 60% 90/20;180;78;7;5;5
3;250;230;40% 30/80 + 60% 90/20;182;80;8;6;3
""",
    [facts(air=250, s=s, st=TWO, m=m, core=[c]) for s, m, c in ((210, 181, 76), (220, 180, 78), (230, 182, 80))],
    may="browning texture moisture",
)

SHELF.text(
    "marks from -2 to +2",
    """
Cook;Oven (C);Time (s);Stages (share fan/mw);Raw (g);Core (C);Colour;Texture;Moisture
1;250;210;40% 30/80 + 60% 90/20;181;76;-1;0;+1
2;250;220;40% 30/80 + 60% 90/20;180;78;0;0;+2
3;250;230;40% 30/80 + 60% 90/20;182;80;+1;+1;-0,5
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76], sc={"?1": "2/3/4"}),
        facts(air=250, s=220, st=TWO, m=180, core=[78], sc={"?1": "3/3/5"}),
        facts(air=250, s=230, st=TWO, m=182, core=[80], sc={"?1": "4/4/2.5"}),
    ],
    must="browning texture moisture",
)

SHELF.text(
    "marks that could be of any scale: only 1 to 5 seen, the heading says out of 9",
    """
Cook;Oven (C);Time (s);Stages (share fan/mw);Raw (g);Core (C);Colour (1-9);Texture (1-9);Moisture (1-9)
1;250;210;40% 30/80 + 60% 90/20;181;76;5;4;5
2;250;220;40% 30/80 + 60% 90/20;180;78;3;5;5
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76], sc={"?1": "3/2.5/3"}),
        facts(air=250, s=220, st=TWO, m=180, core=[78], sc={"?1": "2/3/3"}),
    ],
    may="browning texture moisture",
)

SHELF.text(
    "half marks as fractions and signs",
    """
Cook;Oven (C);Time (s);Stages (share fan/mw);Raw (g);Core (C);Browning;Texture;Moisture
1;250;210;40% 30/80 + 60% 90/20;181;76;2½;3;3
2;250;220;40% 30/80 + 60% 90/20;180;78;3;3 1/2;2½
3;250;230;40% 30/80 + 60% 90/20;180;79;3;4;3
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76], sc={"?1": "2.5/3/3"}),
        facts(air=250, s=220, st=TWO, m=180, core=[78], sc={"?1": "3/3.5/2.5"}),
        facts(air=250, s=230, st=TWO, m=180, core=[79], sc={"?1": "3/4/3"}),
    ],
    encoding="cp1252",
)

SHELF.text(
    "taster names in headings",
    """
Cook,Oven (C),Time (s),Stages (share fan/mw),Raw (g),Core (C),Anna - colour,Anna - bite,Anna - juice,Ben - colour,Ben - bite,Ben - juice
1,250,210,40% 30/80 + 60% 90/20,181,76,2.5,3,3,3,3,3.5
2,250,220,40% 30/80 + 60% 90/20,180,78,3,3.5,2.5,3,,3
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76], sc={"Anna": "2.5/3/3", "Ben": "3/3/3.5"}),
        facts(air=250, s=220, st=TWO, m=180, core=[78], sc={"Anna": "3/3.5/2.5", "Ben": "3/-/3"}),
    ],
)

SHELF.text(
    "marks of all tasters in one cell",
    """
Cook;Oven (C);Time (s);Stages (share fan/mw);Raw (g);Core (C);Panel (brown/texture/moist)
1;250;210;40% 30/80 + 60% 90/20;181;76;AM 2,5/3/3, BK 3/3/3,5
2;250;220;40% 30/80 + 60% 90/20;180;78;AM 3/3,5/2,5, BK 3/3/3
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76], sc={"AM": "2.5/3/3", "BK": "3/3/3.5"}),
        facts(air=250, s=220, st=TWO, m=180, core=[78], sc={"AM": "3/3.5/2.5", "BK": "3/3/3"}),
    ],
    may="browning texture moisture",
)
