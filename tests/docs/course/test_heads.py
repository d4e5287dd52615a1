"""Each page's head can be read: a colon that YAML takes for a key would show the head as text."""

import pytest

from docs.course.heads import PAGES, head_of


@pytest.mark.parametrize("page", sorted(path.relative_to(PAGES).as_posix() for path in PAGES.rglob("*.md")))  # fmt: skip
def test_a_page_has_a_title_and_says_what_it_is_about(page):
    head = head_of(page)
    assert head["title"].strip()
    assert head["description"].strip()
