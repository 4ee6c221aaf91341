"""Plays developments in simulated kitchens from the first guess to the proof, and prints how many cooks they took.

    python -m benchmarks.cooks_to_proof --kitchens develop --count 40 --methods tuner chef
    python -m benchmarks.cooks_to_proof --kitchens judge --count 64 --methods tuner tuner+earlier chef random optuna-tpe gp-each
    python -m benchmarks.cooks_to_proof --quick

Methods: `tuner`, `tuner+earlier`, `tuner-no-physics`, `tuner-no-residual` (a part taken out), `known` (always cooks a good
program: the floor), the peers `chef`, `random`, `sobol`, `one-factor`, the optimisers `optuna-tpe`, `gp-each`, `optuna-gp`
(extra `bench`). All share the first program, the budget and the simple rule; the tuner asks for its own confidence on top.

Every finished development is kept in a file of JSON lines, so that a broken run goes on where it stopped. Kitchens for
development (seeds from 1 000) and for judging (seeds from 500 000) are apart; nothing may be tuned on the judging ones.
Earlier developments come from seeds from 900 000.
"""

from __future__ import annotations

import argparse
import json
import time
from collections.abc import Iterator
from dataclasses import asdict, dataclass, field
from pathlib import Path

import numpy as np
from rich.progress import Progress

import tuner
from benchmarks.ablations import ablated
from benchmarks.optimisers import OPTIMISERS
from benchmarks.peers import PEERS
from benchmarks.report import written_report
from tuner.domain import ATTRIBUTES, Program, TestCook
from tuner.learning import Prior, first_guess, learn, prior
from tuner.proof import tally
from tuner.rehearsal import Kitchen, kitchen
from tuner.safety import effective_limit

FIRST_SEED = {"develop": 1_000, "judge": 500_000, "earlier": 900_000}
BUDGET = 30
RELIABLE, FALSE = 0.9, 0.8
Z80 = 1.2815515655446004
QUICK_COUNT, QUICK_METHODS = 6, ("tuner", "chef", "random")
PROPOSERS = {**PEERS, **OPTIMISERS}
WITHOUT_PEERS = ("tuner", "tuner+earlier", "tuner-no-physics", "tuner-no-residual", "known")


@dataclass
class Campaign:
    """One development as played: what happened, and the hidden truth about it."""

    method: str
    seed: int
    cooks: int
    proven: bool
    truth: float
    first_good: int | None
    below_limit: int
    seconds: float
    covered: list[list[float | None]] = field(default_factory=list)
    passes: list[tuple[float, bool]] = field(default_factory=list)
    reliable: list[tuple[float, float]] = field(default_factory=list)
    reliable_said: float = 0.0
    order_decides: bool = False


def kitchens(kind: str, count: int) -> Iterator[tuple[int, Kitchen]]:
    """Kitchens of a kind that can be built, in the order of their seeds."""
    found, seed = 0, FIRST_SEED[kind]
    while found < count:
        try:
            built = kitchen(seed)
        except ValueError:
            built = None
        if built is not None:
            found += 1
            yield seed, built
        seed += 1


def measured(cook: TestCook) -> list[float | None]:
    """What a forecast speaks of: lowest reading, panel means, cook loss."""
    lowest = min(cook.readings_c) if cook.readings_c else None
    return [lowest, *(cook.panel_mean(name) for name in ("browning", "texture", "moisture")), cook.cook_loss_pct]


def played(method: str, seed: int, where: Kitchen, earlier: Prior, budget: int) -> Campaign:
    """One development from the first guess to the proof or the end of the budget."""
    first = first_guess(where.brief, where.oven, earlier=earlier).program
    with ablated(method):
        return _played(method, seed, where, earlier, budget, first)


def _played(method: str, seed: int, where: Kitchen, earlier: Prior, budget: int, first: Program) -> Campaign:
    rng = np.random.default_rng([seed, 7])
    brief, oven, cooks = where.brief, where.oven, []
    limit = effective_limit(brief).core_temperature_c
    shares: dict[tuple[float, ...], float] = {}
    done = Campaign(method, seed, budget, False, 0.0, None, 0, 0.0, order_decides=where.order_decides)
    best, started = None, time.process_time()
    for number in range(1, budget + 1):
        program, forecast = _next(method, where, cooks, first, rng, earlier)
        cook = where.cook(program, rng)
        cooks.append(cook)
        if program.key not in shares:
            shares[program.key] = where.inside(program, np.random.default_rng([seed, 11]), 1000)
        if forecast is not None:
            said = learn(brief, oven, cooks[:-1], earlier=earlier).outlook([program]).reliable[0]
            done.reliable.append((float(said), shares[program.key]))
        if done.first_good is None and shares[program.key] >= RELIABLE:
            done.first_good = number
        done.below_limit += limit is not None and bool(cook.readings_c) and min(cook.readings_c) < limit
        if forecast is not None:
            _score(done, forecast, cook, brief)
        best, proven = _standing(method, where, cooks, earlier, done)
        if proven:
            done.proven, done.cooks = True, number
            break
    done.truth = shares.get(best.key, 0.0) if best is not None else 0.0
    done.seconds = (time.process_time() - started) / done.cooks
    return done


def _next(
    method: str, where: Kitchen, cooks: list[TestCook], first: Program, rng: np.random.Generator, earlier: Prior
) -> tuple[Program, tuner.Forecast | None]:
    if method == "known":
        return where.good_program, None
    if method in PROPOSERS:
        return PROPOSERS[method](where.brief, where.oven, cooks, first, rng), None
    [proposal] = learn(where.brief, where.oven, cooks, earlier=earlier).propose()
    return proposal.program, proposal.forecast


