"""A tasting session with its marks, and what it shows once it is closed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from tuner.domain import NotFound, PanelMarks, PanelSession
from tuner.services.loading import Loaded, read_rest
from tuner.services.panel_views import BenchmarkDifference, SampleIdentity, SessionResult, SessionView, TasterSheet
from tuner.store import KeptRecord, Reading, UnitOfWork

if TYPE_CHECKING:
    from tuner.proof.just_right import Penalties
    from tuner.proof.panel_results import AttributeResult, Drift, Mark, SampleMean

SESSION = "panel_session"
MARKS = "panel_marks"
CLOSED = "panel_closed"
LIKING = "liking"
BENCHMARK = "benchmark"


@dataclass(frozen=True)
class KeptSession:
    """One session and its records."""

    loaded: Loaded
    record: KeptRecord
    marks_records: tuple[KeptRecord, ...]
    closing: KeptRecord | None
    earlier: tuple[KeptSession, ...] = ()

    @cached_property
    def session(self) -> PanelSession:
        """As planned."""
        return PanelSession.model_validate(self.record.content["session"])

    @cached_property
    def may_taste(self) -> dict[str, bool]:
        """What each taster answered."""
        return dict(self.record.content["may_taste"])

    @cached_property
    def marks(self) -> tuple[PanelMarks, ...]:
        """Marks that hold, in the order of writing."""
        return tuple(PanelMarks.model_validate(one.content) for one in self.marks_records if not one.superseded)

    @cached_property
    def identities(self) -> tuple[SampleIdentity, ...]:
        """Which cook stands behind each code; for use after closing."""
        numbers = {row.id: row.number for row in self.loaded.rows}
        found = []
        for sample in self.session.samples:
            number = numbers[sample.cook_id]
            names = {"cook": f"cook {number}", "benchmark": BENCHMARK, "duplicate": f"cook {number} again"}
            found.append(SampleIdentity(sample.code, names[sample.kind], sample.cook_id, number, sample.kind))
        return tuple(found)

    def of_attribute(self, attribute: str) -> tuple[Mark, ...]:
        """Marks of one attribute under the samples' labels."""
        from tuner.proof.panel_results import Mark

        labels = {one.code: one.label for one in self.identities}
        orders = self.session.orders
        return tuple(
            Mark(labels[one.code], one.taster, orders[one.taster].index(one.code) + 1, one.marks[attribute])
            for one in self.marks
            if attribute in one.marks
        )

    def benchmark_mean(self, attribute: str) -> SampleMean | None:
        """The hidden benchmark in this session, None where nobody marked it."""
        from tuner.proof.panel_results import attribute_result

        marks = self.of_attribute(attribute)
        return attribute_result(attribute, marks).of(BENCHMARK) if marks else None

    def view(self) -> SessionView:
        """As it is shown: blind until closed."""
        from tuner.safety import cautions

        session = self.session
        sheets = tuple(
            TasterSheet(
                taster, codes, tuple(code for code in codes if any(m.taster == taster and m.code == code for m in self.marks))
            )
            for taster, codes in session.orders.items()
        )
        return SessionView(
            id=self.record.id,
            development_id=self.loaded.development.id,
            planned_at=self.record.stamp.at,
            planned_by=self.record.stamp.by,
            attributes=session.attributes,
            sheets=sheets,
            allergens=tuple(self.record.content["allergens"]),
            cautions=tuple(caution.text for caution in cautions("session invitation")),
            not_tasting=tuple(name for name, said in self.may_taste.items() if not said),
            closed_at=self.closing.stamp.at if self.closing else None,
            closed_by=self.closing.stamp.by if self.closing else None,
            result=self.result() if self.closing else None,
        )

    def result(self) -> SessionResult:
        """What the session shows, unblinded."""
        from tuner.proof.panel_results import attribute_result

        results = tuple(attribute_result(name, marks) for name in self.session.attributes if (marks := self.of_attribute(name)))
        return SessionResult(
            identities=self.identities,
            attributes=results,
            differences=tuple(one for result in results for one in _differences(result)),
            duplicate_sd={result.attribute: self._duplicates(result.attribute) for result in results},
            drifts=self._drifts(results),
            penalties=self._penalties(),
            serving_age_s=self._ages(),
            remarks=tuple(self._remarks(results)),
        )

    def _duplicates(self, attribute: str) -> float | None:
        from tuner.proof.panel_results import duplicate_sd

        second = next(one for one in self.identities if one.kind == "duplicate")
        first = next(one for one in self.identities if one.cook_id == second.cook_id and one.kind == "cook")
        by_taster: dict[str, dict[str, float]] = {}
        for mark in self.of_attribute(attribute):
            by_taster.setdefault(mark.taster, {})[mark.sample] = mark.mark
        pairs = [marks for marks in by_taster.values() if first.label in marks and second.label in marks]
        return duplicate_sd([pair[first.label] for pair in pairs], [pair[second.label] for pair in pairs])

    def _drifts(self, results: tuple[AttributeResult, ...]) -> Mapping[str, Drift]:
        from tuner.proof.panel_results import drift

        found = {}
        for result in results:
            now = result.of(BENCHMARK)
            before = [mean for one in self.earlier if (mean := one.benchmark_mean(result.attribute)) is not None]
            moved = drift(now, before) if now is not None else None
            if moved is not None:
                found[result.attribute] = moved
        return found

    def _penalties(self) -> dict[str, Penalties]:
        from tuner.proof.just_right import penalties

        found = {}
        for name in self.session.attributes:
            pairs = [(m.marks[name], m.marks[LIKING]) for m in self.marks if name in m.marks and LIKING in m.marks]
            if name != LIKING and pairs:
                found[name] = penalties([mark for mark, _ in pairs], [liked for _, liked in pairs])
        return found

    def _ages(self) -> dict[str, float]:
        labels = {one.code: one.label for one in self.identities}
        ages: dict[str, list[float]] = {}
        for one in self.marks:
            if one.serving_age_s is not None:
                ages.setdefault(labels[one.code], []).append(one.serving_age_s)
        return {label: float(np.mean(values)) for label, values in ages.items()}

    def _remarks(self, results: tuple[AttributeResult, ...]) -> list[str]:
        from tuner.proof.panel_results import DUPLICATE_SD

        found = [f"{result.attribute}: {remark}" for result in results for remark in result.remarks]
        for name, spread in ((result.attribute, self._duplicates(result.attribute)) for result in results):
            if spread is not None and spread > DUPLICATE_SD:
                found.append(
                    f"{name}: blind duplicates differ by {spread:.2f}, more than {DUPLICATE_SD:g}: marks are unsteady."
                )
        for name, moved in self._drifts(results).items():
            if moved.shows:
                found.append(f"{name}: the hidden benchmark moved by {moved.change:+.2f}: anchor the panel, not the program.")
        ages = self._ages()
        if ages and BENCHMARK in ages and max(ages.values()) - min(ages.values()) > _SAME_AGE_S:
            found.append("Samples were served at different ages: differences from the benchmark may be those of age.")
        unfinished = [
            sheet for sheet in self.session.tasters if sum(m.taster == sheet for m in self.marks) < len(self.session.samples)
        ]
        if unfinished:
            found.append(f"Not all samples were marked by {', '.join(unfinished)}; means are corrected for that.")
        return found


