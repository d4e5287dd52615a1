"""One problem as a form, and what its marking says."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from xml.etree.ElementTree import Element

from calc.units import Style
from calc.words import capital, counted
from calc.working import Step
from calc.written import LONGEST_ANSWER
from exercises.directions import what_to_write
from exercises.draws import Box, Variant
from exercises.free_working import LONGEST_WORKING, WORKING
from exercises.hints import HINTS, hints, praise
from exercises.marking import (
    ProblemMark,
    StepMark,
    Verdict,
    introduced,
    same_answers,
    solution,
)
from exercises.publish.html import element


def form(
    prefix: str, number: int | None, variant: Variant, style: Style, said: Iterable[Element] = ()
) -> Element:
    """A problem with a student's numbers, a place for each answer, and what its marking `said`.

    A problem that stands alone has no `number`.
    """
    problem = variant.problem
    marks = f"level {problem.level}, {counted(variant.out_of, 'mark')}"
    title = problem.title if number is None else f"{number}. {problem.title}"
    heading = f"{prefix}-{problem.id}"
    return element(
        "form",
        element("h3", f"{title} ", element("small", marks), id=heading),
        *(element("p", paragraph) for paragraph in variant.story.strip().split("\n\n")),
        element("p", what_to_write(variant), class_="dw-note"),
        *places(heading, variant, style),
        element("button", "Mark my answer", type="submit", class_="dw-button"),
        element("div", *said, class_="dw-feedback", data_feedback=True, aria_live="polite"),
        class_="dw-problem",
        id=f"problem-{number}" if number is not None else None,
        data_problem=problem.id,
        aria_labelledby=heading,
        novalidate=True,
    )


def places(prefix: str, variant: Variant, style: Style) -> list[Element]:
    """The places for a problem's answers."""
    if variant.problem.ranking:
        selects = (_select(prefix, box) for box in variant.boxes)
        return [_on_paper(variant.boxes[0]), element("div", *selects, class_="dw-order")]
    if variant.boxes:
        return [_radios(prefix, box) for box in variant.boxes]
    cells = variant.problem.quantity.cells
    if variant.is_free:
        asked = (step_box(prefix, variant, step, style, hinted=False) for step in variant.asked)
        return [_lines(prefix, "Your working, one line a step"), _plan(variant, style), *asked]
    steps = [step_box(prefix, variant, step, style) for step in variant.working.steps.values()]
    if variant.takes_lines:
        return [*steps, _instead(prefix)]
    return [element("div", *steps, class_="dw-cells")] if cells else steps


def _on_paper(box: Box) -> Element:
    """What to put in order: on paper no list unfolds."""
    options = ", ".join(f"{letter}: {option.text}" for letter, option in box.lettered())
    return element("p", f"{capital(options)}.", class_="dw-print-only")


def _select(prefix: str, box: Box) -> Element:
    """A place in an order: which item is there."""
    name = f"{prefix}-{box.key.replace(' ', '-')}"
    options = [element("option", option.text, value=letter) for letter, option in box.lettered()]
    return element(
        "div",
        element("label", box.label.capitalize(), for_=name),
        element(
            "select",
            element("option", "choose", value=""),
            *options,
            id=name,
            name=box.key,
            aria_describedby=f"{name}-said",
        ),
        _said(name, box.key),
        class_="dw-field",
    )


def _radios(prefix: str, box: Box) -> Element:
    """A question with its options."""
    name = f"{prefix}-{box.key.replace(' ', '-')}"
    lines = [
        element(
            "div",
            element("input", type="radio", name=box.key, value=letter, id=f"{name}-{letter}"),
            element("label", f"{letter}. {option.text}", for_=f"{name}-{letter}"),
            class_="dw-option",
        )
        for letter, option in box.lettered()
    ]
    legend = element("legend", box.label)
    return element("fieldset", legend, *lines, _said(name, box.key), class_="dw-question")


