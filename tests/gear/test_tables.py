"""Tables as bytes: encodings, separators, quoting (RFC 4180), limits, and cells that spreadsheets obey."""

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boardshop.gear.csv_import import table
from boardshop.gear.csv_import.table import TableError, escape, read_table, unescape, write_table


def cells(content: bytes) -> list[tuple[int, tuple[str, ...]]]:
    read = read_table(content)
    return [(1, read.headings), *((line.number, line.cells) for line in read.lines)]


@pytest.mark.parametrize(
    "content",
    [
        "name;note\nÉlan;Ø 2,1\n".encode(),
        "name;note\nÉlan;Ø 2,1\n".encode("utf-8-sig"),
        "name;note\r\nÉlan;Ø 2,1\r\n".encode("cp1252"),
        "name;note\rÉlan;Ø 2,1\r".encode(),
        "name\tnote\nÉlan\tØ 2,1\n".encode("utf-16"),
        'name,note\nÉlan,"Ø 2,1"\n'.encode(),
        "sep=;\nname;note\nÉlan;Ø 2,1\n".encode(),
    ],
)
def test_usual_encodings_separators_and_line_ends(content: bytes) -> None:
    assert [row for _line, row in cells(content)] == [("name", "note"), ("Élan", "Ø 2,1")]


def test_lines_are_counted_as_an_editor_counts_them() -> None:
    content = b'\nname,note\n"a\nb",1\n\n , \nc,2\n'
    assert cells(content)[1:] == [(3, ("a\nb", "1")), (7, ("c", "2"))]


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "is empty"),
        (b"\n \n", "is empty"),
        (b"name\n\x81\x8d\n", "no text in UTF-8 or Windows-1252"),
        (b"name\nA\x00B\n", "no text"),
        (b"PK\x03\x04 and so on", "spreadsheet's own file"),
        (b"name\n" + b"x\n" * (table.MOST_ROWS + 1), "more than 1000 rows"),
        (b"n," * table.MOST_COLUMNS + b"n\n", "more than 200 columns"),
        (b"name\n" + b"x" * (table.LONGEST_CELL + 1), "line 2 has more than 10000 signs"),
        (b'name\n"' + b"x" * 200_000, "lost quotation mark"),
    ],
)
def test_a_file_that_cannot_be_read_says_why(content: bytes, says: str) -> None:
    with pytest.raises(TableError, match=says):
        read_table(content)


def test_the_most_rows_are_still_read() -> None:
    assert len(read_table(b"name\n" + b"x\n" * table.MOST_ROWS).lines) == table.MOST_ROWS


@pytest.mark.parametrize("cell", ["=1+1", "+49 30", "-5", "@home", "\tx", "'=x", "''@", "don't", "'tis", ""])
def test_no_exported_cell_is_a_formula_and_all_come_back(cell: str) -> None:
    assert not escape(cell).startswith(("=", "+", "-", "@", "\t", "\r"))
    assert unescape(escape(cell)) == cell


def test_a_written_table_is_one_that_the_standard_library_reads() -> None:
    written = write_table(["name", "note"], [['say "hi", twice', "a\nb"]])
    assert written.startswith(b"\xef\xbb\xbfname,note\r\n")
    assert list(csv.reader(io.StringIO(written.decode("utf-8-sig"), newline=""))) == [
        ["name", "note"],
        ['say "hi", twice', "a\nb"],
    ]


TEXT = st.text(st.characters(codec="utf-8", exclude_characters="\x00\r"), max_size=20).map(str.strip)


@given(st.lists(st.tuples(TEXT, TEXT).filter(any), max_size=5))
def test_any_cells_survive_writing_and_reading(rows: list[tuple[str, str]]) -> None:
    assert [line.cells for line in read_table(write_table(["a", "b"], rows)).lines] == rows


@given(st.binary(max_size=300) | st.text(max_size=200).map(lambda text: text.encode(errors="replace")))
def test_any_bytes_are_read_or_refused(content: bytes) -> None:
    try:
        read_table(content)
    except TableError:
        return


@pytest.mark.parametrize(
    "rows",
    [
        'Kestrel;Ember;fuzz\n";Slate;gate\n',
        'Kestrel;Ember;fuzz\n";Slate;gate\n";Tide;delay\n',
        'Kestrel;Ember;fuzz\nNorr;";gate\nNorr;Tide;delay\n',
        'Kestrel;";"\n',
    ],
)
def test_a_bare_quotation_mark_for_as_above_is_refused(rows: str) -> None:
    """RFC 4180 lets it open a cell in quotes, which would swallow what stands behind it."""
    with pytest.raises(TableError, match="nothing but a quotation mark"):
        read_table(f"maker;name;kind\n{rows}".encode())


def test_text_in_quotes_may_begin_with_the_separator() -> None:
    assert cells(b'name;note\nEmber;"; see\nbelow"\n')[1] == (2, ("Ember", "; see\nbelow"))
