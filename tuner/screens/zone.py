"""The time zone of the person at the desk."""

from __future__ import annotations

from datetime import UTC, timedelta, timezone, tzinfo

import streamlit as st


def desk_zone() -> tzinfo:
    """The zone of the person's browser, UTC where it does not say."""
    offset = st.context.timezone_offset
    return timezone(timedelta(minutes=-offset)) if offset is not None else UTC
