"""A set as a form to fill in: a field for each of its parts, each named by the path of its value.

The form is drawn from what the text says, right or wrong; what is typed into a field goes back into the
text by `set_change`. Complaints are beside the field whose path they carry.
"""

from __future__ import annotations

from collections.abc import Iterable
from xml.etree.ElementTree import Element

from calc import composition
from calc.quantities import REGISTRY
from calc.registry import Quantity
from calc.words import capital, counted
from docs.parts.shared.set_bank import question_of
from docs.parts.shared.set_fields import (
    area,
    box,
    button,
    field,
    id_of,
    name_of,
    select,
    side_by_side,
    text_at,
)
from docs.parts.shared.set_givens import givens
from docs.parts.shared.set_questions import order, questions
from exercises.draws import FREE_LEVEL
from exercises.hints import HINTS
from exercises.lessons import LESSONS
from exercises.problems import LEVELS, PROBLEM_KEYS, UNSHOWN, may_tell
from exercises.publish.html import element
from exercises.setfile import Complaint, Entry, Path
from exercises.skills import SKILLS

CHOICE, ORDER = "choice", "order"
LEVEL_WORDS = {1: "1: one idea", 2: "2: two or three steps", FREE_LEVEL: "3: a whole job"}


def draw_form(root: Entry, opened: int) -> list[Element]:
    """The whole form, with one problem open to be changed (none: -1)."""
    listed = root.part("problems")
    there = listed.value if listed and isinstance(listed.value, list) else []
    return [
        _about_the_set(root),
        element("h2", "Problems", id="set-problems"),
        element("span", class_="dw-complaint", data_for="problems"),
        element(
            "ol",
            *(_problem(each, number, len(there), number == opened) for number, each in enumerate(there)),
            class_="dw-set-problems",
        ),
    ]  # fmt: skip


def beside(
    complaints: Iterable[Complaint], form: list[Element]
) -> tuple[dict[str, str], list[Complaint]]:
    """What is said beside which field, and what has no field: by the path, or the nearest one above it."""
    slots = {each.get("data-for") for top in form for each in top.iter() if each.get("data-for")}
    said: dict[str, str] = {}
    left = []
    for complaint in complaints:
        path = complaint.path
        while path and name_of(path) not in slots:
            path = path[:-1]
        if not path:
            left.append(complaint)
            continue
        name = name_of(path)
        said[name] = f"{said[name]} {complaint.message}" if name in said else complaint.message
    return said, left


# The set


def _about_the_set(root: Entry) -> Element:
    lessons = [("", "none", ""), *((key, title, "") for key, title in LESSONS.items())]
    unshown = [
        ("", f"{next(iter(UNSHOWN))} (as usual)", ""),
        *((each, each, "") for each in list(UNSHOWN)[1:]),
    ]
    more = [
        field(("about",), "A sentence for the students", box(text_at(root, "about"))),
        field(("lesson",), "Lesson", select(text_at(root, "lesson"), lessons)),
        field(
            ("name",), "The set's own name", box(text_at(root, "name"), spellcheck="false"),
            "The name and the version pick every student's numbers. Keep both while a class works.",
        ),
        field(
            ("version",), "Version", box(text_at(root, "version"), inputmode="numeric"),
            "A new version gives every student new numbers.",
        ),
        field(("unshown steps",), "Steps not written down earn their marks", select(text_at(root, "unshown steps"), unshown)),
    ]  # fmt: skip
    return element(
        "fieldset",
        element("legend", "The set"),
        field(("title",), "Title", box(text_at(root, "title"))),
        element("details", element("summary", "More about the set"), *more, data_keep="set"),
        _ingredients(root),
    )


def _ingredients(root: Entry) -> Element:
    """What the set brings and the table does not have: to take out, and to bring in from this device."""
    listed = root.part("ingredients")
    there = listed.value if listed and isinstance(listed.value, list) else []
    names = [text_at(each, "name") for each in there]
    waiting = [each for each in composition.readers_own() if each.name not in names]
    note = (
        "Of your own ingredients, what the table does not have: with the set, the class gets them too. "
        "Add one to this device on the page "
    )
    page = element("a", "Your ingredients", data_site="ingredients/")
    return element(
        "details",
        element("summary", f"Ingredients of this set: {len(names) or 'none'}"),
        element("p", note, page, ".", class_="dw-note"),
        element("ul", *(_brought(name, number) for number, name in enumerate(names))),
        element("span", class_="dw-complaint", data_for="ingredients"),
        button(f"Bring in {counted(len(waiting), 'ingredient')} of yours", "add-own", "")
        if waiting
        else None,
        data_keep="ingredients",
    )


def _brought(name: str, number: int) -> Element:
    at = name_of(("ingredients", number))
    take_out = button("Take out", "remove", at, f"Take out {name}")
    return element("li", f"{name} ", take_out, element("span", class_="dw-complaint", data_for=at))


# One problem


