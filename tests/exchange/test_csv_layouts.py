"""Cook logs as kitchens keep them, as text: every layout gives full, correct cooks, or asks exactly what is in doubt."""

from __future__ import annotations

import pytest

from tests.exchange.importing import ONE_STAGE, TWO_STAGES, assert_cooks, celsius, codes, grams, imported, marks, program


def test_semicolons_decimal_commas_german_words_tasters_side_by_side_and_a_mean_row() -> None:
    log = """Versuch;Ofentemperatur °C;Garzeit [mm:ss];Anteil 1 %;Luft 1 %;MW 1 %;Anteil 2 %;Luft 2 %;MW 2 %;Gewicht roh g;Starttemp. °C;Kern 1;Kern 2;Kern 3;Gewicht gegart g;Ruhezeit s;abgedeckt;Bräunung A;Bräunung B;Textur A;Textur B;Saftigkeit A;Saftigkeit B;Bemerkung
1;250;3:30;40;30;80;60;90;20;183,0;4,6;76,4;77,0;79,1;160,2;120;ja;2,5;3;3;3;3;3,5;gut
2;255;3:20;50;40;75;50;95;10;180,5;4,2;71,9;73,0;75,5;158,0;120;nein;2;2,5;3;3;3;3;
Mittelwert;252,5;;45;35;77,5;55;92,5;15;181,75;4,4;74,15;75;77,3;159,1;120;;;;;;;;
"""
    result = imported(log.encode("cp1252"))
    assert codes(result) == []
    assert_cooks(
        result,
        {
            "program": TWO_STAGES,
            "mass_g": 183,
            "start_temperature_c": 4.6,
            "core_temperature_c": [76.4, 77, 79.1],
            "rest_s": 120,
            "rest_covered": True,
            "mass_out_g": 160.2,
            "scores": marks(A=(2.5, 3, 3), B=(3, 3, 3.5)),
            "note": "gut",
        },
        {
            "program": program(255, 200, (50, 40, 75), (50, 95, 10)),
            "mass_g": 180.5,
            "start_temperature_c": 4.2,
            "core_temperature_c": [71.9, 73, 75.5],
            "rest_s": 120,
            "rest_covered": False,
            "mass_out_g": 158,
            "scores": marks(A=(2, 3, 3), B=(2.5, 3, 3)),
        },
    )
    assert [row.line for row in result.skipped] == [4]


def test_tabs_fahrenheit_ounces_one_row_a_taster_and_stages_in_one_cell() -> None:
    log = """Cook #\tDate\tOven Temp (F)\tCook Time\tProgram (share air/mw)\tWeight In (oz)\tWeight Out (oz)\tStart Temp (F)\tCore Temp (F)\tRest\tCovered\tTaster\tBrowning\tTexture\tMoisture\tComments
1\t3/13/2026 10:15 AM\t482\t3:30\t40% 30/80 | 60% 90/20\t6.4\t5.7\t39\t168/170/173\t2:00\tY\tA\t2.5\t3\t3\t
1\t3/13/2026 10:15 AM\t482\t3:30\t40% 30/80 | 60% 90/20\t6.4\t5.7\t39\t168/170/173\t2:00\tY\tB\t3\t3\t3.5\t
2\t3/13/2026 1:05 PM\t482\t3:30\t50% 40/70 | 50% 90/20\t6.3\t5.6\t40\t165/166/170\t2:00\tN\tA\t3\t3\t3\tdoor opened
"""
    result = imported(log)
    assert codes(result) == ["time_zone"]
    result = imported(log, answers={"time_zone": "America/New_York"})
    first = {
        "program": TWO_STAGES,
        "mass_g": grams(6.4),
        "start_temperature_c": celsius(39),
        "core_temperature_c": [celsius(168), celsius(170), celsius(173)],
        "rest_s": 120,
        "rest_covered": True,
        "mass_out_g": grams(5.7),
        "scores": marks(A=(2.5, 3, 3), B=(3, 3, 3.5)),
        "cooked_at": "2026-03-13T14:15:00Z",
    }
    second = {
        "program": program(250, 210, (50, 40, 70), (50, 90, 20)),
        "mass_g": grams(6.3),
        "start_temperature_c": celsius(40),
        "core_temperature_c": [celsius(165), celsius(166), celsius(170)],
        "rest_s": 120,
        "rest_covered": False,
        "completed": False,
        "interrupted_by": "door opened",
        "mass_out_g": grams(5.6),
        "scores": marks(A=(3, 3, 3)),
        "cooked_at": "2026-03-13T17:05:00Z",
        "note": "door opened",
    }
    assert_cooks(result, first, second)


