"""Critical limits as data: the rows the tool ships, one rule and edition each.

Every row is an unapproved starting point. A row is never overwritten when an edition changes: another row is added. Which
row counts for a brief is decided in `limit_in_force`; a site's own limit travels in the brief with its rule and approver.

Sources are named in each row. `seen` says how far the text behind a row can be trusted: `verified` was read in a public copy
of the rule, `from memory` was not and must be looked up before anyone approves it.
"""

from __future__ import annotations

from tuner.domain import FoodClass
from tuner.safety.hold_tables import (
    CHICKEN_FAT,
    CHICKEN_LEAN,
    MEAT_6P5_LOG,
    MEAT_7_LOG,
    TURKEY_FAT,
    TURKEY_LEAN,
    WHOLE_ROAST,
    Table,
)
from tuner.safety.limit_row import LimitRow, Seen

RAW_ANIMAL: tuple[FoodClass, ...] = ("poultry", "stuffed", "ground_meat", "whole_muscle", "fish", "egg")
_RAW_MEAT: tuple[FoodClass, ...] = ("ground_meat", "whole_muscle")

_MICROWAVE = "covered, turned or stirred during or midway, every part reaches it, then stands covered"
_IN_WRITING = "only where the authority accepts in writing that the microwave rule does not apply"
_TO_ORDER = "intact meat or fish, raw eggs for one order, served at once; " + _IN_WRITING
_AIR_GAP = (
    "short, hot, dry air is a known gap of these tables for the surface: longer dwell, moisture, product testing or a "
    "laboratory's challenge study; "
)


def _food_code(code: str, section: str, **row: object) -> LimitRow:
    kept: dict[str, object] = {"edition": "2022", "market": "US", **row}
    return LimitRow(code=code, rule=f"Food Code {section}", authority="US FDA", **kept)  # type: ignore[arg-type]  # keywords checked by the dataclass


def _poultry_table(code: str, food: str, table: Table) -> LimitRow:
    return LimitRow(
        code=code,
        rule=f"time-temperature tables for poultry, {food}, 7-log Salmonella",
        authority="USDA FSIS",
        market="US",
        edition="2005, 2021",
        food_classes=("poultry",),
        core_temperature_c=table[0][0],
        hold_s=table[0][1],
        table=table,
        conditions=_AIR_GAP + "fat above 12 %, unknown fat or mixed species: the longest time",
        seen="from memory",
    )


def _consumer(
    code: str, food: str, food_classes: tuple[FoodClass, ...], fahrenheit: float, rest_s: float = 0.0, seen: Seen = "verified"
) -> LimitRow:
    return LimitRow(
        code=code,
        rule=f"safe minimum internal temperatures, {food}",
        authority="USDA",
        market="US",
        edition="chart for consumers",
        food_classes=food_classes,
        core_temperature_c=(fahrenheit - 32.0) / 1.8,
        rest_s=rest_s,
        conditions="advice for homes; " + _IN_WRITING,
        seen=seen,
    )


MICROWAVE_RAW = _food_code(
    "us-microwave-raw",
    "3-401.12",
    food_classes=RAW_ANIMAL,
    use="default",
    core_temperature_c=74.0,
    rest_s=120.0,
    covered=True,
    moved=True,
    conditions=_MICROWAVE,
)
MICROWAVE_REHEAT = _food_code(
    "us-microwave-reheat",
    "3-403.11(B)",
    food_classes=("reheated",),
    use="default",
    core_temperature_c=74.0,
    rest_s=120.0,
    covered=True,
    moved=True,
    conditions=_MICROWAVE + "; for hot holding",
    seen="from memory",
)
PLANT_HOT = _food_code(
    "us-plant", "3-401.13", food_classes=("plant",), use="default", core_temperature_c=57.0, conditions="cooked for hot holding"
)
NOTHING_TO_KILL = LimitRow(
    code="bakery-none",
    rule="nothing raw that needs killing",
    authority="none",
    market="any",
    edition="-",
    food_classes=("bakery",),
    use="default",
    core_temperature_c=None,
    seen="common practice",
    conditions="raw flour, egg, cream or filling: take the class of that component instead",
)
UK_TABLE = LimitRow(
    code="uk-caterers-table",
    use="market",
    rule="caterers' time-temperature table",
    authority="UK FSA",
    market="UK",
    edition="as reproduced",
    food_classes=("reheated", "plant"),
    core_temperature_c=70.0,
    hold_s=120.0,
    z_c=7.5,
    reference_c=70.0,
    table=((70.0, 120.0), (75.0, 30.0), (80.0, 6.0)),
    conditions="frozen vegetables sold to be cooked before eating count as this; check current law",
)

