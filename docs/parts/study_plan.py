"""Practise alone: progress in each skill, what to practise next and why, one problem at a time."""

from __future__ import annotations

import time
from collections.abc import Mapping
from dataclasses import asdict
from xml.etree.ElementTree import Element

from calc.words import capital, counted
from docs.parts import problem_set, python_cell
from docs.parts.shared import problem
from docs.parts.shared.fields import FieldErrors, quiet_button, style_of
from exercises import study, untrusted
from exercises.marking import ProblemMark, mark, read_back
from exercises.publish.html import element, write
from exercises.skills import Exercise, exercises, trained
from exercises.study import TOP, Attempt, Log, LogError, Progress, Standing

PREFIX = "study"
LONGEST_DRAW = problem_set.LONGEST_NAME + 20

CODE = """\
from exercises.skills import trained
from exercises.study import DAY, Attempt, plan

log = [
    Attempt("a", "first-swaps/yogurt-loaf", "swap", 0, 1, 2, ("gram-for-gram",)),
    Attempt("b", "first-swaps/water-for-rolls", "percentages", 0, 1, 1),
]
for each in plan(trained(), log, now=3 * DAY):
    print(f"{each.skill.name}: {each.reason}")"""


def build(attributes: Mapping[str, str]) -> list[Element]:
    """The skills with their lessons; progress needs the page's scripts, and is told so."""
    return [
        element(
            "p",
            "New numbers, marks and progress need scripts. "
            "These are the skills that the problems train, each with its lesson.",
            class_="dw-before-scripts",
        ),
        element("div", data_output=True),
        element("p", class_="dw-status", role="status"),
        element("div", *_plan(study.plan(trained(), [], 0)), data_plan=True),
        _log_buttons(),
        _reset_dialog(),
        python_cell.folded(CODE),
    ]


def respond(values: Mapping[str, str]) -> dict[str, object]:
    """Do the ``action``: plan, practise, show, read, mark, import or export.

    ``log`` is the text the device keeps, ``unsaved`` what it could not keep, ``now`` the time.
    """
    if values.get("action") == "read":
        return _read(values)
    log = _log(values)
    now = _now(values)
    match values.get("action"):
        case "practise":
            answer = _practise(values, log.attempts, now)
        case "show":
            answer = _show(_exercise(values), values.get("draw", "")[:LONGEST_DRAW], values)
        case "mark":
            answer = _marked(values, log, now)
        case "import":
            answer = _imported(values, log)
        case "export":
            made = study.write_log(log.attempts)
            says = f"{counted(len(log.attempts), 'attempt')} saved to {study.FILE_NAME}."
            answer = {"file": made, "filename": study.FILE_NAME, "says": says}
        case _:
            answer = {"says": log.trouble}
    attempts = [*log.attempts, *(Attempt(**one) for one in answer.get("attempts", []))]
    answer["plan"] = write(*_plan(study.plan(trained(), attempts, now)))
    answer["trouble"] = log.trouble
    answer["counted"] = counted(len(study.union(attempts)), "attempt")
    return answer


def _log(values: Mapping[str, str]) -> Log:
    kept, unsaved = (study.kept_log(values.get(name, "")) for name in ("log", "unsaved"))
    return Log(study.union([*kept.attempts, *unsaved.attempts]), kept.trouble)


def _now(values: Mapping[str, str]) -> int:
    try:
        return int(values["now"])
    except (KeyError, ValueError):
        return int(time.time())


def _exercise(values: Mapping[str, str]) -> Exercise:
    try:
        return exercises()[values.get("problem", "")]
    except KeyError:
        raise FieldErrors({"problem": "That problem is no longer here. Choose a skill."}) from None


def _practise(values: Mapping[str, str], attempts: list[Attempt], now: int) -> dict[str, object]:
    """A problem of the wanted skill, or of the one to practise next, with numbers not used yet."""
    ordered = study.plan(trained(), attempts, now)
    wanted = values.get("skill", "")
    one = next((each for each in ordered if each.skill.key == wanted), ordered[0])
    # The same problem again, where one is asked for by name.
    exercise = exercises().get(values.get("exercise", ""))
    exercise = exercise or study.next_exercise(trained()[one.skill], attempts)
    first = len(attempts) + 1 + int(values.get("skipped", "0"))
    student = values.get("student", "")[: problem_set.LONGEST_NAME]
    used = {each.id for each in attempts}
    name = study.fresh(exercise, student, first, used, values.get("draw", "")[:LONGEST_DRAW])
    return _show(exercise, name, values) | {"says": f"To practise: {exercise.skill.name}."}


