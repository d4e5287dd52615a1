"""Tables as other systems write them are read, and ours run nothing."""

import csv
import io

import openpyxl
import pytest

from exercises import table
from exercises.draws import draw
from exercises.table import open_table
from tests.exercises.invented_class import SET, csv_of, gram_for_gram, marked, right


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
@pytest.mark.parametrize(
    ("delimiter", "decimal"), [(",", "."), (";", ","), ("\t", ","), ("|", "."), (",", ",")]
)
def test_reads_a_table_however_it_is_written(encoding, delimiter, decimal, tmp_path):
    path = tmp_path / "answers.csv"
    rows = [("Zoë Invented", right("Zoë Invented")), ("Ben", gram_for_gram("Ben"))]
    rows[0][1]["salt-check"] = {"weight": draw_salt("Zoë Invented")}
    path.write_bytes(csv_of(rows, delimiter, decimal).encode(encoding))
    table = open_table(path)
    assert (table.delimiter, table.decimal) == (delimiter, decimal)
    book, students = marked(path)
    assert [(s.entry.student, s.marks) for s in students] == [("Zoë Invented", 19), ("Ben", 15)]
    assert book.refusals == []


def draw_salt(student: str) -> str:
    """An answer with a decimal in it."""
    working = draw(SET, SET.problem("salt-check"), student).working
    return f"{working.values()['weight']:.1f} g"


def opened_wrongly(text: str, letters: str, sign: str) -> list[list[str]]:
    """The cells that a spreadsheet makes of a CSV in UTF-8 when it is opened with other letters or another sign."""
    read = text.encode("utf-8-sig").decode(letters)
    return list(csv.reader(io.StringIO(read, newline=""), delimiter=sign))


@pytest.mark.parametrize("letters", ["utf-8-sig", "latin-1"])
@pytest.mark.parametrize(("delimiter", "opened_at"), [(",", ","), (";", ","), (",", ";"), (";", ";")])  # fmt: skip
@pytest.mark.parametrize("kind", ["xlsx", "csv"])
def test_a_table_that_a_spreadsheet_opened_wrongly_and_saved_is_put_right(
    letters, delimiter, opened_at, kind, tmp_path
):
    decimal = "," if delimiter == ";" else "."
    rows = [("Tāne Çelik", right("Tāne Çelik")), ("Ben", gram_for_gram("Ben"))]
    cells = opened_wrongly(csv_of(rows, delimiter, decimal), letters, opened_at)
    path = tmp_path / f"answers.{kind}"
    if kind == "xlsx":
        book = openpyxl.Workbook()
        for row in cells:
            book.active.append(row)
        book.save(path)
    else:
        with path.open("w", encoding="utf-8-sig", newline="") as file:
            csv.writer(file, delimiter=opened_at).writerows(cells)
    book, students = marked(path)
    assert [(s.entry.student, s.marks) for s in students] == [("Tāne Çelik", 19), ("Ben", 15)]
    assert book.refusals == []


@pytest.mark.parametrize("heading", ["student", "Name, first name", "a;b", ""])
def test_a_single_column_is_cut_only_where_its_heading_holds_several(heading):
    assert table.Cut.of([heading, ""]).cells(["Lee, Ann", ""]) == (
        ["Lee, Ann"] if ";" in heading else ["Lee, Ann", ""]
    )


def test_one_row_of_many_lines_does_not_fill_the_memory(tmp_path, monkeypatch):
    monkeypatch.setattr(table, "LONGEST_LINE", 10_000)
    file = tmp_path / "a.csv"
    file.write_text("student,code\n" + '"\n",' * 20_000)
    rows = list(table.open_table(file).rows())
    assert any("far too long" in row.trouble for row in rows)
    assert max(len(row.cells) for row in rows) <= 10_000
