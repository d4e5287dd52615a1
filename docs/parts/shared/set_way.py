"""The way through a set: how far each problem is, which comes next, and the finish."""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree.ElementTree import Element

from calc.words import all_of, are, capital, counted, listed
from exercises import problems
from exercises.draws import Problem, ProblemSet
from exercises.lessons import LESSONS
from exercises.marking import ProblemMark
from exercises.publish.html import element
from exercises.skills import Skill, skill_of

# How far a problem is, and how that is told.
STATES = {
    "right": "right",
    "partly": "partly right",
    "wrong": "not right yet",
    "begun": "begun",
    "none": "not tried yet",
}
# Where something is still to write, before the set is at its end.
OPEN = ("none", "begun")

# Each problem that was marked, by its id.
Results = Mapping[str, ProblemMark]

# How far each problem is, as a key in `STATES`, by its id.
States = Mapping[str, str]


def state(result: ProblemMark | None, written: Mapping[str, str]) -> str:
    """The key in `STATES` of a problem as it was last marked, with what is `written` in its boxes now."""
    if result is None or not (result.answered or result.marks):
        return "begun" if any(text.strip() for text in written.values()) else "none"
    if result.all_right:
        return "right"
    return "partly" if result.marks else "wrong"


def states(
    problem_set: ProblemSet, results: Results, answers: Mapping[str, Mapping[str, str]]
) -> States:
    """How far each problem is."""
    return {
        each.id: state(results.get(each.id), answers.get(each.id, {}))
        for each in problem_set.problems
    }


def ticks(problem_set: ProblemSet) -> Element:
    """A numbered link to each problem; the page's script shows and tells how far each one is."""
    links = (
        element(
            "a",
            str(number),
            href=f"#{problem_set.key}-{each.id}",
            data_tick=each.id,
            data_state="none",
            data_title=each.title,
            aria_label=_told(number, each, "none"),
        )
        for number, each in enumerate(problem_set.problems, 1)
    )
    return element(
        "nav",
        element("ol", *(element("li", link) for link in links)),
        element(
            "button",
            "All",
            type="button",
            aria_label="All problems on one page",
            class_="dw-show-whole",
            data_show_all=True,
        ),
        class_="dw-ticks",
        aria_label="Problems of this set",
    )


def tick_words(problem_set: ProblemSet, found: States) -> dict[str, str]:
    """What each tick says, by its problem's id: “Problem 2, Salt check: right”."""
    return {
        each.id: _told(number, each, found[each.id])
        for number, each in enumerate(problem_set.problems, 1)
    }


def _told(number: int, problem: Problem, found: str) -> str:
    return f"Problem {number}, {problem.title}: {STATES[found]}"


def hints_cost(problem_set: ProblemSet) -> str:
    """What the hints of this set cost, told before one opens them."""
    costly = [n for n, each in enumerate(problem_set.problems, 1) if any(each.hint_costs)]
    if not costly:
        return "Hints cost nothing here."
    if len(costly) == len(problem_set.problems):
        return "Hints can take marks here: each says how much before you open it."
    numbers = listed(map(str, costly))
    which = f"problem {numbers}" if len(costly) == 1 else f"problems {numbers}"
    return f"Hints cost nothing, but some in {which} take marks: each says so before you open it."


def onward(problem_set: ProblemSet, here: Problem, found: States) -> Element:
    """The way on from a problem: the next one that was not done, or the finish."""
    ordered = problem_set.problems
    place = ordered.index(here)
    for each in (*ordered[place + 1 :], *ordered[:place]):
        if found[each.id] in OPEN:
            return element(
                "a", "Next problem", href=f"#{problem_set.key}-{each.id}", data_next=each.id
            )
    return element("a", "Finish the set", href=f"#{problem_set.key}-finish", data_next="finish")


def finish_picture() -> Element:
    """The picture of the finish, which the build draws; the finish itself is written in the page, by Python, which has none."""
    return element("div", data_picture="finish", hidden=True)


