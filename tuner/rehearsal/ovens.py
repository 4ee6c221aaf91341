"""Ovens of the rehearsal kitchens: invented, unlike one another in limits, steps, stages, power and air."""

from __future__ import annotations

from typing import Any

from tuner.domain import Oven


def _oven(
    name: str,
    air: tuple[float, float, float | None],
    speed: tuple[float, float, float],
    microwave: tuple[float, float, float],
    duration: tuple[float, float, float],
    share_step: float,
    stages: int,
    watts: float,
    full_speed: float,
    **more: Any,
) -> Oven:
    def setting(low: float, high: float, step: float | None) -> dict[str, float]:
        return {"low": low, "high": high} | ({} if step is None else {"step": step})

    return Oven.model_validate(
        {
            "name": name,
            "air_temperature_c": setting(*air),
            "air_speed_pct": setting(*speed),
            "microwave_pct": setting(*microwave),
            "duration_s": setting(*duration),
            "share_step_pct": share_step,
            "max_stages": stages,
            "microwave_rated_w": watts,
            "air_speed_max_m_s": full_speed,
            **more,
        }
    )


OVENS: dict[str, Oven] = {
    "left": _oven("Pass left", (200, 270, 5), (10, 100, 5), (0, 100, 5), (20, 600, 5), 5, 5, 1500, 22, serial="R-101"),
    "counter": _oven("Counter", (180, 260, 10), (20, 100, 10), (0, 100, 10), (30, 480, 10), 10, 3, 1100, 16, serial="R-102"),
    "fixed": _oven(
        "Kiosk", (250, 250, None), (0, 100, 5), (0, 100, 5), (10, 600, 5), 5, 4, 1000, 18, serial="R-103", on_off_period_s=24
    ),
    "strong": _oven("Back kitchen", (150, 280, 5), (10, 100, 10), (0, 100, 5), (15, 900, 5), 5, 6, 2000, 26, serial="R-104"),
    "slow_air": _oven(
        "Canteen", (170, 250, 5), (30, 100, 10), (0, 90, 10), (20, 720, 10), 10, 4, 1300, 15, on_off_period_s=20, min_stage_s=20
    ),
    "high": _oven("Mountain hut", (190, 275, 5), (10, 90, 5), (10, 100, 10), (20, 600, 5), 10, 3, 1400, 20, altitude_m=1450),
    "fine": _oven("Test bench", (180, 280, 2), (0, 100, 2), (0, 100, 2), (10, 900, 1), 2, 5, 1700, 24, serial="R-107"),
    "checked": _oven(
        "Food hall",
        (200, 260, 5),
        (10, 100, 10),
        (0, 100, 10),
        (20, 600, 5),
        5,
        4,
        1600,
        20,
        serial="R-108",
        checks=[{"watts_w": 1210, "standard_error_w": 18, "hot": False, "checked_at": "2026-02-20T09:00:00Z"}],
    ),
}
