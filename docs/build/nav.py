"""The menu: where it says ``folder/*.md``, a page for each lesson, numbered and in teaching order."""

from __future__ import annotations

from exercises.lessons import LESSONS

EACH_LESSON = "/*.md"


def with_lessons(nav: list) -> list:
    """MkDocs's nav with the lessons written out."""
    return [one for entry in nav for one in _expanded(entry)]


def _expanded(entry: str | dict) -> list:
    if isinstance(entry, dict):
        return [
            {title: with_lessons(place) if isinstance(place, list) else place}
            for title, place in entry.items()
        ]
    if not entry.endswith(EACH_LESSON):
        return [entry]
    folder = entry.removesuffix(EACH_LESSON)
    return [
        {f"{number}. {title}": f"{folder}/{key}.md"}
        for number, (key, title) in enumerate(LESSONS.items(), 1)
    ]
