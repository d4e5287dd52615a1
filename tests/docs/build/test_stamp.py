"""The stamp of code and data: another with each change that a page can show, and only then."""

import pytest

from docs.build import stamp as module


@pytest.fixture
def project(tmp_path, monkeypatch):
    pages = tmp_path / "docs" / "pages"
    pages.mkdir(parents=True)
    (tmp_path / "calc").mkdir()
    (tmp_path / "calc" / "x.py").write_text("A = 1\n", "utf-8")
    (pages / "x.md").write_text("---\ntitle: One\n---\nWords.\n", "utf-8")
    monkeypatch.setattr(module, "ROOT", tmp_path)
    monkeypatch.setattr(module, "PAGES", pages)
    return tmp_path


@pytest.mark.parametrize(
    ("file", "text", "changes"),
    [
        ("calc/x.py", "A = 2\n", True),
        ("calc/new.csv", "a,b\n", True),
        ("exercises/sets/new.yml", "title: New\n", True),
        ("docs/pages/x.md", "---\ntitle: Two\n---\nWords.\n", True),
        ("docs/pages/x.md", "---\ntitle: One\n---\nOther words.\n", False),
        ("docs/pages/assets/style.css", "p { margin: 0 }\n", False),
    ],
)
def test_a_change(project, file, text, changes):
    before = module.stamp()
    path = project / file
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, "utf-8")
    assert (module.stamp() != before) is changes
