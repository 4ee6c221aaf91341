"""Colours for charts, which can't read the sheet's variables; the same values as in `static/marks.css`."""

from __future__ import annotations

LIGHT = {
    "ink": "#1E2422",
    "muted": "#56605B",
    "line": "#C9C6BC",
    "paper": "#FBFAF6",
    "plate": "#EFEDE6",
    "inside": "#00687A",
    "outside": "#A3113F",
    "unknown": "#6A6F6C",
}
DARK = {
    "ink": "#ECE9E2",
    "muted": "#A9B0AB",
    "line": "#3D4745",
    "paper": "#151A1A",
    "plate": "#212828",
    "inside": "#5EC8D8",
    "outside": "#FF7F9B",
    "unknown": "#9AA19D",
}
FONT = "'Atkinson Next', 'Source Sans', sans-serif"


def palette(dark: bool) -> dict[str, str]:
    """The chart colours of a theme."""
    return DARK if dark else LIGHT
