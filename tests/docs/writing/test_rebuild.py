"""One build for the writers' server: what it brings over, and what it says is wrong."""

import logging

import pytest

from docs.build import site
from docs.build.error import BuildError
from docs.writing import rebuild
from docs.writing.rebuild import ROOT, bring, clear, files_of


def written(folder, files):
    for name, text in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")


@pytest.fixture
def folders(tmp_path):
    made, served = tmp_path / "made", tmp_path / "served"
    written(made, {"index.html": "new", "same.css": "same", "a/index.html": "added"})
    written(served, {"index.html": "old", "same.css": "same", "gone/index.html": "gone"})
    return made, served


def test_what_differs_is_brought_over_and_what_is_not_made_any_more_goes(folders):
    made, served = folders
    assert bring(files_of(made), made, served) == ["a/index.html", "index.html"]
    assert clear(made, served) == ["gone/index.html"]
    assert [file.relative_to(served) for file in files_of(served)] == [
        file.relative_to(made) for file in files_of(made)
    ]
    assert (served / "index.html").read_text("utf-8") == "new"
    assert bring(files_of(made), made, served) == []


def test_the_page_that_is_looked_at_comes_with_its_style_before_the_rest(folders, monkeypatch):
    made, served = folders

    def building(folder, first, quick):
        written(folder, {"new.css": "style", f"{first[0]}index.html": "mine", "b/index.html": "-"})
        yield folder / first[0] / "index.html"
        written(folder, {"b/index.html": "filled", "engine/python.zip": "late"})

    monkeypatch.setattr(site, "building", building)
    assert list(rebuild.rebuild(made, served, {"first": ["mine/"]})) == [
        ["new.css"],
        ["mine/index.html"],
        ["a/index.html", "b/index.html", "engine/python.zip", "index.html", "gone/index.html"],
    ]


def test_a_writer_is_told_what_to_mend_and_where(tmp_path, monkeypatch, capsys):
    def refused(made, **asked):
        logging.getLogger("mkdocs").warning("Doc file 'a.md' links to 'b.md', which is not there")
        raise BuildError("Aborted")
        yield

    monkeypatch.setattr(site, "building", refused)
    assert rebuild.work(tmp_path, tmp_path, {}).splitlines() == [
        "Doc file 'a.md' links to 'b.md', which is not there",
        "Aborted",
    ]
    assert capsys.readouterr().out == ""


def test_a_slip_in_code_is_told_with_its_place():
    with pytest.raises(SyntaxError) as slip:
        compile("def x(:\n", ROOT / "docs" / "parts" / "x_y.py", "exec")
    assert rebuild.trouble_of(slip.value) == "docs/parts/x_y.py:1:7: invalid syntax"
    with pytest.raises(KeyError) as raised:
        site.Kept().get(["a"], lambda: {}["flour"])
    said = rebuild.trouble_of(raised.value)
    assert said.startswith("tests/docs/writing/test_rebuild.py:")
    assert said.endswith(": KeyError: 'flour'")
