"""The physics' uncertain numbers in a chef's words."""

from __future__ import annotations

from tuner.learning.unknowns import UNKNOWNS

_FURTHER = {
    "browning_energy": "how steeply browning grows with the skin's temperature",
    "drying_capacity": "how much water the crust gives off before it dries",
    "refill_time": "how fast moisture comes back into the crust",
    "evaporation_factor": "how much the cavity's air lets evaporate",
    "pumped_share": "how much water boiling inside pushes into the crust",
    "drip_factor": "how much juice heat sets free",
    "browning_shift": "where the panel calls the colour just right",
    "browning_slope": "how sharply marks for colour follow browning",
    "texture_shift": "where the panel calls the texture just right",
    "texture_per_dose": "whether and how much heat makes it firmer",
    "texture_per_crust": "how much a dry crust counts as firm",
    "texture_per_loss": "how much lost juice counts as firm",
    "moisture_shift": "where the panel calls the moisture just right",
    "moisture_per_loss": "how much lost juice counts as dry",
    "moisture_per_crust": "how much a dry crust counts as dry",
    "loss_shift": "what the scale shows beside the physics' loss",
}


def words_for(name: str) -> str:
    """A parameter in words; its own name where there are none."""
    return UNKNOWNS.get(name) or _FURTHER.get(name) or name.replace("_", " ")
