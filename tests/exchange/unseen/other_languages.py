"""Logs in German, French, Spanish, Italian and Dutch kept as text."""

from __future__ import annotations

from tests.exchange.unseen.kitchen_log import Shelf, facts

SHELF = Shelf()
TWO = "40/30/80 60/90/20"
THREE = "50/30/80 30/60/40 20/100/0"

SHELF.text(
    "German, tabs, two bytes a letter",
    """
Versuch\tTag\tUhrzeit\tOfen °C\tGarzeit s\tPhase 1 Zeitanteil %\tPhase 1 Luft %\tPhase 1 Mikrowelle %\tPhase 2 Zeitanteil %\tPhase 2 Luft %\tPhase 2 Mikrowelle %\tEinwaage g\tAuswaage g\tStarttemperatur\tKerntemp. 1\tKerntemp. 2\tKerntemp. 3\tRuhezeit s\tabgedeckt\tBräunung\tBiss\tSaftigkeit\tKoch\tBemerkung
1\t13.03.2026\t09:15\t250\t210\t40\t30\t80\t60\t90\t20\t181,5\t158,2\t4,1\t76,4\t77,0\t79,2\t120\tja\t2,5\t3\t3\tIlse\tetwas blass
2\t13.03.2026\t10:40\t250\t220\t40\t30\t80\t60\t90\t20\t180,0\t155,2\t3,9\t78,4\t79,0\t81,2\t120\tnein\t3\t3,5\t2,5\tIlse\t
""",
    [
        facts(air=250, s=210, st=TWO, m=181.5, out=158.2, start=4.1, core=[76.4, 77, 79.2], rest=120, cov=True,
              sc={"?1": "2.5/3/3"}, at="2026-03-13T09:15", who="Ilse", note="etwas blass"),
        facts(air=250, s=220, st=TWO, m=180, out=155.2, start=3.9, core=[78.4, 79, 81.2], rest=120, cov=False,
              sc={"?1": "3/3.5/2.5"}, at="2026-03-13T10:40", who="Ilse"),
    ],
    encoding="utf-16",
    filename="versuche.txt",
    may="when",
)  # fmt: skip

SHELF.text(
    "German, stages in one cell, minutes",
    """
Nr.;Datum;Garraumtemp.;Dauer;Programm (Anteil Gebläse/Mikrowelle);Gewicht roh;Gewicht gegart;Kerntemperatur (3 Stellen);Ruhe;Farbe A;Farbe B;Festigkeit A;Festigkeit B;Feuchte A;Feuchte B
1;13.3.26;250 °C;3:30 min;40 % 30/80, 60 % 90/20;181,5 g;158,2 g;76,4 / 77,0 / 79,2;2 min;2,5;3;3;3;3;3,5
2;14.3.26;245 °C;3:45 min;40 % 30/80, 60 % 90/20;180 g;155 g;78,4 / 79,0 / 81,2;2 min;3;3;3,5;3;2,5;3
Mittelwert;;;;;180,8 g;156,6 g;;;2,8;3;3,3;3;2,8;3,3
""",
    [
        facts(air=250, s=210, st=TWO, m=181.5, out=158.2, core=[76.4, 77, 79.2], rest=120, at="2026-03-13",
              sc={"A": "2.5/3/3", "B": "3/3/3.5"}),
        facts(air=245, s=225, st=TWO, m=180, out=155, core=[78.4, 79, 81.2], rest=120, at="2026-03-14",
              sc={"A": "3/3.5/2.5", "B": "3/3/3"}),
    ],
    encoding="cp1252",
    may="when core",
)  # fmt: skip

SHELF.text(
    "German, turned: the cooks stand side by side",
    """
;Versuch 1;Versuch 2;Versuch 3
Garraum (°C);250;250;245
Garzeit (s);210;220;230
Abschnitt 1 Anteil (%);40;40;50
Abschnitt 1 Umluft (%);30;30;30
Abschnitt 1 Mikrowelle (%);80;80;80
Abschnitt 2 Anteil (%);60;60;50
Abschnitt 2 Umluft (%);90;90;90
Abschnitt 2 Mikrowelle (%);20;20;20
Gewicht vorher (g);181,5;180,0;182,3
Gewicht nachher (g);158,2;155,2;157,0
Kern (°C);76,4;78,4;79,9
Standzeit (s);120;120;120
Bräunungsgrad;2,5;3;3,5
""",
    [
        facts(air=250, s=210, st=TWO, m=181.5, out=158.2, core=[76.4], rest=120, sc={"?1": "2.5/-/-"}),
        facts(air=250, s=220, st=TWO, m=180, out=155.2, core=[78.4], rest=120, sc={"?1": "3/-/-"}),
        facts(air=245, s=230, st="50/30/80 50/90/20", m=182.3, out=157, core=[79.9], rest=120, sc={"?1": "3.5/-/-"}),
    ],
)  # fmt: skip

