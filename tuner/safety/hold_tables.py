"""Published time-temperature tables for cooking, as data: hold times [s] by temperature.

The tables were printed for whole °F; the °C here are exact conversions, because some printed °C are rounded irregularly.
A hold of 0 means the rule takes the temperature as enough at once: follow the table there, not the line through it.

Sources: USDA FSIS, Appendix A to the final rule of 1999 (cooked beef, roast beef, corned beef: 6.5-log and 7-log columns);
US FDA Food Code 3-401.11(B) (whole roasts; the same figures as the 6.5-log column); USDA FSIS, Time-Temperature Tables for
Cooking Ready-to-Eat Poultry Products, 2005, and Appendix A of 2021 (of chicken at 12 % fat the rows from 145 °F on, of turkey
at 12 % fat all but 160 °F, and the row for 165 °F are from memory). All were made for moist or long cooking. The meat tables
must not be used for poultry; for fat above 12 %, unknown fat or mixed species the longest time counts.
"""

from __future__ import annotations

Table = tuple[tuple[float, float], ...]


def _celsius(*rows: tuple[float, float]) -> Table:
    return tuple(((fahrenheit - 32.0) / 1.8, hold_s) for fahrenheit, hold_s in rows)


# fmt: off
MEAT_6P5_LOG: Table = _celsius(
    (130, 6720), (131, 5340), (132, 4260), (133, 3360), (134, 2700), (135, 2160), (136, 1680), (137, 1380),
    (138, 1080), (139, 900), (140, 720), (141, 540), (142, 480), (143, 360), (144, 300), (145, 240), (146, 169),
    (147, 134), (148, 107), (149, 85), (150, 67), (151, 54), (152, 43), (153, 34), (154, 27), (155, 22), (156, 17),
    (157, 14), (158, 0), (159, 0), (160, 0),
)
"""Meat, 6.5-log reduction of Salmonella: (temperature [°C], hold [s])."""

MEAT_7_LOG: Table = _celsius(
    (130, 7260), (131, 5820), (132, 4620), (133, 3720), (134, 2820), (135, 2220), (136, 1920), (137, 1440),
    (138, 1140), (139, 900), (140, 720), (141, 600), (142, 480), (143, 360), (144, 300), (145, 240), (146, 182),
    (147, 144), (148, 115), (149, 91), (150, 72), (151, 58), (152, 46), (153, 37), (154, 29), (155, 23), (156, 19),
    (157, 15), (158, 0), (159, 0), (160, 0),
)
"""Meat, 7-log reduction of Salmonella: (temperature [°C], hold [s])."""

WHOLE_ROAST: Table = _celsius(
    (130, 6720), (131, 5340), (133, 3360), (135, 2160), (136, 1680), (138, 1080), (140, 720), (142, 480), (144, 300),
    (145, 240), (147, 134), (149, 85), (151, 54), (153, 34), (155, 22), (157, 14), (158, 0),
)
"""Whole roasts: (temperature [°C], hold [s])."""

CHICKEN_FAT: Table = _celsius(
    (136, 4884), (137, 3930), (138, 3174), (139, 2580), (140, 2100), (141, 1722), (142, 1422), (143, 1188),
    (144, 996), (145, 780), (150, 252), (155, 54.4), (160, 16.9), (165, 0),
)
"""Chicken at 12 % fat, 7-log reduction of Salmonella: (temperature [°C], hold [s])."""

CHICKEN_LEAN: Table = _celsius(
    (136, 3798), (140, 1512), (145, 504), (150, 162), (155, 44.2), (160, 13.7), (165, 0),
)
"""Chicken at 1 % fat, 7-log reduction of Salmonella: (temperature [°C], hold [s])."""

TURKEY_LEAN: Table = _celsius(
    (136, 3840), (140, 1686), (145, 630), (150, 228), (155, 72), (160, 25.6), (165, 0),
)
"""Turkey at 1 % fat, 7-log reduction of Salmonella: (temperature [°C], hold [s])."""

TURKEY_FAT: Table = _celsius(
    (136, 4248), (140, 2022), (145, 828), (150, 294), (155, 78), (160, 26.9), (165, 0),
)
"""Turkey at 12 % fat, 7-log reduction of Salmonella: (temperature [°C], hold [s])."""
# fmt: on
