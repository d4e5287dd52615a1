"""A problem set in the page: the problems with a student's numbers, and their marking.

It is one of ours by its name, or one that a student was given, as the letters of its link.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass, field, replace
from xml.etree.ElementTree import Element

from calc.units import PLAIN, Style
from calc.words import all_of, are, capital, counted
from docs.parts.shared import own_shelf, problem, set_way
from docs.parts.shared.fields import FieldErrors, quiet_button, style_of
from exercises import problems, set_link, study, untrusted
from exercises.codes import code_of
from exercises.draws import Problem, ProblemSet, Variant, draw
from exercises.handin import file_name, new_handin, pack, write_handin
from exercises.marking import ProblemMark, mark, read_back
from exercises.publish.html import element, write
from exercises.record import record
from exercises.skills import Exercise

LONGEST_NAME = 100

# What was written, by problem and step.
Answers = Mapping[str, Mapping[str, str]]


def build(attributes: Mapping[str, str]) -> list[Element]:
    """``name`` is a set's file name without its ending. Shown first with sample numbers."""
    return body(problems.load(attributes.get("name", "")))


def body(problem_set: ProblemSet) -> list[Element]:
    """Any set with sample numbers, and the boxes for a student's name and hand-in."""
    prefix = problem_set.key
    return [
        _who(prefix),
        element(
            "div",
            _about(problem_set),
            element("span", class_="dw-note dw-did", data_whose=True),
            element("span", class_="dw-note", data_samples=True, role="status"),
            class_="dw-set-says",
        ),
        element("p", f"Due: {problem_set.due.words}.") if problem_set.due else element("span"),
        *own_shelf.of_a_set(problem_set),
        element("h2", "Problems", class_="dw-hidden"),
        set_way.ticks(problem_set),
        element("div", *problem_list(problem_set, Work()), class_="dw-problems", data_output=True),
        set_way.finish_picture(),
        _handing_in(problem_set),
    ]


def _handing_in(problem_set: ProblemSet) -> Element:
    """The marks so far, and the ways to hand in."""
    ways = (("Save hand-in file", "hand-in"), ("Copy as text", "copy"))
    return element(
        "div",
        element(
            "p",
            f"Marks: 0 of {_out_of(problem_set, '')}",
            class_="dw-total",
            data_total=True,
            role="status",
        ),
        element(
            "button",
            "Hand in",
            type="button",
            aria_expanded="false",
            data_action="ways",
            class_="dw-button dw-quiet dw-ways",
        ),
        *(quiet_button(says, way) for says, way in ways),
        element(
            "textarea",
            readonly=True,
            hidden=True,
            rows=4,
            aria_label="Your hand-in as text, to copy",
            data_packed=True,
        ),
        element("p", class_="dw-status", role="status"),
        class_="dw-handin",
    )


def _who(prefix: str) -> Element:
    """The box for the student's name, one line high: the first problem is to be seen under it."""
    return element(
        "form",
        element(
            "div",
            element("label", "Your name", for_=f"{prefix}-student"),
            element(
                "input",
                id=f"{prefix}-student",
                name="student",
                type="text",
                autocomplete="name",
                maxlength=LONGEST_NAME,
                aria_describedby=f"{prefix}-student-note",
            ),
            element("span", class_="dw-complaint", data_for="student"),
            class_="dw-field",
        ),
        class_="dw-form dw-who",
    )


def _about(problem_set: ProblemSet) -> Element:
    """What one reads of a set once: it is folded."""
    return element(
        "details",
        element("summary", "About this set and your name"),
        element("p", f"{problem_set.about} ", set_way.hints_cost(problem_set)),
        element(
            "p",
            "Your name picks your numbers: the same name gives the same numbers again. "
            "It stays on this device until you save a hand-in file. "
            "Without a name you see sample numbers.",
            id=f"{problem_set.key}-student-note",
            class_="dw-screen-only",
        ),
        class_="dw-about-set",
    )


@dataclass(frozen=True)
class Work:
    """What a page keeps of a student's work, by problem.

    `marked` are the answers as they were last marked, `opened` how many hints of each step.
    """

    student: str = ""
    answers: Answers = field(default_factory=dict)
    marked: Answers = field(default_factory=dict)
    tries: Mapping[str, int] = field(default_factory=dict)
    opened: Mapping[str, Mapping[str, int]] = field(default_factory=dict)

    def mark(self, drawn: Variant, answers: Answers, style: Style = PLAIN) -> ProblemMark:
        """The marks of a problem, as it is answered in `answers`."""
        key = drawn.problem.id
        return mark(drawn, answers.get(key, {}), style, self.opened.get(key))