def _said(box: str, key: str) -> Element:
    """Where the page puts the verdict on a box: under it, so that both are in sight together."""
    return element("ul", id=f"{box}-said", class_="dw-verdicts", data_said=key, aria_live="polite")


def _lines(prefix: str, label: str) -> Element:
    """A place for free working."""
    box = f"{prefix}-{WORKING}"
    return element(
        "div",
        element("label", label, for_=box),
        element(
            "textarea",
            id=box,
            name=WORKING,
            rows=5,
            autocomplete="off",
            spellcheck="false",
            maxlength=LONGEST_WORKING,
            aria_describedby=f"{box}-how {box}-read {box}-said",
        ),
        element(
            "span",
            "As on paper, in any order, such as 480 × 0.68 = 326. Each line is marked for what it computes.",
            id=f"{box}-how",
            class_="dw-note",
        ),
        element(
            "span",
            id=f"{box}-read",
            class_="dw-note dw-read",
            data_read=WORKING,
            aria_live="polite",
        ),
        _said(box, WORKING),
        class_="dw-field dw-lines",
    )


def _instead(prefix: str) -> Element:
    """Free working for those who would rather plan the steps than fill in boxes."""
    return element(
        "details",
        element("summary", "Write your working in lines of your own"),
        _lines(prefix, "One line a step"),
        class_="dw-hint dw-instead",
    )


def _plan(variant: Variant, style: Style) -> Element:
    """The hints of each step; neither which steps there are nor how many is told before one opens them."""
    costs = variant.problem.hint_costs
    return element(
        "details",
        element("summary", "Hints, step by step"),
        *(
            _hints(key, hints(variant, key, style), costs, f"Step {number}, ")
            for number, key in enumerate(variant.working.steps, 1)
        ),
        class_="dw-hint",
    )


def step_box(
    prefix: str, variant: Variant, step: Step, style: Style, hinted: bool = True
) -> Element:
    """A step's box, with how it is read and its hints."""
    key = step.key
    box = f"{prefix}-{key.replace(' ', '-')}"
    label = capital(step.label)
    is_answer = step in variant.asked and not variant.problem.quantity.cells
    told = ", ".join(filter(None, ("the answer" * is_answer, variant.told(step, style))))
    if told:
        label += f" ({told})"
    return element(
        "div",
        element("label", label, for_=box),
        element(
            "input",
            id=box,
            name=key,
            type="text",
            autocomplete="off",
            spellcheck="false",
            maxlength=LONGEST_ANSWER,
            aria_describedby=f"{box}-read {box}-said",
        ),
        element(
            "span", id=f"{box}-read", class_="dw-note dw-read", data_read=key, aria_live="polite"
        ),
        _said(box, key),
        _hints(key, hints(variant, key, style), variant.problem.hint_costs) if hinted else None,
        class_="dw-field dw-answer-box",
    )


def _hints(
    key: str,
    told: Sequence[str],
    costs: Sequence[float],
    of_step: str = "",
) -> Element:
    """Hints that open one inside the other, each telling more and costing what the set says."""
    first, *others = HINTS
    names = (f"{of_step}hint: {first}", *(f"More: {other}" for other in others))
    made = None
    for level in range(len(HINTS), 0, -1):
        cost = costs[level - 1]
        price = f" (takes {cost:g} mark{'s' * (cost > 1)})" if cost else ""
        made = element(
            "details",
            element("summary", capital(names[level - 1]) + price),
            element("p", told[level - 1]),
            made,
            class_="dw-hint",
            data_step=key,
            data_level=level,
        )
    return made


def earned(result: ProblemMark) -> str:
    """“1 of 2 marks”."""
    return f"{result.marks} of {counted(result.out_of, 'mark')}"


def tries_used(
    result: ProblemMark, answers: Mapping[str, str], last: Mapping[str, str], used: int
) -> int:
    """How many tries are used after a marking.

    `last` are the answers that were marked before: the same again costs no try. Nor does what could
    not be read.
    """
    return used + (result.answered and not same_answers(result.variant, answers, last))


