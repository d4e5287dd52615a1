"""A class's marks: what was misunderstood, the groups, and the table that is written."""

import csv
import io
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from exercises.classroom import Wanted, mark_files
from exercises.collect import Entry
from exercises.draws import draw
from exercises.gradebook import Gradebook, StudentMark
from exercises.handin import write_handin
from exercises.table import open_table
from tests.exercises.invented_class import SET, csv_of, marked, right


def test_names_the_mistakes_the_groups_and_what_comes_first(hand_ins):
    book, _ = marked(hand_ins)
    ranked = book.reteach()
    assert [(m.mistake.key, m.students, m.problems) for m in ranked] == [
        ("gram-for-gram", 3, 6),
        ("whole-dough", 1, 1),
    ]
    assert ranked[0].names == ["Ben Invented", "Cy Invented", "ada INVENTED"]
    assert [(g.mistake.key, g.names) for g in book.groups()] == [
        ("gram-for-gram", ("Ben Invented", "Cy Invented", "ada INVENTED")),
        ("whole-dough", ("Di Invented",)),
    ]


@given(st.lists(st.tuples(st.booleans(), st.booleans(), st.booleans()), min_size=1, max_size=12))
def test_each_student_is_in_exactly_one_group(made):
    book = Gradebook(SET)
    keys = ("gram-for-gram", "whole-dough", "upside-down")
    for number, which in enumerate(made):
        mark = StudentMark(Entry("", f"student {number}", "", {}), ())
        mark.__dict__["mistakes"] = {k: 1 for k, has in zip(keys, which, strict=True) if has}
        book.add(mark)
    names = [name for group in book.groups() for name in group.names]
    assert sorted(names) == sorted(f"student {number}" for number in range(len(made)))
    sizes = [len(group.names) for group in book.groups() if group.mistake]
    assert sizes == sorted(sizes, reverse=True)


def test_the_csv_of_marks_follows_rfc_4180_and_runs_nothing(tmp_path):
    """RFC 4180, section 2: lines end with CRLF, every line has as many fields as the first."""
    names = ["=1+1", "+1", "-1", "@x", "\t=1", 'Quote " and, comma', "Ada"]
    path, out = tmp_path / "answers.csv", tmp_path / "marks.csv"
    path.write_text(csv_of([(name, right(name)) for name in names]), "utf-8")
    marked(path, marks=out)
    text = out.read_bytes().decode("utf-8-sig")
    assert text.endswith("\r\n")
    assert "\n" not in text.replace("\r\n", "")
    rows = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    assert len({len(row) for row in rows}) == 1
    assert len(rows) == len(names) + 1
    assert not any(cell.startswith(tuple("=+-@\t\r＝＋－＠")) for row in rows for cell in row)
    assert rows[6][0] == 'Quote " and, comma'


@pytest.mark.parametrize(("delimiter", "decimal"), [(";", ","), (",", ".")])
def test_marks_are_written_as_the_classs_own_table(delimiter, decimal, tmp_path):
    """A spreadsheet set to decimal commas parts cells at semicolons."""
    path, out = tmp_path / "answers.csv", tmp_path / "marks.csv"
    path.write_text(csv_of([("Ada", right("Ada"))], delimiter, decimal), "utf-8")
    costly = replace(
        SET, problems=tuple(replace(p, hint_costs=(0.5, 0, 0, 0)) for p in SET.problems)
    )
    problem = SET.problems[0]
    step = draw(SET, problem, "Ben").parts[-1].key
    hinted = write_handin(SET, "Ben", right("Ben"), {problem.id: {step: 1}})
    (tmp_path / "z.json").write_text(hinted, "utf-8")
    list(mark_files(Wanted((path, tmp_path / "z.json"), costly, marks=out))[1])
    row = delimiter.join(["Ben", f"18{decimal}5", "19", ""])
    assert f"\n{row}" in out.read_text("utf-8-sig")
    assert open_table(out).delimiter == delimiter