def _show(exercise: Exercise, name: str, values: Mapping[str, str]) -> dict[str, object]:
    drawn = study.variant(exercise, name)
    style = style_of(values)
    marked = untrusted.strings(values.get("marked", ""))
    result = _mark(exercise, name, marked, values)
    another = _another(exercise, result)
    said = problem.feedback(result, _tries(values), style, another, _onward()) if marked else []
    form = problem.form(PREFIX, None, drawn, style, said)
    return {
        "elements": [
            element("p", f"To practise: {exercise.skill.name}", class_="dw-eyebrow"),
            form,
            element(
                "p",
                _button("Other numbers", "practise", exercise.skill.key, "Other numbers"),
                class_="dw-buttons",
            ),
        ],
        "verdicts": problem.verdicts(result, untrusted.strings(values.get("answers", "")), marked)
        if marked
        else {},
        "problem": exercise.key,
        "draw": name,
        "says": "",
    }


def _read(values: Mapping[str, str]) -> dict[str, object]:
    """How what is in the boxes is read."""
    drawn = study.variant(_exercise(values), values.get("draw", "")[:LONGEST_DRAW])
    answers = untrusted.strings(values.get("answers", ""))
    return {"read": read_back(drawn, answers, style_of(values))}


def _marked(values: Mapping[str, str], log: Log, now: int) -> dict[str, object]:
    exercise, name = _exercise(values), values.get("draw", "")[:LONGEST_DRAW]
    answers = untrusted.strings(values.get("answers", ""))
    result = _mark(exercise, name, answers, values)
    last = untrusted.strings(values.get("marked", ""))
    tries = problem.tries_used(result, answers, last, _tries(values))
    # Whole seconds tell the order of the log: two attempts in one would be put in order by their ids.
    taken = {each.when for each in log.attempts}
    while now in taken:
        now += 1
    made = study.attempt(exercise, name, result, now)
    again = made is not None and any(each.id == made.id for each in log.attempts)
    says = "Your first try at these numbers counts. Take new numbers to move on." if again else ""
    another = _another(exercise, result)
    return {
        "elements": problem.feedback(result, tries, style_of(values), another, _onward()),
        "tries": tries,
        "done": problem.is_done(result, tries),
        "attempts": [asdict(made)] if made and not again else [],
        "verdicts": problem.verdicts(result, answers, answers),
        "says": says,
    }


def _another(exercise: Exercise, result: ProblemMark) -> Element:
    """The same problem with new numbers."""
    words = problem_set.ANOTHER if result.variant.working.steps else problem_set.ANOTHER_CHOICE
    return quiet_button(
        words, "practise", data_skill=exercise.skill.key, data_exercise=exercise.key
    )


def _onward() -> Element:
    """On to what the plan wants next."""
    return element("button", "Next problem", type="button", data_action="practise")


def _mark(
    exercise: Exercise, name: str, answers: Mapping[str, str], values: Mapping[str, str]
) -> ProblemMark:
    hints = untrusted.numbers(values.get("hints", ""))
    return mark(study.variant(exercise, name), answers, style_of(values), hints)


def _tries(values: Mapping[str, str]) -> int:
    return int(values.get("tries", "0"))


def _imported(values: Mapping[str, str], log: Log) -> dict[str, object]:
    try:
        found = study.read_log(values.get("file", ""))
    except LogError as error:
        raise FieldErrors({"file": str(error)}) from None
    have = {each.id for each in log.attempts}
    new = [asdict(each) for each in found if each.id not in have]
    return {"attempts": new, "says": f"{counted(len(new), 'attempt')} added from the file."}


# Showing.


# So many skills that are not tried yet are shown, the next ones; the others are folded.
NEXT = 3


def _plan(ordered: list[Progress]) -> list[Element]:
    """What to practise next and why, then the skills in teaching order: tried, next, and the rest."""
    in_order = {skill.key: place for place, skill in enumerate(trained())}
    rows = sorted(ordered, key=lambda one: in_order[one.skill.key])
    tried = [one for one in rows if one.tries]
    new = [one for one in rows if not one.tries]
    made = [_next(ordered[0]), element("h2", "Your progress")]
    if tried:
        made += [element("p", _grown(tried, len(rows))), _rows(tried), element("h3", "Next")]
    made.append(_rows(new[:NEXT]))
    if more := new[NEXT:]:
        made.append(
            element("details", element("summary", "More skills"), _rows(more), class_="dw-fold")
        )
    return made


