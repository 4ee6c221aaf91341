"""Logs in English kept as text: programs by name, other scales of levels, refusals, and the rest of the drawer."""

from __future__ import annotations

from tests.exchange.unseen.kitchen_log import OUNCE_G, POUND_G, Shelf, facts, fahrenheit

SHELF = Shelf()
TWO = "40/30/80 60/90/20"

SHELF.text(
    "microwave in watts",
    """
Cook;Oven (C);Time (s);Share 1 %;Fan 1 %;Micro 1 (W);Share 2 %;Fan 2 %;Micro 2 (W);Raw (g);Core (C)
1;250;210;40;30;1200;60;90;300;181;76
2;250;220;40;30;1200;60;90;300;180;78
""",
    [facts(air=250, s=210, st=TWO, m=181, core=[76]), facts(air=250, s=220, st=TWO, m=180, core=[78])],
    may="stages",
)

SHELF.text(
    "levels from 0 to 10 without saying so",
    """
Cook;Oven (C);Time (s);Share 1 %;Fan 1;Micro 1;Share 2 %;Fan 2;Micro 2;Raw (g);Core (C)
1;250;210;40;3;8;60;9;2;181;76
2;250;220;50;3;8;50;9;2;180;78
""",
    [facts(air=250, s=210, st=TWO, m=181, core=[76]), facts(air=250, s=220, st="50/30/80 50/90/20", m=180, core=[78])],
    must="stages",
)

SHELF.text(
    "levels in words",
    """
Cook;Oven (C);Time (s);Share 1 %;Fan 1;Micro 1;Share 2 %;Fan 2;Micro 2;Raw (g);Core (C)
1;250;210;40;low;high;60;full;low;181;76
2;250;220;50;low;high;50;full;off;180;78
""",
    [],
    may="stages",
    refused=2,
)

SHELF.text(
    "air speed in metres a second",
    """
Cook;Oven (C);Time (s);Share 1 %;Air 1 m/s;Micro 1 %;Share 2 %;Air 2 m/s;Micro 2 %;Raw (g);Core (C)
1;250;210;40;6.6;80;60;19.8;20;181;76
2;250;220;40;6.6;80;60;19.8;20;180;78
""",
    [facts(air=250, s=210, st=TWO, m=181, core=[76]), facts(air=250, s=220, st=TWO, m=180, core=[78])],
    may="stages",
)

SHELF.text(
    "a program by another cook's number",
    """
Cook;Oven (C);Time (s);Program (share fan/mw);Raw (g);Core (C)
1;250;210;40% 30/80 + 60% 90/20;181;76
2;250;220;50% 30/80 + 50% 90/20;180;78
3;250;230;as cook 2;182;80
4;250;230;same;181;81
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76]),
        facts(air=250, s=220, st="50/30/80 50/90/20", m=180, core=[78]),
        facts(air=250, s=230, st="50/30/80 50/90/20", m=182, core=[80]),
        facts(air=250, s=230, st="50/30/80 50/90/20", m=181, core=[81]),
    ],
    may="stages",
)

SHELF.text(
    "programs by name alone",
    """
Cook;Program;Raw (g);Cooked (g);Core (C);Browning;Texture;Moisture
1;Thigh v3;181;158;76;2,5;3;3
2;Thigh v4;180;155;78;3;3;2,5
""",
    [],
    may="stages air duration",
    refused=2,
)

SHELF.text(
    "the same program for all, told once above",
    """
Oven: 250 C
Time: 210 s
Program: 40% fan 30 mw 80; 60% fan 90 mw 20

Cook,Raw (g),Cooked (g),Core (C),Browning,Texture,Moisture
1,181,158,76,2.5,3,3
2,180,155,77,3,3,2.5
""",
    [
        facts(air=250, s=210, st=TWO, m=181, out=158, core=[76], sc={"?1": "2.5/3/3"}),
        facts(air=250, s=210, st=TWO, m=180, out=155, core=[77], sc={"?1": "3/3/2.5"}),
    ],
    may="stages air duration",
    free=(TWO, "250", "210", "40% 30/80 + 60% 90/20"),
)

SHELF.text(
    "core in Fahrenheit without a unit, everything else without one too",
    """
Cook,Oven,Time,Stages (share fan/mw),Raw,Start,Core
1,480,210,40% 30/80 + 60% 90/20,181,39,169
2,480,220,40% 30/80 + 60% 90/20,180,40,172
3,480,230,40% 30/80 + 60% 90/20,182,38,176
""",
    [
        facts(air=fahrenheit(480), s=s, st=TWO, m=m, start=fahrenheit(start), core=[fahrenheit(core)])
        for s, m, start, core in ((210, 181, 39, 169), (220, 180, 40, 172), (230, 182, 38, 176))
    ],
    may="air start core duration mass_in",
)

SHELF.text(
    "a start of 39 beside an oven in Celsius: which one it is can't be known",
    """
Cook,Oven (C),Time (s),Stages (share fan/mw),Raw (g),Start temp,Core
1,250,210,40% 30/80 + 60% 90/20,181,39,76
2,250,220,40% 30/80 + 60% 90/20,180,40,78
""",
    [
        facts(air=250, s=210, st=TWO, m=181, start=fahrenheit(39), core=[76]),
        facts(air=250, s=220, st=TWO, m=180, start=fahrenheit(40), core=[78]),
    ],
    must="start",
    may="core",
)

SHELF.text(
    "minutes without a unit",
    """
Cook,Oven (C),Time,Stages (share fan/mw),Raw (g),Core (C),Rest
1,250,3.5,40% 30/80 + 60% 90/20,181,76,2
2,250,4,40% 30/80 + 60% 90/20,180,78,2
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76], rest=120),
        facts(air=250, s=240, st=TWO, m=180, core=[78], rest=120),
    ],
    may="duration rest",
)

