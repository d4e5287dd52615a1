"""The menu, with the lessons written out."""

from docs.build.nav import with_lessons
from exercises.lessons import LESSONS


def test_the_lessons_are_written_out_in_order_wherever_the_menu_asks_for_them():
    made = with_lessons(["index.md", {"Lessons": ["lessons/index.md", "lessons/*.md"]}])
    assert made[0] == "index.md"
    first, *lessons = made[1]["Lessons"]
    assert first == "lessons/index.md"
    assert lessons == [
        {f"{n}. {title}": f"lessons/{key}.md"} for n, (key, title) in enumerate(LESSONS.items(), 1)
    ]


def test_any_other_menu_stays_as_it_is():
    nav = [{"Start": "index.md"}, {"More": [{"Deeper": ["a.md", {"B": "b.md"}]}]}]
    assert with_lessons(nav) == nav
