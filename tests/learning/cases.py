"""Briefs, ovens and cooks for the tests of learning: one plain case, and any number of random legal ones."""

from __future__ import annotations

from typing import Any

import numpy as np

import tuner

PLAIN_OVEN = {
    "name": "Test kitchen left",
    "air_temperature_c": {"low": 200, "high": 270, "step": 5},
    "air_speed_pct": {"low": 10, "high": 100, "step": 5},
    "microwave_pct": {"low": 0, "high": 100, "step": 5},
    "duration_s": {"low": 20, "high": 1200, "step": 5},
    "share_step_pct": 5,
    "max_stages": 5,
    "microwave_rated_w": 1500,
    "air_speed_max_m_s": 22,
}
PLAIN_BRIEF = {
    "dish": "Turkey escalope with herbs",
    "food_class": "poultry",
    "portion": {
        "mass_g": 180, "shape": "slab", "thickness_mm": 28, "water": 0.70, "fat": 0.08, "protein": 0.19,
        "carbohydrate": 0.02, "ash": 0.01, "start_state": "chilled", "start_temperature_c": 4,
    },
    "conventional": {"method": "oven", "oven_temperature_c": 190, "duration_s": 1500},
    "targets": {
        "core_temperature_c": {"low": 74, "high": 86},
        "browning": {"low": 2.5, "high": 3.5},
        "texture": {"low": 2.5, "high": 3.5},
        "moisture": {"low": 2.5, "high": 3.5},
        "cook_loss_pct": {"low": 0, "high": 18},
        "duration_s": {"low": 0, "high": 300},
    },
    "critical_limit": {
        "core_temperature_c": 74, "rest_s": 120, "covered": True, "guard_c": 2, "rule": "a rule", "approved_by": "AB",
    },
    "rest_s": 120,
}  # fmt: skip


def oven(**changes: Any) -> tuner.Oven:
    return tuner.Oven.model_validate({**PLAIN_OVEN, **changes})


def brief(**changes: Any) -> tuner.Brief:
    return tuner.Brief.model_validate({**PLAIN_BRIEF, **changes})


def brief_with_targets(**targets: Any) -> tuner.Brief:
    return brief(targets={name: window for name, window in {**PLAIN_BRIEF["targets"], **targets}.items() if window})


def program(
    air_temperature_c: float = 250, duration_s: float = 210, stages: Any = ((40, 30, 80), (60, 90, 20))
) -> tuner.Program:
    return tuner.Program.model_validate(
        {
            "air_temperature_c": air_temperature_c,
            "duration_s": duration_s,
            "stages": [{"share_pct": s, "air_speed_pct": a, "microwave_pct": m} for s, a, m in stages],
        }
    )


def cook(
    of: tuner.Program | None, core: float | None = 79.0, loss: float | None = 12.0, marks: Any = (3, 3, 3), **more: Any
) -> tuner.TestCook:
    """A cook whose lowest reading is `core`; `marks` are browning, texture, moisture of four tasters, or None."""
    mass = more.pop("mass_g", 181.0)
    document: dict[str, Any] = {
        "program": None if of is None else of.model_dump(mode="json"),
        "mass_g": mass, "start_temperature_c": 4.4, "rest_s": 120, "rest_covered": True, "completed": True,
        "purpose": "search",
    }  # fmt: skip
    if core is not None:
        document["core_temperature_c"] = [core, core + 0.6, core + 1.5]
    if loss is not None and mass is not None:
        document["mass_out_g"] = mass * (1 - loss / 100)
    if marks is not None:
        names = ("browning", "texture", "moisture")
        document["scores"] = [
            {"taster": who, **{n: float(np.clip(m + shift, 1, 5)) for n, m in zip(names, marks)}}
            for who, shift in (("A", 0), ("B", 0.5), ("C", 0), ("D", -0.5))
        ]
    document.update(more)
    return tuner.TestCook.model_validate({k: v for k, v in document.items() if v is not None or k == "program"})


def _setting(
    rng: np.random.Generator, low: tuple[float, float], width: tuple[float, float], steps: Any, top: float
) -> dict[str, float]:
    start = float(rng.choice(np.arange(low[0], low[1] + 1)))
    if rng.random() < 0.12:
        return {"low": start, "high": start}
    high = min(top, round(start + float(rng.uniform(*width)), 1))
    return {"low": start, "high": max(high, start), "step": float(rng.choice(steps))}


