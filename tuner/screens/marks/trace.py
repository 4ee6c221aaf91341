"""The core trace: coldest place in thick ink, others thin grey; the rest tinted; pass line dashed, critical limit double."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Any

from tuner.domain import TestCook
from tuner.screens.marks.palette import FONT, palette
from tuner.screens.marks.words import number

if TYPE_CHECKING:
    import altair as alt

LABEL_GAP = 0.06
"""Least distance of two labels, as a share of the axis."""


def trace_runs(cook: TestCook) -> dict[str, list[tuple[float, float]]]:
    """Samples (time [s], temperature [°C]) by place, in order of time; the place that ends coldest comes first."""
    runs: dict[str, list[tuple[float, float]]] = {}
    for piece in cook.trace or ():
        times = piece.time_s if isinstance(piece.time_s, tuple) else (piece.time_s,)
        temperatures = piece.temperature_c if isinstance(piece.temperature_c, tuple) else (piece.temperature_c,)
        place = f"place {piece.place}" if isinstance(piece.place, int) else piece.place
        runs.setdefault(place, []).extend(zip(times, temperatures))
    ordered = {place: sorted(samples) for place, samples in runs.items()}
    return dict(sorted(ordered.items(), key=lambda entry: entry[1][-1][1]))


def apart(heights: list[float], gap: float) -> list[float]:
    """Heights pushed apart so that labels do not overprint, in the order given; none moves further than needed."""
    order = sorted(range(len(heights)), key=lambda i: heights[i])
    placed = list(heights)
    for below, above in pairwise(order):
        placed[above] = max(placed[above], placed[below] + gap)
    return placed


def trace_sentence(cook: TestCook, *, pass_line_c: float | None) -> str:
    """The trace in words, for a screen reader."""
    runs = trace_runs(cook)
    ends = ", ".join(f"{place} ends at {number(samples[-1][1])} °C" for place, samples in runs.items())
    line = f"; pass line {number(pass_line_c)} °C" if pass_line_c is not None else ""
    return f"Core temperatures over time: {ends}{line}"


class _Sheet:
    """Axes, scales and colours that all layers of one drawing share; every layer needs the same ones."""

    def __init__(
        self,
        cook: TestCook,
        runs: dict[str, list[tuple[float, float]]],
        pass_line_c: float | None,
        limit_c: float | None,
        dark: bool,
    ) -> None:
        lines = [value for value in (pass_line_c, limit_c) if value is not None]
        every = [value for samples in runs.values() for _, value in samples] + lines
        self.low, self.high = min(every) - 4, max(every) + 6
        self.end_s = max(samples[-1][0] for samples in runs.values())
        self.cook, self.runs, self.pass_line_c, self.limit_c = cook, runs, pass_line_c, limit_c
        self.colours = palette(dark)

    def y(self, field: str) -> alt.Y:
        """Temperature; the pass line has its own tick."""
        import altair as alt

        ticks = [
            float(value) for value in range(int(self.low // 20) * 20, int(self.high) + 1, 20) if self.low < value < self.high
        ]
        label = "datum.label"
        if self.pass_line_c is not None:
            ticks = [value for value in ticks if abs(value - (self.pass_line_c or 0)) > 8] + [self.pass_line_c]
            label = f"datum.value == {self.pass_line_c} ? 'pass ' + datum.label : datum.label"
        axis = alt.Axis(values=ticks, labelExpr=label, grid=False)
        return alt.Y(f"{field}:Q", scale=alt.Scale(domain=[self.low, self.high], zero=False, nice=False), axis=axis, title="°C")

    def x(self, field: str) -> alt.X:
        """Time, with room for names at the right end."""
        import altair as alt

        scale = alt.Scale(domain=[0, self.end_s * 1.2], nice=False)
        return alt.X(f"{field}:Q", scale=scale, title="seconds from start", axis=alt.Axis(grid=False))

    def text(self, rows: list[dict[str, Any]], **look: Any) -> alt.Chart:
        """Words in the drawing: rows of time_s, at, words."""
        import altair as alt

        mark = alt.Chart(alt.InlineData(values=rows)).mark_text(align="left", fontSize=12, **look)
        made: alt.Chart = mark.encode(x=self.x("time_s"), y=self.y("at"), text="words:N")
        return made

    def rest(self) -> list[alt.Chart]:
        """The rest as a tinted zone with its words."""
        import altair as alt

        program = self.cook.done_program
        if program is None or not self.cook.rest_s:
            return []
        zone = {
            "from": program.duration_s,
            "to": min(program.duration_s + self.cook.rest_s, self.end_s),
            "low": self.low,
            "high": self.high,
        }
        covered = {True: ", covered", False: ", open", None: ""}[self.cook.rest_covered]
        words = [{"time_s": program.duration_s, "at": self.low, "words": f"rest {number(self.cook.rest_s)} s{covered}"}]
        shape = alt.Chart(alt.InlineData(values=[zone])).mark_rect(color=self.colours["plate"])
        tinted = shape.encode(x=self.x("from"), x2="to:Q", y=self.y("low"), y2="high:Q")
        return [tinted, self.text(words, dx=5, dy=-8, color=self.colours["muted"])]

    def lines(self) -> list[alt.Chart]:
        """Critical limit as a double line, pass line dashed."""
        import altair as alt

        def rule(at: float, **look: Any) -> alt.Chart:
            made: alt.Chart = alt.Chart(alt.InlineData(values=[{"at": at}])).mark_rule(**look).encode(y=self.y("at"))
            return made

        layers = []
        if self.limit_c is not None:  # a wide rule with a narrow paper-coloured one on top looks like two lines
            layers += [rule(self.limit_c, color=self.colours["outside"], strokeWidth=5)]
            layers += [rule(self.limit_c, color=self.colours["paper"], strokeWidth=2)]
            words = [{"time_s": 0, "at": self.limit_c, "words": f"limit {number(self.limit_c)}"}]
            layers.append(self.text(words, dx=4, dy=12, color=self.colours["outside"]))
        if self.pass_line_c is not None:
            layers.append(rule(self.pass_line_c, color=self.colours["ink"], strokeWidth=2, strokeDash=[6, 4]))
        return layers

    def curves(self) -> list[alt.Chart]:
        """One curve a place, the coldest last and thick, and their names at the right end, pushed apart."""
        import altair as alt

        coldest = next(iter(self.runs))
        layers = []
        for place, samples in reversed(self.runs.items()):
            rows = [{"time_s": time, "temperature_c": value} for time, value in samples]
            first = place == coldest
            colour, width = (self.colours["ink"], 3.0) if first else (self.colours["unknown"], 1.5)
            curve = alt.Chart(alt.InlineData(values=rows)).mark_line(color=colour, strokeWidth=width)
            layers.append(curve.encode(x=self.x("time_s"), y=self.y("temperature_c")))
        heights = apart([samples[-1][1] for samples in self.runs.values()], LABEL_GAP * (self.high - self.low))
        names = [{"time_s": self.end_s, "at": at, "words": place} for place, at in zip(self.runs, heights)]
        return [*layers, self.text(names, dx=6, color=self.colours["ink"])]


def trace_spec(cook: TestCook, *, pass_line_c: float | None, limit_c: float | None, dark: bool) -> dict[str, Any] | None:
    """Vega-Lite drawing of a cook's trace; None where it has none.

    Parameters
    ----------
    cook
        The cook.
    pass_line_c, limit_c
        Limit plus guard, and the critical limit [°C]; None where nothing needs killing.
    dark
        Which theme.
    """
    runs = trace_runs(cook)
    if not runs:
        return None
    import altair as alt

    sheet = _Sheet(cook, runs, pass_line_c, limit_c, dark)
    colours = sheet.colours
    chart = alt.layer(*sheet.rest(), *sheet.lines(), *sheet.curves())
    chart = chart.properties(height=300, width="container", background="transparent")
    drawn: dict[str, Any] = (
        chart.configure(font=FONT)
        .configure_view(stroke=None)
        .configure_axis(
            labelColor=colours["muted"],
            titleColor=colours["muted"],
            domainColor=colours["line"],
            tickColor=colours["line"],
            labelFontSize=12,
        )
        .to_dict()
    )
    return drawn
