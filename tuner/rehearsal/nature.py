"""The hidden nature of a dish: what a kitchen knows only by cooking it.

All numbers are invented for rehearsal; they are chosen so that what a program does lies where the trade's experience lies
(common practice, no source). Six compartments stand for a portion, see `network`.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Body:
    """How the mass is shared out and how the compartments touch.

    Attributes
    ----------
    skin, base, pocket, rim, heart
        Shares of the mass; the mantle holds the rest.
    exposed
        Area under the air, as a multiple of volume / thickness.
    rim_area
        Area of the rim under the air, same multiple.
    density_kg_m3
        Mass by volume.
    conduction
        Factor on the conduction between compartments.
    """

    skin: float
    base: float
    pocket: float
    rim: float
    heart: float
    exposed: float
    rim_area: float
    density_kg_m3: float
    conduction: float


@dataclass(frozen=True, slots=True)
class Absorption:
    """How compartments share the microwave.

    Attributes
    ----------
    half_depth_mm
        Depth at which the heart takes half as much by mass as the mantle.
    rim_excess, pocket_excess
        What the rim and the hot pocket take, as multiples of the mantle's.
    runaway
        Rise of the pocket's absorption over 80 K: a warm spot takes ever more.
    warming
        Change of the others' absorption over 80 K.
    frozen
        Absorption of ice-bound food against thawed.
    """

    half_depth_mm: float
    rim_excess: float
    pocket_excess: float
    runaway: float
    warming: float
    frozen: float


@dataclass(frozen=True, slots=True)
class Crust:
    """The drying front under the surface.

    Attributes
    ----------
    water_kg_m3
        Water that must leave a volume before it counts as dry.
    conductivity_w_mk
        Of the dried layer.
    evaporation_at_c, evaporation_width_c
        Front temperature at which half of the arriving heat evaporates water, and how fast that share grows.
    refill
        Share of the water pressed or steamed outward that wets the front again.
    push_kg_m2
        Liquid water that microwave drives to the surface once the inside is warm [kg/m2 for each kJ/kg].
    film_kg_m2
        Most water that stays on the surface.
    softening_s
        Time constant with which a resting crust takes up the inside's moisture, uncovered.
    skin_below_c
        Mantle temperature below which drying leaves a leathery skin.
    """

    water_kg_m3: float
    conductivity_w_mk: float
    evaporation_at_c: float
    evaporation_width_c: float
    refill: float
    push_kg_m2: float
    film_kg_m2: float
    softening_s: float
    skin_below_c: float


@dataclass(frozen=True, slots=True)
class Browning:
    """Two steps to colour: precursor to intermediate (needs a dry crust), intermediate to pigment.

    Attributes
    ----------
    first_per_s, second_per_s
        Rates at 150 °C of the crust.
    first_doubling_c, second_doubling_c
        Temperature step that doubles each rate.
    half_dry_mm
        Dried depth at which the first step runs at half its pace.
    """

    first_per_s: float
    second_per_s: float
    first_doubling_c: float
    second_doubling_c: float
    half_dry_mm: float


@dataclass(frozen=True, slots=True)
class States:
    """Three states in sequence: native, set, overdone, with the firmness and the water each costs.

    Attributes
    ----------
    set_at_c, over_at_c
        Temperatures at which the two changes run at 0.03 and 0.006 per second.
    doubling_c
        Temperature step that doubles both rates.
    firmness
        Of native, set and overdone food (0 is what the set state feels like).
    drip
        Share of the mass pressed out by the first and the second change.
    """

    set_at_c: float
    over_at_c: float
    doubling_c: float
    firmness: tuple[float, float, float]
    drip: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Pressure:
    """Microwave power that turns to steam before the inside boils, and presses water outward.

    Attributes
    ----------
    half_at_c
        Temperature of a compartment at which half of its microwave power makes steam.
    width_c
        How fast that share grows around it.
    """

    half_at_c: float
    width_c: float


@dataclass(frozen=True, slots=True)
class Senses:
    """What mouths make of it: weights of the parts of firmness and of juiciness.

    Attributes
    ----------
    crisp, leather, sog, toughening
        Firmness per mm of dried depth, per kg/m2 dried over a cold inside, per mm of wet depth (taken off), and per 10 % of the
        mass that left the inside as steam.
    edges
        Firmness of a rim that has boiled dry; half as much dryness.
    contrast
        Firmness of a crisp crust over a fully juicy inside.
    loss, dry_crust, skin, film
        Dryness per 10 % of the mass that left the inside, per mm of dried depth, per kg/m2 of skin; wetness per mm of wet
        depth.
    parched, halo
        Dryness per square of what is lost beyond a point, and per square of what looks too dark.
    fade
        Share of the colour that a soaked crust hides.
    """

    crisp: float
    leather: float
    sog: float
    toughening: float
    edges: float
    contrast: float
    loss: float
    dry_crust: float
    skin: float
    film: float
    parched: float
    halo: float
    fade: float


@dataclass(frozen=True, slots=True)
class Variation:
    """Standard deviations from portion to portion.

    Mass [%], thickness [%], start [K], water [points], pick-up of microwave, by the whole and by its
    hot pocket [%], readiness of the surface to brown [%].
    """

    mass_pct: float
    thickness_pct: float
    start_c: float
    water_pct: float
    pickup_pct: float
    pattern_pct: float
    surface_pct: float


@dataclass(frozen=True, slots=True)
class Nature:
    """All that is hidden about a dish."""

    body: Body
    absorption: Absorption
    crust: Crust
    browning: Browning
    states: States
    pressure: Pressure
    senses: Senses
    variation: Variation