def random_oven(rng: np.random.Generator) -> tuner.Oven:
    """Any legal oven: odd ranges, fixed settings, coarse and fine steps of shares, one stage to eight."""
    document: dict[str, Any] = {
        "name": f"Oven {rng.integers(1000)}",
        "air_temperature_c": _setting(rng, (120, 230), (10, 90), (1, 5, 7, 10), 300),
        "air_speed_pct": _setting(rng, (0, 40), (10, 60), (1, 5, 7, 25), 100),
        "microwave_pct": _setting(rng, (0, 30), (20, 70), (1, 5, 10, 33), 100),
        "duration_s": {
            "low": float(rng.integers(5, 60)),
            "high": float(rng.integers(300, 1800)),
            "step": float(rng.choice([1, 5, 7, 30])),
        },
        "share_step_pct": float(rng.choice([1, 2.5, 5, 10, 20, 25, 50, 100])),
        "max_stages": int(rng.integers(1, 9)),
    }
    if rng.random() < 0.5:
        document["microwave_rated_w"] = float(rng.integers(700, 3500))
        document["air_speed_max_m_s"] = float(rng.integers(5, 30))
    if rng.random() < 0.3:
        document["min_stage_s"] = float(rng.integers(3, 60))
    if rng.random() < 0.3:
        document["serial"] = "S1"
    return tuner.Oven.model_validate(document)


_STARTS = {"frozen": (-25, -12), "tempered": (-6, -1), "chilled": (0, 8), "ambient": (15, 25)}
_CLASSES = ("poultry", "ground_meat", "whole_muscle", "fish", "egg", "stuffed", "reheated", "plant", "bakery")


def _random_targets(rng: np.random.Generator) -> dict[str, dict[str, float]]:
    full = {
        "core_temperature_c": {"low": float(rng.integers(55, 80)), "high": float(rng.integers(82, 97))},
        **{name: {"low": 2.5, "high": float(rng.choice([3.25, 3.5, 4.0]))} for name in ("browning", "texture", "moisture")},
        "cook_loss_pct": {"low": float(rng.integers(-5, 3)), "high": float(rng.integers(6, 30))},
        "duration_s": {"low": float(rng.integers(0, 60)), "high": float(rng.integers(120, 900))},
    }
    targets = {name: window for name, window in full.items() if rng.random() < 0.8}
    for window in targets.values():
        if rng.random() < 0.2:
            window.pop("low" if rng.random() < 0.5 else "high")
    return targets


def random_brief(rng: np.random.Generator) -> tuner.Brief:
    """Any legal brief, from no targets at all to all of them, one-sided or out of reach."""
    state = str(rng.choice(list(_STARTS)))
    water = float(rng.uniform(0.1, 0.85))
    rest = 1 - water - 0.01
    split = rng.dirichlet([1, 1, 1]) * rest
    document: dict[str, Any] = {
        "dish": f"Dish {rng.integers(1000)}",
        "food_class": str(rng.choice(_CLASSES)),
        "portion": {
            "mass_g": float(rng.integers(30, 800)), "shape": str(rng.choice(["slab", "cylinder", "sphere", "loose"])),
            "thickness_mm": float(rng.integers(6, 70)), "water": round(water, 3), "fat": round(float(split[0]), 3),
            "protein": round(float(split[1]), 3), "carbohydrate": round(float(split[2]), 3), "ash": 0.01, "start_state": state,
            "start_temperature_c": float(rng.integers(*_STARTS[state])),
        },
        "targets": _random_targets(rng),
        "rest_s": float(rng.choice([0, 60, 120])),
        "confirmation_cooks": int(rng.integers(1, 6)),
        "tasters": int(rng.integers(1, 8)),
        "places": int(rng.integers(1, 6)),
    }  # fmt: skip
    if rng.random() < 0.6:
        document["conventional"] = {"method": "oven", "oven_temperature_c": 190, "duration_s": float(rng.integers(300, 3600))}
    if rng.random() < 0.3:
        document["critical_limit"] = {"none": True, "rule": "cooked before", "approved_by": "AB"}
    return tuner.Brief.model_validate(document)