def finish(problem_set: ProblemSet, found: States, total: str, student: str) -> list[Element]:
    """What was learnt, what to practise tomorrow, and the hand-in; nothing before all were tried."""
    if any(one in OPEN for one in found.values()):
        return []
    right = all(one == "right" for one in found.values())
    count = len(problem_set.problems)
    asked = all_of(count, "problem")
    said = f"{capital(asked)} {are(count)} right." if right else f"You have worked on {asked}."
    return [
        element("h3", "You have reached the end of the set", id=f"{problem_set.key}-finish", tabindex=-1),
        element("p", element("strong", f"{total}."), f" {said}", class_="dw-marks"),
        *_learnt(problem_set, found),
        *_still_open(problem_set, found),
        element("h4", "Tomorrow"),
        element("p", _tomorrow(problem_set, found), " ", element("a", "Practise on your own", data_site="practice/study/"), " brings them back with new numbers."),
        element("p", *_buttons(problem_set, student), class_="dw-buttons"),
    ]  # fmt: skip


def _by_skill(problem_set: ProblemSet, found: States) -> dict[Skill, bool]:
    """Each skill that the set trains, and whether all its problems here are right."""
    made: dict[Skill, bool] = {}
    for each in problem_set.problems:
        skill = skill_of(each, problem_set.lesson)
        made[skill] = made.get(skill, True) and found[each.id] == "right"
    return made


def _learnt(problem_set: ProblemSet, found: States) -> list[Element]:
    can = [skill for skill, right in _by_skill(problem_set, found).items() if right]
    if not can:
        return []
    return [
        element("h4", "You can now"),
        element("ul", *(element("li", f"✓ {skill.name}") for skill in can), class_="dw-learnt"),
    ]


def _still_open(problem_set: ProblemSet, found: States) -> list[Element]:
    left = [
        element("li", element("a", f"{number}. {each.title}", href=f"#{problem_set.key}-{each.id}", data_next=each.id), f": {STATES[found[each.id]]}")
        for number, each in enumerate(problem_set.problems, 1)
        if found[each.id] != "right"
    ]  # fmt: skip
    return [element("h4", "Not all right yet"), element("ul", *left)] if left else []


def _tomorrow(problem_set: ProblemSet, found: States) -> str:
    weak = [skill.name for skill, right in _by_skill(problem_set, found).items() if not right]
    if weak:
        return f"A short practice on another day holds best. Begin with: {'; '.join(weak)}."
    return "A short practice on another day holds best. The skills of this set are due again then."


def _buttons(problem_set: ProblemSet, student: str) -> list[Element]:
    if student.strip():
        hand_in = element("button", "Save hand-in file", type="button", data_action="hand-in", class_="dw-button")  # fmt: skip
    else:
        hand_in = element("a", "Write your name to hand it in", href=f"#{problem_set.key}-student")
    following = _next_lesson(problem_set)
    if following is None:
        return [
            hand_in,
            element("a", "Choose another set", data_site="practice/", class_="dw-button dw-quiet"),
        ]
    title = f"Next lesson: {LESSONS[following]}"
    return [
        hand_in,
        element("a", title, data_site=f"lessons/{following}/", class_="dw-button dw-quiet"),
    ]


def _next_lesson(problem_set: ProblemSet) -> str | None:
    """The lesson after the one whose set this is."""
    if problem_set.key not in LESSONS or not problems.is_ours(problem_set):
        return None
    ordered = list(LESSONS)
    place = ordered.index(problem_set.key) + 1
    return ordered[place] if place < len(ordered) else None


def standing(
    problem_set: ProblemSet, found: States, earned: float, out_of: float
) -> dict[str, object]:
    """How far a student is, in the figures that the lists of sets show."""
    count, begun = len(problem_set.problems), list(found.values()).count("begun")
    done = sum(one not in OPEN for one in found.values())
    return {"earned": earned, "outOf": out_of, "done": done, "begun": begun, "of": counted(count, "problem")}  # fmt: skip
