"""What is known before any cook about one dish on one oven: shifted and narrowed priors of the parameters."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tuner.domain import Brief, Oven, Portion
from tuner.physics.convection import DEFAULT_TOP_SPEED_M_S, REFERENCE_SPEED_M_S
from tuner.physics.food import filled_make_up
from tuner.physics.microwave import DEFAULT_RATED_W, penetration_depth_mm
from tuner.physics.parameters import INDEX, PARAMETERS, to_theta

Array = NDArray[np.float64]

USUAL_CHECK_SHARE = 0.75
"""Watts into 1 kg of water over the rating, usually 0.5-0.95 (common practice, no source)."""

CHECK_SPREAD_LOG = 0.15
"""Spread of that share over ovens, as a logarithm: what a check of watts takes away."""

DRIFT_LOG = 0.03
"""An oven's watts move this much from day to day and from cold to hot (assumption), however exact the check."""

HOT_DROP_LOG, HOT_DOUBT_LOG = 0.10, 0.05
"""A hot oven gives this much less than a cold one, and how much that differs between ovens, as logarithms: hot ovens lowered
the coldest point from a mean of 70.3 to 61.3 °C over 16 ovens (Swain et al. 2008, J Food Eng 87:11)."""

UNRATED_SPREAD_LOG = 0.35
"""Spread of the rating of an oven that does not tell it, as a logarithm (assumption: 700-3500 W)."""

_UNTOLD_ERROR = 0.03
"""Standard error of a check that does not tell it, over its watts (assumption; repeats should agree within 3 %)."""

_LARGEST_SHIFT_LOG = 1.2
"""Checks further than this from the rating plate or the correlation are not believed beyond it (0.3 to 3.3 times)."""

H_CHECK_SPREAD_LOG = 0.15
"""From h measured on a block to h on a portion, as a logarithm (assumption)."""

AIR_CHECK_SPREAD_K = 4.0
"""From air measured once to air at the food during a cook [K] (assumption)."""


@dataclass(frozen=True, eq=False)
class Sharpened:
    """Mean and spread of every parameter in theta units, (P,)."""

    mean: Array
    sd: Array


class _Draft:
    """Priors being sharpened, parameter by parameter, in natural scale terms."""

    def __init__(self) -> None:
        self.mean = np.zeros(len(PARAMETERS))
        self.sd = np.ones(len(PARAMETERS))

    def set(self, name: str, centre: float, spread: float | None = None) -> None:
        """New natural centre, and new spread on the parameter's scale where given."""
        position = INDEX[name]
        self.mean[position] = to_theta(name, centre)
        if spread is not None:
            self.sd[position] = spread / PARAMETERS[position].spread


def _texture(draft: _Draft, brief: Brief, make_up: dict[str, float]) -> None:
    """Whether more cooking makes the dish firmer or softer: the chef knows; else the make-up suggests it."""
    if brief.texture_with_heat == "firmer":
        draft.set("texture_per_dose", 0.45, 0.20)
    elif brief.texture_with_heat == "softer":
        draft.set("texture_per_dose", -0.45, 0.20)
    elif make_up["protein"] > 0.12:
        draft.set("texture_per_dose", 0.40, 0.25)
    elif make_up["water"] > 0.80 and make_up["protein"] < 0.05:
        draft.set("texture_per_dose", -0.45, 0.25)


# Measured permittivities at 2.45 GHz near room temperature: carrot and potato (Datta & Ramaswamy 2001), raw beef (To et al.
# 1974), pork luncheon roll (Zhang et al. 2004), milk fat (Datta & Ramaswamy 2001).
_PLANT_MM = float(np.sqrt(penetration_depth_mm(56.0, 15.0) * penetration_depth_mm(57.0, 17.0)))
_MEAT_MM = penetration_depth_mm(52.5, 17.5)
_SALTED_MM = penetration_depth_mm(36.08, 17.14)
_FAT_MM = penetration_depth_mm(2.6, 0.2)
_RAW_TO_COOKED = 1.3
"""Raw to cooked: beef goes from 8 to 11 mm, and water's loss falls with temperature (Kaatze 1989)."""

_SALTED_FRACTION, _USUAL_SALT = 0.025, 0.008


def _salt(portion: Portion, make_up: dict[str, float]) -> float:
    """Salt [kg/kg]: told, or what ash exceeds that of unsalted food."""
    return portion.salt if portion.salt is not None else max(make_up["ash"] - 0.012, 0.0)


def likely_penetration_mm(portion: Portion) -> float:
    """Penetration depth expected while cooking [mm], from make-up and salt.

    Between plant and meat by protein, towards that of fat with the part of dry matter and fat (volume mean of the
    logarithms, at most a third of the way: fat in food is dispersed), and shorter with salt.
    """
    make_up = filled_make_up(portion)
    meat = min(make_up["protein"] / 0.2, 1.0)
    depth = _MEAT_MM**meat * _PLANT_MM ** (1.0 - meat) * _RAW_TO_COOKED
    dry = float(np.clip((0.70 - make_up["water"]) / 0.70, 0.0, 1.0)) / 3.0
    depth *= (_FAT_MM / depth) ** dry
    salty = (_salt(portion, make_up) - _USUAL_SALT) / (_SALTED_FRACTION - _USUAL_SALT)
    return float(depth * (_SALTED_MM / _MEAT_MM) ** float(np.clip(salty, 0.0, 3.0)))


