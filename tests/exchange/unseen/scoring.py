"""Counts what an import makes of a log: right, asked, asked needlessly, refused, guessed wrong, lost."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field

from tests.exchange.unseen.kitchen_log import Facts, KitchenLog
from tests.exchange.unseen.reading import agrees, facts_of, rightness, stated
from tuner.domain import Brief, InvalidDocument, Oven, TestCook
from tuner.exchange import LEAVE_OUT, ColumnMapping, ImportResult, Table, apply_mapping, guess_mapping, read_table

MOST_QUESTIONS = 25
TOPIC_OF_FIELD = {
    "air_temperature": "air", "duration": "duration", "program": "stages", "program_set": "stages", "program_name": "stages",
    "stage_number": "stages", "stage": "stages", "stage_share": "stages", "stage_air": "stages", "stage_microwave": "stages",
    "mass_in": "mass_in", "mass_out": "mass_out", "loss": "mass_out", "yield": "mass_out", "start_temperature": "start",
    "core": "core", "place": "core", "rest": "rest", "rest_covered": "covered", "completed": "completed",
    "interrupted": "completed", "interrupted_by": "completed", "cooked_at": "when", "cooked_on": "when",
    "cooked_time": "when", "thermometer_checked_at": "check", "browning": "browning", "texture": "texture",
    "moisture": "moisture", "purpose": "purpose", "dish": "dish", "oven_name": "oven", "oven_serial": "serial",
    "cook_name": "who", "lot": "lot", "load": "load", "note": "note",
}  # fmt: skip
SCORES = frozenset(("browning", "texture", "moisture"))


@dataclass
class Tally:
    """What became of the topics of one log."""

    name: str
    right: int = 0
    asked: int = 0
    refused: int = 0
    needless: list[str] = field(default_factory=list)
    wrong: list[str] = field(default_factory=list)
    lost: list[str] = field(default_factory=list)
    unshown: list[str] = field(default_factory=list)
    error: str = ""

    @property
    def penalty(self) -> int:
        """Needless questions and refusals count one, what is wrong or lost three."""
        return len(self.needless) + 3 * (len(self.wrong) + len(self.lost) + len(self.unshown))


@dataclass(frozen=True)
class Reader:
    """One brief and oven that logs are read for."""

    brief: Brief
    oven: Oven

    def read(self, table: Table, mapping: ColumnMapping | None = None) -> ImportResult:
        """Guess, or guess on from a mapping, and carry it out."""
        used = guess_mapping(table, brief=self.brief, oven=self.oven, remembered=mapping)
        return apply_mapping(table, used, source="log", brief=self.brief, oven=self.oven)

    def answered(self, table: Table, result: ImportResult, log: KitchenLog) -> ImportResult:
        """Everything answered by somebody who knows the truth: of each question the choice that fits it best."""
        for _ in range(MOST_QUESTIONS):
            if not result.questions:
                break
            question = result.questions[0]
            choices = [*question.choices, *(log.free if question.free else ())]
            choices.sort(key=lambda choice: choice == LEAVE_OUT)
            tried = [self.read(table, result.mapping.answered(question.code, choice)) for choice in dict.fromkeys(choices)]
            result = max(tried, key=lambda one: _fit(one, log))
        return result

    def tally(self, log: KitchenLog) -> Tally:
        """Read a log without and with answers, and count."""
        tally = Tally(log.name)
        try:
            table = read_table(log.data, log.filename)
        except InvalidDocument as error:
            tally.error = str(error)
            tally.refused = _topics(log)
            return tally
        plain = self.read(table)
        full = self.answered(table, plain, log)
        _count_topics(tally, log, plain, full)
        _count_questions(tally, log, plain, full)
        _count_columns(tally, table, full)
        return tally


def _topics(log: KitchenLog) -> int:
    return len({topic for truth in log.truth for topic in stated(truth)})


def _fit(result: ImportResult, log: KitchenLog) -> int:
    cooks = [one.cook for one in result.cooks]
    pairs = aligned(cooks, log.truth)
    points = sum(rightness(cook, truth) for cook, truth in pairs if cook is not None and truth is not None)
    return points - 5 * sum(1 for _, truth in pairs if truth is None)


def aligned(cooks: Sequence[TestCook], truths: Sequence[Facts]) -> list[tuple[TestCook | None, Facts | None]]:
    """Cooks and truths paired in order, so that they fit best; what has no partner stands alone."""
    best: dict[tuple[int, int], tuple[float, list[tuple[TestCook | None, Facts | None]]]] = {(0, 0): (0.0, [])}
    for i in range(len(cooks) + 1):
        for j in range(len(truths) + 1):
            options = []
            if i and j:
                points, pairs = best[i - 1, j - 1]
                options.append((points + rightness(cooks[i - 1], truths[j - 1]) + 0.5, [*pairs, (cooks[i - 1], truths[j - 1])]))
            if i:
                points, pairs = best[i - 1, j]
                options.append((points - 30.0, [*pairs, (cooks[i - 1], None)]))
            if j:
                points, pairs = best[i, j - 1]
                options.append((points - 30.0, [*pairs, (None, truths[j - 1])]))
            if options:
                best[i, j] = max(options, key=lambda option: option[0])
    return best[len(cooks), len(truths)][1]


def _count_topics(tally: Tally, log: KitchenLog, plain: ImportResult, full: ImportResult) -> None:
    asked_about = {topic for question in plain.questions for topic in topics_of(question.code, question.columns, plain)}
    before = _states(log, plain)
    after = _states(log, full)
    for topic in sorted(before.keys() | after.keys()):
        early, late = before.get(topic, Counter()), after.get(topic, Counter())
        opened = bool(plain.questions) and (topic in asked_about or "any" in asked_about)
        if late["wrong"] or (early["wrong"] and not opened):
            tally.wrong.append(f"{topic} {dict(early)} {dict(late)}")
        elif late["lost"]:
            tally.lost.append(f"{topic} {dict(late)}")
        elif topic in log.must_ask and not opened and not (early["told"] or early["refused"]) and early["right"]:
            tally.wrong.append(f"{topic}: taken without the question it needs")
        elif late["told"] or late["refused"]:
            tally.refused += 1
            if topic not in log.may_ask | log.must_ask:
                tally.needless.append(
                    f"{topic} not taken: {[one.reason for one in full.refused][:1]}{[one.reason for one in full.left_out][:1]}"
                )
        elif opened or early["lost"] or early["told"] or early["refused"]:
            tally.asked += 1
        else:
            tally.right += 1
    if len(full.refused) + len(full.skipped) < log.refused:
        tally.lost.append(f"{log.refused} rows to refuse, {len(full.refused) + len(full.skipped)} listed")


def _states(log: KitchenLog, result: ImportResult) -> dict[str, Counter[str]]:
    """For each topic how many cooks have it right, wrong, lost, told (left out with a reason) or refused."""
    states: dict[str, Counter[str]] = {}

    def note(topic: str, state: str) -> None:
        states.setdefault(topic, Counter())[state] += 1

    by_id = {one.cook.client_id: one for one in result.cooks}
    refusals = len(result.refused)
    told = {(one.line, one.part, topic) for one in result.left_out for topic in _topics_of_heading(one.column, result)}
    for cook, truth in aligned([one.cook for one in result.cooks], log.truth):
        if truth is None:
            note("extra cook", "wrong")
            continue
        wanted = stated(truth)
        if cook is None:
            refusals -= 1
            for topic in wanted:
                note(topic, "refused" if refusals >= 0 else "lost")
            continue
        one = by_id[cook.client_id]
        found = facts_of(cook)
        if "note" in truth:
            note("note", "right" if truth["note"] in (cook.note or "") else "lost")
        if "purpose" in truth:
            note("purpose", "right" if truth["purpose"] == cook.purpose else "wrong")
        for topic in wanted.keys() | found.keys():
            if topic not in wanted:
                note(topic, "wrong")
            elif topic not in found:
                lines = {line for line, part, named in told if named == topic and part == one.part and line >= one.line}
                note(topic, "told" if lines else "lost")
            else:
                note(topic, "right" if agrees(topic, found[topic], wanted[topic]) else "wrong")
    return states


def _topics_of_heading(heading: str, result: ImportResult) -> set[str]:
    named = {TOPIC_OF_FIELD.get(use.field, use.field) for use in result.mapping.columns if use.heading == heading}
    return named | (set(SCORES) if "scores" in named else set())


def topics_of(code: str, columns: Sequence[int], result: ImportResult) -> set[str]:
    """What a question is about."""
    uses = [use for use in result.mapping.columns if use.column in columns]
    topics = {TOPIC_OF_FIELD.get(use.field, "column") for use in uses}
    if code.startswith("scale") or any(use.field in ("scores", "other_score", "taster") for use in uses):
        topics |= SCORES
    if code.startswith("time_zone"):
        topics |= {"when", "check"}
    if code == "year":
        topics.add("when")
    if code.startswith("above:"):
        topics |= {"when" if code.endswith("day") else "stages"}
    if not uses:
        topics |= {code.split(":")[0], TOPIC_OF_FIELD.get(code.partition(":")[2], "")}
    return topics


def _count_questions(tally: Tally, log: KitchenLog, plain: ImportResult, full: ImportResult) -> None:
    allowed = log.must_ask | log.may_ask
    for question in full.mapping.questions:
        topics = topics_of(question.code, question.columns, full) | topics_of(question.code, question.columns, plain)
        if not topics & allowed:
            tally.needless.append(f"{question.code}: {question.text}")


def _count_columns(tally: Tally, table: Table, full: ImportResult) -> None:
    asked = {column for question in full.mapping.questions for column in question.columns}
    for use in full.mapping.columns:
        told = use.column in asked or any(use.heading in remark for remark in full.mapping.remarks)
        if use.field == "ignore" and not told and table.values(use.column):
            tally.unshown.append(use.heading)
