"""Bytes to a table of text: encodings, separators, limits; whatever comes, the answer is a table or a sentence."""

from __future__ import annotations

import io
import zipfile
from contextlib import suppress

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.exchange.importing import imported, saved, sheet
from tuner.domain import InvalidDocument
from tuner.exchange import bounds, read_table

LOG = "Nr;Kern °C;Gewicht g;Bräunung\n1;76,4;183,5;3\n2;77,0;181,0;3,5\n"


@pytest.mark.parametrize(
    "encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32", "cp1252", "mac_roman", "cp850"]
)
def test_the_encodings_that_kitchens_write_are_told_apart(encoding: str) -> None:
    table = read_table(LOG.encode(encoding), "log.csv")
    assert table.columns[1].heading == "Kern °C"
    assert [row.cells for row in table.rows] == [("1", "76,4", "183,5", "3"), ("2", "77,0", "181,0", "3,5")]


@pytest.mark.parametrize("separator", [";", ",", "\t", "|"])
@pytest.mark.parametrize("lines", ["\n", "\r\n", "\r"])
def test_separators_and_line_ends_are_told_by_the_cells(separator: str, lines: str) -> None:
    rows = [["Cook", "Core", "Mass"], ["1", "76", "183"], ["2", "77", "181"]]
    table = read_table(lines.join(separator.join(row) for row in rows).encode(), "log.txt")
    assert [column.heading for column in table.columns] == rows[0]
    assert [list(row.cells) for row in table.rows] == rows[1:]


def test_a_line_that_tells_the_separator_is_believed_and_lines_are_counted_as_in_the_file() -> None:
    table = read_table(b'sep=;\nTitle\n\nCook;Core;Note\n1;76;"two\nlines"\n2;77;x\n', "log.csv")
    assert [(row.line, row.cells) for row in table.rows] == [(5, ("1", "76", "two\nlines")), (7, ("2", "77", "x"))]
    assert table.titles == (("Title",),)


def test_a_quote_that_never_ends_does_not_swallow_the_file() -> None:
    table = read_table(('Cook,Core,Note\n1,76,"5 inch\n' + "2,77,fine\n" * 900).encode(), "log.csv")
    assert len(table.rows) == 901


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "empty"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "old binary workbook"),
        (b"%PDF-1.7", "PDF"),
        (b"\x89PNG\r\n", "picture"),
        (b"<!DOCTYPE html><table>", "web page"),
        (b"PK\x03\x04 not really", "can't be read"),
        (b"\x00\x01\x02\x03\x04", "no text"),
        (b"\xff\xfea", "utf-16"),
        (b"a;b;c\n", "no rows"),
    ],
)
def test_what_is_no_log_is_refused_in_words(data: bytes, words: str) -> None:
    with pytest.raises(InvalidDocument, match=words):
        read_table(data, "log.csv")


def test_a_file_too_large_or_with_too_many_rows_or_columns_is_refused() -> None:
    with pytest.raises(InvalidDocument, match="MB"):
        read_table(b"a,b\n" * (bounds.MAX_LOG_BYTES // 4 + 1), "log.csv")
    with pytest.raises(InvalidDocument, match="rows"):
        read_table(b"Core,Mass\n" + b"76,183\n" * (bounds.MAX_ROWS + 1), "log.csv")
    with pytest.raises(InvalidDocument, match="columns"):
        read_table(
            (",".join(["Core"] * (bounds.MAX_COLUMNS + 1)) + "\n" + ",".join(["76"] * (bounds.MAX_COLUMNS + 1))).encode(),
            "log.csv",
        )
    with pytest.raises(InvalidDocument, match="characters"):
        read_table(b"Core,Note\n76," + b"x" * (bounds.MAX_CELL_CHARACTERS + 1) + b"\n", "log.csv")


def packed(**parts: bytes) -> bytes:
    """A packed file of some parts."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in parts.items():
            archive.writestr(name.replace("__", "/").replace("_dot_", "."), content)
    return out.getvalue()


def test_a_packed_bomb_is_refused_before_it_is_opened() -> None:
    bomb = packed(**{"xl__worksheets__sheet1_dot_xml": b"0" * (bounds.MAX_UNPACKED_BYTES + 1)})
    assert len(bomb) < 1_000_000
    with pytest.raises(InvalidDocument, match="unpacks to"):
        read_table(bomb, "log.xlsx")


def test_packed_files_that_are_no_workbooks_are_named() -> None:
    with pytest.raises(InvalidDocument, match="OpenDocument"):
        read_table(packed(mimetype=b"application/vnd.oasis.opendocument.spreadsheet"), "log.ods")
    with pytest.raises(InvalidDocument, match="no workbook"):
        read_table(packed(readme=b"hello"), "log.zip")


def test_a_sheet_that_reaches_to_its_last_row_is_refused_not_walked() -> None:
    page = sheet([["Core", "Mass"], [76, 183]])
    page.cell(1_048_576, 1, "x")
    with pytest.raises(InvalidDocument, match="reaches beyond"):
        read_table(saved(page), "log.xlsx")


@settings(deadline=None, max_examples=150)
@given(st.binary(max_size=400))
def test_any_bytes_are_a_table_or_an_invalid_document(data: bytes) -> None:
    with suppress(InvalidDocument):
        imported(data)


_CELLS = st.sampled_from(
    "1 2 76,4 76.4 1.234 3:30 40%|30/80 2026-03-02 02/03/26 abc - n/a A yes 168 °F g Core Mass Air MW Taster Browning Stage Time Date".split()
) | st.text(max_size=8)


@settings(deadline=None, max_examples=200)
@given(st.lists(st.lists(_CELLS, max_size=7), max_size=8), st.sampled_from([",", ";", "\t", "|"]))
def test_any_cells_are_read_guessed_and_applied_or_refused_in_words(rows: list[list[str]], separator: str) -> None:
    text = "\n".join(separator.join(row) for row in rows)
    with suppress(InvalidDocument):
        result = imported(text.encode("utf-8", "surrogatepass"))
        lines = {row.line for row in result.refused} | {row.line for row in result.skipped} | {one.line for one in result.cooks}
        assert all(line >= 1 for line in lines)


_GOOD = saved(sheet([["Cook", "Core °C", "Mass g"], [1, 76, 183], [2, 77, 181]]))


@settings(deadline=None, max_examples=60)
@given(st.data())
def test_a_damaged_workbook_is_a_table_or_an_invalid_document(data: st.DataObject) -> None:
    broken = bytearray(_GOOD)
    for _ in range(data.draw(st.integers(1, 6))):
        broken[data.draw(st.integers(0, 100_000)) % len(broken)] = data.draw(st.integers(0, 255))
    cut = data.draw(st.integers(0, 40))
    with suppress(InvalidDocument):
        read_table(bytes(broken[: len(broken) - cut]), "log.xlsx")


@settings(deadline=None, max_examples=60)
@given(st.binary(max_size=300) | st.text(max_size=200).map(lambda text: text.encode("utf-8", "surrogatepass")))
def test_a_workbook_with_any_sheet_inside_is_a_table_or_an_invalid_document(content: bytes) -> None:
    original = io.BytesIO(saved(sheet([["Cook", "Core °C"], [1, 76]])))
    out = io.BytesIO()
    with zipfile.ZipFile(original) as source, zipfile.ZipFile(out, "w") as target:
        for part in source.infolist():
            target.writestr(
                part.filename, content if part.filename == "xl/worksheets/sheet1.xml" else source.read(part.filename)
            )
    with suppress(InvalidDocument):
        read_table(out.getvalue(), "log.xlsx")