SHELF.text(
    "French, stages in one cell",
    """
Essai n°;Date;T° four;Temps de cuisson;Programme;Poids cru;Poids cuit;T° départ;T° à cœur;Repos;Couvert;Dorage;Fermeté;Jutosité;Observations
1;13/03/2026;250 °C;3 min 30;40 % vent. 30 MO 80 + 60 % vent. 90 MO 20;181,5 g;158,2 g;4,1 °C;76,4 / 77,0 / 79,2;2 min;oui;2,5;3;3;un peu pâle
2;14/03/2026;250 °C;3 min 45;40 % vent. 30 MO 80 + 60 % vent. 90 MO 20;180 g;155 g;4 °C;78,4 / 79,0 / 81,2;2 min;non;3;3,5;2,5;
Moyenne;;;;;180,8 g;156,6 g;;;;;2,75;3,25;2,75;
""",
    [
        facts(air=250, s=210, st=TWO, m=181.5, out=158.2, start=4.1, core=[76.4, 77, 79.2], rest=120, cov=True,
              sc={"?1": "2.5/3/3"}, at="2026-03-13", note="un peu pâle"),
        facts(air=250, s=225, st=TWO, m=180, out=155, start=4, core=[78.4, 79, 81.2], rest=120, cov=False,
              sc={"?1": "3/3.5/2.5"}, at="2026-03-14"),
    ],
    encoding="cp1252",
    may="when core stages",
)  # fmt: skip

SHELF.text(
    "French, stages in columns, one row a taster",
    """
Essai;Température du four (°C);Durée (s);Étape 1 - part (%);Étape 1 - ventilation (%);Étape 1 - micro-ondes (%);Étape 2 - part (%);Étape 2 - ventilation (%);Étape 2 - micro-ondes (%);Masse avant (g);Masse après (g);Sonde 1 (°C);Sonde 2 (°C);Sonde 3 (°C);Goûteur;Couleur;Texture;Humidité
1;250;210;40;30;80;60;90;20;181,5;158,2;76,4;77,0;79,2;Léa;2,5;3;3
1;250;210;40;30;80;60;90;20;181,5;158,2;76,4;77,0;79,2;Max;3;3;3,5
2;250;220;40;30;80;60;90;20;180,0;155,2;78,4;79,0;81,2;Léa;3;3,5;2,5
2;250;220;40;30;80;60;90;20;180,0;155,2;78,4;79,0;81,2;Max;3;3;3
""",
    [
        facts(air=250, s=210, st=TWO, m=181.5, out=158.2, core=[76.4, 77, 79.2], sc={"Léa": "2.5/3/3", "Max": "3/3/3.5"}),
        facts(air=250, s=220, st=TWO, m=180, out=155.2, core=[78.4, 79, 81.2], sc={"Léa": "3/3.5/2.5", "Max": "3/3/3"}),
    ],
    encoding="utf-8-sig",
)

SHELF.text(
    "Spanish, units in cells",
    """
Ensayo;Fecha;Temp. horno;Tiempo total;Fase 1 (% tiempo);Fase 1 ventilador;Fase 1 microondas;Fase 2 (% tiempo);Fase 2 ventilador;Fase 2 microondas;Peso crudo;Peso cocido;Temp. interior;Reposo;Tapado;Dorado;Firmeza;Jugosidad;Comentarios
1;13/03/2026;250 °C;210 s;40 %;30 %;80 %;60 %;90 %;20 %;181,5 g;158,2 g;76,4 °C;120 s;sí;2,5;3;3;bien
2;14/03/2026;250 °C;220 s;40 %;30 %;80 %;60 %;90 %;20 %;180,0 g;155,2 g;78,4 °C;120 s;no;3;3,5;2,5;
""",
    [
        facts(air=250, s=210, st=TWO, m=181.5, out=158.2, core=[76.4], rest=120, cov=True, sc={"?1": "2.5/3/3"},
              at="2026-03-13", note="bien"),
        facts(air=250, s=220, st=TWO, m=180, out=155.2, core=[78.4], rest=120, cov=False, sc={"?1": "3/3.5/2.5"},
              at="2026-03-14"),
    ],
    encoding="utf-8-sig",
    may="when",
)  # fmt: skip

