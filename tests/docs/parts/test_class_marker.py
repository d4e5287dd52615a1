"""The desk marks what the terminal marks, and says at once what came."""

import json
import os
import shutil
import zipfile

import pytest
from bs4 import BeautifulSoup

from docs.parts.class_marker import HAND_INS, respond
from docs.parts.set_writer import STARTER
from docs.parts.shared.fields import FieldErrors
from exercises.cli import main
from exercises.demo import DEMO_SET
from exercises.handin import write_handin
from exercises.problems import load, read_set
from exercises.publish.html import write
from tests.exercises.invented_class import right


@pytest.fixture(scope="module")
def invented(tmp_path_factory):
    """The invented class's hand-ins, as the desk makes them, and the class list."""
    folder = tmp_path_factory.mktemp("invented")
    (folder / "out").mkdir()
    made = respond({"action": "demo", "folder": str(folder)})
    return folder / "out", made["names"]


@pytest.fixture
def desk(invented, tmp_path):
    """A desk with the invented class's hand-ins, as the page lays it out, and the class list."""
    hand_ins, names = invented
    shutil.copytree(hand_ins, tmp_path / "desk" / "in" / HAND_INS)
    (tmp_path / "desk" / "out").mkdir()
    return {"folder": str(tmp_path / "desk"), "set": DEMO_SET, "list": names}


def test_at_once_it_says_who_came_who_is_missing_and_what_cannot_be_read(desk):
    answer = respond({"action": "look", **desk})
    said = write(*answer["elements"])
    assert answer["says"].startswith("22 students")
    assert "Missing (2): </strong>Kwame Milkjug, Zoë Pastrybrush." in said
    assert (
        "Handed in more than once; the one saved last counts (1): </strong>Ji-woo Crumbtray" in said
    )
    assert "kwame-milkjug.json: </strong>line" in said
    assert desk["folder"] not in said


CHANGES = [{"student": "amina  breadpan", "problem": "yogurt-loaf", "marks": "1,5", "reason": "Another right way"}]  # fmt: skip
LISTED = "No;Surname;First name\n7;Ovenglove;Aiko\n3;Breadpan;Amina\n9;Nobody;Ever\n"


@pytest.mark.parametrize("with_more", [False, True], ids=["plain", "with all that can be asked"])
def test_the_files_are_the_terminals_byte_for_byte(with_more, desk, tmp_path, monkeypatch):
    more = {"list": LISTED, "scale": "A=90; B=70", "decimal": ",", "changes": json.dumps(CHANGES), "level": "only", "only": '["yogurt-loaf", "salt-check"]'}  # fmt: skip
    answer = respond({"action": "mark", **desk, **(more if with_more else {})})
    hand_ins, names, changes = (
        tmp_path / name for name in (f"desk/in/{HAND_INS}", "names.txt", "changes.csv")
    )
    names.write_text(LISTED if with_more else desk["list"], "utf-8")
    changes.write_text(
        "student,problem,step,marks,reason\nAmina Breadpan,yogurt-loaf,,1.5,Another right way\n"
    )
    marks, report = tmp_path / "marks.csv", tmp_path / "report.html"
    asked = ["--scale", "A=90,B=70", "--decimal", "comma", "--changes", str(changes), "--only", "yogurt-loaf,salt-check"] if with_more else []  # fmt: skip
    # Places are told from the folder that was chosen.
    monkeypatch.chdir(hand_ins)
    main(["mark", *sorted(os.listdir()), "--set", DEMO_SET, "--students", str(names), "--marks", str(marks), "--report", str(report), *asked])  # fmt: skip
    for file in (marks, report):
        assert file.name in answer["made"]
        assert (tmp_path / "desk" / "out" / file.name).read_bytes() == file.read_bytes()
    written = marks.read_text("utf-8-sig").splitlines()
    if with_more:
        assert written[0].startswith(
            "No;Surname;First name;marks;out of;percent;grade;yogurt-loaf;salt-check;"
        )
        assert "2,5;3;83,3;B;1,5;1;" in written[2]
        assert "Another right way" in written[2]
        assert "Another right way" in report.read_text("utf-8")
        assert written[3].startswith("9;Nobody;Ever;;")


def test_a_changed_mark_is_seen_in_the_table_and_can_be_changed_again(desk):
    answer = respond({"action": "mark", **desk, "changes": json.dumps(CHANGES)})
    row = answer["students"].index("Amina Breadpan")
    column = [each["id"] for each in answer["problems"]].index("yogurt-loaf")
    piece = answer["work"][row][column]
    assert (piece["marks"], piece["out_of"], piece["reason"]) == (1.5, 2, "Another right way")
    assert "1.5 / 2 ✎" in write(*answer["elements"])
    assert "changes.csv" in answer["made"]
    nobody = respond({"action": "mark", **desk, "changes": json.dumps([CHANGES[0] | {"student": "Nobody"}])})  # fmt: skip
    assert "Changes by hand that fit nothing" in write(*nobody["elements"])


