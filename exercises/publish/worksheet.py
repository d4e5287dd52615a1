"""A set on paper: a worksheet with each student's own numbers, and the key with worked solutions."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from calc import units
from calc.units import PLAIN
from calc.words import capital, counted
from calc.working import Step
from exercises.codes import code_of, sheet_name
from exercises.draws import Box, ProblemSet, Variant, draw
from exercises.marking import right_answers, solution
from exercises.publish.html import element
from exercises.publish.page import items, page

PAPERS = {"a4": "A4", "letter": "letter"}

STYLE = """
section.sheet + section.sheet { break-before: page; margin-top: 3rem; border-top: 2px solid var(--line); }
.who p { display: flex; justify-content: space-between; gap: 1rem; border-bottom: 1px solid var(--ink);
  margin: 0 0 0.6rem; padding-bottom: 0.3rem; }
.code { font-family: ui-monospace, "DejaVu Sans Mono", monospace; letter-spacing: 0.15em; white-space: nowrap; }
.problem { break-inside: avoid; margin: 1rem 0; }
.sheet h1 { font-size: 1.5em; } .problem h2 { font-size: 1.17em; margin: 0 0 0.2rem; } .problem p { margin: 0.2rem 0; max-width: 44rem; }
.step { display: grid; grid-template-columns: 1fr 10rem; gap: 0.8rem; align-items: end; margin: 0.4rem 0; }
.room { min-height: 3.2em; border: 1px solid var(--line); border-radius: 3px; padding: 0.1rem 0.3rem; color: var(--soft);
  font-size: 0.85em; }
.short .room { min-height: 1.7em; }
.line { border-bottom: 1px solid var(--line); min-height: 2em; }
.blank { border-bottom: 1px solid var(--ink); text-align: right; min-height: 1.6em; }
ol.options { list-style: lower-alpha; margin: 0.2rem 0; }
.key .problem { margin: 0.6rem 0; } .key ol { margin: 0.2rem 0; }
/* In print the sheet is a table: a browser repeats its head, name and code, on each page. */
@media print { section.sheet { display: table; width: 100%; } .who { display: table-header-group; break-inside: avoid; }
  .who > p { border-bottom: 1px solid var(--ink); } .body { display: table-row-group; }
  section.sheet + section.sheet { margin-top: 0; border-top: none; } .problem h2 { font-size: 1.05em; } }
"""


@dataclass(frozen=True)
class Sheet:
    """One student's sheet. `drawn_for` draws the numbers; `student` is empty where a line is left."""

    drawn_for: str
    student: str
    code: str


def named(problem_set: ProblemSet, students: Iterable[str]) -> list[Sheet]:
    """A sheet for each name."""
    return [Sheet(name, name, code_of(problem_set, name)) for name in students]


def numbered(problem_set: ProblemSet, count: int) -> list[Sheet]:
    """So many sheets with a line for the name."""
    names = [sheet_name(number) for number in range(1, count + 1)]
    return [Sheet(name, "", code_of(problem_set, name)) for name in names]


def worksheet(problem_set: ProblemSet, sheets: Iterable[Sheet], paper: str = "a4") -> str:
    """The pages to hand out, each student's on pages of their own."""
    title = f"{problem_set.title}: worksheet"
    return page(title, (_sheet(problem_set, one) for one in sheets), STYLE + _paper(paper))


def key(problem_set: ProblemSet, sheets: Iterable[Sheet], paper: str = "a4") -> str:
    """The teacher's pages: every sheet's worked solutions and marks."""
    sheets = list(sheets)
    title = f"{problem_set.title}: key"
    heading = element("h1", title)
    solved = (_solved(problem_set, one) for one in sheets)
    return page(title, [heading, _finals(problem_set, sheets), *solved], STYLE + _paper(paper))


def _paper(paper: str) -> str:
    return f"@page {{ size: {PAPERS[paper]}; margin: 15mm; }}\n"


def _variants(problem_set: ProblemSet, sheet: Sheet) -> Iterator[tuple[str, Variant]]:
    for number, problem in enumerate(problem_set.problems, 1):
        drawn = draw(problem_set, problem, sheet.drawn_for)
        yield (
            f"{number}. {problem.title} (level {problem.level}, {counted(drawn.out_of, 'mark')})",
            drawn,
        )


def _who(problem_set: ProblemSet, sheet: Sheet) -> Element:
    """The line on each printed page: which set, whose sheet."""
    name = f"Name: {sheet.student}" if sheet.student else "Name: ______________________________"
    return element(
        "div",
        element(
            "p",
            element("span", name),
            element("span", f"{problem_set.title}, version {problem_set.version}"),
            element("span", "Code ", element("strong", sheet.code, class_="code")),
        ),
        class_="who",
    )