def _food(draft: _Draft, brief: Brief) -> None:
    make_up = filled_make_up(brief.portion)
    _texture(draft, brief, make_up)
    draft.set("penetration_depth", float(np.clip(likely_penetration_mm(brief.portion), 5.0, 25.0)))


def _watts(draft: _Draft, oven: Oven) -> None:
    """The rating plate is a prior of the watts into water; checks, weighed by their standard errors, are the evidence.

    The coupled share is the watts into water over the rating times what a portion takes of them; only the first is checked.
    """
    parameter = PARAMETERS[INDEX["coupled_share"]]
    rated = oven.microwave_rated_w or DEFAULT_RATED_W
    plate = CHECK_SPREAD_LOG if oven.microwave_rated_w is not None else UNRATED_SPREAD_LOG
    portion_variance = parameter.spread**2 - CHECK_SPREAD_LOG**2
    precision, weighed = plate**-2, 0.0
    for check in oven.checks or ():
        if check.watts_w is None:
            continue
        error = _UNTOLD_ERROR if check.standard_error_w is None else check.standard_error_w / check.watts_w
        drop, doubt = (HOT_DROP_LOG, HOT_DOUBT_LOG) if check.hot else (0.0, 0.0)
        weight = 1.0 / (error**2 + DRIFT_LOG**2 + doubt**2)
        precision += weight
        weighed += weight * (float(np.log(check.watts_w / (USUAL_CHECK_SHARE * rated))) + drop)
    shift = float(np.clip(weighed / precision, -_LARGEST_SHIFT_LOG, _LARGEST_SHIFT_LOG))
    draft.set("coupled_share", parameter.centre * float(np.exp(shift)), (portion_variance + 1.0 / precision) ** 0.5)


def _air(draft: _Draft, oven: Oven) -> None:
    """Checks of h at full air speed shift and narrow h; checks of the air's temperature its offset."""
    checks = oven.checks or ()
    jet = PARAMETERS[INDEX["h_jet"]]
    still = PARAMETERS[INDEX["h_still"]].centre
    speed = oven.air_speed_max_m_s or DEFAULT_TOP_SPEED_M_S
    factor = (speed / REFERENCE_SPEED_M_S) ** PARAMETERS[INDEX["h_exponent"]].centre
    measured_h = [check.h_w_m2k for check in checks if check.h_w_m2k is not None]
    if measured_h:
        full = float(np.exp(np.mean(np.log(measured_h))))
        shift = float(np.log(max(full - still, 0.3 * full) / factor / jet.centre))
        shift = float(np.clip(shift, -_LARGEST_SHIFT_LOG, _LARGEST_SHIFT_LOG))
        draft.set("h_jet", jet.centre * float(np.exp(shift)), H_CHECK_SPREAD_LOG)
    elif oven.air_speed_max_m_s is None:
        draft.set("h_jet", jet.centre, (jet.spread**2 + 0.25**2) ** 0.5)
    offsets = _offsets(oven)
    if offsets:
        offset = PARAMETERS[INDEX["air_offset"]]
        noise = AIR_CHECK_SPREAD_K**2 / len(offsets)
        weight = offset.spread**2 / (offset.spread**2 + noise)
        mean = float(np.mean(offsets))
        draft.set("air_offset", offset.centre + weight * (mean - offset.centre), (weight * noise) ** 0.5)


def _offsets(oven: Oven) -> list[float]:
    """True air less the setting in each check.

    A check tells the air it measured but not the setting; it is read against the oven's nearest settable temperature, and
    only where that leaves no doubt: a fixed setting, or measured within 40 K above or below the range's only candidates.
    """
    setting = oven.air_temperature_c
    measured = [check.air_temperature_c for check in oven.checks or () if check.air_temperature_c is not None]
    if setting.count == 1:
        return [float(np.clip(value - setting.low, -40.0, 40.0)) for value in measured]
    # Checks are made at full heat where the setting is not told (assumption); a reading far below it says nothing.
    top = setting.at(setting.count - 1)
    return [value - top for value in measured if abs(value - top) <= 40.0]


def sharpened(brief: Brief, oven: Oven) -> Sharpened:
    """Priors for one dish on one oven, in theta units."""
    draft = _Draft()
    _food(draft, brief)
    _watts(draft, oven)
    _air(draft, oven)
    draft.mean.setflags(write=False)  # shared by everyone who asks for the same model
    draft.sd.setflags(write=False)
    return Sharpened(draft.mean, draft.sd)