SHELF.text(
    "times in many spellings",
    """
Cook;Oven (C);Time;Stages (share fan/mw);Raw (g);Core (C);Rest
1;250;3'30";40% 30/80 + 60% 90/20;181;76;2'
2;250;3 min 40 s;40% 30/80 + 60% 90/20;180;78;2 mins
3;250;3:50 min;40% 30/80 + 60% 90/20;180;78;90 sec
4;250;00:04:00;40% 30/80 + 60% 90/20;180;80;1:30
5;250;250s;40% 30/80 + 60% 90/20;180;81;2.5 minutes
""",
    [
        facts(air=250, s=s, st=TWO, m=m, core=[c], rest=rest)
        for s, m, c, rest in (
            (210, 181, 76, 120),
            (220, 180, 78, 120),
            (230, 180, 78, 90),
            (240, 180, 80, 90),
            (250, 180, 81, 150),
        )
    ],
)

SHELF.text(
    "loss in percent instead of the mass out",
    """
Cook;Oven (C);Time (s);Stages (share fan/mw);Raw (g);Shrink %;Core (C)
1;250;210;40% 30/80 + 60% 90/20;180;12,5;76
2;250;220;40% 30/80 + 60% 90/20;200;14;78
""",
    [
        facts(air=250, s=210, st=TWO, m=180, out=157.5, core=[76]),
        facts(air=250, s=220, st=TWO, m=200, out=172, core=[78]),
    ],
    may="mass_out",
)

SHELF.text(
    "mass out without mass in",
    """
Cook;Oven (C);Time (s);Stages (share fan/mw);Weight after cooking (g);Core (C)
1;250;210;40% 30/80 + 60% 90/20;158;76
2;250;220;40% 30/80 + 60% 90/20;155;78
""",
    [facts(air=250, s=210, st=TWO, out=158, core=[76]), facts(air=250, s=220, st=TWO, out=155, core=[78])],
)

SHELF.text(
    "one weight that does not say which",
    """
Cook;Oven (C);Time (s);Stages (share fan/mw);Weight;Core (C)
1;250;210;40% 30/80 + 60% 90/20;181;76
2;250;220;40% 30/80 + 60% 90/20;183;78
""",
    [facts(air=250, s=210, st=TWO, m=181, core=[76]), facts(air=250, s=220, st=TWO, m=183, core=[78])],
    may="mass_in",
)

SHELF.text(
    "doubled rows",
    """
Cook;Oven (C);Time (s);Stages (share fan/mw);Raw (g);Core (C)
1;250;210;40% 30/80 + 60% 90/20;181;76
1;250;210;40% 30/80 + 60% 90/20;181;76
2;250;220;40% 30/80 + 60% 90/20;180;78
2;250;220;40% 30/80 + 60% 90/20;180;78
""",
    [facts(air=250, s=210, st=TWO, m=181, core=[76]), facts(air=250, s=220, st=TWO, m=180, core=[78])],
    refused=2,
    may="rows",
)