def _sheet(problem_set: ProblemSet, sheet: Sheet) -> Element:
    return element(
        "section",
        _who(problem_set, sheet),
        element(
            "div",
            element("h1", problem_set.title),
            element(
                "p",
                f"{_how_much_to_write(problem_set)} In the steps before the answer, whole grams and "
                "whole per cent are exact enough. The numbers on this sheet are yours alone.",
                class_="note",
            ),
            *(_problem(heading, drawn) for heading, drawn in _variants(problem_set, sheet)),
            class_="body",
        ),
        class_="sheet",
    )


def _problem(heading: str, drawn: Variant) -> Element:
    paragraphs = (element("p", text) for text in drawn.story.strip().split("\n\n"))
    return element(
        "div",
        element("h2", heading),
        *paragraphs,
        *_places(drawn),
        class_="problem",
    )


def _places(drawn: Variant) -> Iterator[Element]:
    """Where the answers go: a box and a line for each step, options and a line for each choice."""
    if drawn.problem.ranking:
        # The places of a ranking have their options in common.
        yield element("p", element("strong", drawn.problem.ranking.asks))
        yield _options(drawn.boxes[0])
    if drawn.is_free:
        yield element("div", *_ruled(len(drawn.working.steps) + 1), class_="lines")
    for part in drawn.asked if drawn.is_free else drawn.parts:
        if isinstance(part, Step):
            told = drawn.told(part)
            to = f" ({told})" if told else ""
            yield _place(f"{capital(part.label)}{to}:", _unit(part))
        elif drawn.problem.ranking:
            yield _place(f"{capital(part.label)}, its letter:", short=True)
        else:
            yield element("p", element("strong", capital(part.label)))
            yield _options(part)
            yield _place("Its letter:", short=True)


def _how_much_to_write(problem_set: ProblemSet) -> str:
    if all(problem.credits_unshown for problem in problem_set.problems):
        return "Write every step with its unit, or only the answer."
    return "Write every step with its unit: only what you write earns a mark."


def _ruled(count: int) -> Iterator[Element]:
    """Lines to plan and write the steps on, one a step."""
    yield element("div", "Your working, one line a step:", class_="line note")
    for _ in range(count):
        yield element("div", class_="line")


def _options(box: Box) -> Element:
    return items("ol", (option.text for option in box.options), class_="options")


def _place(label: str, unit: str = "", short: bool = False) -> Element:
    return element(
        "div",
        element("div", label, class_="room"),
        element("div", unit, class_="blank"),
        class_="step short" if short else "step",
    )


def _unit(step: Step) -> str:
    unit = PLAIN.unit(step.kind)
    return unit.symbol if unit else ""


def _solved(problem_set: ProblemSet, sheet: Sheet) -> Element:
    return element(
        "section",
        _who(problem_set, sheet),
        element(
            "div",
            *(_worked(heading, drawn) for heading, drawn in _variants(problem_set, sheet)),
            class_="body",
        ),
        class_="sheet key",
    )


def _finals(problem_set: ProblemSet, sheets: list[Sheet]) -> Element:
    """Every sheet's final answers in one table, to mark by hand."""
    heads = ["Code", "Name", *(str(n) for n in range(1, len(problem_set.problems) + 1))]
    rows = (
        [sheet.code, sheet.student, *(_final(drawn) for _, drawn in _variants(problem_set, sheet))]
        for sheet in sheets
    )
    return element(
        "div",
        element(
            "table",
            element("caption", "The final answers, by code"),
            element("thead", element("tr", *(element("th", head, scope="col") for head in heads))),
            element(
                "tbody",
                *(element("tr", *(element("td", cell) for cell in row)) for row in rows),
            ),
        ),
        class_="dw-table finals",
        role="group",
        aria_label="The final answers, by code",
        tabindex="0",
    )


def _final(drawn: Variant) -> str:
    """What a student must have at the end; letters where answers are chosen."""
    if not drawn.boxes:
        return ", ".join(drawn.working.weighed(step.key) for step in drawn.asked)
    answers = right_answers(drawn)
    words = {option.text: letter for box in drawn.boxes for letter, option in box.lettered()}
    return " ".join(words.get(answer, answer) for answer in answers.values())


def _accepted(drawn: Variant) -> str:
    """What honest rounding can give, for marking by hand."""
    honest = drawn.working.attainable({})
    told = []
    for step in drawn.asked:
        ends = honest[step.key].widened(step.to / 2)
        low, high = (
            units.write(end, step.kind, step=step.to, guard=1) for end in (ends.low, ends.high)
        )
        told.append(f"{step.label} from {low} to {high}")
    return f"Right: {'; '.join(told)}."


def _worked(heading: str, drawn: Variant) -> Element:
    each = counted(drawn.problem.marks_per_step, "mark")
    return element(
        "div",
        element("h2", heading),
        element("p", " ".join(drawn.story.split()), class_="note"),
        element("p", drawn.problem.ranking.asks, class_="note") if drawn.problem.ranking else None,
        items("ol", solution(drawn)),
        element("p", _accepted(drawn), class_="note") if drawn.working.steps else None,
        element("p", f"Each step: {each}.", class_="note") if len(drawn.parts) > 1 else None,
        class_="problem",
    )
