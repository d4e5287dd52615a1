"""What a teacher's page says of its lesson's set."""

import pytest

from docs.build.site import ROOT
from exercises.lessons import LESSONS
from exercises.problems import load

PAGES = ROOT / "docs" / "pages" / "teachers" / "lessons"


@pytest.mark.parametrize("key", LESSONS)
def test_a_teachers_page_names_every_problem_of_its_set(key):
    told = (PAGES / f"{key}.md").read_text("utf-8").replace("’", "'")
    titles = [problem.title.replace("’", "'") for problem in load(key).problems]
    assert [title for title in titles if title not in told] == []
