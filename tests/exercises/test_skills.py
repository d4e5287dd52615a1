"""What each problem trains."""

from pathlib import Path

from calc.quantities import RANKINGS, REGISTRY
from exercises.lessons import LESSONS
from exercises.problems import load, set_keys
from exercises.skills import SKILLS, exercises, of_lesson, skill_of, trained

PAGES = Path(__file__).parents[2] / "docs" / "pages"
KEYS = [skill.key for skill in SKILLS]


def test_every_problem_of_every_set_trains_a_skill():
    listed = [each for those in trained().values() for each in those]
    count = sum(len(load(key).problems) for key in set_keys())
    assert len(listed) == len(exercises()) == count
    for each in listed:
        assert each.skill.name
        assert (PAGES / each.skill.page.rstrip("/")).with_suffix(".md").exists(), each.skill


def test_the_table_names_only_what_can_be_asked_and_each_once():
    asked = [name for skill in SKILLS for name in skill.asked]
    assert len(asked) == len(set(asked))
    assert set(asked) <= {*REGISTRY, *RANKINGS}
    assert len(set(KEYS)) == len(KEYS)


def test_every_known_quantity_of_swaps_and_every_ranking_has_a_row():
    asked = {name for skill in SKILLS for name in skill.asked}
    own = {q.name for q in REGISTRY.values() if q.build.__module__ == "calc.quantities"}
    assert own | set(RANKINGS) <= asked


def test_what_has_no_row_is_the_skill_of_its_lesson():
    choice = load("what-rides-along").problem("butters-water")
    assert skill_of(choice, "what-rides-along") == of_lesson("what-rides-along")
    assert skill_of(choice) == of_lesson(next(iter(LESSONS)))


def test_a_problem_that_brings_a_lesson_back_is_the_skill_of_that_lesson():
    choice = load("what-rides-along").problem("which-meaning")
    assert skill_of(choice, "what-rides-along") == of_lesson("what-hydration-means")