def _problem(entry: Entry, number: int, count: int, is_open: bool) -> Element:
    title = text_at(entry, "title") or "(no title)"
    asked = text_at(entry, "ask")
    at = str(number)
    head = element(
        "div",
        element(
            "button",
            f"{number + 1}. {title}",
            element("small", f" {asked}, level {text_at(entry, 'level') or LEVELS[0]}"),
            type="button",
            class_="dw-set-open",
            data_do="close" if is_open else "open",
            data_at=at,
            aria_expanded="true" if is_open else "false",
        ),
        element("span", class_="dw-complaint", data_for=name_of(("problems", number))),
    )
    if not is_open:
        return element("li", head)
    moves = element(
        "div",
        button("Up", "up", at, f"Move {title} up", disabled=number == 0),
        button("Down", "down", at, f"Move {title} down", disabled=number == count - 1),
        button("Duplicate", "copy", at, f"Duplicate {title}"),
        button("Delete", "delete", at, f"Delete {title}"),
        class_="dw-buttons",
    )
    return element("li", head, *_editor(entry, ("problems", number)), moves, class_="dw-set-opened")


def _editor(entry: Entry, path: Path) -> list[Element]:
    asked = text_at(entry, "ask")
    quantity = REGISTRY.get(asked)
    if asked == CHOICE:
        middle = questions(entry, (*path, "questions"))
    elif asked == ORDER:
        middle = order(entry, path)
    else:
        middle = givens(entry, path, quantity) if quantity else []
    return [
        field((*path, "title"), "Title", box(text_at(entry, "title"))),
        field((*path, "ask"), "It asks for", select(asked, asks()), _means(asked)),
        *_story(entry, path, quantity),
        *middle,
        field((*path, "level"), "Level", select(text_at(entry, "level"), [("", "not set: 1", ""), *((str(n), LEVEL_WORDS[n], "") for n in LEVELS)])),
        element("details", element("summary", "Marks, tries, hints, id"), *_small_print(entry, path, quantity), data_keep=f"marks-{path[1]}"),
    ]  # fmt: skip


def asks() -> list[tuple[str, str, str]]:
    """What a problem may ask for, by skill; then choices and orders."""
    skill = {asked: each for each in SKILLS for asked in each.asked}
    found = [
        (name, f"{name}: {quantity.means}", capital(skill[name].name) if name in skill else "More")
        for name, quantity in REGISTRY.items()
    ]
    place = {capital(each.name): n for n, each in enumerate(SKILLS)}
    found.sort(key=lambda each: place.get(each[2], len(place)))
    group = "Without numbers"
    return [
        *found,
        (CHOICE, "choice: choose the right answer, with its reason", group),
        (ORDER, "order: put ingredients in order", group),
    ]


def _means(asked: str) -> str:
    quantity = REGISTRY.get(asked)
    if quantity is None:
        return {
            CHOICE: "Questions with answers to choose.",
            ORDER: "Ingredients to put in order.",
        }.get(asked, "")
    example = question_of(asked)
    return f"{capital(quantity.means)}." + (f" For example: {example}" if example else "")


def _story(entry: Entry, path: Path, quantity: Quantity | None) -> list[Element]:
    story = field((*path, "story"), "Story", area(text_at(entry, "story"), 3))
    if quantity is None:
        return [story]
    given = entry.part("givens")
    there = given.value if given and isinstance(given.value, dict) else {}
    words = [
        each for each in may_tell(quantity) if each.split(" of ")[-1] in there or each in there
    ]
    target = id_of(name_of((*path, "story")))
    usual = [each for each in words if " of " not in each or each.startswith("water content of ")]
    rare = [each for each in words if each not in usual]
    buttons = element(
        "div",
        element("span", "Put into the story: "),
        *(_insert(each, target) for each in usual),
        element("details", element("summary", "more"), *(_insert(each, target) for each in rare), data_keep=f"tell-{path[1]}") if rare else None,
        class_="dw-insert",
    )  # fmt: skip
    story.insert(1, buttons)
    return [story]


def _insert(word: str, target: str) -> Element:
    return element(
        "button", f"{{{word}}}", type="button", class_="dw-button dw-quiet", data_insert=f"{{{word}}}", aria_controls=target
    )  # fmt: skip


def _small_print(entry: Entry, path: Path, quantity: Quantity | None) -> list[Element]:
    made = [
        field((*path, "marks per step"), "Marks per step", box(text_at(entry, "marks per step"), inputmode="numeric", placeholder="1")),
        field((*path, "tries"), "Tries before the solution opens", box(text_at(entry, "tries"), inputmode="numeric", placeholder="3")),
    ]  # fmt: skip
    kind = "quantity" if quantity else text_at(entry, "ask")
    if "hint cost" in PROBLEM_KEYS.get(kind, {}):
        costs = entry.part("hint cost")
        there = [one.text for one in costs.value] if costs and isinstance(costs.value, list) else []
        there = ["0"] * (len(HINTS) - len(there)) + there if there else [""] * len(HINTS)
        here = (*path, "hint cost")
        made.append(
            element(
                "fieldset",
                element("legend", "Marks that a hint takes"),
                *side_by_side({(*here, n): (hint, box(there[n], inputmode="decimal", placeholder="0")) for n, hint in enumerate(HINTS)}),
                element("span", class_="dw-complaint", data_for=name_of(here)),
            )
        )  # fmt: skip
    made.append(
        field(
            (*path, "id"), "Id", box(text_at(entry, "id"), spellcheck="false"),
            "Small letters, digits, hyphens. It picks the numbers too: keep it while a class works.",
        )
    )  # fmt: skip
    return made


def ingredient_list() -> Element:
    """The names of the table, for boxes that take one."""
    names = sorted(each.name for each in composition.table().values())
    return element(
        "datalist", *(element("option", value=name) for name in names), id="set-ingredients"
    )
