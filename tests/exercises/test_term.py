"""Several sets in one folder: each is marked by itself, and a table goes over the term."""

import csv

from exercises.cli import main
from exercises.draws import draw
from exercises.handin import new_handin, pack, write_handin
from exercises.problems import load
from tests.exercises.invented_class import SET, csv_of, right
from tests.exercises.test_sources import zipped

OTHER = load("scaling-and-rounding")


def of_other(name: str) -> dict[str, dict[str, str]]:
    problem = OTHER.problems[0]
    working = draw(OTHER, problem, name).working
    return {problem.id: {key: working.weighed(key) for key in working.steps}}


def test_all_sets_of_a_folder_are_marked_at_once(tmp_path, capsys):
    folder, out = tmp_path / "in", tmp_path / "marks.csv"
    folder.mkdir()
    (folder / "ada.json").write_text(write_handin(SET, "Ada", right("Ada")), "utf-8")
    (folder / "all.zip").write_bytes(zipped({"ada2.json": write_handin(OTHER, "Ada", of_other("Ada")), "ben.txt": pack(new_handin(OTHER, "Ben", of_other("Ben")))}))  # fmt: skip
    (folder / "table.csv").write_text(csv_of([("Cy", right("Cy"))]), "utf-8")
    (tmp_path / "names.txt").write_text("Ben\nMia\nAda\nCy\n", "utf-8")
    options = ["--term", "--students", str(tmp_path / "names.txt"), "--scale", "A=50"]
    for _ in range(2):
        assert main(["mark", str(folder), *options, "--marks", str(folder / "marks.csv"), "--report", str(folder / "r.html")]) == 0  # fmt: skip
        assert "Not marked" not in capsys.readouterr().err
    rows = list(csv.DictReader((folder / "marks.csv").open(encoding="utf-8-sig")))
    most = sum(draw(OTHER, problem, "").out_of for problem in OTHER.problems)
    first = draw(OTHER, OTHER.problems[0], "").out_of
    assert [(row["student"], row["first-swaps"], row["scaling-and-rounding"], row["out of"]) for row in rows] == [
        ("Ben", "", str(first), str(most)),
        ("Mia", "", "", ""),
        ("Ada", "19", str(first), str(19 + most)),
        ("Cy", "19", "", "19"),
    ]  # fmt: skip
    assert rows[3]["grade"] == "A"
    assert (folder / "marks-first-swaps.csv").exists()
    assert (folder / "r-scaling-and-rounding.html").exists()
    assert main(["mark", str(folder), "--term"]) == 0
    assert f"Ada: first-swaps 19 of 19, scaling-and-rounding {first} of {most}" in capsys.readouterr().out  # fmt: skip
    assert not out.exists()


def test_other_sets_are_told_where_one_is_marked(tmp_path, capsys):
    (tmp_path / "a.json").write_text(write_handin(SET, "Ada", right("Ada")), "utf-8")
    (tmp_path / "b.json").write_text(write_handin(SET, "Ben", right("Ben")), "utf-8")
    (tmp_path / "c.json").write_text(write_handin(OTHER, "Ada", {}), "utf-8")
    assert main(["mark", str(tmp_path)]) == 0
    assert "other sets too: scaling-and-rounding (1). To mark all at once: --term" in capsys.readouterr().out  # fmt: skip
