"""The invented brief and oven that the logs were kept for."""

from __future__ import annotations

from tuner.domain import Brief, Oven

OVEN = Oven.model_validate(
    {
        "name": "Test kitchen left",
        "serial": "TK-1",
        "air_temperature_c": {"low": 200, "high": 270, "step": 5},
        "air_speed_pct": {"low": 10, "high": 100, "step": 5},
        "microwave_pct": {"low": 0, "high": 100, "step": 5},
        "duration_s": {"low": 20, "high": 1200, "step": 5},
        "share_step_pct": 5,
        "max_stages": 5,
        "microwave_rated_w": 1500,
        "air_speed_max_m_s": 22,
    }
)
BRIEF = Brief.model_validate(
    {
        "dish": "Glazed chicken thigh",
        "food_class": "poultry",
        "portion": {
            "mass_g": 180,
            "shape": "slab",
            "thickness_mm": 28,
            "water": 0.7,
            "fat": 0.08,
            "protein": 0.19,
            "carbohydrate": 0.02,
            "ash": 0.01,
            "start_state": "chilled",
            "start_temperature_c": 4,
        },
        "conventional": {"method": "oven", "oven_temperature_c": 190, "duration_s": 1500},
        "targets": {"core_temperature_c": {"low": 74, "high": 84}, "browning": {"low": 2.5, "high": 3.5}},
        "rest_s": 120,
    }
)
