"""A page that is read from a disk: its links name files, and it says what it cannot do."""

import pytest
from bs4 import BeautifulSoup

from docs.build.from_disk import NOTICE, name_files, to_file


@pytest.mark.parametrize(
    ("link", "file"),
    [
        ("../swap/", "../swap/index.html"),
        ("..", "../index.html"),
        (".", "./index.html"),
        ("swap/?flour=500+g#result", "swap/index.html?flour=500+g#result"),
        ("#part", "#part"),
        ("a.html", "a.html"),
        ("https://example.org/", "https://example.org/"),
        ("mailto:a@example.org", "mailto:a@example.org"),
    ],
)
def test_links_to_folders_name_the_page_in_them(link, file):
    assert to_file(link) == file


def test_every_page_names_files_and_says_that_it_is_one(tmp_path):
    page = tmp_path / "swap" / "index.html"
    page.parent.mkdir()
    page.write_text('<a href="../pack/">P</a><article><p>Text</p></article><a>none</a>', "utf-8")
    name_files(tmp_path)
    soup = BeautifulSoup(page.read_text("utf-8"), "html.parser")
    assert soup.a["href"] == "../pack/index.html"
    assert soup.select_one("article > .dw-as-files:first-child").get_text() == NOTICE