def test_groups_over_two_heading_rows_with_initials_for_scores() -> None:
    log = """sep=,
Cook,Core,,,Stage 1,,,Stage 2,,,Scores,,,Oven,,Weight,
,1,2,3,share,air,mw,share,air,mw,B,T,M,temp,time,in,out
1,76.4,77,79,40,30,80,60,90,20,2.5,3,3,250,210,183,160.2
"""
    result = imported(log)
    assert codes(result) == []
    assert_cooks(
        result,
        {
            "program": TWO_STAGES,
            "mass_g": 183,
            "core_temperature_c": [76.4, 77, 79],
            "mass_out_g": 160.2,
            "scores": marks(panel=(2.5, 3, 3)),
        },
    )


def test_a_row_of_units_below_the_headings() -> None:
    log = """Cook,Oven,Time,Air,MW,Weight,Core,Rest
,°F,mm:ss,%,%,oz,°F,s
1,482,3:30,50,60,6.4,168,120
2,482,3:30,50,60,6.3,170,120
"""
    result = imported(log)
    assert codes(result) == []
    assert_cooks(
        result,
        {"program": ONE_STAGE, "mass_g": grams(6.4), "core_temperature_c": [celsius(168)], "rest_s": 120},
        {"program": ONE_STAGE, "mass_g": grams(6.3), "core_temperature_c": [celsius(170)], "rest_s": 120},
    )


def test_stage_times_instead_of_shares_between_pipes_with_a_loss_instead_of_mass_out() -> None:
    log = """id|air C|S1 s|S1 air|S1 mw|S2 s|S2 air|S2 mw|mass|core 1|core 2|core 3|loss %
1|250|84|30|80|126|90|20|183|76.4|77|79.1|12.5
2|250|72|30|80|133|90|20|181|76.4|-|79.1|n/a
"""
    result = imported(log)
    assert codes(result) == []
    assert_cooks(
        result,
        {"program": TWO_STAGES, "mass_g": 183, "core_temperature_c": [76.4, 77, 79.1], "mass_out_g": 183 * 0.875},
        {"program": program(250, 205, (35, 30, 80), (65, 90, 20)), "mass_g": 181, "core_temperature_c": [76.4, 79.1]},
    )


def test_stage_ends_instead_of_lengths() -> None:
    log = """No,Oven C,Time s,S1 s,Air 1,MW 1,S2 s,Air 2,MW 2,Mass g,Core C
1,250,210,84,30,80,210,90,20,183,76
2,250,200,100,30,80,200,90,20,183,76
"""
    result = imported(log)
    assert codes(result) == []
    assert [one.cook.program.model_dump()["stages"][0]["share_pct"] for one in result.cooks if one.cook.program] == [40, 50]


