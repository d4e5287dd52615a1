"""Tables as other systems write them are read, and ours run nothing."""

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


def test_one_row_of_many_lines_does_not_fill_the_memory(tmp_path, monkeypatch):
    monkeypatch.setattr(table, "LONGEST_LINE", 10_000)
    file = tmp_path / "a.csv"
    file.write_text("student,code\n" + '"\n",' * 20_000)
    rows = list(table.open_table(file).rows())
    assert any("far too long" in row.trouble for row in rows)
    assert max(len(row.cells) for row in rows) <= 10_000
