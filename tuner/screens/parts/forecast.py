"""A forecast against the windows of its brief."""

from __future__ import annotations

import streamlit as st

from tuner.domain import Forecast
from tuner.screens.marks.windows import chances, forecast_against_windows
from tuner.screens.parts.rows import forecast_rows
from tuner.services import DevelopmentView


def show_forecast(view: DevelopmentView, forecast: Forecast, *, before: Forecast | None = None) -> None:
    """Chances first, then one row for each attribute; `before` is drawn dashed."""
    was = before.chance_all_inside if before else None
    st.html(chances(forecast.chance_all_inside, forecast.chance_safe, before=was))
    st.html(forecast_against_windows(forecast_rows(view, forecast, before=before)))
