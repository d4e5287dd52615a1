"""Sheets as PDF, where a browser is at hand."""

import re

import pytest
from pypdf import PdfReader

from exercises.cli import main
from exercises.codes import code_of
from exercises.problems import load
from exercises.publish.pdf import browser, print_pdf
from exercises.publish.worksheet import named, worksheet

SET = "first-swaps"
NAME = "Ada Invented"


def test_says_so_when_there_is_no_browser(tmp_path, monkeypatch, capsys):
    monkeypatch.setenv("PATH", str(tmp_path))
    assert browser() is None
    assert main(["print", SET, "--count", "1", "--out", str(tmp_path)]) == 0
    assert "No Chromium was found" in capsys.readouterr().out
    assert not (tmp_path / "worksheet.pdf").exists()


@pytest.mark.usefixtures("browser_at_hand")
def test_makes_a_pdf_where_a_browser_is_at_hand(tmp_path):
    assert main(["print", SET, "--count", "2", "--out", str(tmp_path)]) == 0
    for name in ("worksheet.pdf", "key.pdf"):
        made = (tmp_path / name).read_bytes()
        assert made.startswith(b"%PDF-")
        # ISO 32000-1, 7.7.3.3: each page is an object of type Page. Two students, two pages at least.
        assert len(re.findall(rb"/Type\s*/Page\b", made)) >= 2


@pytest.mark.usefixtures("browser_at_hand")
def test_each_printed_page_bears_name_code_set_and_version(tmp_path):
    problem_set = load(SET)
    html, pdf = tmp_path / "sheets.html", tmp_path / "sheets.pdf"
    html.write_text(worksheet(problem_set, named(problem_set, [NAME])), "utf-8")
    print_pdf(html, pdf)
    pages = [" ".join(page.extract_text().split()) for page in PdfReader(pdf).pages]
    assert len(pages) > 1
    for page in pages:
        for wanted in (NAME, code_of(problem_set, NAME), f"version {problem_set.version}"):
            assert wanted in page