def test_the_table_has_a_line_for_everybody_on_the_list_in_its_order(desk):
    said = write(*respond({"action": "mark", **desk, "list": LISTED})["elements"])
    places = [said.index(name) for name in ("Aiko Ovenglove", "Amina Breadpan", "Ever Nobody", "Arjun")]  # fmt: skip
    assert places == sorted(places)
    assert "missing" in said


def test_a_name_that_means_another_can_be_said_so(desk):
    listed = {"list": desk["list"].replace("Sofía Butterdish", "Sofia Butterdish")}
    said = write(*respond({"action": "look", **desk, **listed})["elements"])
    assert 'data-name="Sofía Butterdish"' in said
    same = {"same": json.dumps({"Sofía Butterdish": "Sofia Butterdish"})}
    said = write(*respond({"action": "look", **desk, **listed, **same})["elements"])
    assert "No, they are two" in said
    assert "Sofia" not in said.split("Missing")[1].split("</p>")[0]


def test_a_column_is_what_the_teacher_says_it_is(desk, tmp_path):
    """Of the tables that have it; the others are read as before."""
    answers = right("Ada Invented")
    table = f"Cook,Response 1\nAda Invented,{answers['yogurt-loaf']['liquid']}\n"
    (tmp_path / "desk" / "in" / HAND_INS / "quiz.csv").write_text(table, "utf-8")
    untold = write(*respond({"action": "look", **desk})["elements"])
    assert "Say which one holds the name" in untold
    assert '<select id="column-1" name="1" aria-describedby="column-1-note" data-column="Response 1">' in untold  # fmt: skip
    columns = {"Cook": "student", "Response 1": "yogurt-loaf/liquid"}
    told = {**desk, "columns": json.dumps(columns)}
    said = write(*respond({"action": "look", **told})["elements"])
    assert "Ada Invented" in said
    assert "Say which" not in said
    assert '<option value="yogurt-loaf/liquid" selected="">' in said
    marked = write(*respond({"action": "mark", **told})["elements"])
    assert "Ada Invented" in marked


def test_names_that_only_accents_or_order_tell_apart_are_made_one_in_one_press(desk):
    listed = desk["list"].replace("Sofía", "Sofia").replace("Amina Breadpan", "Breadpan Amina")
    came = BeautifulSoup(
        write(*respond({"action": "look", **desk, "list": listed})["elements"]), "html.parser"
    )
    names = came.select_one("[data-names]")["data-names"]
    assert json.loads(names) == {
        "Sofía Butterdish": "Sofia Butterdish",
        "Amina Breadpan": "Breadpan Amina",
    }
    told = write(*respond({"action": "look", **desk, "list": listed, "same": names})["elements"])
    assert "Not on the class list" not in told


def test_each_student_gets_a_page_of_their_own(desk, tmp_path):
    assert respond({"action": "pages", **desk})["made"] == ["pages.zip"]
    with zipfile.ZipFile(tmp_path / "desk" / "out" / "pages.zip") as packed:
        assert len(packed.namelist()) == 22
        page = packed.read("pages/Amina-Breadpan.html").decode()
    assert "Amina Breadpan" in page
    assert "Aiko" not in page
    assert len(respond({"action": "print", **desk})["elements"]) == 22
    assert len(respond({"action": "print", **desk, "student": "Amina Breadpan"})["elements"]) == 1


def test_each_cell_opens_into_the_work(desk):
    answer = respond({"action": "mark", **desk})
    assert len(answer["students"]) == 22 == len(answer["work"])
    assert all(len(row) == len(answer["problems"]) for row in answer["work"])
    row = answer["students"].index("Amina Breadpan")
    assert "not right yet" in "".join(each["html"] for each in answer["work"][row])
    json.dumps([answer["students"], answer["work"]])


@pytest.mark.parametrize(
    ("fields", "field"),
    [
        ({"list": "Ada\nada"}, "list"),
        ({"scale": "very good"}, "scale"),
        ({"changes": '[{"student": "Ada", "problem": "x", "marks": "much", "reason": "y"}]'}, "changes"),
        ({"level": "only", "only": "[]"}, "only"),
        ({"level": "only", "only": '["no-such"]'}, "only"),
        ({"level": "3", "set": "", "text": STARTER, "file": "mine.yml"}, "level"),
    ],
)  # fmt: skip
def test_what_cannot_be_marked_so_is_told_beside_its_field(fields, field, desk):
    with pytest.raises(FieldErrors) as refused:
        respond({"action": "mark", **desk, **fields})
    assert list(refused.value.messages) == [field]