def random_program(rng: np.random.Generator, of: tuner.Oven, legal_steps: bool = True) -> tuner.Program:
    """Some program of an oven, or one off its steps."""
    parts = of.share_parts
    stages = int(rng.integers(1, min(of.max_stages, parts, 4) + 1))
    cuts = np.sort(rng.choice(np.arange(1, parts), size=stages - 1, replace=False)) if stages > 1 else np.array([], dtype=int)
    shares = np.diff([0, *cuts, parts]) * (100.0 / parts)
    shift = 0.0 if legal_steps else 0.37
    return program(
        of.air_temperature_c.at(int(rng.integers(of.air_temperature_c.count))) + shift,
        of.duration_s.at(int(rng.integers(of.duration_s.count))) + shift,
        [
            (
                float(np.round(share, 9)),
                max(0.0, of.air_speed_pct.at(int(rng.integers(of.air_speed_pct.count))) - shift),
                max(0.0, of.microwave_pct.at(int(rng.integers(of.microwave_pct.count))) - shift),
            )
            for share in shares
        ],
    )


def random_cook(rng: np.random.Generator, of: tuner.Oven, wanted: tuner.Brief) -> tuner.TestCook:
    """A cook with some measurements missing, sometimes a benchmark, interrupted, or on another oven."""
    done = random_program(rng, of, bool(rng.random() < 0.8))
    portion = wanted.portion
    document: dict[str, Any] = {"program": done.model_dump(mode="json"), "purpose": "search"}
    if rng.random() < 0.85:
        document["mass_g"] = portion.mass_g * float(rng.uniform(0.9, 1.1))
        if rng.random() < 0.7:
            document["mass_out_g"] = document["mass_g"] * float(rng.uniform(0.7, 1.0))
    if rng.random() < 0.85:
        document["start_temperature_c"] = portion.start_temperature_c + float(rng.uniform(-2, 2))
    if rng.random() < 0.9:
        core = float(rng.uniform(30, 98))
        document["core_temperature_c"] = [core + float(rng.normal()) for _ in range(int(rng.integers(1, 5)))]
    if rng.random() < 0.7:
        document["scores"] = [
            {
                "taster": str(k),
                **{n: float(rng.integers(2, 11)) / 2 for n in ("browning", "texture", "moisture") if rng.random() < 0.9},
            }
            for k in range(int(rng.integers(1, 6)))
        ]
    if rng.random() < 0.7:
        document["rest_s"] = wanted.rest_s
    if rng.random() < 0.1:
        document["completed"] = False
    if rng.random() < 0.1:
        document["oven_serial"] = "another"
    if rng.random() < 0.1:
        document["purpose"] = "benchmark"
        if rng.random() < 0.5:
            document["program"] = None
    if document["program"] is not None and rng.random() < 0.1:
        document["program_set"] = random_program(rng, of).model_dump(mode="json")
    return tuner.TestCook.model_validate(document)


def problems_of(proposed: tuner.Program, wanted: tuner.Brief, of: tuner.Oven) -> list[str]:
    """Rules that a proposed program breaks, checked without any code of the learning room."""
    found = []
    checks = [
        (of.air_temperature_c, proposed.air_temperature_c, "air temperature"),
        (of.duration_s, proposed.duration_s, "duration"),
    ]
    for stage in proposed.stages:
        checks += [(of.air_speed_pct, stage.air_speed_pct, "air speed"), (of.microwave_pct, stage.microwave_pct, "microwave")]
        parts = stage.share_pct / of.share_step_pct
        if abs(parts - round(parts)) > 1e-6 or round(parts) < 1:
            found.append(f"share {stage.share_pct}")
        if of.min_stage_s and stage.share_pct / 100 * proposed.duration_s < of.min_stage_s - 1e-9:
            found.append(f"stage of {stage.share_pct / 100 * proposed.duration_s} s")
    for setting, value, name in checks:
        step = setting.step or 1.0
        steps = (value - setting.low) / step
        if abs(steps - round(steps)) > 1e-6 or not setting.low - 1e-9 <= value <= setting.high + 1e-9:
            found.append(f"{name} {value}")
    window = wanted.targets.duration_s
    if window and not window.holds(proposed.duration_s):
        found.append(f"duration {proposed.duration_s} outside the window")
    if not 1 <= len(proposed.stages) <= of.max_stages:
        found.append(f"{len(proposed.stages)} stages")
    return found
