"""A lesson as steps of one idea.

A lesson is plain Markdown: each `##` is a step, and what follows a rule (`---`) is to look up. This pass
puts each step in a section, so that the page's script can show one at a time; without it all are there,
one below another.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path

from bs4 import BeautifulSoup, NavigableString, Tag
from bs4.element import PageElement

from calc.words import counted
from docs.build.texts import texts
from docs.build.tree import tags
from exercises import problems
from exercises.lessons import LESSONS

ELEMENT = "lesson-steps"
# A careful reader of a second language, with sums in the text (from memory, no source).
WORDS_A_MINUTE = 150
QUESTION_MINUTES = 1.5
TOOL_MINUTES = 4
SHORT_TOOLS = ("one-swap", "check-question")
# What is used, not read: its words do not count as reading.
USED = ("check-question", "form", "svg", "details")


def lesson_of(source: Path | None) -> str | None:
    """The lesson whose page was made from this Markdown."""
    if source is None or source.parts[-3:-1] != ("pages", "lessons"):
        return None
    return source.stem if source.stem in LESSONS else None


def into_steps(soup: BeautifulSoup, key: str) -> None:
    """Put a lesson's headings into steps, and what follows its rule into folds."""
    article = soup.select_one(".md-content__inner")
    headings = article.find_all("h2", recursive=False) if article else []
    if not headings:
        return
    rule = article.find("hr", recursive=False)
    to_look_up = _cut(rule) if rule else []
    if rule:
        rule.extract()
    steps = [each for each in headings if each not in to_look_up]
    opening = list(_until(steps[0].previous_siblings, "h1"))[::-1]
    sections = [
        _section(soup, number, steps, [*(opening if number == 1 else []), heading, *_body(heading)])
        for number, heading in enumerate(steps, 1)
    ]
    lesson = soup.new_tag(ELEMENT, lesson=key)
    lesson.append(_list(soup, steps))
    lesson.extend(sections)
    article.append(lesson)
    _fold_tools(soup, lesson)
    sections[-1].append(_way_to_the_set(soup, key))
    article.extend(_folds(soup, to_look_up))
    _put_last(soup, article)
    _tell_time(soup, sections, lesson)


def _until(elements: Iterable[PageElement], name: str) -> Iterable[PageElement]:
    for each in list(elements):
        if isinstance(each, Tag) and each.name == name:
            return
        yield each


def _cut(rule: Tag) -> list[PageElement]:
    """What follows the rule, taken out of the page."""
    return [each.extract() for each in list(rule.next_siblings)]


def _body(heading: Tag) -> list[PageElement]:
    return list(_until(heading.next_siblings, "h2"))


def _section(soup: BeautifulSoup, number: int, steps: list[Tag], content: list) -> Tag:
    heading = steps[number - 1]
    made = soup.new_tag("section", attrs={"class": "dw-step", "aria-labelledby": heading["id"]})
    made.extend(content)
    told = soup.new_tag("p", attrs={"class": "dw-step-number"})
    told.string = f"Step {number} of {len(steps)}"
    heading.insert_before(told)
    made.append(_way_on(soup, number, steps))
    return made


def _way_on(soup: BeautifulSoup, number: int, steps: list[Tag]) -> Tag:
    """The way back and the way on, for one who sees one step at a time."""
    made = soup.new_tag("p", attrs={"class": "dw-buttons dw-step-on"})
    if number < len(steps):
        made.append(_link(soup, steps[number], f"Next: {_title(steps[number])}", "dw-button"))
    if number > 1:
        made.append(_link(soup, steps[number - 2], "Back", "dw-button dw-quiet"))
    return made


def _link(soup: BeautifulSoup, heading: Tag, text: str, name: str = "") -> Tag:
    link = soup.new_tag("a", href=f"#{heading['id']}", attrs={"class": name} if name else {})
    link.string = text
    return link


def _title(heading: Tag) -> str:
    return heading.get_text().replace("¶", "").strip()


def _list(soup: BeautifulSoup, steps: list[Tag]) -> Tag:
    """The steps by name: contents of the whole page, and a bar where one step is shown."""
    made = soup.new_tag(
        "nav", attrs={"class": "dw-step-list", "aria-label": "Steps of this lesson"}
    )
    listed = soup.new_tag("ol")
    for number, heading in enumerate(steps, 1):
        item = soup.new_tag("li")
        item.append(_link(soup, heading, f"{number}"))
        name = soup.new_tag("span")
        name.string = f". {_title(heading)}"
        item.a.append(name)
        listed.append(item)
    made.append(listed)
    all_or_one = soup.new_tag("button", type="button", attrs={"class": "dw-button dw-quiet"})
    all_or_one.string = "Show all"
    made.append(all_or_one)
    return made


