"""Logs of many kitchens, read as an outsider would check it: nothing guessed wrong, nothing lost unseen, little asked in vain."""

from __future__ import annotations

import csv
import io
import random

import pytest

from tests.exchange.unseen import (
    english_odd,
    english_text,
    fifth_drawer,
    fourth_drawer,
    other_languages,
    second_drawer,
    third_drawer,
    workbooks,
)
from tests.exchange.unseen.bench import BRIEF, OVEN
from tests.exchange.unseen.kitchen_log import KitchenLog
from tests.exchange.unseen.scoring import Reader

LOGS = [
    log
    for module in (
        english_text,
        english_odd,
        other_languages,
        workbooks,
        second_drawer,
        third_drawer,
        fourth_drawer,
        fifth_drawer,
    )
    for log in module.SHELF.logs
]
READER = Reader(BRIEF, OVEN)


def test_the_logs_are_many_and_different() -> None:
    assert len(LOGS) >= 220
    assert len({log.data for log in LOGS}) == len({log.name for log in LOGS}) == len(LOGS)


@pytest.mark.parametrize("log", LOGS, ids=lambda log: log.name)
def test_nothing_is_guessed_wrong_or_lost(log: KitchenLog) -> None:
    tally = READER.tally(log)
    assert tally.error == ""
    assert (tally.wrong, tally.lost, tally.unshown) == ([], [], [])
    assert tally.needless == []


def _rewritten(log: KitchenLog, seed: int) -> KitchenLog | None:
    """The same log as another program would save it: other separator, encoding and line ends, a stray blank line."""
    encoding = "utf-16" if log.data.startswith(b"\xff\xfe") else "utf-8-sig" if _decodes(log.data, "utf-8") else "cp1252"
    if log.filename.endswith(".xlsx"):
        return None
    text = log.data.decode(encoding)
    if text.startswith("sep="):
        return None
    separator = max(";\t|,", key=max(text.splitlines(), key=lambda line: line.count(";") + line.count("\t")).count)
    rows = list(csv.reader(io.StringIO(text, newline=""), delimiter=separator))
    rng = random.Random(seed)
    out = io.StringIO(newline="")
    writer = csv.writer(out, delimiter=rng.choice(";\t,|"), lineterminator=rng.choice(("\n", "\r\n")))
    writer.writerows(rows)
    text = out.getvalue()
    encodings = [name for name in ("utf-8", "utf-8-sig", "utf-16", "cp1252") if _encodes(text, name)]
    data = (text + rng.choice(("", "\n"))).encode(rng.choice(encodings))
    return KitchenLog(log.name, "other.csv", data, log.truth, log.must_ask, log.may_ask, log.free, log.refused)


def _decodes(data: bytes, encoding: str) -> bool:
    try:
        data.decode(encoding)
    except UnicodeError:
        return False
    return True


def _encodes(text: str, encoding: str) -> bool:
    try:
        text.encode(encoding)
    except UnicodeError:
        return False
    return True


@pytest.mark.parametrize("seed", range(2))
def test_the_same_logs_saved_otherwise_read_the_same(seed: int) -> None:
    for number, log in enumerate(LOGS):
        other = _rewritten(log, 1000 * seed + number)
        if other is not None:
            tally = READER.tally(other)
            assert (log.name, tally.error, tally.wrong, tally.lost, tally.unshown) == (log.name, "", [], [], [])


@pytest.mark.parametrize("log", LOGS, ids=lambda log: log.name)
def test_what_is_asked_can_be_left_out_and_then_nothing_more_is_asked(log: KitchenLog) -> None:
    from tuner.exchange import LEAVE_OUT, read_table

    table = read_table(log.data, log.filename)
    result = READER.read(table)
    for _ in range(40):
        if not result.questions:
            break
        result = READER.read(table, result.mapping.answered(result.questions[0].code, LEAVE_OUT))
    assert result.questions == ()