SHELF.text(
    "Spanish, a row of units, tabs",
    """
N.º\tTemperatura cavidad\tDuración\tPrograma: % aire/micro\tPeso entrada\tPeso salida\tNúcleo\tCatador\tColor\tTextura\tHumedad
\t°C\tmin:s\t\tg\tg\t°C\t\t1-5\t1-5\t1-5
1\t250\t3:30\t40% 30/80 + 60% 90/20\t181,5\t158,2\t76,4\tRosa\t2,5\t3\t3
1\t250\t3:30\t40% 30/80 + 60% 90/20\t181,5\t158,2\t76,4\tLuis\t3\t3\t3,5
2\t250\t3:45\t40% 30/80 + 60% 90/20\t180,0\t155,2\t78,4\tRosa\t3\t3,5\t2,5
""",
    [
        facts(air=250, s=210, st=TWO, m=181.5, out=158.2, core=[76.4], sc={"Rosa": "2.5/3/3", "Luis": "3/3/3.5"}),
        facts(air=250, s=225, st=TWO, m=180, out=155.2, core=[78.4], sc={"Rosa": "3/3.5/2.5"}),
    ],
    filename="registro.tsv",
)

SHELF.text(
    "Italian, stages in columns",
    """
Prova;Data;Temp. forno (°C);Durata (s);Fase 1 %;Fase 1 ventola;Fase 1 microonde;Fase 2 %;Fase 2 ventola;Fase 2 microonde;Peso crudo (g);Peso cotto (g);Temp. iniziale (°C);Temp. al cuore (°C);Riposo (s);Coperto;Doratura;Consistenza;Succosità;Cuoco;Note
1;13/03/2026;250;210;40;30;80;60;90;20;181,5;158,2;4,1;76,4;120;sì;2,5;3;3;Pia;prima prova
2;14/03/2026;250;220;40;30;80;60;90;20;180,0;155,2;3,9;78,4;120;no;3;3,5;2,5;Pia;
""",
    [
        facts(air=250, s=210, st=TWO, m=181.5, out=158.2, start=4.1, core=[76.4], rest=120, cov=True, sc={"?1": "2.5/3/3"},
              at="2026-03-13", who="Pia", note="prima prova"),
        facts(air=250, s=220, st=TWO, m=180, out=155.2, start=3.9, core=[78.4], rest=120, cov=False, sc={"?1": "3/3.5/2.5"},
              at="2026-03-14", who="Pia"),
    ],
    may="when",
)  # fmt: skip

SHELF.text(
    "Italian, stages in one cell, readings in one cell",
    """
N. prova|Forno|Tempo|Programma (quota / aria / microonde)|Peso iniziale|Peso finale|Cuore °C|Assaggiatore|Colore|Morbidezza/durezza|Umidità
1|250°C|3'30"|40/30/80 - 60/90/20|181 g|158 g|76/77/79|Gio|2,5|3|3
2|250°C|3'45"|50/30/80 - 30/60/40 - 20/100/0|180 g|155 g|78/79/81|Gio|3|3,5|2,5
""",
    [
        facts(air=250, s=210, st=TWO, m=181, out=158, core=[76, 77, 79], sc={"Gio": "2.5/3/3"}),
        facts(air=250, s=225, st=THREE, m=180, out=155, core=[78, 79, 81], sc={"Gio": "3/3.5/2.5"}),
    ],
    may="texture",
)