def test_continuation_rows_of_tasters_leave_the_cook_blank() -> None:
    log = """Cook,Temp,Time,Stages,Mass,Core,Taster,B,T,M
1,250,210,"84s air 30 mw 80 / 126 s air 90 mw 20",183,76.4/77.0/79.1,A,2.5,3,3
,,,,,,B,3,3,3.5
2,250,210,"84s air 30 mw 80 / 126 s air 90 mw 20",181,75.4/77.0/79.1,A,2.5,3,3
,,,,,,B,3,3,3.5
"""
    result = imported(log)
    assert codes(result) == []
    scores = marks(A=(2.5, 3, 3), B=(3, 3, 3.5))
    assert_cooks(
        result,
        {"program": TWO_STAGES, "mass_g": 183, "core_temperature_c": [76.4, 77, 79.1], "scores": scores},
        {"program": TWO_STAGES, "mass_g": 181, "core_temperature_c": [75.4, 77, 79.1], "scores": scores},
    )


def test_shares_air_and_microwave_listed_in_one_cell_each() -> None:
    log = """#;Ofen;Zeit;Split;Luft;Mikro;Masse;KT
1;250;210;40/60;30/90;80/20;183;76,4 / 77,0 / 79,1
"""
    result = imported(log)
    assert codes(result) == []
    assert_cooks(result, {"program": TWO_STAGES, "mass_g": 183, "core_temperature_c": [76.4, 77, 79.1]})


def test_french_words_day_and_time_apart() -> None:
    log = """Essai;Date;Heure;T° four;Durée;Part 1;Air 1;MO 1;Part 2;Air 2;MO 2;Poids avant;Poids après;T° départ;T° à coeur;Repos;Couvert;Couleur;Texture;Jutosité;Dégustateur;Remarques
1;02/03/2026;10:15;250;210;40;30;80;60;90;20;183;160;4;76,4;120;oui;2,5;3;3;A;bien
1;02/03/2026;10:15;250;210;40;30;80;60;90;20;183;160;4;76,4;120;oui;3;3;3;B;bien
2;25/03/2026;11:15;250;210;40;30;80;60;90;20;181;160;4;75,4;120;non;3;3;3;A;
"""
    result = imported(log)
    assert codes(result) == ["time_zone"]
    assert result.questions[0].choices[0] == "Europe/Paris"
    result = imported(log, answers={"time_zone": "Europe/Paris"})
    common = {"program": TWO_STAGES, "start_temperature_c": 4, "rest_s": 120, "mass_out_g": 160}
    assert_cooks(
        result,
        {
            **common,
            "mass_g": 183,
            "core_temperature_c": [76.4],
            "rest_covered": True,
            "scores": marks(A=(2.5, 3, 3), B=(3, 3, 3)),
            "cooked_at": "2026-03-02T09:15:00Z",
            "note": "bien",
        },
        {
            **common,
            "mass_g": 181,
            "core_temperature_c": [75.4],
            "rest_covered": False,
            "scores": marks(A=(3, 3, 3)),
            "cooked_at": "2026-03-25T10:15:00Z",
        },
    )


def test_spanish_words_ask_for_the_order_of_day_and_month_and_for_the_zone() -> None:
    log = """Prueba;Fecha;Hora;Horno °C;Tiempo (s);Etapa 1 %;Aire 1;Microondas 1;Etapa 2 %;Aire 2;Microondas 2;Peso inicial;Peso final;Temp. inicial;Núcleo 1;Núcleo 2;Núcleo 3;Reposo;Tapado;Color;Textura;Jugosidad;Observaciones
1;02/03/2026;10:15;250;210;40;30;80;60;90;20;183;160;4;76,4;77;78;120;sí;2,5;3;3;bien
"""
    assert codes(imported(log)) == ["dates:1", "time_zone"]
    result = imported(log, answers={"dates": "day/month/year", "time_zone": "Europe/Madrid"})
    assert_cooks(
        result,
        {
            "program": TWO_STAGES,
            "mass_g": 183,
            "start_temperature_c": 4,
            "core_temperature_c": [76.4, 77, 78],
            "rest_s": 120,
            "rest_covered": True,
            "mass_out_g": 160,
            "scores": marks(panel=(2.5, 3, 3)),
            "cooked_at": "2026-03-02T09:15:00Z",
            "note": "bien",
        },
    )