SHELF.text(
    "one number for two different cooks",
    """
Cook;Oven (C);Time (s);Stages (share fan/mw);Raw (g);Core (C)
1;250;210;40% 30/80 + 60% 90/20;181;76
2;250;220;40% 30/80 + 60% 90/20;180;78
2;250;240;50% 30/80 + 50% 90/20;184;82
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76]),
        facts(air=250, s=220, st=TWO, m=180, core=[78]),
        facts(air=250, s=240, st="50/30/80 50/90/20", m=184, core=[82]),
    ],
    may="rows",
)

SHELF.text(
    "misspelt headings",
    """
Cok;Oven tempreture (C);Duraton (s);Stagess (share fan/mw);Wieght befor (g);Wieght after (g);Core tmep (C);Browing;Textur;Mosture
1;250;210;40% 30/80 + 60% 90/20;181;158;76;2,5;3;3
2;250;220;40% 30/80 + 60% 90/20;180;155;78;3;3;2,5
""",
    [
        facts(air=250, s=210, st=TWO, m=181, out=158, core=[76], sc={"?1": "2.5/3/3"}),
        facts(air=250, s=220, st=TWO, m=180, out=155, core=[78], sc={"?1": "3/3/2.5"}),
    ],
    may="air duration stages mass_in mass_out core browning texture moisture column",
)

SHELF.text(
    "columns the tool has no use for stand between the others",
    """
Cook;Kitchen humidity;Oven (C);Time (s);Batch temp log;Stages (share fan/mw);Raw (g);Cost EUR;Core (C);Sauce
1;45;250;210;ok;40% 30/80 + 60% 90/20;181;1,85;76;none
2;51;250;220;ok;40% 30/80 + 60% 90/20;180;1,85;78;mustard
""",
    [facts(air=250, s=210, st=TWO, m=181, core=[76]), facts(air=250, s=220, st=TWO, m=180, core=[78])],
    may="column",
)

SHELF.text(
    "no headings at all",
    """
1;250;210;40;30;80;60;90;20;181;76
2;250;220;40;30;80;60;90;20;180;78
3;250;230;40;30;80;60;90;20;182;80
""",
    [],
    may="column stages air duration mass_in core start rest mass_out when rows",
    refused=3,
)

SHELF.text(
    "interrupted cooks and a benchmark",
    """
Cook;Kind;Oven (C);Time (s);Stages (share fan/mw);Raw (g);Cooked (g);Core (C);Finished?
1;trial;250;210;40% 30/80 + 60% 90/20;181;158;76;yes
2;trial;250;220;40% 30/80 + 60% 90/20;180;;61;no - door opened
3;benchmark;;;;182;150;79;yes
""",
    [
        facts(air=250, s=210, st=TWO, m=181, out=158, core=[76], done=True, purpose="search"),
        facts(air=250, s=220, st=TWO, m=180, core=[61], done=False, purpose="search"),
        facts(m=182, out=150, core=[79], done=True, purpose="benchmark"),
    ],
    may="purpose",
)

SHELF.text(
    "more than one dish and oven in the log",
    """
Cook;Dish;Oven;Set (C);Time (s);Stages (share fan/mw);Raw (g);Core (C)
1;Glazed chicken thigh;Left;250;210;40% 30/80 + 60% 90/20;181;76
2;Bread pudding;Left;230;300;100% 50/40;120;88
3;Glazed chicken thigh;Left;250;220;40% 30/80 + 60% 90/20;180;78
""",
    [facts(air=250, s=210, st=TWO, m=181, core=[76]), facts(air=250, s=220, st=TWO, m=180, core=[78])],
    refused=1,
    may="dish oven",
)

SHELF.text(
    "covered in every spelling",
    """
Cook;Oven (C);Time (s);Stages (share fan/mw);Raw (g);Core (C);Rest (s);Rested under foil
1;250;210;40% 30/80 + 60% 90/20;181;76;120;x
2;250;220;40% 30/80 + 60% 90/20;180;78;120;
3;250;230;40% 30/80 + 60% 90/20;182;80;120;x
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76], rest=120, cov=True),
        facts(air=250, s=220, st=TWO, m=180, core=[78], rest=120),
        facts(air=250, s=230, st=TWO, m=182, core=[80], rest=120, cov=True),
    ],
    may="covered",
)