def verdicts(
    result: ProblemMark, answers: Mapping[str, str], marked: Mapping[str, str]
) -> dict[str, str]:
    """The verdicts, by box, of what still stands as it was marked."""
    return {
        one.step.key: one.verdict.name.lower()
        for one in result.steps
        if not one.from_line and answers.get(one.step.key, "") == marked.get(one.step.key, "")
    }


def is_done(result: ProblemMark, tries: int) -> bool:
    """Whether nothing is left to try: it is right, or its solution is shown."""
    return result.all_right or tries >= result.variant.problem.tries


def feedback(
    result: ProblemMark,
    tries: int,
    style: Style,
    another: Element | None = None,
    onward: Element | None = None,
) -> list[Element]:
    """What the marking says, step by step; the model solution after the last try.

    `another` leads to the same problem with new numbers, once this one is right or solved, and
    `onward` to what comes next: the one strong button then.
    """
    taken = sum(one.hint_cost for one in result.steps if one.verdict.earns)
    hint = f" (hints took {taken:g})" if taken else ""
    made = [
        element(
            "p",
            f"{earned(result)}{hint}",
            class_="dw-marks" + (" dw-right" if result.all_right else ""),
        )
    ]
    blank = [one for one in result.steps if one.verdict is Verdict.BLANK]
    if len(blank) == len(result.steps) and not result.says:
        return [element("p", "Nothing is filled in yet. Write at least the answer.")]
    if onward is not None:
        strong = "" if is_done(result, tries) else " dw-quiet"
        onward.set("class", "dw-button dw-onward-button" + strong)
        made.append(element("p", onward, class_="dw-buttons"))
    if result.all_right and result.variant.working.steps:
        made.append(element("p", praise(result.variant)))
    if result.says:
        made.append(element("p", result.says))
    # Where the plan is the student's own, a step that is not shown is not named either.
    told = [one for one in result.steps if not (result.variant.is_free and one in blank)]
    made.append(element("ul", *map(step_feedback, told), class_="dw-verdicts"))
    if len(told) < len(result.steps):
        made.append(element("p", _not_shown(len(blank)), class_="dw-note"))
    left = result.variant.problem.tries - tries
    if is_done(result, tries):
        made.append(
            element(
                "details",
                element("summary", "The worked solution"),
                element("ol", *(element("li", line) for line in solution(result.variant, style))),
                open=not result.all_right,
            )
        )
        made += [element("p", another, class_="dw-buttons")] if another is not None else []
    elif result.answered:
        made.append(
            element("p", f"Tries left before the worked solution: {left}", class_="dw-note")
        )
    return made


def _not_shown(count: int) -> str:
    if count == 1:
        return "One step of the plan is not shown yet."
    return f"{count} steps of the plan are not shown yet."


def _sentence(one: StepMark) -> str:
    """“liquid: right. ”, and “Which is drier? Right. ”"""
    label, verdict = introduced(one.step.label), one.verdict.value
    return f"{label} {verdict if label.endswith(':') else verdict.capitalize()}. "


def step_feedback(one: StepMark) -> Element:
    """What the marking says of one step, with where to read again."""
    links = [
        element(
            "a",
            f"Read again: {finding.mistake.name}",
            data_site=f"lessons/{finding.mistake.lesson}/#{finding.mistake.key}",
            class_="dw-reread",
        )
        for finding in one.findings
    ]
    return element(
        "li",
        element("span", one.verdict.sign, aria_hidden="true", class_="dw-sign"),
        *([element("q", one.wrote), " "] if one.from_line else []),
        element("strong", _sentence(one)),
        f"{one.note} " if one.note else "",
        one.says,
        " ",
        *links,
        class_=f"dw-{one.verdict.name.lower().replace('_', '-')}",
        data_step=WORKING if one.from_line else one.step.key,
    )