def test_one_row_a_stage() -> None:
    log = """Cook,Stage,Share,Air,MW,Oven C,Secs,Mass g,Core C
1,1,40,30,80,250,210,183,76
1,2,60,90,20,250,210,183,76
2,1,50,30,80,250,210,180,77
2,2,50,90,20,250,210,180,77
"""
    result = imported(log)
    assert codes(result) == []
    assert_cooks(
        result,
        {"program": TWO_STAGES, "mass_g": 183, "core_temperature_c": [76]},
        {"program": program(250, 210, (50, 30, 80), (50, 90, 20)), "mass_g": 180, "core_temperature_c": [77]},
    )


def test_one_row_a_place_of_the_thermometer() -> None:
    log = """Cook,Oven C,Time s,Air,MW,Mass g,Place,Core C
1,250,210,50,60,183,left,76
1,250,210,50,60,183,centre,77
1,250,210,50,60,183,right,78
"""
    result = imported(log)
    places = ["left", "centre", "right"]
    assert_cooks(result, {"program": ONE_STAGE, "mass_g": 183, "core_temperature_c": [76, 77, 78], "probe_places": places})


def test_one_row_a_value() -> None:
    log = """cook,taster,attribute,value,unit
1,,air temperature,482,°F
1,,duration,210,s
1,,program,40% air 30 mw 80 | 60% air 90 mw 20,
1,,mass in,183,g
1,,core 1,76.4,°C
1,,core 2,77,°C
1,A,browning,2.5,
1,B,browning,3,
2,,air temperature,482,°F
2,,duration,210,s
2,,program,100% air 50 mw 60,
2,,mass in,181,g
2,,core 1,75.4,°C
"""
    result = imported(log)
    assert codes(result) == []
    assert_cooks(
        result,
        {
            "program": TWO_STAGES,
            "mass_g": 183,
            "core_temperature_c": [76.4, 77],
            "scores": [{"taster": "A", "browning": 2.5}, {"taster": "B", "browning": 3}],
        },
        {"program": ONE_STAGE, "mass_g": 181, "core_temperature_c": [75.4]},
    )


def test_one_column_a_cook() -> None:
    log = """parameter,1,2
Air temp °C,250,250
Duration s,210,210
Air speed %,50,50
MW %,60,60
Core 1,76,77
Mass g,180,181
Note,"a, b",
"""
    result = imported(log)
    assert codes(result) == []
    assert_cooks(
        result,
        {"program": ONE_STAGE, "mass_g": 180, "core_temperature_c": [76], "note": "a, b"},
        {"program": ONE_STAGE, "mass_g": 181, "core_temperature_c": [77]},
    )
    assert [one.line for one in result.cooks] == [2, 3]


def test_a_table_drawn_with_bars_and_one_lined_up_with_blanks() -> None:
    drawn = """| No | Air temp | Time | Air | MW | Core |
|---|---|---|---|---|---|
| 1 | 250 | 210 | 50 | 60 | 76.4 |
"""
    lined_up = """Cook   Air C   Time s   Air %   MW %   Core C
1      250     210      50      60     76.4
2      250     210      50      60     77.0
"""
    assert_cooks(imported(drawn), {"program": ONE_STAGE, "core_temperature_c": [76.4]})
    expected = [{"program": ONE_STAGE, "core_temperature_c": [value]} for value in (76.4, 77.0)]
    assert_cooks(imported(lined_up), *expected)


def test_titles_with_values_for_all_rows_sections_and_repeated_headings() -> None:
    log = """Cook log,,,,,
Date:,2026-03-02,,,,
Oven temp: 250 °C; Cook: R. Osei,,,,,
No,Time s,Air,MW,Mass g,Core C
First day,,,,,
1,210,50,60,183,76

2,210,50,60,181,77
No,Time s,Air,MW,Mass g,Core C
Second day,,,,,
3,210,50,60,180,75
"""
    result = imported(log, answers={"time_zone": "UTC"})
    expected = [
        {
            "program": ONE_STAGE,
            "mass_g": mass,
            "core_temperature_c": [core],
            "cook": "R. Osei",
            "cooked_at": "2026-03-02T00:00:00Z",
        }
        for mass, core in ((183, 76), (181, 77), (180, 75))
    ]
    assert_cooks(result, *expected)
    assert [row.line for row in result.skipped] == [5, 7, 9, 10]
    assert all("no time of day" in " ".join(one.remarks) for one in result.cooks)


