"""Write a problem set in the page: fill in a form or type the text, and see it as students will."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import lru_cache
from xml.etree.ElementTree import Element

from calc.units import read_whole
from calc.words import capital, counted
from docs.parts.problem_set import Work, problem_list
from docs.parts.shared import own_shelf, problem, set_bank
from docs.parts.shared.desk_files import given
from docs.parts.shared.fields import style_of
from docs.parts.shared.set_change import NEW_NAME, filled, pressed
from docs.parts.shared.set_fields import text_at
from docs.parts.shared.set_form import beside, draw_form, ingredient_list
from exercises import problems, untrusted
from exercises.draws import Problem, ProblemSet, draw
from exercises.marking import mark, solution
from exercises.problems import key_of, look_over
from exercises.publish.html import element, write
from exercises.review import Review, describe, review
from exercises.set_edit import EditError, entries, put, unique
from exercises.set_text import decoded
from exercises.setfile import LARGEST_SET, Complaint, Entry, SetError

# The page looks at fewer draws than the terminal does: it answers while the teacher types. Of problems
# that are not open it sees the corners of their givens, and a few draws more.
DRAWS_IN_THE_PAGE = 60
FILE = f"{NEW_NAME}.yml"
MOST_EDITS = 200

STARTER = f"""\
# Everything after a # is a note to yourself.
name: {NEW_NAME}
title: My set
version: 1
about: The demo school is invented.
problems:
  - id: morning-loaf
    title: A loaf for the morning
    ask: new liquid
    story: |
      A loaf has {{flour}} of flour at {{hydration}} hydration. You have {{liquid}},
      which is {{water content of liquid}} water. How much goes in?
    hint cost: [0, 0, 0.5]
    givens:
      flour: {{from: 400 g, to: 900 g, step: 50 g}}
      hydration: [60 %, 65 %, 70 %]
      liquid: ["goat yogurt, 86 % water", buttermilk]
  - id: wettest
    title: The wettest first
    ask: order
    by: water content
    story: Put these in order by their water.
    items: [water, whole-milk, sour-cream, egg]