def _rows(skills: list[Progress]) -> Element:
    return element("ul", *map(_row, skills), class_="dw-skills")


def _grown(tried: list[Progress], of: int) -> str:
    """“2 of 26 skills tried, 5 levels climbed.”"""
    levels = sum(one.box for one in tried)
    return f"{len(tried)} of {of} skills tried, {counted(levels, 'level')} climbed."


def _next(one: Progress) -> Element:
    rests = one.standing is Standing.RESTING
    return element(
        "div",
        element("p", "Nothing is due today" if rests else "Practise next", class_="dw-eyebrow"),
        element("p", element("strong", capital(one.skill.name)), class_="dw-answer"),
        element("p", f"Why: {one.reason}." if not rests else f"The first to come: {one.reason}."),
        element(
            "p",
            _button("Give me a problem", "practise", one.skill.key, "Give me a problem"),
            _page_link(one, "Read first"),
            class_="dw-buttons",
        ),
        class_="dw-next",
    )


def _row(one: Progress) -> Element:
    counts = f" {one.right} of {one.tries} right." if one.tries else ""
    return element(
        "li",
        element("span", capital(one.skill.name), class_="dw-name"),
        _bar(one.box),
        element("span", f"Level {one.box} of {TOP}. {capital(one.reason)}.{counts}", class_="dw-note"),
        element(
            "span",
            _page_link(one, "Read"),
            _button("Practise", "practise", one.skill.key, f"Practise: {one.skill.name}"),
            class_="dw-buttons",
        ),
    )  # fmt: skip


def _bar(box: int) -> Element:
    """The level as filled boxes; the words beside it say the same."""
    boxes = [
        element(
            "rect", x=f"{n * 10 + 0.5}", y="0.5", width="8", height="7", rx="1",
            class_="dw-filled" if n < box else "dw-unfilled",
        )
        for n in range(TOP)
    ]  # fmt: skip
    return element(
        "svg", *boxes, viewBox=f"0 0 {TOP * 10} 8", class_="dw-level", aria_hidden="true"
    )


def _page_link(one: Progress, text: str) -> Element:
    label = f"{text}: {one.skill.name}"
    return element("a", text, data_site=one.page, aria_label=label)


def _button(text: str, action: str, skill: str, label: str) -> Element:
    return element(
        "button", text, type="button", class_="dw-button" + (" dw-quiet" if text != "Give me a problem" else ""),
        data_action=action, data_skill=skill, aria_label=label,
    )  # fmt: skip


def _log_buttons() -> Element:
    """Save, read, empty the log. A form, so that the file box has its complaint beside it."""
    return element(
        "form",
        element("h2", "Your log"),
        element(
            "p",
            "Each first try at new numbers is one attempt in a log. The log stays on this device. "
            f"It keeps the newest {study.MOST_ATTEMPTS} attempts, and no name.",
        ),
        element(
            "div",
            quiet_button("Save the log to a file", "export"),
            quiet_button("Empty the log", "reset"),
            quiet_button("Undo: bring the log back", "undo", hidden=True),
            class_="dw-buttons",
        ),
        element(
            "div",
            element("label", "Add a saved log from a file", for_=f"{PREFIX}-file"),
            element(
                "input", type="file", name="file", id=f"{PREFIX}-file", accept=".json,application/json"
            ),
            element("span", class_="dw-complaint", data_for="file"),
            class_="dw-field",
        ),
        class_="dw-form dw-log",
    )  # fmt: skip


def _reset_dialog() -> Element:
    return element(
        "dialog",
        element(
            "form",
            element("p", element("strong", "Empty the log?")),
            element(
                "p",
                "This removes ",
                element("span", "every attempt", data_counted=True),
                " from this device. Your progress starts anew. You can undo it until you leave the page.",
            ),
            element(
                "div",
                element("button", "Keep it", value="keep", class_="dw-button dw-quiet"),
                element("button", "Empty it", value="reset", class_="dw-button"),
                class_="dw-buttons",
            ),
            method="dialog",
        ),
        class_="dw-dialog",
        aria_label="Empty the log?",
    )
