"""What a benchmark found, as a table, a JSON file and plots."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from itertools import pairwise
from pathlib import Path
from typing import Any

import altair as alt
import numpy as np
import pandas as pd
from rich.console import Console
from rich.table import Table

Row = Mapping[str, Any]
BANDS = (0.0, 0.05, 0.2, 0.4, 0.6, 0.8, 0.9, 1.0)
STAGES_OF_A_DEVELOPMENT = ((1, 1), (2, 3), (4, 6), (7, 10), (11, 20), (21, 30))
ATTRIBUTES = ("core", "browning", "texture", "moisture", "loss")
_Z80 = 1.2815515655446004
_BUDGET = 30


def reliability(pairs: Sequence[tuple[float, float]]) -> list[dict[str, float]]:
    """Chances told against what happened, by bands of the chance: told and seen means and how many."""
    if not pairs:
        return []
    told, seen = np.array(pairs, dtype=float).T
    found = []
    for low, high in pairwise(BANDS):
        rows = (told >= low) & ((told < high) | (high == BANDS[-1]))
        if rows.any():
            found.append(
                {
                    "from": low,
                    "to": high,
                    "told": float(told[rows].mean()),
                    "seen": float(seen[rows].mean()),
                    "n": int(rows.sum()),
                }
            )
    return found


def brier(pairs: Sequence[tuple[float, float]]) -> float | None:
    """Mean squared distance of chances from what happened."""
    return float(np.mean([(told - seen) ** 2 for told, seen in pairs])) if pairs else None


def coverage_by_cooks(rows: Sequence[Row]) -> list[dict[str, Any]]:
    """How often 80 % intervals told before a cook held, by attribute and number of the cook [%]."""
    found = []
    for first, last in STAGES_OF_A_DEVELOPMENT:
        scores = [score for row in rows for score in row["covered"][first - 1 : last]]
        line: dict[str, Any] = {"cooks": f"{first}-{last}", "n": len(scores)}
        for column, name in enumerate(ATTRIBUTES):
            values = np.array([score[column] for score in scores if score[column] is not None], dtype=float)
            line[name] = round(100 * float((np.abs(values) <= _Z80).mean())) if len(values) else None
        found.append(line)
    return found


def standard_error_pct(share_pct: float, count: int) -> float:
    """Standard error of a share [percentage points]."""
    return float(np.sqrt(max(share_pct * (100.0 - share_pct), 0.0) / max(count, 1)))


def median_error(cooks: Sequence[float], seed: int = 1) -> float:
    """Standard error of a median by the bootstrap."""
    rng = np.random.default_rng(seed)
    values = np.array(cooks, dtype=float)
    return float(np.std([np.median(rng.choice(values, len(values))) for _ in range(400)]))


def _cooks(row: Row) -> float:
    return float(row["cooks"]) if row["proven"] else _BUDGET + 1.0


def _details(rows: Sequence[Row]) -> dict[str, Any]:
    passes = [(told, float(seen)) for row in rows for told, seen in row["passes"]]
    good = [(told, float(truth >= 0.9)) for row in rows for told, truth in row["reliable"]]
    return {
        "median_standard_error": round(median_error([_cooks(row) for row in rows]), 1),
        "pass": {"brier": brier(passes), "reliability": reliability(passes)},
        "reliable": {"brier": brier(good), "reliability": reliability(good)},
        "coverage_by_cooks_pct": coverage_by_cooks(rows),
    }


def written_report(stem: Path, figures: Mapping[str, Mapping[str, Any]], rows: Mapping[str, Sequence[Row]]) -> None:
    """Print the table, and write `<stem>.json` and `<stem>.html` with the plots."""
    details = {method: _details(part) for method, part in rows.items() if part}
    kinds = {
        method: {kind: _share(part, kind) for kind in ("order decides", "order does not decide")}
        for method, part in rows.items()
    }
    _print(figures, details, kinds)
    document = {method: {**figures[method], **details.get(method, {}), "by_kind": kinds[method]} for method in figures}
    stem.with_suffix(".json").write_text(json.dumps(document, indent=1))
    _plots(rows, details).save(str(stem.with_suffix(".html")))


def _share(rows: Sequence[Row], kind: str) -> dict[str, float]:
    part = [row for row in rows if bool(row["order_decides"]) == (kind == "order decides")]
    if not part:
        return {"developments": 0}
    return {
        "developments": len(part),
        "median": float(np.median([_cooks(row) for row in part])),
        "reliable_pct": round(100 * float(np.mean([row["proven"] and row["truth"] >= 0.9 for row in part]))),
        "false_pct": round(100 * float(np.mean([row["proven"] and row["truth"] < 0.8 for row in part]))),
    }


def _print(figures: Mapping[str, Mapping[str, Any]], details: Mapping[str, Any], kinds: Mapping[str, Any]) -> None:
    console = Console(width=150)
    table = Table(
        "method", "n", "median cooks", "p80", "reliable %", "false %", "first good", "below limit", "80 % covered", "s/cook"
    )
    for method, found in figures.items():
        count = int(found["developments"])
        table.add_row(
            method,
            str(count),
            f"{found['median']:.0f} ± {details[method]['median_standard_error']:.1f}" if method in details else "-",
            f"{found['p80']:.0f}",
            f"{found['reliable_pct']} ± {standard_error_pct(found['reliable_pct'], count):.0f}",
            f"{found['false_pct']} ± {standard_error_pct(found['false_pct'], count):.0f}",
            f"{found['first_good']:.0f}",
            f"{found['below_limit']}",
            str(found["covered80_pct"]),
            f"{found['seconds']}",
        )
    console.print(table)
    for method, kind in kinds.items():
        console.print(method, {name: part for name, part in kind.items() if part["developments"]})
    for method, found in details.items():
        if not found["pass"]["reliability"]:
            continue
        for what in ("pass", "reliable"):
            bands = Table("told", "seen", "n", title=f"{method}: chance to {what}, Brier {found[what]['brier']:.3f}")
            for band in found[what]["reliability"]:
                bands.add_row(f"{band['told']:.2f}", f"{band['seen']:.2f}", str(band["n"]))
            console.print(bands)
        covered = Table("cooks", "n", *ATTRIBUTES, title=f"{method}: 80 % intervals that held [%]")
        for line in found["coverage_by_cooks_pct"]:
            covered.add_row(line["cooks"], str(line["n"]), *(str(line[name]) for name in ATTRIBUTES))
        console.print(covered)


def _plots(rows: Mapping[str, Sequence[Row]], details: Mapping[str, Any]) -> alt.VConcatChart:
    done = pd.DataFrame(
        [
            {"method": method, "cooks": cooks, "proven %": 100 * float(np.mean([_cooks(row) <= cooks for row in part]))}
            for method, part in rows.items()
            for cooks in range(1, _BUDGET + 1)
            if part
        ]
    )
    bands = pd.DataFrame(
        [
            {"method": f"{method}: {what}", "told": band["told"], "seen": band["seen"], "n": band["n"]}
            for method, found in details.items()
            for what in ("pass", "reliable")
            for band in found[what]["reliability"]
        ],
        columns=["method", "told", "seen", "n"],
    )
    progress = alt.Chart(done, title="Developments proven").mark_line().encode(x="cooks:Q", y="proven %:Q", color="method:N")
    curve = (
        alt.Chart(bands, title="Chances told and seen")
        .mark_line(point=True)
        .encode(x="told:Q", y="seen:Q", color="method:N", tooltip=["n:Q"])
    )
    diagonal = (
        alt.Chart(pd.DataFrame({"told": [0, 1], "seen": [0, 1]})).mark_line(strokeDash=[4, 4]).encode(x="told:Q", y="seen:Q")
    )
    return alt.vconcat(progress, curve + diagonal)