"""


def build(attributes: Mapping[str, str]) -> list[Element]:
    """A set to begin with: as a form, as text, and its first problem as students see it."""
    seen = look(STARTER, FILE, 0, "")
    return [
        element(
            "div",
            element("div", element("div", *seen.form, data_form=True), *_add(), _text_view(STARTER), element("a", "See it", href="#see-it", class_="dw-button dw-see-it"), class_="dw-writer-form dw-form"),
            element(
                "section",
                element("h2", "As a student sees it", id="see-it"),
                _student(),
                element("div", *seen.preview, class_="dw-output", data_output=True),
                class_="dw-writer-seen",
                aria_labelledby="see-it",
            ),
            class_="dw-writer",
        ),
        ingredient_list(),
        element("p", class_="dw-status", role="status"),
    ]  # fmt: skip


def _add() -> list[Element]:
    """What is fetched when it is opened: all that can be asked for, and all our problems."""
    return [
        element(
            "details",
            element("summary", words),
            element("div", element("p", "One moment …", class_="dw-note"), data_body=True),
            data_lazy=what,
            class_="dw-writer-add",
        )
        for what, words in (("asks", "Add a new problem"), ("bank", "Take problems from ours"))
    ]


def _text_view(text: str) -> Element:
    return element(
        "form",
        element("label", "The set as text", for_="set-text"),
        element(
            "textarea",
            text,
            id="set-text",
            name="text",
            rows=30,
            maxlength=LARGEST_SET,
            spellcheck="false",
            autocapitalize="off",
            autocomplete="off",
            class_="dw-code",
            aria_describedby="set-text-note",
        ),
        element("p", "The Tab key moves on. Indent with spaces.", class_="dw-note", id="set-text-note"),
        class_="dw-form",
        hidden=True,
        data_text=True,
    )  # fmt: skip


def _student() -> Element:
    return element(
        "div",
        element("label", "See it as this student", for_="set-student"),
        element("input", id="set-student", name="student", type="text", autocomplete="off", maxlength=100),
        class_="dw-field",
    )  # fmt: skip


# The set, looked at


class Seen:
    """A text as the page shows it: the form, what is wrong where, and the preview."""

    def __init__(
        self,
        root: Entry | None,
        found: ProblemSet | None,
        complaints: list[Complaint],
        opened: int,
        student: str,
    ) -> None:
        self.root, self.found, self.complaints, self.opened = root, found, complaints, opened
        self.form = draw_form(root, opened) if root else [_unread(complaints)]
        self.beside, left = beside(complaints, self.form)
        self.slips = slips(complaints)
        self.unplaced = slips(left) if root else element("span")
        self.preview = _preview(found, _opened_id(root, opened), student)

    @property
    def says(self) -> str:
        if self.complaints:
            return f"{counted(len(self.complaints), 'thing')} to put right."
        return f"Good: {counted(len(self.found.problems), 'problem')}."


def look(text: str, file: str, opened: int, student: str) -> Seen:
    """Read a text, whatever is wrong with it."""
    try:
        root = entries(text)
    except SetError as error:
        return Seen(None, None, list(error.complaints), opened, student)
    found, complaints = _read(text, file)
    return Seen(root if isinstance(root.value, dict) else None, found, complaints, opened, student)


@lru_cache(maxsize=8)
def _read(text: str, file: str) -> tuple[ProblemSet | None, list[Complaint]]:
    """Opening another problem, or seeing it as another student, reads nothing again."""
    found, complaints = look_over(entries(text), file)
    return found, sorted(complaints, key=lambda each: (each.line, each.column))


def _opened_id(root: Entry | None, opened: int) -> str | None:
    return text_at(root, "problems", opened, "id") if root and opened >= 0 else None


def _unread(complaints: list[Complaint]) -> Element:
    return element(
        "div",
        element("p", "The text cannot be shown as a form before this is put right:"),
        slips(complaints),
    )


def slips(complaints: list[Complaint]) -> Element:
    """What is to be put right; each line leads to its place in the text."""
    return element(
        "ul",
        *(
            element(
                "li",
                element(
                    "button",
                    f"line {each.line}, column {each.column}",
                    type="button",
                    data_line=each.line,
                    data_column=each.column,
                    class_="dw-button dw-quiet",
                ),
                f" {each.message}",
            )
            for each in complaints
        ),
        class_="dw-slips",
    )


def _preview(found: ProblemSet | None, problem_id: str | None, student: str) -> list[Element]:
    """The open problem as a student sees it, its key, and what its draws come to; else the whole set."""
    if found is None:
        return []
    if problem_id is None:
        return _whole(found, student)
    asked = found.problem(problem_id)
    if asked is None:
        return [
            element("p", "This problem is shown again as soon as it is right.", class_="dw-note")
        ]
    drawn = draw(found, asked, student)
    lines = (element("li", line) for line in solution(drawn))
    return [
        problem.form(found.key, None, drawn, style_of({})),
        element("details", element("summary", "The key to these numbers"), element("ol", *lines), open=True),
        element("p", element("strong", "What students can get: "), _draws(asked), class_="dw-note"),
    ]  # fmt: skip


def _whole(found: ProblemSet, student: str) -> list[Element]:
    lines = [
        element("li", element("strong", f"{each.title}: "), _draws(each)) for each in found.problems
    ]
    return [
        element("h3", found.title),
        element("p", found.about) if found.about else None,
        *own_shelf.of_a_set(found),
        element(
            "details",
            element("summary", "What students can get: the smallest and largest answers"),
            element("ul", *lines),
        ),
        *problem_list(found, Work(student)),
    ]


def _draws(each: Problem) -> str:
    if each.quantity:
        seen = _review(each)
        return " ".join((f"{capital(describe(seen))}.", *seen.absurd))
    pooled = each.show or any(box.show for box in each.questions)
    return (
        "Each student gets some of the pool."
        if pooled
        else "The same for everyone, in another order."
    )


@lru_cache(maxsize=200)
def _review(each: Problem) -> Review:
    return review(each, DRAWS_IN_THE_PAGE)


# Answers to the page


def respond(values: Mapping[str, str]) -> dict[str, object]:
    """Answer the page: ``action`` is one of `_ACTIONS`; ``text`` and ``file`` are the set."""
    return _ACTIONS[values.get("action", "show")](values)


def _show(
    values: Mapping[str, str], text: str | None = None, opened: int | None = None, **more: object
) -> dict[str, object]:
    """The set as a form, with complaints beside the fields, and as students see it."""
    text = values.get("text", "")[: LARGEST_SET + 1] if text is None else text
    file = file_name(values.get("file", ""))
    opened = _number(values.get("open", "")) if opened is None else opened
    seen = look(text, file, opened, values.get("student", "")[:100])
    preview = [each for each in seen.preview if each is not None]
    return {
        "elements": preview,
        "form": write(*seen.form),
        "beside": seen.beside,
        "slips": write(seen.slips),
        "unplaced": write(seen.unplaced),
        "open": str(opened),
        "text": text,
        "name": text_at(seen.root, "name") or key_of(file),
        "good": not seen.complaints,
        "says": seen.says,
    } | more


def _number(text: str) -> int:
    number = read_whole(text)
    return -1 if number is None else number


def file_name(typed: str) -> str:
    """The name under which the set is saved."""
    return typed.strip()[:100] or FILE


def _edit(values: Mapping[str, str]) -> dict[str, object]:
    """Put what was typed and pressed into the text, in order."""
    text, opened = _named(values), _number(values.get("open", ""))
    trouble = ""
    for name, value in _edits(values.get("edits", "")):
        try:
            if name.startswith("do:"):
                text, now = pressed(text, name[3:], value, _taken(values))
                opened = opened if now is None else now
            else:
                text = filled(text, name, value)
        except EditError as error:
            trouble = str(error)
        except SetError as error:
            trouble = error.complaints[0].message
    answer = _show(values, text, opened)
    return answer | ({"says": trouble, "trouble": True} if trouble else {})


def _edits(text: str) -> list[tuple[str, str]]:
    """Names of fields and what is in them now, as the page lists them."""
    try:
        found = untrusted.read_json(text) if text else []
    except ValueError:
        return []
    pairs = found[:MOST_EDITS] if isinstance(found, list) else []
    return [(name[:300], _plain(value)) for name, value in filter(_is_edit, pairs)]


def _is_edit(pair: object) -> bool:
    return isinstance(pair, list) and len(pair) == 2 and all(isinstance(one, str) for one in pair)


def _plain(typed: str) -> str:
    """What was typed, without halves of letters, which no file can hold."""
    return typed.encode("utf-8", "replace").decode().replace("\r\n", "\n")


def _named(values: Mapping[str, str]) -> str:
    """The text with a name for the set in it: the one that picked its numbers so far."""
    text = values.get("text", "")[: LARGEST_SET + 1]
    try:
        if entries(text).part("name") is not None:
            return text
        return put(text, ("name",), key_of(file_name(values.get("file", ""))))
    except (SetError, EditError):
        return text


def _opened_file(values: Mapping[str, str]) -> dict[str, object]:
    """A file of the reader's: its text, and how it was read."""
    path = next(each for each in sorted(given(values).rglob("*")) if each.is_file())
    try:
        text, encoding = decoded(path.read_bytes(), path.name)
    except SetError as error:
        return {"says": f"{path.name}: {error.complaints[0].message}", "refused": True}
    answer = _kept(text, path.name)
    note = "" if encoding == "UTF-8" else f" It was read as {encoding}: look at its accents."
    return answer | {"says": f"{path.name} is open.{note}"}


