"""A class is marked in the page, with the files that the terminal writes; the desk goes to another computer."""

import json

from playwright.sync_api import expect

from exercises.cli import main
from exercises.demo import DEMO_SET, HAND_INS, write_hand_ins
from exercises.problems import load
from tests.site.conftest import open_page

REASON = "Another right way"


def test_a_class_is_marked_as_at_the_terminal(page, address, tmp_path, monkeypatch):
    listed = write_hand_ins(load(DEMO_SET), tmp_path)
    (tmp_path / "names.txt").write_text("\n".join(listed), "utf-8")
    open_page(page, address + "desk/mark/")
    with page.expect_file_chooser() as folder:
        page.get_by_role("button", name="Choose a folder").click()
    folder.value.set_files(tmp_path / HAND_INS)
    page.get_by_label("Names, one a line").fill("\n".join(listed))
    came = page.locator("[data-came]")
    expect(came).to_contain_text("Missing (2): Kwame Milkjug, Zoë Pastrybrush.")
    expect(came).to_contain_text("kwame-milkjug.json: line")
    # By keyboard alone, from here on.
    page.get_by_label("Your school’s grades").fill("A=90, B=70")
    page.keyboard.press("Enter")
    cell = page.get_by_role(
        "button", name="partly right: Amina Breadpan, A loaf for the whole class"
    )
    cell.focus()
    page.keyboard.press("Enter")
    work = page.get_by_role("dialog")
    expect(work).to_contain_text("not right yet")
    work.get_by_label("Why").fill("")
    work.get_by_label("Marks of 2").fill("1,5")
    page.keyboard.press("Enter")
    expect(work.get_by_role("alert")).to_have_text("Write why: the student reads it too.")
    work.get_by_label("Why").fill(REASON)
    page.keyboard.press("Enter")
    expect(work).to_contain_text(f"Marks changed by hand to 1.5: {REASON}")
    page.keyboard.press("Escape")
    expect(page.locator(".dw-class-table")).to_contain_text("1.5 / 2 ✎")

    made = {name: _saved(page, f"Save {name}") for name in ("marks.csv", "report.html", "changes.csv")}  # fmt: skip
    (tmp_path / "changes.csv").write_bytes(made["changes.csv"])
    monkeypatch.chdir(tmp_path)
    asked = ["--students", "names.txt", "--scale", "A=90, B=70", "--changes", "changes.csv"]
    main(["mark", HAND_INS, "--set", DEMO_SET, "--marks", "m.csv", "--report", "r.html", *asked])
    assert made["marks.csv"] == (tmp_path / "m.csv").read_bytes()
    assert made["report.html"] == (tmp_path / "r.html").read_bytes()
    assert REASON in made["report.html"].decode()
    # Nobody ticked that names may be kept.
    assert "Breadpan" not in page.evaluate("JSON.stringify(Object.entries(localStorage))")


def test_the_desk_goes_into_one_file_and_back(page, address, tmp_path):
    open_page(page, address + "desk/")
    text = "title: Monday\nversion: 1\nproblems: []\n"
    page.evaluate("text => localStorage.setItem('doughwater/set/monday.yml', JSON.stringify(text))", text)  # fmt: skip
    page.reload()
    page.get_by_role("button", name="Rename: monday.yml").click()
    page.get_by_label("New name for monday.yml").fill("week 12")
    page.keyboard.press("Enter")
    status = page.locator("desk-shelf > .dw-status")
    expect(status).to_contain_text("monday.yml is now week 12.yml. Every student’s numbers stay.")
    desk = _saved(page, "Everything into one file")
    assert json.loads(desk)["sets"] == {"week 12.yml": f"name: monday\n{text}"}
    page.get_by_role("button", name="Forget everything").click()
    expect(status).to_contain_text("Forgotten: week 12.yml.")
    expect(page.get_by_text("have their place here")).to_be_visible()
    assert "week 12" not in page.evaluate("JSON.stringify(Object.entries(localStorage))")
    with page.expect_file_chooser() as file:
        page.get_by_role("button", name="Read such a file").click()
    file.value.set_files({"name": "desk.json", "mimeType": "application/json", "buffer": desk})
    expect(status).to_contain_text("Read: week 12.yml.")
    expect(page.get_by_role("button", name="Delete: week 12.yml")).to_be_visible()
    expect(page.get_by_label("The set in hand")).to_have_value("own:week 12.yml")
    page.get_by_role("button", name="Make the demo class").click()
    page.get_by_role("button", name="invented-names.txt").wait_for()
    assert _saved(page, "README.txt").startswith(b"A DEMO CLASS.")


def _saved(page, button):
    """What a button saves."""
    with page.expect_download() as waiting:
        page.get_by_role("button", name=button).click()
    return waiting.value.path().read_bytes()
