"""What headings name, in the languages kitchens write them."""

from __future__ import annotations

import pytest

from tuner.exchange.fields import FIELDS, RULES, candidates
from tuner.exchange.heading_words import said, things_of

_HEADINGS = """
cook_id: Cook # | No | Nr. | Test Nr. | Run | Versuch | Essai | n° essai | Prueba
air_temperature: Air temp | Oven temperature (°F) | Cavity | Garraumtemperatur | Ofentemp. | T° four | Temp. horno | air_temperature_c | Set temp
duration: Duration | Cook time | Total time [mm:ss] | Garzeit | Dauer | Durée | Tiempo total | duration_s
mass_in: Mass g | Weight in (oz) | Raw weight | Gewicht vorher | Einwaage | Poids cru | Masse avant cuisson | Peso inicial | mass_g
mass_out: Mass out | Cooked weight | Gewicht nachher | Auswaage | Poids après | Peso final | Weight after rest | mass_out_g
start_temperature: Start temp | Initial temperature | Anfangstemperatur | T° départ | Temperatura inicial | start_temperature_c
core: Core | Core temp F | Kern [°C] | Kerntemperatur 1 | KT | Température à coeur | Núcleo 2 | Internal temp | Final temp | Probe 1 °C
rest: Rest | Rest time | Ruhezeit | Repos (s) | Standing time | Reposo
rest_covered: Covered | Lid | abgedeckt | Couvert | Tapado | Rest covered?
browning: Browning A | Colour | Bräunung | Couleur | Color | Browing
texture: Texture | Firmness | Textur B | Textura | Biss
moisture: Moisture | Juiciness | Saftigkeit | Jutosité | Jugosidad | Humedad A
taster: Taster | Panelist | Prüfer | Dégustateur | Catador
stage_share: S1 share | Stage 1 % | Anteil 1 | Part 1 % | Stage 2 time s | stage_1_share_pct | % Time 1
stage_air: Air 1 | Fan speed % | S2 air | Luft 1 | Lüfter 2 | Vent. 1 | Aire 1
stage_microwave: MW 1 | Microwave 2 % | Mikrowelle 1 | MO 1 | Microondas 2 | Power % | Mikro 2
loss: Loss % | Cook loss | Garverlust | Perte % | Pérdida
note: Notes | Comments | Bemerkung | Remarques | Observaciones
cooked_at: Date/Time | Cooked at | Datum/Uhrzeit
cooked_on: Date | Datum | Fecha
thermometer_checked_at: Thermometer checked at
completed: Completed?
purpose: Purpose | Zweck
cook_name: Cook's name | Operator
computed: Mean core | Ø Kern | Kern MW | Browning avg | Total score
ignore: Core target | Room temp | Tray weight | Time out | Surface temp | Core before rest
"""
_CASES = [
    (name, heading.strip())
    for line in _HEADINGS.strip().splitlines()
    for name, _, listed in [line.partition(":")]
    for heading in listed.split(" | ")
]


@pytest.mark.parametrize(("name", "heading"), _CASES, ids=[heading for _, heading in _CASES])
def test_a_heading_names_its_field(name: str, heading: str) -> None:
    from tuner.exchange.column_hearing import heard_from
    from tuner.exchange.table import Column

    found = candidates(heard_from(Column("", 1, (), heading, False)))
    assert found
    assert found[0][0] == name


@pytest.mark.parametrize("heading", ["Foo", "Garnish", "Ticket", "xyz 3", ""])
def test_a_heading_of_unknown_words_names_nothing(heading: str) -> None:
    assert candidates(said(heading)) == ()


@pytest.mark.parametrize(
    ("heading", "unit"),
    [
        ("Kern [°F]", "°F"),
        ("Core temp F", "°F"),
        ("Gewicht g", "g"),
        ("Weight (oz)", "oz"),
        ("Zeit in Sekunden", "s"),
        ("Garraum in °C", "°C"),
        ("mwPct", "%"),
        ("Duration/s", "s"),
        ("Rest mm:ss", "mm:ss"),
        ("Core min", ""),
        ("Texture 1-5", ""),
    ],
)
def test_units_in_headings(heading: str, unit: str) -> None:
    assert said(heading).unit == unit


@pytest.mark.parametrize(
    ("heading", "scale"),
    [("Browning (1-10)", (1, 10)), ("Texture /10", (1, 10)), ("Moisture 0-100", (0, 100)), ("Core 1", None)],
)
def test_scales_in_headings(heading: str, scale: tuple[int, int] | None) -> None:
    assert said(heading).scale == scale


def test_compounds_and_slips_of_the_pen_are_understood() -> None:
    assert things_of("kerntemperatur") == {"core", "temp"}
    assert things_of("mikrowellenleistung") == {"microwave", "power"}
    assert things_of("temprature") == {"temp"}
    assert things_of("garnish") == frozenset()


def test_every_rule_names_a_field_that_exists() -> None:
    assert {name for name, _, _ in RULES} <= set(FIELDS)


def test_every_phrase_stands_for_words_that_are_known() -> None:
    from tuner.exchange.phrases import PHRASES

    assert all(things_of(word) for _, meaning in PHRASES for word in meaning.split())