SHIPPED_LIMITS: tuple[LimitRow, ...] = (
    MICROWAVE_RAW,
    MICROWAVE_REHEAT,
    PLANT_HOT,
    NOTHING_TO_KILL,
    UK_TABLE,
    LimitRow(
        code="scotland-reheat",
        use="market",
        rule="SI 1995/2200 regulation 14 (historic text)",
        authority="UK",
        market="Scotland",
        edition="1995",
        food_classes=("reheated",),
        core_temperature_c=82.0,
        conditions="check current law",
    ),
    LimitRow(
        code="uk-plant-hot",
        use="market",
        rule="hot holding",
        authority="UK FSA",
        market="UK",
        edition="unknown",
        food_classes=("plant",),
        core_temperature_c=63.0,
        conditions="hot holding",
        seen="from memory",
    ),
    LimitRow(
        code="au-plant-hot",
        use="market",
        rule="hot holding",
        authority="Food Standards Australia New Zealand",
        market="Australia",
        edition="unknown",
        food_classes=("plant",),
        core_temperature_c=60.0,
        conditions="hot holding",
        seen="from memory",
    ),
    _food_code(
        "us-intact",
        "3-401.11(A)(1)",
        edition="2009-2022",
        food_classes=("whole_muscle", "fish", "egg"),
        core_temperature_c=63.0,
        hold_s=15.0,
        conditions=_TO_ORDER,
    ),
    _food_code(
        "us-ground-70",
        "3-401.11(A)(2)",
        food_classes=("ground_meat",),
        core_temperature_c=70.0,
        conditions="less than 1 s; also injected or tenderised meat and pooled eggs; " + _IN_WRITING,
    ),
    _food_code(
        "us-ground-68",
        "3-401.11(A)(2)",
        edition="2017-2022",
        food_classes=("ground_meat",),
        core_temperature_c=68.0,
        hold_s=17.0,
        conditions=_IN_WRITING,
        seen="from memory",
    ),
    _food_code(
        "us-ground-68-older",
        "3-401.11(A)(2)",
        edition="2013 and earlier",
        food_classes=("ground_meat",),
        core_temperature_c=68.0,
        hold_s=15.0,
        conditions=_IN_WRITING,
    ),
    _food_code(
        "us-ground-66",
        "3-401.11(A)(2)",
        food_classes=("ground_meat",),
        core_temperature_c=66.0,
        hold_s=60.0,
        conditions=_IN_WRITING,
    ),
    _food_code(
        "us-ground-63",
        "3-401.11(A)(2)",
        food_classes=("ground_meat",),
        core_temperature_c=63.0,
        hold_s=180.0,
        conditions=_IN_WRITING,
    ),
    _food_code(
        "us-poultry",
        "3-401.11(A)(3)",
        edition="2017-2022",
        food_classes=("poultry", "stuffed"),
        core_temperature_c=74.0,
        conditions="less than 1 s; " + _IN_WRITING,
    ),
    _food_code(
        "us-poultry-older",
        "3-401.11(A)(3)",
        edition="2013 and earlier",
        food_classes=("poultry", "stuffed"),
        core_temperature_c=74.0,
        hold_s=15.0,
        conditions=_IN_WRITING,
    ),
    _food_code(
        "us-reheat",
        "3-403.11(A)",
        food_classes=("reheated",),
        core_temperature_c=74.0,
        hold_s=15.0,
        conditions="reheated for hot holding; " + _IN_WRITING,
        seen="from memory",
    ),
    _food_code(
        "us-roast-table",
        "3-401.11(B)",
        food_classes=("whole_muscle",),
        core_temperature_c=WHOLE_ROAST[0][0],
        hold_s=WHOLE_ROAST[0][1],
        table=WHOLE_ROAST,
        conditions="whole roasts in an oven the rule allows; " + _IN_WRITING,
    ),
    LimitRow(
        code="us-meat-6.5-log",
        rule="Appendix A, meat, 6.5-log Salmonella",
        authority="USDA FSIS",
        market="US",
        edition="1999",
        food_classes=_RAW_MEAT,
        core_temperature_c=MEAT_6P5_LOG[0][0],
        hold_s=MEAT_6P5_LOG[0][1],
        z_c=5.56,
        reference_c=60.0,
        table=MEAT_6P5_LOG,
        conditions=_AIR_GAP + "never for poultry",
    ),
    LimitRow(
        code="us-meat-7-log",
        rule="Appendix A, meat, 7-log Salmonella",
        authority="USDA FSIS",
        market="US",
        edition="1999",
        food_classes=_RAW_MEAT,
        core_temperature_c=MEAT_7_LOG[0][0],
        hold_s=MEAT_7_LOG[0][1],
        z_c=5.57,
        reference_c=60.0,
        table=MEAT_7_LOG,
        conditions=_AIR_GAP + "never for poultry",
    ),
    _poultry_table("us-chicken-lean", "chicken at 1 % fat", CHICKEN_LEAN),
    _poultry_table("us-chicken-fat", "chicken at 12 % fat", CHICKEN_FAT),
    _poultry_table("us-turkey-lean", "turkey at 1 % fat", TURKEY_LEAN),
    _poultry_table("us-turkey-fat", "turkey at 12 % fat", TURKEY_FAT),
    _consumer("us-home-meat", "steaks, chops, roasts", ("whole_muscle",), 145, 180.0),
    _consumer("us-home-ground", "ground meat", ("ground_meat",), 160),
    _consumer("us-home-poultry", "poultry, whole, parts or ground", ("poultry",), 165),
    _consumer("us-home-egg", "egg dishes", ("egg",), 160, seen="from memory"),
    _consumer("us-home-fish", "fish and shellfish", ("fish",), 145),
    _consumer("us-home-reheated", "leftovers and casseroles", ("reheated",), 165, seen="from memory"),
)
"""All rows the tool ships."""