SHELF.text(
    "decimal commas inside quotes in a comma file",
    """
Cook,"Oven, °C","Time, s",Stages (share fan/mw),"Raw, g","Cooked, g","Core, °C"
1,250,210,"40 % 30/80; 60 % 90/20","181,5","158,2","76,4; 77,0; 79,2"
2,250,220,"40 % 30/80; 60 % 90/20","180,0","155,2","78,4; 79,0; 81,2"
""",
    [
        facts(air=250, s=210, st=TWO, m=181.5, out=158.2, core=[76.4, 77, 79.2]),
        facts(air=250, s=220, st=TWO, m=180, out=155.2, core=[78.4, 79, 81.2]),
    ],
)

SHELF.text(
    "a separator line first, kilograms, trailing separators",
    """
sep=;
Cook;Oven (C);Time (s);Stages (share fan/mw);Raw (kg);Cooked (kg);Core (C);;
1;250;210;40% 30/80 + 60% 90/20;0,181;0,158;76;;
2;250;220;40% 30/80 + 60% 90/20;0,180;0,155;78;;
""",
    [
        facts(air=250, s=210, st=TWO, m=181, out=158, core=[76]),
        facts(air=250, s=220, st=TWO, m=180, out=155, core=[78]),
    ],
)

SHELF.text(
    "the same heading three times",
    """
Cook;Set temp C;Time s;Stages (share fan/mw);Raw g;Temp C;Temp C;Temp C
1;250;210;40% 30/80 + 60% 90/20;181;76;77;79
2;250;220;40% 30/80 + 60% 90/20;180;78;79;81
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76, 77, 79]),
        facts(air=250, s=220, st=TWO, m=180, core=[78, 79, 81]),
    ],
    may="core",
)

SHELF.text(
    "one line a measure: cook, what, value",
    """
Cook,What,Value,Unit
1,Oven temperature,250,C
1,Cooking time,210,s
1,Stages (share fan/mw),40% 30/80 + 60% 90/20,
1,Raw weight,181,g
1,Core temperature,76,C
2,Oven temperature,250,C
2,Cooking time,220,s
2,Stages (share fan/mw),40% 30/80 + 60% 90/20,
2,Raw weight,180,g
2,Core temperature,78,C
""",
    [facts(air=250, s=210, st=TWO, m=181, core=[76]), facts(air=250, s=220, st=TWO, m=180, core=[78])],
)

SHELF.text(
    "one line a mark: cook, attribute, a column a taster",
    """
Cook;Oven (C);Time (s);Stages (share fan/mw);Raw (g);Core (C);Attribute;Anna;Ben
1;250;210;40% 30/80 + 60% 90/20;181;76;Browning;2,5;3
1;;;;;;Texture;3;3
1;;;;;;Moisture;3;3,5
2;250;220;40% 30/80 + 60% 90/20;180;78;Browning;3;3
2;;;;;;Texture;3,5;3
2;;;;;;Moisture;2,5;3
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76], sc={"Anna": "2.5/3/3", "Ben": "3/3/3.5"}),
        facts(air=250, s=220, st=TWO, m=180, core=[78], sc={"Anna": "3/3.5/2.5", "Ben": "3/3/3"}),
    ],
    may="browning texture moisture rows column",
)

SHELF.text(
    "headings turned into shouting with stray spaces, ovens steps as words",
    """
  COOK NO ; OVEN DEG C ; COOK TIME SEC ; STG1 TIME % ; STG1 AIR % ; STG1 MWAVE % ; STG2 TIME % ; STG2 AIR % ; STG2 MWAVE % ; WT IN G ; WT OUT G ; PROBE 1 ; PROBE 2 ; PROBE 3
 1 ; 250 ; 210 ; 40 ; 30 ; 80 ; 60 ; 90 ; 20 ; 181.5 ; 158.2 ; 76.4 ; 77.0 ; 79.2
 2 ; 250 ; 220 ; 40 ; 30 ; 80 ; 60 ; 90 ; 20 ; 180.0 ; 155.2 ; 78.4 ; 79.0 ; 81.2
""",
    [
        facts(air=250, s=210, st=TWO, m=181.5, out=158.2, core=[76.4, 77, 79.2]),
        facts(air=250, s=220, st=TWO, m=180, out=155.2, core=[78.4, 79, 81.2]),
    ],
)

