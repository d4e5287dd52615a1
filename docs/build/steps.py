"""A lesson as steps of one idea.

A lesson is plain Markdown: each `##` is a step, and what follows a rule (`---`) is to look up. This pass
puts each step in a section, so that the page's script can show one at a time; without it all are there,
one below another.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from itertools import takewhile
from pathlib import Path
from xml.etree.ElementTree import Element

from calc.words import counted
from docs.build.texts import texts
from docs.build.tree import Tag, classes, grown, tags, taken, wrap
from exercises import problems
from exercises.lessons import LESSONS
from exercises.publish.html import Child, element

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


def into_steps(page: Tag, key: str) -> None:
    """Put a lesson's headings into steps, and what follows its rule into folds."""
    articles = page.find_class("md-content__inner")
    headings = articles[0].findall("h2") if articles else []
    if not headings:
        return
    article = articles[0]
    rule = article.find("hr")
    to_look_up = [] if rule is None else list(rule.itersiblings("*"))
    if rule is not None:
        rule.drop_tree()
    folds = _folds(to_look_up)
    steps = [each for each in headings if each.getparent() is article]
    opening = _until("h1", steps[0].itersiblings(preceding=True))[::-1]
    sections = [
        _section(
            number, steps, opening if number == 1 else [], _until("h2", heading.itersiblings())
        )
        for number, heading in enumerate(steps, 1)
    ]
    lesson = grown(element(ELEMENT, _list(steps), lesson=key))
    lesson.extend(sections)
    article.append(lesson)
    _fold_tools(lesson)
    sections[-1].append(grown(_way_to_the_set(key)))
    article.extend(folds)
    _put_last(article, lesson)
    _tell_time(sections, lesson)


def _until(name: str, siblings: Iterable[Tag]) -> list[Tag]:
    return list(takewhile(lambda each: each.tag != name, siblings))


def _section(number: int, steps: list[Tag], opening: list[Tag], content: list[Tag]) -> Tag:
    heading = steps[number - 1]
    told = grown(element("p", f"Step {number} of {len(steps)}", class_="dw-step-number"))
    made = grown(element("section", class_="dw-step", aria_labelledby=heading.get("id")))
    made.extend([*opening, told, heading, *content, grown(_way_on(number, steps))])
    return made


def _way_on(number: int, steps: list[Tag]) -> Element:
    """The way back and the way on, for one who sees one step at a time."""
    ways = []
    if number < len(steps):
        ways.append(_link(steps[number], f"Next: {_title(steps[number])}", class_="dw-button"))
    if number > 1:
        ways.append(_link(steps[number - 2], "Back", class_="dw-button dw-quiet"))
    return element("p", *ways, class_="dw-buttons dw-step-on")


def _link(heading: Tag, *content: Child, class_: str | None = None) -> Element:
    return element("a", *content, href=f"#{heading.get('id')}", class_=class_)


def _title(heading: Tag) -> str:
    return heading.text_content().replace("¶", "").strip()


def _list(steps: list[Tag]) -> Element:
    """The steps by name: contents of the whole page, and a bar where one step is shown."""
    listed = (
        element("li", _link(heading, str(number), element("span", f". {_title(heading)}")))
        for number, heading in enumerate(steps, 1)
    )
    all_or_one = element("button", "Show all", type="button", class_="dw-button dw-quiet")
    return element(
        "nav",
        element("ol", *listed),
        all_or_one,
        class_="dw-step-list",
        aria_label="Steps of this lesson",
    )


def add_step(lesson: Tag, title: str, key: str, content: list[Tag]) -> None:
    """One more step after the last: in a package, the set. Numbers and the ways on count it too."""
    before = lesson.findall("section")
    steps = [*(each.find("h2") for each in before), grown(element("h2", title, id=key))]
    for number, section in enumerate(before, 1):
        section.find("p[@class='dw-step-number']").text = f"Step {number} of {len(steps)}"
    way_on = before[-1].find("p[@class='dw-buttons dw-step-on']")
    before[-1].replace(way_on, grown(_way_on(len(before), steps)))
    told = before[0].find("p[@class='dw-time']")
    told.text = told.text.replace(counted(len(before), "step"), counted(len(steps), "step"))
    lesson.replace(lesson.find("nav"), grown(_list(steps)))
    lesson.append(_section(len(steps), steps, [], content))


def _way_to_the_set(key: str) -> Element:
    says = f"Practise: {counted(len(problems.load(key).problems), 'problem')} with your own numbers"
    link = element("a", says, class_="dw-button", data_site=f"practice/{key}/")
    return element("p", link, class_="dw-step-end")


def _folds(content: list[Tag]) -> list[Tag]:
    """Each heading of what is looked up as a fold."""
    made: list[Tag] = []
    for each in content:
        if each.tag == "h2":
            for link in each.find_class("headerlink"):
                link.drop_tree()  # a press on it would fold, too
            fold = grown(element("details", element("summary"), class_="dw-look-up"))
            fold[0].append(taken(each))
            made.append(fold)
        elif made:
            made[-1].append(each)
        else:
            raise ValueError("a heading (##) must follow the rule (---)")
    return made


def _fold_tools(lesson: Tag) -> None:
    """A tool of many fields opens when a reader wants it: alone it is longer than three screens of a phone."""
    for tool in [tag for tag in tags(lesson) if _is_tool(tag)]:
        if tool.tag not in SHORT_TOOLS:
            summary = element("summary", "Open the tool")
            wrap(tool, grown(element("details", summary, class_="dw-tool")))


def _is_tool(tag: Tag) -> bool:
    has_form = "dw-card" in classes(tag) and tag.find(".//form") is not None
    return has_form or tag.tag == "side-by-side"


def _put_last(article: Tag, lesson: Tag) -> None:
    """One example in Python, the first, and the words for the search, after all else."""
    shown = [each for each in tags(lesson, "details") if "dw-python" in classes(each)]
    for other in shown[1:]:
        other.drop_tree()
    for last in (*shown[:1], *article.find_class("dw-also")):
        article.append(taken(last))


def _tell_time(sections: list[Tag], lesson: Tag) -> None:
    """“About 35 minutes: 7 steps, 14 questions.”, from what is there to read and to do."""
    steps = counted(len(sections), "step")
    questions = counted(len(tags(lesson, "check-question")), "question")
    says = f"About {minutes(lesson)} minutes: {steps}, {questions}."
    number = sections[0].find("p[@class='dw-step-number']")
    number.addprevious(grown(element("p", says, class_="dw-time")))


def minutes(lesson: Tag) -> int:
    """How long a lesson takes, in minutes, to the next five: its words, its questions and its tools."""
    words = sum(
        len(re.findall(r"\w+", text)) for text in texts(lesson, lambda tag: tag.tag in USED)
    )
    tools = len([tag for tag in tags(lesson) if "dw-card" in classes(tag)])
    whole = words / WORDS_A_MINUTE + QUESTION_MINUTES * len(tags(lesson, "check-question"))
    return -int(-(whole + TOOL_MINUTES * tools) // 5) * 5