def _standing(
    method: str, where: Kitchen, cooks: list[TestCook], earlier: Prior, done: Campaign
) -> tuple[Program | None, bool]:
    last = cooks[-1].program
    assert last is not None
    if method in PROPOSERS or method == "known":
        return last, tally(where.brief, where.oven, cooks, last).met
    assessment = learn(where.brief, where.oven, cooks, earlier=earlier).assess()
    done.reliable_said = assessment.chance_reliable
    return assessment.best_program, assessment.status == "proven"


def _score(done: Campaign, forecast: tuner.Forecast, cook: TestCook, brief: tuner.Brief) -> None:
    row: list[float | None] = []
    for name, value in zip(ATTRIBUTES, measured(cook)):
        said = forecast.attributes[name]
        row.append(None if value is None else float((value - said.mean) / max(said.spread, 1e-9)))
    done.covered.append(row)
    from tuner.proof import judge

    done.passes.append((forecast.chance_all_inside, judge(brief, cook).result == "pass"))


def summary(rows: list[Campaign]) -> dict[str, float | int | str]:
    """The figures of one method."""
    cooks = np.array([row.cooks if row.proven else BUDGET + 1 for row in rows])
    good = np.array([row.proven and row.truth >= RELIABLE for row in rows])
    false = np.array([row.proven and row.truth < FALSE for row in rows])
    first = np.array([row.first_good or BUDGET + 1 for row in rows])
    scores = [np.array([r[k] for row in rows for r in row.covered if r[k] is not None], dtype=float) for k in range(5)]
    return {
        "developments": len(rows),
        "median": float(np.median(cooks)),
        "p80": float(np.quantile(cooks, 0.8, method="higher")),
        "by10_pct": round(100 * float((cooks <= 10).mean())),
        "by20_pct": round(100 * float((cooks <= 20).mean())),
        "by30_pct": round(100 * float((cooks <= 30).mean())),
        "reliable_pct": round(100 * float(good.mean())),
        "false_pct": round(100 * float(false.mean())),
        "first_good": float(np.median(first)),
        "below_limit": round(float(np.mean([row.below_limit for row in rows])), 2),
        "covered80_pct": " ".join(f"{100 * float((np.abs(s) <= Z80).mean()):.0f}" if len(s) else "-" for s in scores),
        "seconds": round(float(np.mean([row.seconds for row in rows])), 2),
    }


def earlier_prior(count: int, folder: Path) -> Prior:
    """What `count` earlier developments taught, played once and kept."""
    kept = folder / f"earlier_{count}.json"
    if kept.exists():
        return Prior.model_validate_json(kept.read_text())
    developments = []
    for seed, where in kitchens("earlier", count):
        rng, cooks = np.random.default_rng([seed, 7]), []
        for _ in range(14):
            [proposal] = learn(where.brief, where.oven, cooks).propose()
            cooks.append(where.cook(proposal.program, rng))
        developments.append((where.brief, where.oven, cooks))
    made = prior(developments)
    kept.write_text(made.model_dump_json())
    return made


def main() -> None:
    """Play what is asked for and print a table."""
    ask = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ask.add_argument("--kitchens", choices=["develop", "judge"], default="develop")
    ask.add_argument("--count", type=int, default=40)
    ask.add_argument("--methods", nargs="+", default=["tuner", "chef", "random"], choices=[*WITHOUT_PEERS, *PROPOSERS])
    ask.add_argument("--quick", action="store_true", help="a few developments of a few methods, to see that all is well")
    ask.add_argument("--earlier", type=int, default=8, help="earlier developments for methods that end in +earlier")
    ask.add_argument("--folder", type=Path, default=Path("benchmarks/results"))
    ask.add_argument("--label", default="", help="keeps results of one variant of the code apart")
    asked = ask.parse_args()
    if asked.quick:
        asked.count, asked.methods = QUICK_COUNT, list(QUICK_METHODS)
    asked.folder.mkdir(parents=True, exist_ok=True)
    played_rows = {}
    for method in asked.methods:
        rows = played_rows[method] = _all_of(method, asked)
        print(method, json.dumps(summary(rows)))
    by_method = {method: [asdict(row) for row in rows] for method, rows in played_rows.items()}
    figures = {method: summary(rows) for method, rows in played_rows.items()}
    written_report(asked.folder / f"report_{asked.kitchens}{asked.label}", figures, by_method)


def _all_of(method: str, asked: argparse.Namespace) -> list[Campaign]:
    kept = asked.folder / f"{asked.kitchens}_{method}{asked.label}.jsonl"
    rows = [Campaign(**json.loads(line)) for line in kept.read_text().splitlines()] if kept.exists() else []
    known = {row.seed for row in rows}
    earlier = earlier_prior(asked.earlier, asked.folder) if method.endswith("+earlier") else Prior()
    wanted = []
    with Progress(disable=not __import__("sys").stderr.isatty()) as bar, kept.open("a") as out:
        task = bar.add_task(method, total=asked.count)
        for seed, where in kitchens(asked.kitchens, asked.count):
            wanted.append(seed)
            if seed not in known:
                row = played(method, seed, where, earlier, BUDGET)
                out.write(json.dumps(asdict(row)) + "\n")
                out.flush()
                rows.append(row)
            bar.advance(task)
    return [row for row in rows if row.seed in set(wanted)]


if __name__ == "__main__":
    main()