_SAME_AGE_S = 60.0
"""Serving ages within which samples are compared as they are [s] (common practice, no source)."""


def _differences(result: AttributeResult) -> list[BenchmarkDifference]:
    from math import hypot

    benchmark = result.of(BENCHMARK)
    found = []
    for mean in result.means if benchmark is not None else ():
        if benchmark is not None and mean.sample != BENCHMARK:
            errors = (mean.standard_error, benchmark.standard_error)
            error = hypot(errors[0], errors[1]) if errors[0] is not None and errors[1] is not None else None
            found.append(BenchmarkDifference(result.attribute, mean.sample, mean.mean - benchmark.mean, error))
    return found


def read_session(reading: Reading | UnitOfWork, session_id: str) -> KeptSession:
    """A session, its marks, and the sessions of the development that were closed before.

    Raises
    ------
    NotFound
        If there is no such session, or none this person may see.
    """
    record = reading.records.one(session_id)
    if record.kind != SESSION or record.development_id is None:
        raise NotFound(f"No tasting session has the id {session_id!r}. Check the id.")
    development = reading.developments.one(record.development_id)
    loaded = read_rest(reading, development)
    sessions = [_kept(reading, loaded, one) for one in reading.records.of_development(development.id, SESSION)]
    own = next(one for one in sessions if one.record.id == session_id)
    until = own.closing.stamp.sequence if own.closing else own.record.stamp.sequence
    before = tuple(one for one in sessions if one is not own and one.closing and one.closing.stamp.sequence < until)
    return KeptSession(loaded, own.record, own.marks_records, own.closing, before)


def _kept(reading: Reading | UnitOfWork, loaded: Loaded, record: KeptRecord) -> KeptSession:
    closed = reading.records.of_kind(CLOSED, about=record.id)
    return KeptSession(loaded, record, reading.records.of_kind(MARKS, about=record.id), closed[0] if closed else None)
