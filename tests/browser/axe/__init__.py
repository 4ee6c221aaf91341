"""axe-core (Mozilla Public License 2.0, see LICENSE beside it), injected into pages to look for what shuts people out."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from playwright.sync_api import Page

_SCRIPT = Path(__file__).parent / "axe.min.js"
_TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
STREAMLITS_OWN = ("list", "listitem")
"""Findings in the grouped menu that the front end makes itself."""


def serious_findings(page: Page) -> list[dict[str, Any]]:
    """Serious and critical findings, each with its rule and the elements concerned."""
    page.evaluate(_SCRIPT.read_text(encoding="utf-8"))  # unlike a script tag, a strict content policy lets it through
    found = page.evaluate("tags => axe.run({runOnly: {type: 'tag', values: tags}})", _TAGS)
    return [
        {"rule": one["id"], "where": [node["html"][:200] for node in one["nodes"]], "why": one["nodes"][0]["failureSummary"]}
        for one in found["violations"]
        if one["impact"] in ("serious", "critical") and one["id"] not in STREAMLITS_OWN
    ]