@pytest.mark.parametrize(
    ("raw", "read"),
    [("Zoë\n".encode(), "Zoë"), ("Zoë\n".encode("cp1252"), "Zoë"), (b"\xef\xbb\xbfAda", "Ada"), (b"No;Name\n7;Ada\n", "No\tName\n7\tAda"), (b"PK\0\0", None)],
)  # fmt: skip
def test_a_list_in_a_file_is_read_as_it_is_encoded(raw, read, tmp_path):
    (tmp_path / "in").mkdir()
    (tmp_path / "in" / "names.txt").write_bytes(raw)
    fields = {"action": "list", "folder": str(tmp_path)}
    if read is None:
        with pytest.raises(FieldErrors):
            respond(fields)
    else:
        assert respond(fields)["list"] == read


def test_the_zip_of_a_schools_system_is_read_like_the_folder(desk, tmp_path):
    folder = respond({"action": "mark", **desk})
    hand_ins = tmp_path / "desk" / "in" / HAND_INS
    shutil.make_archive(str(tmp_path / "all"), "zip", hand_ins)
    shutil.rmtree(hand_ins)
    hand_ins.mkdir()
    shutil.move(tmp_path / "all.zip", hand_ins)
    zipped = respond({"action": "mark", **desk})
    assert zipped["says"] == folder["says"]
    assert zipped["work"] == folder["work"]


def test_several_sets_give_a_table_over_the_term(desk, tmp_path):
    own = read_set(STARTER, "mine.yml")
    answers = {"monday-loaf": {"liquid": "600 g"}}
    text = write_handin(own, "Amina Breadpan", answers)
    (tmp_path / "desk" / "in" / HAND_INS / "own.json").write_text(text, "utf-8")
    term = {"level": "term", "own_sets": json.dumps({"mine.yml": STARTER, "bad.yml": "title: ["})}
    answer = respond({"action": "mark", **desk, **term})
    assert answer["says"].startswith("2 sets marked.")
    assert {"marks.csv", "marks-first-swaps.csv", f"report-{own.key}.html"} <= set(answer["made"])
    said = write(*answer["elements"])
    assert own.title in said
    row = next(row for row in said.split("</tr>") if "Amina Breadpan" in row)
    assert row.count(" / ") == 3
    student = answer["students"].index("Amina Breadpan")
    shown = dict(
        zip([each["title"] for each in answer["problems"]], answer["work"][student], strict=True)
    )
    assert own.problems[0].title in shown[own.title]["html"]
    assert row.count(f'data-student="{student}"') == 3
    assert 'data-problem="1"' in row


def test_hand_ins_for_another_set_are_counted_and_the_page_can_go_over_to_it(desk, tmp_path):
    folder = tmp_path / "desk" / "in" / HAND_INS
    for key, made_for in {
        "own": read_set(STARTER, "mine.yml"),
        "ours": load("preferments"),
        "lost": read_set(STARTER.replace("name:", "name: lost-set #"), "x.yml"),
    }.items():
        (folder / f"{key}.json").write_text(write_handin(made_for, "Amina Breadpan", {}), "utf-8")
    own = {"own_sets": json.dumps({"mine.yml": STARTER})}
    said = write(*respond({"action": "look", **desk, **own})["elements"])
    assert 'data-file="mine.yml"' in said
    assert 'data-set="preferments"' in said
    assert "“lost-set”, a set that is neither ours nor kept on this device" in said
    assert 'data-level="term"' in said
    assert "own.json" not in said
    term = write(*respond({"action": "look", **desk, **own, "level": "term"})["elements"])
    assert "lost-set" in term
    assert "data-file" not in term


def test_a_file_of_changes_is_read_back_as_it_was_saved(desk, tmp_path):
    kept = [
        {
            "student": "Amina Breadpan",
            "problem": "yogurt-loaf",
            "step": "",
            "marks": "1.5",
            "reason": "Another right way",
        }
    ]
    assert "changes.csv" in respond({"action": "mark", **desk, "changes": json.dumps(kept)})["made"]
    again = tmp_path / "again"
    (again / "in").mkdir(parents=True)
    shutil.copy(tmp_path / "desk" / "out" / "changes.csv", again / "in" / "changes (1).csv")
    assert respond({"action": "changes", "folder": str(again)})["changes"] == kept
    (again / "in" / "changes (1).csv").write_text("student,liquid\nAda,7\n")
    with pytest.raises(FieldErrors, match="problem"):
        respond({"action": "changes", "folder": str(again)})


def test_two_of_one_name_have_a_line_each_as_in_the_marks(desk):
    listed = "No;Name\n1;Amina Breadpan\n2;Amina Breadpan\n3;Aiko Ovenglove\n"
    said = write(*respond({"action": "mark", **desk, "list": listed})["elements"])
    first, second = said.split("<tbody>")[1].split("</tr>")[:2]
    assert "data-student" in first
    assert "missing" in second
    assert "Amina Breadpan" in second