def add_step(lesson: Tag, title: str, key: str, content: Iterable[PageElement]) -> None:
    """One more step after the last: in a package, the set. Numbers and the ways on count it too."""
    soup = BeautifulSoup("", "html.parser")
    heading = soup.new_tag("h2", id=key)
    heading.string = title
    before = lesson.select("section.dw-step")
    steps = [*(each.find("h2") for each in before), heading]
    for number, section in enumerate(before, 1):
        section.find(class_="dw-step-number").string = f"Step {number} of {len(steps)}"
    before[-1].find(class_="dw-step-on").replace_with(_way_on(soup, len(before), steps))
    told = lesson.find(class_="dw-time")
    told.string = told.get_text().replace(counted(len(before), "step"), counted(len(steps), "step"))
    lesson.find("nav").replace_with(_list(soup, steps))
    lesson.append(_section(soup, len(steps), steps, [heading, *content]))


def _way_to_the_set(soup: BeautifulSoup, key: str) -> Tag:
    count = len(problems.load(key).problems)
    made = soup.new_tag("p", attrs={"class": "dw-step-end"})
    link = soup.new_tag("a", attrs={"class": "dw-button", "data-site": f"practice/{key}/"})
    link.string = f"Practise: {counted(count, 'problem')} with your own numbers"
    made.append(link)
    return made


def _folds(soup: BeautifulSoup, content: list[PageElement]) -> list[Tag]:
    """Each heading of what is looked up as a fold."""
    made: list[Tag] = []
    for each in content:
        if isinstance(each, Tag) and each.name == "h2":
            fold = soup.new_tag("details", attrs={"class": "dw-look-up"})
            summary = soup.new_tag("summary")
            if link := each.find("a", class_="headerlink"):
                link.decompose()  # a press on it would fold, too
            summary.append(each)
            fold.append(summary)
            made.append(fold)
        elif made:
            made[-1].append(each)
        elif not isinstance(each, NavigableString):
            raise ValueError("a heading (##) must follow the rule (---)")
    return made


def _fold_tools(soup: BeautifulSoup, lesson: Tag) -> None:
    """A tool of many fields opens when a reader wants it: alone it is longer than three screens of a phone."""
    for tool in [tag for tag in tags(lesson) if _is_tool(tag)]:
        if tool.name not in SHORT_TOOLS:
            fold = soup.new_tag("details", attrs={"class": "dw-tool"})
            summary = soup.new_tag("summary")
            summary.string = "Open the tool"
            tool.wrap(fold)
            fold.insert(0, summary)


def _is_tool(tag: Tag) -> bool:
    has_form = "dw-card" in _names(tag) and any(each.name == "form" for each in tags(tag))
    return has_form or tag.name == "side-by-side"


def _names(tag: Tag) -> list[str]:
    return tag.attrs.get("class", [])


def _put_last(soup: BeautifulSoup, article: Tag) -> None:
    """One example in Python, the first, and the words for the search, after all else."""
    shown = (tag for tag in tags(article.find(ELEMENT)) if tag.name == "details")
    first, *others = [tag for tag in shown if "dw-python" in _names(tag)] or [None]
    for other in others:
        other.decompose()
    for last in (first, *[tag for tag in tags(article) if "dw-also" in _names(tag)]):
        if last is not None:
            article.append(last.extract())


def _tell_time(soup: BeautifulSoup, sections: list[Tag], lesson: Tag) -> None:
    """“About 35 minutes: 7 steps, 14 questions.”, from what is there to read and to do."""
    questions = len(lesson.find_all("check-question"))
    told = soup.new_tag("p", attrs={"class": "dw-time"})
    told.string = f"About {minutes(lesson)} minutes: {counted(len(sections), 'step')}, {counted(questions, 'question')}."
    sections[0].find(class_="dw-step-number").insert_before(told)


def minutes(lesson: Tag) -> int:
    """How long a lesson takes, in minutes, to the next five: its words, its questions and its tools."""
    words = sum(
        len(re.findall(r"\w+", text)) for text in texts(lesson, lambda tag: tag.name in USED)
    )
    tools = sum("dw-card" in _names(tag) for tag in tags(lesson))
    whole = words / WORDS_A_MINUTE + QUESTION_MINUTES * len(lesson.find_all("check-question"))
    return -int(-(whole + TOOL_MINUTES * tools) // 5) * 5