def test_the_same_heading_several_times() -> None:
    log = """No,Oven C,Time s,Share,Air,MW,Share,Air,MW,Mass g,Core,Core,Core,Browning,Texture,Moisture,Browning,Texture,Moisture
1,250,210,40,30,80,60,90,20,183,76,77,78,2.5,3,3,3,3,3.5
"""
    scores = [{**score, "taster": str(number)} for number, score in enumerate(marks(a=(2.5, 3, 3), b=(3, 3, 3.5)), start=1)]
    assert_cooks(imported(log), {"program": TWO_STAGES, "mass_g": 183, "core_temperature_c": [76, 77, 78], "scores": scores})


def test_names_of_tasters_that_mean_something_else_too() -> None:
    log = """No,Oven C,Time s,Air,MW,Core C,Browning Mark,Browning Grant,Texture (M. Kern),Texture (R. Osei),Mean browning
1,250,210,50,60,76,2.5,3,3,3.5,2.75
"""
    result = imported(log)
    assert [(score.taster, score.browning, score.texture) for score in result.cooks[0].cook.scores or ()] == [
        ("Mark", 2.5, None),
        ("Grant", 3, None),
        ("M. Kern", None, 3),
        ("R. Osei", None, 3.5),
    ]


def test_tasters_by_letter_below_each_attribute() -> None:
    log = """Cook,Air C,Sec,Air %,MW %,Core C,Browning,,,Texture,,,Moisture,,
,,,,,,A,B,C,A,B,C,A,B,C
1,250,210,50,60,76,3,3,2.5,3,3,3,3,3.5,3
"""
    scores = marks(A=(3, 3, 3), B=(3, 3, 3.5), C=(2.5, 3, 3))
    assert_cooks(imported(log), {"program": ONE_STAGE, "core_temperature_c": [76], "scores": scores})


def test_several_marks_in_one_cell() -> None:
    by_taster = """Cook,Air °C,s,Air %,MW %,Core °C,Browning,Texture,Moisture
1,250,210,50,60,76,A:2.5 B:3,A:3 B:3,A:3 B:3.5
"""
    all_in_one = """Cook;Air °C;s;Air %;MW %;Core °C;Scores (browning/texture/moisture)
1;250;210;50;60;76;A 2,5/3/3 | B 3/3/3,5
"""
    expected = {"program": ONE_STAGE, "core_temperature_c": [76], "scores": marks(A=(2.5, 3, 3), B=(3, 3, 3.5))}
    assert_cooks(imported(by_taster), expected)
    assert_cooks(imported(all_in_one), expected)


def test_marks_in_words() -> None:
    log = """No,Oven C,Time s,Air,MW,Core,Browning,Texture,Moisture
1,250,210,50,60,76,too pale,just right,just right
2,250,210,50,60,76,just right,too firm,much too dry
"""
    expected = [{"program": ONE_STAGE, "core_temperature_c": [76], "scores": marks(panel=m)} for m in ((2, 3, 3), (3, 4, 1))]
    assert_cooks(imported(log), *expected)


