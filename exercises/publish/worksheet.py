"""A set on paper: a worksheet with each student's own numbers, and the key with worked solutions."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import chain
from xml.etree.ElementTree import Element

from calc import units
from calc.interval import Interval
from calc.units import PLAIN
from calc.words import capital, counted
from calc.working import Step
from exercises.codes import code_of, sheet_name
from exercises.directions import what_to_write
from exercises.draws import Box, ProblemSet, Variant, draw
from exercises.marking import right_answers, solution
from exercises.publish.html import Child, element
from exercises.publish.own_table import READ_THE_PACK, own_cells, own_table
from exercises.publish.page import items, page

PAPERS = {"a4": "A4", "letter": "letter"}
FINALS = "The final answers, by code"
# So many problems fit beside code and name.
ACROSS = 10

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
.line { border-bottom: 1px solid var(--line); min-height: 2em; }
.blank { border-bottom: 1px solid var(--ink); text-align: right; min-height: 1.6em; }
.choice, .places { display: flex; gap: 0.6rem 1.4rem; align-items: center; break-after: avoid; margin: 0.4rem 0; }
.choice { justify-content: space-between; } .places { flex-wrap: wrap; }
.places span { display: inline-flex; gap: 0.4rem; align-items: center; }
.letter { flex: none; width: 1.9em; height: 1.9em; border: 1px solid var(--ink); border-radius: 3px; }
ol.options { list-style: lower-alpha; margin: 0.2rem 0; }
.key .problem { margin: 0.9rem 0; } .key td:last-child, .key th:last-child { text-align: right; }
.key table { table-layout: fixed; } .key th:nth-child(2) { width: 12rem; } .key th:nth-child(3) { width: 4rem; }
.key td, .key th { padding-top: 0.1rem; padding-bottom: 0.1rem; } .finals { margin-bottom: 1.6rem; }
.finals span, .range { white-space: nowrap; }
/* In print the sheet is a table: a browser repeats its head, name and code, on each page. */
@media print { section.sheet { display: table; width: 100%; } .who { display: table-header-group; break-inside: avoid; }
  .who > p { border-bottom: 1px solid var(--ink); } .body { display: table-row-group; }
  section.sheet + section.sheet { margin-top: 0; border-top: none; }
  .dw-table { overflow: visible; } .problem h2 { font-size: 1.05em; } }
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
    return page(title, worksheet_body(problem_set, sheets), style(paper))


def worksheet_body(problem_set: ProblemSet, sheets: Iterable[Sheet]) -> list[Element]:
    """What is on the pages to hand out."""
    return [_sheet(problem_set, one) for one in sheets]


def key(problem_set: ProblemSet, sheets: Iterable[Sheet], paper: str = "a4") -> str:
    """The teacher's pages: every sheet's worked solutions and marks."""
    return page(_key_title(problem_set), key_body(problem_set, sheets), style(paper))


def key_body(problem_set: ProblemSet, sheets: Iterable[Sheet]) -> list[Element]:
    """What is on the teacher's pages."""
    sheets = list(sheets)
    return [
        element("h1", _key_title(problem_set)),
        element("p", _by_hand(problem_set)),
        *_finals(problem_set, sheets),
        *(_solved(problem_set, one) for one in sheets),
    ]


def _key_title(problem_set: ProblemSet) -> str:
    return f"{problem_set.title}: key"


def _by_hand(problem_set: ProblemSet) -> str:
    """How to mark on from a wrong figure, as the page does (`marking`)."""
    unshown = all(problem.credits_unshown for problem in problem_set.problems)
    return (
        "A figure within its range is right. After a wrong one, work on from the student's own figure by "
        "the same sum: what fits it earns its marks, so one slip costs one step."
        + (" A right answer to the question also earns the steps before it." if unshown else "")
    )


def style(paper: str) -> str:
    """The style of either, on a paper of `PAPERS`."""
    return STYLE + f"@page {{ size: {PAPERS[paper]}; margin: 15mm; }}\n"


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
    variants = list(_variants(problem_set, sheet))
    usual = Counter(what_to_write(drawn) for _, drawn in variants).most_common(1)[0][0]
    return element(
        "section",
        _who(problem_set, sheet),
        element(
            "div",
            element("h1", problem_set.title),
            element("p", f"{usual} Other sheets have other numbers.", class_="note"),
            *_ingredients(problem_set),
            *(_problem(heading, drawn, usual) for heading, drawn in variants),
            class_="body",
        ),
        class_="sheet",
    )


def _ingredients(problem_set: ProblemSet) -> list[Element]:
    """What the set brings and the table does not have, for those who work on paper."""
    rows = [own_cells(each) for each in problem_set.ingredients]
    return [own_table(f"Ingredients of this set, in 100 g. {READ_THE_PACK}", rows)] if rows else []


def _problem(heading: str, drawn: Variant, usual: str) -> Element:
    """A problem with room for its answers; what is `usual` on this sheet was said at its top."""
    paragraphs = (element("p", text) for text in drawn.story.strip().split("\n\n"))
    wanted = what_to_write(drawn)
    return element(
        "div",
        element("h2", heading),
        *paragraphs,
        element("p", wanted, class_="note") if wanted != usual else None,
        *_places(drawn),
        class_="problem",
    )


