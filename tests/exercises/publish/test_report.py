"""The report on a class: what it says, and that a name in it is only text."""

import re
from dataclasses import replace

from bs4 import BeautifulSoup

from exercises.cli import main
from exercises.handin import name_for_file, write_handin
from exercises.publish.report import FeedbackPages
from tests.exercises.invented_class import SET, csv_of, marked, right


def test_the_report_begins_with_the_hand_ins_not_to_be_trusted_yet(hand_ins, tmp_path, capsys):
    older = write_handin(replace(SET, version=SET.version + 7), "Di Invented", right("Di Invented"))
    (hand_ins / "3.json").write_text(older, "utf-8")
    assert main(["mark", str(hand_ins), "--report", str(tmp_path / "report.html")]) == 0
    assert "Look at these first: Di Invented\n" in capsys.readouterr().out
    page = BeautifulSoup((tmp_path / "report.html").read_text("utf-8"), "html.parser")
    box = page.select_one("div.first")
    assert [line.strong.get_text() for line in box.find_all("li")] == ["Di Invented"]
    assert f"Made for version {SET.version + 7} of the set" in box.get_text()
    assert box in page.h2.find_all_previous("div")


def test_the_report_tells_the_teacher_and_not_the_student(tmp_path):
    path, out = tmp_path / "answers.csv", tmp_path / "report.html"
    path.write_text(csv_of([("Ada Invented", {"salt-check": {"weight": "777 g"}})]), "utf-8")
    marked(path, report=out)
    text = BeautifulSoup(out.read_text("utf-8"), "html.parser").get_text(" ")
    assert "No one mistake explains this number." in text
    assert "Open a hint" not in text


def test_the_report_tells_the_teacher_what_to_do(hand_ins, tmp_path):
    marked(hand_ins, report=tmp_path / "report.html")
    page = BeautifulSoup((tmp_path / "report.html").read_text("utf-8"), "html.parser")
    text = " ".join(page.get_text(" ").split())
    by = f"4 students, marked by version {SET.version} of the set"
    assert f"{by}. The class earned 83 % of the marks." in text
    assert "With 4 students, one student moves the class's figures by up to 25 %" in text
    assert (
        "Swapped gram for gram. 3 students, 6 problems. Lesson: Divide by the water content."
        in text
    )
    assert "broken.json : line 1, column 12" in text
    # Who handed in twice has one part; the earlier one is in a list of its own.
    assert len(page.find_all("section", class_="student")) == 4
    assert "Handed in earlier, not counted" in text
    ben = next(
        s for s in page.find_all("section", class_="student") if "Ben Invented" in s.h2.get_text()
    )
    assert "You swapped gram for gram." in ben.get_text()


def test_the_report_stands_alone_and_a_name_is_only_text(tmp_path):
    evil = "</style><script>alert(1)</script><img src=x onerror=alert(1)>"
    path, out = tmp_path / "answers.csv", tmp_path / "report.html"
    path.write_text(csv_of([(evil, {"salt-check": {"weight": evil}})]), "utf-8")
    marked(path, report=out)
    text = out.read_text("utf-8")
    page = BeautifulSoup(text, "html.parser")
    assert page.find(["script", "img", "link", "iframe"]) is None
    assert not re.search(r"https?://|url\(|@import", text)
    assert page.find("meta", attrs={"http-equiv": "Content-Security-Policy"})["content"].startswith(
        "default-src 'none'"
    )
    assert evil in page.get_text()


def test_no_students_page_takes_the_place_of_anothers(tmp_path):
    """“Ann 2” is a name of her own, and the second “Ann!” of the folder is not to be written over hers."""
    names = ("Ann", "Ann!", "ANN?", "Ann 2", "Ann-2")
    with FeedbackPages("A set") as pages:
        for name in names:
            pages.keep((name_for_file(name), f"of {name}"))
        pages.finish(None, tmp_path)
    written = {path.name.casefold(): path.read_text("utf-8") for path in tmp_path.iterdir()}
    assert sorted(written.values()) == sorted(f"of {name}" for name in names)