def _work(values: Mapping[str, str]) -> Work:
    return Work(
        values.get("student", "")[:LONGEST_NAME],
        untrusted.answers(values.get("answers", "")),
        untrusted.answers(values.get("marked", "")),
        untrusted.numbers(values.get("tries", "")),
        untrusted.counts(values.get("hints", "")),
    )


def respond(values: Mapping[str, str]) -> dict[str, object]:
    """Answer the page. ``action`` is ``draw``, ``read``, ``way``, ``mark``, ``record``, ``hand-in`` or ``copy``."""
    problem_set = set_of(values)
    style = style_of(values)
    work = _work(values)
    match values.get("action"):
        case "read":
            asked = _asked(problem_set, values)
            answers = work.answers.get(asked.id, {})
            return {"read": read_back(draw(problem_set, asked, work.student), answers, style)}
        case "way":
            return _way(problem_set, work, _results(problem_set, work))
        case "mark":
            return _marked(problem_set, values, work, style)
        case "record":
            return {"record": record(problem_set, work.student, _results(problem_set, work))}
        case "hand-in" | "copy" if not work.student.strip():
            raise FieldErrors(
                {
                    "student": "Write your name first: your teacher marks by it. "
                    "It brings numbers of your own."
                }
            )
        case "copy":
            handin = new_handin(problem_set, work.student, work.answers, work.opened, _now(values))
            return {
                "text": pack(handin),
                "says": "Copied. Paste it where your teacher asks for it."
                + _empty(problem_set, work),
            }
        case "hand-in":
            return {
                "file": write_handin(
                    problem_set, work.student, work.answers, work.opened, _now(values)
                ),
                "filename": file_name(problem_set, work.student),
                "says": f"The hand-in file is saved.{_empty(problem_set, work)}",
            }
        case _:
            return {
                "elements": problem_list(problem_set, work, style),
                "verdicts": _verdicts(problem_set, work),
                **_way(problem_set, work, _results(problem_set, work)),
                "says": "These are your numbers."
                if work.student.strip()
                else "These are sample numbers.",
            }


def set_of(values: Mapping[str, str]) -> ProblemSet:
    """The set that a question is about: the letters in ``packed``, else one of ours by its ``name``.

    With ``level`` it is the problems of that level alone.
    """
    packed, level = values.get("packed", ""), values.get("level", "")
    whole = set_link.read_packed(packed) if packed else problems.load(values.get("name", ""))
    return whole.of_level(int(level)) if level else whole


def _empty(problem_set: ProblemSet, work: Work) -> str:
    """A sentence on the problems without any answer; nothing when there are none."""
    count = len(problem_set.problems)
    empty = sum(
        not any(text.strip() for text in work.answers.get(each.id, {}).values())
        for each in problem_set.problems
    )
    if empty == count:
        return f" {capital(all_of(count, 'problem'))} {are(count)} empty."
    return f" {empty} of {counted(count, 'problem')} {are(empty)} empty." if empty else ""


def _marked(
    problem_set: ProblemSet, values: Mapping[str, str], work: Work, style: Style
) -> dict[str, object]:
    asked = _asked(problem_set, values)
    result = work.mark(draw(problem_set, asked, work.student), work.answers, style)
    answers = work.answers.get(asked.id, {})
    last = work.marked.get(asked.id, {})
    tries = problem.tries_used(result, answers, last, work.tries.get(asked.id, 0))
    work = replace(work, marked={**work.marked, asked.id: answers})
    results = _results(problem_set, work)
    return {
        "elements": _feedback(problem_set, result, tries, work, style, results),
        **_way(problem_set, work, results),
        "done": problem.is_done(result, tries),
        "tries": tries,
        "attempts": attempts(Exercise(problem_set, asked), work.student, result, values),
        "verdicts": problem.verdicts(result, answers, answers),
    }


def _results(problem_set: ProblemSet, work: Work) -> dict[str, ProblemMark]:
    """Each problem as it was last marked."""
    return {
        each.id: work.mark(draw(problem_set, each, work.student), work.marked)
        for each in problem_set.problems
        if each.id in work.marked
    }