SHELF.text(
    "a core that can't be and one that is no number",
    """
Cook;Oven (C);Time (s);Stages (share fan/mw);Raw (g);Core (C)
1;250;210;40% 30/80 + 60% 90/20;181;760
2;250;220;40% 30/80 + 60% 90/20;180;hot
3;250;225;40% 30/80 + 60% 90/20;182;79
4;250;230;40% 30/80 + 60% 90/20;183;80
""",
    [
        facts(air=250, s=225, st=TWO, m=182, core=[79]),
        facts(air=250, s=230, st=TWO, m=183, core=[80]),
    ],
    refused=2,
)

SHELF.text(
    "ounces and pounds without a unit",
    """
Cook,Oven F,Time (s),Stages (share fan/mw),Raw,Cooked,Core F
1,480,210,40% 30/80 + 60% 90/20,6.4,5.6,169
2,480,220,40% 30/80 + 60% 90/20,6.3,5.4,172
""",
    [
        facts(air=fahrenheit(480), s=210, st=TWO, m=6.4 * OUNCE_G, out=5.6 * OUNCE_G, core=[fahrenheit(169)]),
        facts(air=fahrenheit(480), s=220, st=TWO, m=6.3 * OUNCE_G, out=5.4 * OUNCE_G, core=[fahrenheit(172)]),
    ],
    must="mass_in mass_out",
)

SHELF.text(
    "pounds with ounces in one cell",
    """
Cook,Oven F,Time (s),Stages (share fan/mw),Raw weight,Core F
1,480,210,40% 30/80 + 60% 90/20,0 lb 6.4 oz,169
2,480,220,40% 30/80 + 60% 90/20,0 lb 6.3 oz,172
3,480,230,40% 30/80 + 60% 90/20,0.39 lbs,175
""",
    [
        facts(air=fahrenheit(480), s=210, st=TWO, m=6.4 * OUNCE_G, core=[fahrenheit(169)]),
        facts(air=fahrenheit(480), s=220, st=TWO, m=6.3 * OUNCE_G, core=[fahrenheit(172)]),
        facts(air=fahrenheit(480), s=230, st=TWO, m=0.39 * POUND_G, core=[fahrenheit(175)]),
    ],
)

SHELF.text(
    "lowest and mean core, hottest place too",
    """
Cook;Oven (C);Time (s);Stages (share fan/mw);Raw (g);Coldest spot (C);Middle (C);Hottest spot (C);Mean core (C)
1;250;210;40% 30/80 + 60% 90/20;181;76;78;81;78,3
2;250;220;40% 30/80 + 60% 90/20;180;77;79;82;79,3
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76, 78, 81]),
        facts(air=250, s=220, st=TWO, m=180, core=[77, 79, 82]),
    ],
    may="core",
)

SHELF.text(
    "what was wanted beside what was measured",
    """
Cook;Oven (C);Time (s);Stages (share fan/mw);Raw (g);Target core (C);Core (C);Target loss %;Loss %
1;250;210;40% 30/80 + 60% 90/20;180;74;76;18;12,5
2;250;220;40% 30/80 + 60% 90/20;200;74;78;18;14
""",
    [
        facts(air=250, s=210, st=TWO, m=180, out=157.5, core=[76]),
        facts(air=250, s=220, st=TWO, m=200, out=172, core=[78]),
    ],
)

SHELF.text(
    "frozen and chilled in words, surface temperature beside core",
    """
Cook;Oven (C);Time (s);Stages (share fan/mw);Raw (g);Start (C);Surface (C);Core (C);Tray (C)
1;250;210;40% 30/80 + 60% 90/20;181;chilled;141;76;60
2;250;220;40% 30/80 + 60% 90/20;180;4;146;78;61
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76]),
        facts(air=250, s=220, st=TWO, m=180, start=4, core=[78]),
    ],
    may="column",
)

SHELF.text(
    "programs ordered and keyed in",
    """
Cook;Oven (C);Time (s);Ordered (share fan/mw);Actually run (share fan/mw);Raw (g);Core (C)
1;250;210;40% 30/80 + 60% 90/20;;181;76
2;250;220;40% 30/80 + 60% 90/20;50% 30/80 + 50% 90/20;180;78
""",
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76]),
        facts(air=250, s=220, st=TWO, m=180, core=[78], keyed="50/30/80 50/90/20"),
    ],
    may="stages column",
)
