from __future__ import annotations

from typing import Any

import pytest
from streamlit.testing.v1 import AppTest

from tests.example import cook
from tests.screens.desk import Desk, markup, opened
from tests.screens.records import NASTY, record, view
from tuner import services
from tuner.exchange import ColumnMapping, ColumnUse, ImportedCook, ImportQuestion, ImportResult, RefusedRow
from tuner.exchange.import_result import LeftOut
from tuner.services import ImportedRow, ImportPreview, ImportReport

FILE = ("cooks.csv", b"core\n76.4\n", "text/csv")
UNIT = ImportQuestion(code="unit", text="Are the core temperatures in °C or °F?", choices=("°C", "°F"))


def guessed() -> ColumnMapping:
    core = ColumnUse(column=0, heading="Kern", field="core", unit=None, samples=("76,4", "77,0", "79,1"), why="the heading")
    lot = ColumnUse(column=1, heading=NASTY, field="ignore", samples=(NASTY,))
    return ColumnMapping(layout="one", columns=(core, lot), questions=(UNIT,))


class Log(Desk):
    """A desk with a file whose reading depends on the mapping, as the real one does."""

    remembered = False

    def preview_import(
        self, space: Any, who: Any, *, development_id: str, data: bytes, filename: str, mapping: ColumnMapping | None = None
    ) -> ImportPreview:
        used = mapping or guessed()
        result = ImportResult(
            cooks=(ImportedCook(line=2, cook=cook(), remarks=("rest worked out",)),) if used.answers else (),
            refused=(RefusedRow(line=9, reason="shares add up to 95 %; correct them"),),
            skipped=(RefusedRow(line=12, reason="a line of means"),),
            left_out=(LeftOut(line=3, column="Kern", value="hot", reason="no number"),),
            questions=used.open_questions,
            mapping=used,
        )
        return ImportPreview(None, used, result, used.open_questions, self.remembered)  # type: ignore[arg-type]

    def import_cooks(
        self, space: Any, who: Any, *, development_id: str, data: bytes, filename: str, mapping: ColumnMapping
    ) -> ImportReport:
        self.keep("import", mapping=mapping, filename=filename)
        return ImportReport(added=1, known=0, refused=(ImportedRow(9, "shares add up to 95 %; correct them"),))

    def import_fields(self) -> dict[str, str]:
        return {"core": "core temperature", "ignore": "not used", "lot": "lot"}

    def import_json(self, space: Any, who: Any, *, data: bytes) -> ImportReport:
        self.keep("json", data=data)
        return ImportReport(added=4, known=2)


@pytest.fixture
def log(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> Log:
    made = Log()
    made.add(view(record(1)))
    for name in ("list_developments", "view_development", "preview_import", "import_cooks", "import_fields", "import_json"):
        monkeypatch.setattr(services, name, getattr(made, name))
    return made


def uploaded() -> AppTest:
    app = opened("import_log", development="development-1")
    app.file_uploader(key="log-development-1").set_value(FILE)
    return app.run()


def answered(app: AppTest) -> AppTest:
    next(one for one in app.selectbox if one.label == UNIT.text).set_value("°F")
    return app.run()


def test_before_a_file_is_there_it_says_how_it_goes(log: Log) -> None:
    assert "Nothing is kept before you say so" in markup(opened("import_log", development="development-1"))


def test_columns_are_shown_with_their_samples_and_reasons(log: Log) -> None:
    text = markup(uploaded())
    for words in ("Kern", "76,4 · 77,0 · 79,1", "told by the heading"):
        assert words in text
    assert any("core temperature: correct it" in one.label for one in uploaded().toggle)


def test_what_is_doubtful_is_asked_and_nothing_goes_in_before_the_answer(log: Log) -> None:
    app = uploaded()
    assert app.button(key="keep-import").disabled
    app = answered(app)
    assert "rest worked out" in markup(app)
    app.button(key="keep-import").click().run()
    assert log.kept[-1][1]["mapping"].answers == {"unit": "°F"}
    assert "1 cook added" in markup(app)


def test_refused_rows_values_and_skipped_lines_are_listed_with_their_reasons(log: Log) -> None:
    text = markup(uploaded())
    for words in ("line 9", "shares add up to 95 %", "line 12", "a line of means", "Kern hot: no number"):
        assert words in text


def test_a_column_corrected_by_hand_is_read_so(log: Log) -> None:
    app = uploaded()
    next(one for one in app.toggle if "not used" in one.label).set_value(True).run()
    next(one for one in app.selectbox if one.label == "It holds").set_value("lot").run()
    app = answered(app)
    app.button(key="keep-import").click().run()
    use = log.kept[-1][1]["mapping"].columns[1]
    assert (use.field, use.by_person) == ("lot", True)


def test_a_layout_that_was_read_before_says_so(log: Log) -> None:
    log.remembered = True
    assert "This layout was read before" in markup(uploaded())


def test_headings_and_cells_stay_words(log: Log) -> None:
    text = markup(uploaded())
    assert "<img" not in text
    assert "&lt;img" in text


def test_an_export_of_the_tuner_is_taken_back_whole(log: Log) -> None:
    app = opened("import_log", development="development-1")
    app.file_uploader(key="whole").set_value(("all.json", b"{}", "application/json"))
    app.run()
    app.button(key="take-back").click().run()
    assert log.kept == [("json", {"data": b"{}"})]
    assert "4 cooks added, 2 known already" in markup(app)