def _places(drawn: Variant) -> Iterator[Element]:
    """Where the answers go: a box and a line for each step, options and a square for each choice."""
    if drawn.problem.ranking:
        # The places of a ranking have their options in common.
        yield _options(drawn.boxes[0])
        places = (element("span", capital(box.label), _letter()) for box in drawn.boxes)
        yield element("div", *places, class_="places")
        return
    for box in drawn.boxes:
        yield element("div", element("strong", capital(box.label)), _letter(), class_="choice")
        yield _options(box)
    if drawn.is_free:
        yield element("div", *_ruled(len(drawn.working.steps) + 1), class_="lines")
    for step in drawn.asked if drawn.is_free else drawn.working.steps.values():
        told = drawn.told(step)
        to = f" ({told})" if told else ""
        yield _place(f"{capital(step.label)}{to}:", _unit(step))


def _ruled(count: int) -> Iterator[Element]:
    """Lines to plan and write the steps on, one a step."""
    yield element("div", "Your working, one line a step:", class_="line note")
    for _ in range(count):
        yield element("div", class_="line")


def _options(box: Box) -> Element:
    return items("ol", (option.text for option in box.options), class_="options")


def _letter() -> Element:
    """A square for the letter of what is chosen."""
    return element("span", class_="letter")


def _place(label: str, unit: str) -> Element:
    return element(
        "div",
        element("div", label, class_="room"),
        element("div", unit, class_="blank"),
        class_="step",
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


def _finals(problem_set: ProblemSet, sheets: list[Sheet]) -> Iterator[Element]:
    """Every sheet's final answers, to mark by hand: tables that are no wider than the paper."""
    answers = [[_final(drawn) for _, drawn in _variants(problem_set, sheet)] for sheet in sheets]
    for first in range(0, len(problem_set.problems), ACROSS):
        numbers = range(first, min(first + ACROSS, len(problem_set.problems)))
        heads = ["Code", "Name", *(str(n + 1) for n in numbers)]
        rows = (
            [sheet.code, sheet.student, *(each[n] for n in numbers)]
            for sheet, each in zip(sheets, answers, strict=True)
        )
        caption = FINALS if not first else f"{FINALS}: from problem {first + 1} on"
        yield element("div", _table(caption, heads, rows), class_="dw-table finals", role="group", aria_label=caption, tabindex="0")  # fmt: skip


def _table(caption: str, heads: Iterable[str], rows: Iterable[Iterable[Child]]) -> Element:
    return element(
        "table",
        element("caption", caption) if caption else None,
        element("thead", element("tr", *(element("th", head, scope="col") for head in heads))),
        element("tbody", *(element("tr", *(element("td", cell) for cell in row)) for row in rows)),
    )


def _final(drawn: Variant) -> Element:
    """What a student must have at the end; letters where answers are chosen."""
    if not drawn.boxes:
        found = [drawn.working.weighed(step.key) for step in drawn.asked]
        parts = [[element("span", f"{one},"), " "] for one in found[:-1]]
        return element("div", *chain(*parts), element("span", found[-1]))
    return element("span", " ".join(_letters(drawn)))


def _letters(drawn: Variant) -> list[str]:
    """The letters of the right answers, in the order of the boxes."""
    words = {option.text: letter for box in drawn.boxes for letter, option in box.lettered()}
    return [words.get(answer, answer) for answer in right_answers(drawn).values()]


def accepted(drawn: Variant, step: Step) -> Interval:
    """What earns a step's marks where every earlier figure is right (calc's unit).

    It is what honest rounding can give, for a figure that is written as the sheet asks.
    """
    return drawn.working.attainable({})[step.key].widened(drawn.rounding(step) / 2)


def _range(drawn: Variant, step: Step) -> Element:
    ends, to = accepted(drawn, step), drawn.rounding(step)
    low, high = (units.write(end, step.kind, step=to, guard=1) for end in (ends.low, ends.high))
    return element("span", f"{low} to {high}", class_="range")


def _worked(heading: str, drawn: Variant) -> Element:
    return element(
        "div",
        element("h2", heading),
        _givens(drawn),
        *_solution(drawn),
        class_="problem",
    )


def _givens(drawn: Variant) -> Element | None:
    given = [drawn.shown[name] for name in drawn.problem.givens]
    return element("p", f"Given: {'; '.join(given)}.", class_="note") if given else None


def _solution(drawn: Variant) -> Iterator[Element]:
    if drawn.working.steps:
        yield _steps(drawn)
    elif drawn.problem.ranking:
        yield element("p", drawn.problem.ranking.asks, class_="note")
        lines = zip(_letters(drawn), solution(drawn), strict=True)
        yield items("ol", (f"{letter}: {line}" for letter, line in lines))
    else:
        yield items("ol", solution(drawn))


def _steps(drawn: Variant) -> Element:
    """Each step's sum, what is right, and its marks."""
    each = f"{drawn.problem.marks_per_step:g}"
    rows = (
        [line, _range(drawn, step), each]
        for line, step in zip(solution(drawn), drawn.working.steps.values(), strict=True)
    )
    return _table("", ["Step", "Right from … to", "Marks"], rows)