SHELF.text(
    "Dutch, stages in columns",
    """
Proef;Datum;Oventemp. (°C);Tijd (s);Fase 1 deel (%);Fase 1 lucht (%);Fase 1 magnetron (%);Fase 2 deel (%);Fase 2 lucht (%);Fase 2 magnetron (%);Gewicht rauw (g);Gewicht gaar (g);Begintemp. (°C);Kerntemp. 1;Kerntemp. 2;Kerntemp. 3;Rusttijd (s);Afgedekt;Bruining;Beet;Sappigheid;Opmerking
1;13-03-2026;250;210;40;30;80;60;90;20;181,5;158,2;4,1;76,4;77,0;79,2;120;ja;2,5;3;3;iets bleek
2;14-03-2026;250;220;40;30;80;60;90;20;180,0;155,2;3,9;78,4;79,0;81,2;120;nee;3;3,5;2,5;
Gemiddelde;;250;215;;;;;;;180,8;156,7;4;77,4;78;80,2;120;;2,8;3,3;2,8;
""",
    [
        facts(air=250, s=210, st=TWO, m=181.5, out=158.2, start=4.1, core=[76.4, 77, 79.2], rest=120, cov=True,
              sc={"?1": "2.5/3/3"}, at="2026-03-13", note="iets bleek"),
        facts(air=250, s=220, st=TWO, m=180, out=155.2, start=3.9, core=[78.4, 79, 81.2], rest=120, cov=False,
              sc={"?1": "3/3.5/2.5"}, at="2026-03-14"),
    ],
    may="when core",
)  # fmt: skip

SHELF.text(
    "Dutch, terse: one cell for the stages, bare units",
    """
nr;oven;duur;stappen: deel lucht/mag;gewicht voor;gewicht na;kern;rust;toegedekt
1;250 gr C;3 min 30 s;40% 30/80, 60% 90/20;181 g;158 g;76,4;2 min;ja
2;250 gr C;3 min 45 s;40% 30/80, 60% 90/20;180 g;155 g;78,4;2 min;ja
""",
    [
        facts(air=250, s=210, st=TWO, m=181, out=158, core=[76.4], rest=120, cov=True),
        facts(air=250, s=225, st=TWO, m=180, out=155, core=[78.4], rest=120, cov=True),
    ],
    may="stages core air",
)

SHELF.text(
    "German, tasters by name beside each attribute, mean column",
    """
Nr;Ofen °C;Zeit s;Stufe 1: Anteil/Luft/MW;Stufe 2: Anteil/Luft/MW;Rohgewicht g;Kern °C;Bräune Jo;Bräune Kim;Bräune MW;Textur Jo;Textur Kim;Textur MW
1;250;210;40/30/80;60/90/20;181,5;76,4;2,5;3;2,75;3;3;3
2;250;220;40/30/80;60/90/20;180,0;78,4;3;3;3;3,5;3;3,25
""",
    [
        facts(air=250, s=210, st=TWO, m=181.5, core=[76.4], sc={"Jo": "2.5/3/-", "Kim": "3/3/-"}),
        facts(air=250, s=220, st=TWO, m=180, core=[78.4], sc={"Jo": "3/3.5/-", "Kim": "3/3/-"}),
    ],
)

SHELF.text(
    "a kitchen of two languages",
    """
Test;Ofen temp (°C);Zeit/time (s);Stage 1 Anteil %;Stage 1 fan %;Stage 1 MW %;Stage 2 Anteil %;Stage 2 fan %;Stage 2 MW %;Gewicht in (g);Gewicht out (g);Core/Kern (°C);Farbe/colour;Biss/bite;Saft/juice;Kommentar
1;250;210;40;30;80;60;90;20;181,5;158,2;76,4;2,5;3;3;gut
2;250;220;40;30;80;60;90;20;180,0;155,2;78,4;3;3,5;2,5;ok
""",
    [
        facts(air=250, s=210, st=TWO, m=181.5, out=158.2, core=[76.4], sc={"?1": "2.5/3/3"}, note="gut"),
        facts(air=250, s=220, st=TWO, m=180, out=155.2, core=[78.4], sc={"?1": "3/3.5/2.5"}, note="ok"),
    ],
)

SHELF.text(
    "French, everything abbreviated",
    """
n°;T°four;tps;prog (% / vent / MO);pds av;pds ap;T°init;T°coeur;repos;rem.
1;250;3:30;40/30/80 60/90/20;181;158;4;76;2:00;
2;250;3:45;40/30/80 60/90/20;180;155;4;78;2:00;sec
""",
    [
        facts(air=250, s=210, st=TWO, m=181, out=158, start=4, core=[76], rest=120),
        facts(air=250, s=225, st=TWO, m=180, out=155, start=4, core=[78], rest=120, note="sec"),
    ],
    may="core start air mass_in mass_out column",
)