def _way(problem_set: ProblemSet, work: Work, results: set_way.Results) -> dict[str, object]:
    """How far the student is: what the page shows in its ticks, its bar, its finish and the lists."""
    earned = sum(result.marks for result in results.values())
    out_of = _out_of(problem_set, work.student)
    total = f"Marks: {earned:g} of {out_of}"
    found = set_way.states(problem_set, results, work.answers)
    return {
        "total": total,
        "states": found,
        "ticks": set_way.tick_words(problem_set, found),
        "finish": write(*set_way.finish(problem_set, found, total, work.student)),
        "standing": set_way.standing(problem_set, found, earned, out_of),
    }


def _asked(problem_set: ProblemSet, values: Mapping[str, str]) -> Problem:
    asked = problem_set.problem(values.get("problem", ""))
    if asked is None:
        raise ValueError("there is no such problem in the set")
    return asked


def _feedback(
    problem_set: ProblemSet,
    result: ProblemMark,
    tries: int,
    work: Work,
    style: Style,
    results: set_way.Results,
) -> list[Element]:
    """What the marking says. Work without a name is not for the teacher, and that is told in time."""
    found = set_way.states(problem_set, results, work.answers)
    onward = set_way.onward(problem_set, result.variant.problem, found)
    said = problem.feedback(result, tries, style, _another(problem_set, result), onward)
    if not work.student.strip():
        here = element("a", "Write your name", href=f"#{problem_set.key}-student")
        said.append(
            element(
                "p",
                "These are sample numbers: you cannot hand them in. ",
                here,
                " first to get numbers of your own.",
                class_="dw-sample",
            )
        )
    return said


def _another(problem_set: ProblemSet, result: ProblemMark) -> Element | None:
    """The way to the same problem with new numbers, which count for no hand-in; only ours have one."""
    if not problems.is_ours(problem_set):
        return None
    key = f"{problem_set.key}/{result.variant.problem.id}"
    words = ANOTHER if result.variant.working.steps else ANOTHER_CHOICE
    return element("a", words, data_site=f"practice/study/#{key}", class_="dw-button dw-quiet")


ANOTHER = "Another with new numbers"
ANOTHER_CHOICE = "Another like it"


def attempts(
    exercise: Exercise, name: str, result: ProblemMark, values: Mapping[str, str]
) -> list[dict[str, object]]:
    """What the page logs of a marking, at its time ``now``: one attempt, or none yet."""
    made = study.attempt(exercise, name, result, _now(values))
    return [asdict(made)] if made else []


def _now(values: Mapping[str, str]) -> int:
    """The time on the reader's device, in seconds; 0 where the page tells none."""
    return int(values.get("now", "0"))


def _out_of(problem_set: ProblemSet, student: str) -> int:
    return sum(draw(problem_set, each, student).out_of for each in problem_set.problems)


def _verdicts(problem_set: ProblemSet, work: Work) -> dict[str, dict[str, str]]:
    """By problem, the verdicts on the boxes that still hold what was marked."""
    return {
        each.id: problem.verdicts(
            work.mark(draw(problem_set, each, work.student), work.marked),
            work.answers.get(each.id, {}),
            work.marked[each.id],
        )
        for each in problem_set.problems
        if each.id in work.marked
    }


def problem_list(problem_set: ProblemSet, work: Work, style: Style = PLAIN) -> list[Element]:
    """Every problem with the student's numbers, as forms, and what was said when it was marked."""
    made = [_on_paper(problem_set, work.student)]
    results = _results(problem_set, work)
    for number, each in enumerate(problem_set.problems, 1):
        drawn = draw(problem_set, each, work.student)
        said = []
        if each.id in work.marked:
            result = work.mark(drawn, work.marked, style)
            tries = work.tries.get(each.id, 0)
            said = _feedback(problem_set, result, tries, work, style, results)
        made.append(problem.form(problem_set.key, number, drawn, style, said))
    return [*made, element("section", class_="dw-finish", data_finish=True, hidden=True)]


def _on_paper(problem_set: ProblemSet, student: str) -> Element:
    """Whose numbers a printed page has: with the code a teacher can mark what is written on it."""
    name = " ".join(student.split())
    whose = f"Name: {name}. Code: {code_of(problem_set, name)}" if name else "Sample numbers"
    return element("p", f"{whose}. Version {problem_set.version}.", class_="dw-print-only dw-whose")
