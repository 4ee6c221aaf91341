"""General-purpose optimisers as proposers: they see the same cooks and the same rule, and know nothing of cooking.

All search programs of as many stages as the tuner does, on the oven's own steps. A program that passed is cooked again by all
of them, as the rule asks. Optuna's Gaussian process needs the extra `bench` (torch); everything else runs without.
"""

from __future__ import annotations

import warnings
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import optuna
from scipy.special import ndtr
from scipy.stats import qmc
from sklearn.gaussian_process import GaussianProcessRegressor
from sklearn.gaussian_process.kernels import RBF, ConstantKernel, WhiteKernel

from benchmarks.peers import Peer
from tuner.domain import ATTRIBUTES, Brief, Oven, Program, TestCook
from tuner.learning.candidates import longest_useful_s, neighbours, spread_programs
from tuner.learning.goals import CORE, goals_of
from tuner.learning.grid import Codes, Grid, grid_of
from tuner.learning.program_table import Array
from tuner.proof import judge, margins

_WORST_MARGIN = -6.0
_CANDIDATES = 1500


@dataclass(frozen=True)
class _Space:
    """The grid as independent whole numbers: shares of all stages but the last, the rest follows."""

    grid: Grid

    @property
    def stages(self) -> int:
        return self.grid.stages

    def distributions(self) -> dict[str, optuna.distributions.BaseDistribution]:
        grid = self.grid
        found: dict[str, optuna.distributions.BaseDistribution] = {
            "temperature": optuna.distributions.IntDistribution(0, grid.temperatures - 1),
            "duration": optuna.distributions.IntDistribution(grid.first_duration, grid.last_duration),
        }
        for k in range(self.stages):
            if k < self.stages - 1:
                found[f"share{k}"] = optuna.distributions.IntDistribution(1, max(grid.parts - self.stages + 1, 1))
            found[f"air{k}"] = optuna.distributions.IntDistribution(0, grid.speeds - 1)
            found[f"micro{k}"] = optuna.distributions.IntDistribution(0, grid.levels - 1)
        return found

    def code(self, params: dict[str, int]) -> Codes:
        """Code of parameters; shares that leave nothing for the last stages are shortened."""
        left, code = self.grid.parts, [params["temperature"], params["duration"]]
        for k in range(self.stages):
            behind = self.stages - 1 - k
            share = left if behind == 0 else min(params[f"share{k}"], left - behind)
            left -= share
            code += [share, params[f"air{k}"], params[f"micro{k}"]]
        return np.array(code, dtype=np.int64)

    def params(self, code: Codes) -> dict[str, int]:
        """Parameters of a code; a program of fewer stages is cut further at its longest stage."""
        head, stages = code[:2], [list(row) for row in code[2:].reshape(-1, 3) if row[0] > 0]
        while len(stages) < self.stages:
            longest = max(range(len(stages)), key=lambda k: stages[k][0])
            share, air, micro = stages[longest]
            stages[longest : longest + 1] = [[share - share // 2, air, micro], [share // 2, air, micro]]
        found = {"temperature": int(head[0]), "duration": int(head[1])}
        for k, (share, air, micro) in enumerate(stages):
            if k < self.stages - 1:
                found[f"share{k}"] = int(share)
            found[f"air{k}"], found[f"micro{k}"] = int(air), int(micro)
        return found


def value_of(brief: Brief, cook: TestCook) -> float:
    """What a scalar optimiser is told: the smallest margin to a window in half-widths, to be maximised."""
    known = [margin for margin in margins(brief, cook).values() if margin is not None]
    return max(min(known), _WORST_MARGIN) if known else _WORST_MARGIN


def _again(brief: Brief, cooks: Sequence[TestCook]) -> Program | None:
    """The last program where its cook passed: all peers then confirm."""
    return cooks[-1].program if cooks and judge(brief, cooks[-1]).result == "pass" else None


def _optuna_peer(sampler: Callable[[int], optuna.samplers.BaseSampler]) -> Peer:
    def propose(brief: Brief, oven: Oven, cooks: Sequence[TestCook], first: Program, rng: np.random.Generator) -> Program:
        if not cooks:
            return first
        passed = _again(brief, cooks)
        if passed is not None:
            return passed
        space = _Space(grid_of(brief, oven, goals_of(brief)))
        distributions = space.distributions()
        quiet = optuna.logging.get_verbosity()
        optuna.logging.set_verbosity(optuna.logging.ERROR)
        try:
            study = optuna.create_study(direction="maximize", sampler=sampler(int(rng.integers(2**31))))
            for cook in cooks:
                code = space.grid.snapped(cook.program) if cook.program is not None else None
                if code is not None:
                    study.add_trial(
                        optuna.trial.create_trial(
                            params=space.params(code), distributions=distributions, value=value_of(brief, cook)
                        )
                    )
            for _ in range(20):
                trial = study.ask(distributions)
                code = space.code(trial.params)
                if space.grid.legal(code[None, :])[0]:
                    break
                study.tell(trial, state=optuna.trial.TrialState.FAIL)
        finally:
            optuna.logging.set_verbosity(quiet)
        return space.grid.programs(code[None, :])[0] if space.grid.legal(code[None, :])[0] else first

    return propose


def _tpe(seed: int) -> optuna.samplers.BaseSampler:
    return optuna.samplers.TPESampler(seed=seed, n_startup_trials=6, multivariate=True)


def _gp(seed: int) -> optuna.samplers.BaseSampler:
    try:
        import torch  # noqa: F401
    except ImportError as error:
        raise SystemExit(
            "optuna-gp needs torch. It comes with the extra 'bench'. Install it, or leave the method out"
        ) from error
    return optuna.samplers.GPSampler(seed=seed, n_startup_trials=6, deterministic_objective=False)


_FACTOR_SHARE = (0.20, 0.12, 0.07, 0.04)
"""Step of a factor as a share of its range; each round through all factors takes the next, smaller one."""


def one_factor_at_a_time(
    brief: Brief, oven: Oven, cooks: Sequence[TestCook], first: Program, rng: np.random.Generator
) -> Program:
    """Changes one setting of the best program so far, up then down, then the next setting; draws nothing."""
    del rng
    if not cooks:
        return first
    passed = _again(brief, cooks)
    if passed is not None:
        return passed
    space = _Space(grid_of(brief, oven, goals_of(brief)))
    values = [value_of(brief, cook) for cook in cooks]
    best = cooks[int(np.argmax(np.round(values, 6)))].program
    code = space.grid.snapped(best) if best is not None else None
    params = space.params(code if code is not None else space.grid.snapped(first))
    tried = {cook.program.key for cook in cooks if cook.program is not None}
    distributions = list(space.distributions().items())
    for shift in range(4 * len(distributions) * len(_FACTOR_SHARE)):
        turn = len(cooks) - 1 + shift
        name, found = distributions[(turn // 2) % len(distributions)]
        low, high = found.low, found.high
        share = _FACTOR_SHARE[min((turn // 2) // len(distributions), len(_FACTOR_SHARE) - 1)]
        step = max(round(share * (high - low)), 1) * (1 if turn % 2 == 0 else -1)
        changed = space.code({**params, name: int(np.clip(params[name] + step, low, high))})[None, :]
        if space.grid.legal(changed)[0]:
            program = space.grid.programs(changed)[0]
            if program.key not in tried:
                return program
    return first


def _inputs(space: _Space, codes: Codes) -> Array:
    """Settings as shares of their ranges, (n, inputs)."""
    grid = space.grid
    tops = [grid.temperatures - 1, grid.last_duration] + [grid.parts, grid.speeds - 1, grid.levels - 1] * space.stages
    return np.asarray(codes / np.maximum(np.array(tops, dtype=float), 1.0))


def _measured(cook: TestCook) -> list[float]:
    readings = cook.readings_c
    values = [
        float(np.mean(readings)) if readings else None,
        *(cook.panel_mean(n) for n in ATTRIBUTES[1:4]),
        cook.cook_loss_pct,
    ]
    return [np.nan if value is None else value for value in values]


def gaussian_process_for_each_attribute(
    brief: Brief, oven: Oven, cooks: Sequence[TestCook], first: Program, rng: np.random.Generator
) -> Program:
    """One Gaussian process for each attribute on the settings, and the chance that all lie inside their windows."""
    if not cooks:
        return first
    passed = _again(brief, cooks)
    if passed is not None:
        return passed
    goals = goals_of(brief)
    space = _Space(grid_of(brief, oven, goals))
    grid = space.grid
    if len(cooks) < 6:
        return grid.programs(spread_programs(rng, 30, grid, longest_useful_s(brief, grid), space.stages)[:1])[0]
    done = [(space.code(space.params(code)), cook) for cook in cooks if (code := _code(grid, cook)) is not None]
    seen = np.array([code for code, _ in done])
    table = np.array([_measured(cook) for _, cook in done])
    best = seen[np.argsort([-value_of(brief, cook) for _, cook in done], kind="stable")[:4]]
    candidates = np.concatenate(
        [
            spread_programs(rng, _CANDIDATES, grid, longest_useful_s(brief, grid), space.stages),
            neighbours(rng, best, 60, grid),
        ]
    )
    together = np.zeros(len(candidates))
    for column in np.flatnonzero(goals.bound):
        rows = np.isfinite(table[:, column])
        if rows.sum() >= 3:
            low = goals.low[column] + (0.8 if column == CORE else 0.0)
            chance = _chance(
                _inputs(space, seen[rows]), table[rows, column], _inputs(space, candidates), low, goals.high[column]
            )
            together += np.log(np.maximum(chance, 1e-12))
    tried = {cook.program.key for cook in cooks if cook.program is not None}
    for row in np.argsort(-np.round(together, 9), kind="stable"):
        program = grid.programs(candidates[row : row + 1])[0]
        if program.key not in tried:
            return program
    return first


def _code(grid: Grid, cook: TestCook) -> Codes | None:
    return None if cook.program is None else grid.snapped(cook.program)


def _chance(points: Array, values: Array, asked: Array, low: float, high: float) -> Array:
    """Chance of one attribute to lie inside its window by a process fitted by marginal likelihood."""
    kernel = ConstantKernel(1.0, (0.05, 20.0)) * RBF(1.0, (0.2, 10.0)) + WhiteKernel(0.1, (0.005, 1.0))
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        process = GaussianProcessRegressor(kernel, normalize_y=True, random_state=0).fit(points, values)
    mean, sd = process.predict(asked, return_std=True)
    return np.asarray(ndtr((high - mean) / sd) - ndtr((low - mean) / sd))


def sobol(brief: Brief, oven: Oven, cooks: Sequence[TestCook], first: Program, rng: np.random.Generator) -> Program:
    """Fills the space evenly with one Sobol sequence of the development; draws nothing else."""
    del rng
    if not cooks:
        return first
    passed = _again(brief, cooks)
    if passed is not None:
        return passed
    space = _Space(grid_of(brief, oven, goals_of(brief)))
    items = list(space.distributions().items())
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # only powers of two are balanced, and a development has as many cooks as it has
        points = qmc.Sobol(len(items), scramble=True, rng=len(brief.dish)).random(8 * (len(cooks) + 1))
    for point in points[8 * len(cooks) :]:
        params = {name: int(d.low + point[k] * (d.high - d.low + 1)) for k, (name, d) in enumerate(items)}
        code = space.code({name: min(value, dict(items)[name].high) for name, value in params.items()})[None, :]
        if space.grid.legal(code)[0]:
            return space.grid.programs(code)[0]
    return first


OPTIMISERS: dict[str, Peer] = {
    "sobol": sobol,
    "one-factor": one_factor_at_a_time,
    "optuna-tpe": _optuna_peer(_tpe),
    "optuna-gp": _optuna_peer(_gp),
    "gp-each": gaussian_process_for_each_attribute,
}
"""Proposers by the name of their method."""
