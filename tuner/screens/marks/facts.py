"""Facts as a two-column list."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape


def facts_table(rows: Sequence[tuple[str, str]]) -> str:
    """Names left, values right."""
    body = "".join(f'<tr><th scope="row">{escape(name)}</th><td>{escape(value)}</td></tr>' for name, value in rows)
    return f'<table class="tk tk-table tk-facts"><tbody>{body}</tbody></table>'
