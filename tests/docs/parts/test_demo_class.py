"""The demo class of the page is the terminal's, byte for byte."""

import zipfile

import pytest

from docs.parts.demo_class import FOLDER, ZIP, respond
from exercises.cli import main


@pytest.mark.slow
def test_the_files_are_the_terminals_and_the_zip_holds_them(tmp_path, monkeypatch):
    monkeypatch.setattr("exercises.paper.print_pdf", lambda html, pdf: None)
    monkeypatch.setattr("exercises.demo.DRAWS", 1)
    out = tmp_path / "out"
    out.mkdir()
    made = respond({"folder": str(tmp_path)})["made"]
    main(["demo", "--out", str(tmp_path / "terminal")])
    terminal = {path.relative_to(tmp_path / "terminal").as_posix(): path.read_bytes() for path in (tmp_path / "terminal").rglob("*") if path.is_file()}  # fmt: skip
    files = {name.removeprefix(f"{FOLDER}/"): (out / name).read_bytes() for name in made[1:]}
    assert files == terminal
    with zipfile.ZipFile(out / ZIP) as packed:
        assert {name.removeprefix(f"{FOLDER}/"): packed.read(name) for name in packed.namelist()} == files  # fmt: skip