def test_shortened_german_headings_under_groups() -> None:
    log = """Versuch;Programm;;;;;;;;Portion;;;Kern [°C];;;Panel;;;;;
;Luft °C;Dauer s;St. 1 %;Luft 1;MW 1;St. 2 %;Luft 2;MW 2;roh g;gegart g;Start °C;links;Mitte;rechts;Br. A;Tex. A;Saft. A;Br. B;Tex. B;Saft. B
1;250;210;40;30;80;60;90;20;183,2;160,4;4,1;76,4;77,0;79,1;2,5;3;3;3;3;3,5
"""
    result = imported(log)
    assert codes(result) == []
    assert_cooks(
        result,
        {
            "program": TWO_STAGES,
            "mass_g": 183.2,
            "start_temperature_c": 4.1,
            "core_temperature_c": [76.4, 77, 79.1],
            "probe_places": ["links", "Mitte", "rechts"],
            "mass_out_g": 160.4,
            "scores": marks(A=(2.5, 3, 3), B=(3, 3, 3.5)),
        },
    )


def test_a_second_table_below_holds_the_scores() -> None:
    log = """Cook,Oven C,Time s,Air,MW,Mass g,Core
1,250,210,50,60,183,76
2,250,210,50,60,181,77

Cook,Taster,Browning,Texture,Moisture
1,A,2.5,3,3
1,B,3,3,3
2,A,3,3,3
"""
    assert_cooks(
        imported(log),
        {"program": ONE_STAGE, "mass_g": 183, "core_temperature_c": [76], "scores": marks(A=(2.5, 3, 3), B=(3, 3, 3))},
        {"program": ONE_STAGE, "mass_g": 181, "core_temperature_c": [77], "scores": marks(A=(3, 3, 3))},
    )


def test_columns_that_look_like_measures_but_are_none_are_left_out() -> None:
    log = """No,Time in,Time out,Air,Fan,MW,Cook time s,Mass g,Tray mass g,Core end,Core after rest,Core target,Surface temp,Room temp,Core MW,Core delta
1,10:15,10:19,250,50,60,210,183,400,79,76,74,120,22,76,72
2,10:35,10:39,250,50,60,210,181,400,80,77,74,121,22,77,73
"""
    result = imported(log)
    assert codes(result) == []
    assert_cooks(
        result,
        {"program": ONE_STAGE, "mass_g": 183, "core_temperature_c": [76]},
        {"program": ONE_STAGE, "mass_g": 181, "core_temperature_c": [77]},
    )


def test_everything_else_a_cook_can_hold() -> None:
    log = """Cook,Date,Time,Oven C,Secs,Air,MW,Core C,Thermometer checked,Load,Lot,Cook's name,Serving age s,Since last cook,Purpose,Oven serial
1,2026-03-02,10:15,250,210,50,60,76,07:40,2,007,R. Osei,60,10:00,confirmation,1e5
"""
    assert_cooks(
        imported(log, answers={"time_zone": "UTC+1"}),
        {
            "program": ONE_STAGE,
            "core_temperature_c": [76],
            "cooked_at": "2026-03-02T09:15:00Z",
            "thermometer_checked_at": "2026-03-02T06:40:00Z",
            "load": 2,
            "lot": "007",
            "cook": "R. Osei",
            "serving_age_s": 60,
            "seconds_since_last_cook": 600,
            "purpose": "confirm",
            "oven_serial": "1e5",
        },
    )


def test_the_names_of_our_own_documents() -> None:
    log = """program,mass_g,start_temperature_c,core_temperature_c,rest_s,rest_covered,mass_out_g,cooked_at,cook,purpose
"{""air_temperature_c"": 250, ""duration_s"": 210, ""stages"": [{""share_pct"": 100, ""air_speed_pct"": 50, ""microwave_pct"": 60}]}",183,4.6,"[76.4, 77.0, 79.1]",120,true,160.2,2026-03-02T10:15:00Z,R. Osei,search
"""
    assert_cooks(
        imported(log),
        {
            "program": ONE_STAGE,
            "mass_g": 183,
            "start_temperature_c": 4.6,
            "core_temperature_c": [76.4, 77, 79.1],
            "rest_s": 120,
            "rest_covered": True,
            "mass_out_g": 160.2,
            "cooked_at": "2026-03-02T10:15:00Z",
            "cook": "R. Osei",
            "purpose": "search",
        },
    )


