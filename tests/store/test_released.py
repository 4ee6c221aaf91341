"""A database of every released schema is kept here and opened with today's code."""

from __future__ import annotations

import gzip
from pathlib import Path

import pytest

from tests.store.invented import OVEN, PROGRAM, PROPOSAL, brief, cook
from tests.store.test_audit import fill
from tests.store.test_migrations import REVISIONS
from tuner.store import Store

RELEASED = Path(__file__).parent / "released"
FILES = sorted(RELEASED.glob("*.sqlite.gz"))


def test_every_schema_has_its_file():
    assert [path.name.split(".")[0] for path in FILES] == REVISIONS


@pytest.mark.parametrize("path", FILES, ids=[path.name for path in FILES])
def test_a_file_of_a_released_schema_opens_and_everything_in_it_is_read(path: Path, tmp_path: Path):
    opened = tmp_path / "old.sqlite"
    opened.write_bytes(gzip.decompress(path.read_bytes()))
    store = Store.open(f"sqlite:///{opened}")
    with store.read(None) as reading:
        assert reading.audit.first_broken() is None
        [development] = reading.developments.all()
        assert (development.brief, development.state, development.state_reason) == (brief(), "closed", "done")
        assert [oven.oven for oven in reading.ovens.all()] == [OVEN]
        assert [row.cook for row in reading.cooks.of_development(development.id)] == [cook()]
        [proposal] = reading.proposals.of_development(development.id)
        assert (proposal.proposal, proposal.decisions[0].program) == (PROPOSAL, PROGRAM)
        assert [mapping.mapping for mapping in reading.mappings.all()] == [{"a": 1}]
    fill(store)  # and it can be written
    with store.read(None) as reading:
        assert reading.audit.count() == 11
    store.close()