def _kept(text: str, file: str) -> dict[str, object]:
    text = _named({"text": text.replace("\r\n", "\n"), "file": file})
    return {"text": text, "file": file}


def _copy_of_ours(values: Mapping[str, str]) -> dict[str, object]:
    """One of our sets as the start of an own one, under another name."""
    key = values.get("set", "")
    if key not in problems.set_keys():
        raise ValueError(f"no set of ours is called “{key[:80]}”")
    taken = {*problems.set_keys(), *_taken(values)}
    name = unique(f"my-{key}", taken)
    text = put(problems.text_of_ours(key), ("name",), name)
    return {
        "text": text,
        "file": f"{name}.yml",
        "says": f"This is a copy of “{problems.load(key).title}”: yours to change.",
    }


def _new(values: Mapping[str, str]) -> dict[str, object]:
    """A set with nothing in it."""
    name = unique(NEW_NAME, _taken(values))
    text = f"name: {name}\ntitle: My set\nversion: 1\nproblems: []\n"
    return {
        "text": text,
        "file": f"{name}.yml",
        "says": "A new set. Add a problem, or take some from ours.",
    }


def _taken(values: Mapping[str, str]) -> set[str]:
    """The names of the teacher's other sets."""
    return {key_of(each) for each in values.get("taken", "").split("\n") if each}


def _asks(values: Mapping[str, str]) -> dict[str, object]:
    return {"elements": set_bank.what_to_ask()}


def _bank(values: Mapping[str, str]) -> dict[str, object]:
    return {"elements": set_bank.bank()}


def _marked(values: Mapping[str, str]) -> dict[str, object]:
    found, _ = _read(values.get("text", ""), file_name(values.get("file", "")))
    asked = found.problem(values.get("problem", "")) if found else None
    if asked is None:
        return {"elements": [], "says": "That problem is gone from the set. Look at it again."}
    style = style_of(values)
    answers = untrusted.strings(values.get("answers", ""))
    result = mark(draw(found, asked, values.get("student", "")[:100]), answers, style)
    return {
        "elements": problem.feedback(result, asked.tries, style),
        "says": f"{asked.title}: {problem.earned(result)}.",
    }


_ACTIONS: dict[str, Callable[[Mapping[str, str]], dict[str, object]]] = {
    "show": _show,
    "edit": _edit,
    "mark": _marked,
    "asks": _asks,
    "bank": _bank,
    "open": _opened_file,
    "ours": _copy_of_ours,
    "new": _new,
}