@pytest.mark.parametrize(
    "cell",
    [
        "40% air 30 mw 80 | 60% air 90 mw 20",
        "84s air 30 mw 80 / 126 s air 90 mw 20",
        "1:24 A30 M80; 2:06 A90 M20",
        "S1 40% F30 MW80 - S2 60% F90 MW20",
        "40% Luft 30 % MW 80 % + 60% Luft 90 % MW 20 %",
        "30% air + 80% mw for 84s; 90% air + 20% mw for 126s",
        "mw80 air30 40%|mw20 air90 60%",
        "air 30/90 mw 80/20 split 40/60",
        "air 30→90, mw 80→20, split 40/60",
        "Stage 1: 40%, air 30, MW 80. Stage 2: 60%, air 90, MW 20",
        "40 % V30 MO80 puis 60 % V90 MO20",
        "S1 (0-84s): air 30 mw 80; S2 (84-210s): air 90 mw 20",
        "0.4 air 30 mw 80 | 0.6 air 90 mw 20",
        "40% air 0.3 mw 0.8 | 60% air 0.9 mw 0.2",
        "250 °C, 210 s: 40% air 30 mw 80 | 60% air 90 mw 20",
    ],
)
def test_stages_written_with_words_need_no_question(cell: str) -> None:
    result = imported(f"No;Oven C;Time s;Stages;Core C\n1;250;210;{cell.replace(';', ' | ')};76\n")
    assert codes(result) == []
    assert_cooks(result, {"program": TWO_STAGES, "core_temperature_c": [76]})


@pytest.mark.parametrize(
    "cell",
    [
        "40% 30/80 | 60% 90/25",
        "40/30/80 | 60/90/25",
        "40-30-80 60-90-25",
        "(40,30,80)(60,90,25)",
        "84/30/80 126/90/25",
        "30/80 84s then 90/25 126s",
    ],
)
def test_bare_pairs_are_asked_about_unless_the_heading_tells_their_order(cell: str) -> None:
    log = f"No\tOven C\tTime s\tStages\tCore C\n1\t250\t210\t{cell}\t76\n"
    asked = imported(log)
    assert codes(asked) == ["order:3"]
    assert asked.cooks == ()
    expected = {"program": program(250, 210, (40, 30, 80), (60, 90, 25)), "core_temperature_c": [76]}
    assert_cooks(imported(log, answers={"order": "air / microwave"}), expected)
    other = {"program": program(250, 210, (40, 80, 30), (60, 25, 90)), "core_temperature_c": [76]}
    assert_cooks(imported(log, answers={"order": "microwave / air"}), other)
    told = imported(log.replace("Stages", "Stages (air/mw)"))
    assert codes(told) == []
    assert_cooks(told, expected)


def test_three_bare_numbers_of_which_two_add_up_to_a_hundred_are_asked_about_as_a_whole() -> None:
    log = "No\tOven C\tTime s\tStages\tCore C\n1\t250\t210\t40/30/80 60/90/20\t76\n"
    asked = imported(log)
    assert asked.questions[0].choices[0] == "share / air / microwave"
    answered = imported(log, answers={"order": "share / air / microwave"})
    assert_cooks(answered, {"program": TWO_STAGES, "core_temperature_c": [76]})


def test_stage_times_a_hair_off_because_the_minutes_were_rounded_still_lie_on_the_oven_s_steps() -> None:
    heading = "No,Oven [°C],Duration [min]," + ",".join(
        f"Stage share {n} [s],Stage air {n} [%],Stage MW {n} [%]" for n in (1, 2, 3)
    )
    result = imported(f"{heading},Mass [g],Core [°C]\n1,200,4.1667,12,10,0,26,10,0,212,10,0,180,76\n")
    assert [stage.share_pct for one in result.cooks for stage in one.cook.program.stages] == [5, 10, 85]
