"""A set as a form to fill in: a field for each of its parts, each named by the path of its value.

The form is drawn from what the text says, right or wrong; what is typed into a field goes back into the
text by `set_change`. Complaints are beside the field whose path they carry.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from xml.etree.ElementTree import Element

from calc import composition, units
from calc.quantities import RANKINGS, REGISTRY
from calc.registry import Quantity, Slot
from calc.words import capital
from docs.parts.shared.set_bank import question_of
from exercises.draws import FREE_LEVEL
from exercises.hints import HINTS
from exercises.lessons import LESSONS
from exercises.problems import LEVELS, MOST_OPTIONS, PROBLEM_KEYS, RANGE_KEYS, UNSHOWN, may_tell
from exercises.publish.html import element
from exercises.setfile import Complaint, Entry, Path
from exercises.skills import SKILLS

CHOICE, ORDER = "choice", "order"
# The ways a given can be told, and their words.
FIXED, LIST, RANGE, OUT = "fixed", "list", "range", "out"
_WAYS = {FIXED: "one value", LIST: "one of a list", RANGE: "a range", OUT: "left out"}
LEVEL_WORDS = {1: "1: one idea", 2: "2: two or three steps", FREE_LEVEL: "3: a whole job"}


def name_of(path: Path) -> str:
    """A field's name: ``problems/0/givens/flour``."""
    return "/".join(map(str, path))


def path_of(name: str) -> Path:
    """The path that a field's name tells."""
    return tuple(
        int(step) if step.isdigit() and len(step) < 6 else step for step in name.split("/")
    )


def text_at(root: Entry | None, *path: str | int) -> str:
    """The text at a path, without the ends that lines under | add; empty where there is none."""
    found = root.part(*path) if root else None
    return found.text.strip("\n") if found else ""


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


# Pieces of every field


def _id(name: str) -> str:
    return "set-" + re.sub(r"\W+", "-", name)


def _field(
    path: Path, label: str, control: Element, note: str = "", hidden_label: bool = False
) -> Element:
    """A label, its control, a note, and a place for complaints."""
    name = name_of(path)
    control.set("id", _id(name))
    control.set("name", name)
    if note:
        control.set("aria-describedby", f"{_id(name)}-note")
    return element(
        "div",
        element("label", label, for_=_id(name), class_="dw-hidden" if hidden_label else None),
        control,
        element("span", note, class_="dw-note", id=f"{_id(name)}-note") if note else None,
        element("span", class_="dw-complaint", data_for=name),
        class_="dw-field",
    )


def _of_the_whole(path: Path) -> Element:
    """What is wrong with a list as a whole, which its box is described by."""
    return element("span", class_="dw-complaint", data_for=name_of(path), id=_whole_id(path))


def _whole_id(path: Path) -> str:
    return f"{_id(name_of(path))}-whole"


def _box(value: str, **more: object) -> Element:
    usual = {"type": "text", "value": value, "autocomplete": "off", "spellcheck": "true"}
    return element("input", **(usual | more))


def _area(value: str, least: int = 2) -> Element:
    rows = max(least, value.count("\n") + 1 + len(value) // 70)
    return element("textarea", value, rows=min(rows, 14), autocomplete="off", class_="dw-words")


def _select(value: str, choices: Iterable[tuple[str, str, str]]) -> Element:
    """A list of (value, words, group); what the text says stays in it, even if nobody knows it."""
    choices = list(choices)
    made = element("select")
    if value not in {each[0] for each in choices}:
        made.append(element("option", value, value=value, selected=True))
    group, inside = "", made
    for each, words, its in choices:
        if its != group:
            group, inside = its, element("optgroup", label=its) if its else made
            if its:
                made.append(inside)
        inside.append(element("option", words, value=each, selected=each == value))
    return made


def _button(words: str, do: str, at: str, label: str = "", **more: object) -> Element:
    return element(
        "button", words, type="button", class_="dw-button dw-quiet", data_do=do, data_at=at,
        aria_label=label or None, **more,
    )  # fmt: skip


# The set


def _about_the_set(root: Entry) -> Element:
    lessons = [("", "none", ""), *((key, title, "") for key, title in LESSONS.items())]
    unshown = [
        ("", f"{next(iter(UNSHOWN))} (as usual)", ""),
        *((each, each, "") for each in list(UNSHOWN)[1:]),
    ]
    more = [
        _field(("about",), "A sentence for the students", _box(text_at(root, "about"))),
        _field(("lesson",), "Lesson", _select(text_at(root, "lesson"), lessons)),
        _field(
            ("name",), "The set's own name", _box(text_at(root, "name"), spellcheck="false"),
            "The name and the version pick every student's numbers. Keep both while a class works.",
        ),
        _field(
            ("version",), "Version", _box(text_at(root, "version"), inputmode="numeric"),
            "A new version gives every student new numbers.",
        ),
        _field(("unshown steps",), "Steps not written down earn their marks", _select(text_at(root, "unshown steps"), unshown)),
    ]  # fmt: skip
    return element(
        "fieldset",
        element("legend", "The set"),
        _field(("title",), "Title", _box(text_at(root, "title"))),
        element("details", element("summary", "More about the set"), *more, data_keep="set"),
    )


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
        _button("Up", "up", at, f"Move {title} up", disabled=number == 0),
        _button("Down", "down", at, f"Move {title} down", disabled=number == count - 1),
        _button("Duplicate", "copy", at, f"Duplicate {title}"),
        _button("Delete", "delete", at, f"Delete {title}"),
        class_="dw-buttons",
    )
    return element("li", head, *_editor(entry, ("problems", number)), moves, class_="dw-set-opened")


def _editor(entry: Entry, path: Path) -> list[Element]:
    asked = text_at(entry, "ask")
    quantity = REGISTRY.get(asked)
    if asked == CHOICE:
        middle = _questions(entry, (*path, "questions"))
    elif asked == ORDER:
        middle = _order(entry, path)
    else:
        middle = _givens(entry, path, quantity) if quantity else []
    return [
        _field((*path, "title"), "Title", _box(text_at(entry, "title"))),
        _field((*path, "ask"), "It asks for", _select(asked, asks()), _means(asked)),
        *_story(entry, path, quantity),
        *middle,
        _field((*path, "level"), "Level", _select(text_at(entry, "level"), [("", "not set: 1", ""), *((str(n), LEVEL_WORDS[n], "") for n in LEVELS)])),
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
    field = _field((*path, "story"), "Story", _area(text_at(entry, "story"), 3))
    if quantity is None:
        return [field]
    given = entry.part("givens")
    there = given.value if given and isinstance(given.value, dict) else {}
    words = [
        each for each in may_tell(quantity) if each.split(" of ")[-1] in there or each in there
    ]
    target = _id(name_of((*path, "story")))
    usual = [each for each in words if " of " not in each or each.startswith("water content of ")]
    rare = [each for each in words if each not in usual]
    buttons = element(
        "div",
        element("span", "Put into the story: "),
        *(_insert(each, target) for each in usual),
        element("details", element("summary", "more"), *(_insert(each, target) for each in rare), data_keep=f"tell-{path[1]}") if rare else None,
        class_="dw-insert",
    )  # fmt: skip
    field.insert(1, buttons)
    return [field]


def _insert(word: str, target: str) -> Element:
    return element(
        "button", f"{{{word}}}", type="button", class_="dw-button dw-quiet", data_insert=f"{{{word}}}", aria_controls=target
    )  # fmt: skip


def way_of(given: Entry | None) -> str:
    """How a given is told: fixed, a list, a range, or left out."""
    if given is None:
        return OUT
    if isinstance(given.value, dict):
        return RANGE
    return LIST if isinstance(given.value, list) else FIXED


def _givens(entry: Entry, path: Path, quantity: Quantity) -> list[Element]:
    """A field for each thing that the quantity is computed from."""
    here = (*path, "givens")
    given = entry.part("givens")
    there = given.value if given and isinstance(given.value, dict) else {}
    unknown = [name for name in there if quantity.slot(name) is None]
    return [
        element("h3", "The numbers"),
        element("span", class_="dw-complaint", data_for=name_of(here)),
        *(_given(there.get(slot.name), slot, (*here, slot.name)) for slot in quantity.slots),
        *(_stranger((*here, name)) for name in unknown),
    ]


def _stranger(path: Path) -> Element:
    """A given that the quantity does not take."""
    return element(
        "p",
        element("span", class_="dw-complaint", data_for=name_of(path)),
        _button(f"Take “{path[-1]}” out", "remove", name_of(path)),
    )


def _given(given: Entry | None, slot: Slot, path: Path) -> Element:
    way = way_of(given)
    ways = [each for each in _WAYS if (each != OUT or slot.optional or way == OUT) and not (each == RANGE and slot.kind == "ingredient" and way != RANGE)]  # fmt: skip
    control = _select(way, [(each, _WAYS[each], "") for each in ways])
    control.set("id", _id(name_of((*path, "how"))))
    control.set("name", name_of((*path, "how")))
    control.set("aria-label", f"How {slot.name} is told")
    return element(
        "fieldset",
        element("legend", capital(slot.name), element("small", f" {allowed(slot)}")),
        element("div", control, *_values(given, way, slot, path), class_="dw-given"),
        _of_the_whole(path) if way != FIXED else None,
        class_="dw-given-set",
    )


def allowed(slot: Slot) -> str:
    """What a slot takes, in words: ``50 g to 50000 g``."""
    if slot.kind == "ingredient":
        if slot.needs == "is_flour":
            return "a flour"
        return f"an ingredient with {slot.needs}" if slot.needs else "an ingredient"
    low, high = (units.write_exact(end, slot.kind) for end in (slot.low, slot.high))
    return f"{low} to {high}"


def _values(given: Entry | None, way: str, slot: Slot, path: Path) -> list[Element]:
    label = capital(slot.name)
    if way == FIXED:
        return [
            _field(
                path, label, _known(_box(given.text, spellcheck="false"), slot), hidden_label=True
            )
        ]
    if way == LIST:
        lines = "\n".join(one.text for one in given.value)
        box = element(
            "textarea",
            lines,
            rows=max(2, min(len(given.value) + 1, 10)),
            autocomplete="off",
            spellcheck="false",
        )
        box.set("aria-describedby", _whole_id(path))
        made = [_field((*path, "list"), f"{label}, one a line", box, hidden_label=True)]
        return [*made, _adder((*path, "list"), slot)] if slot.kind == "ingredient" else made
    if way == RANGE:
        ends = {end: _box(text_at(given, end), spellcheck="false") for end in RANGE_KEYS}
        return _side_by_side({(*path, end): (end, box) for end, box in ends.items()})
    return []


def _side_by_side(boxes: dict[Path, tuple[str, Element]]) -> list[Element]:
    """Short fields in a row; what is wrong with one has the whole width below them."""
    fields = [_field(path, label, box) for path, (label, box) in boxes.items()]
    said = [field[-1] for field in fields]
    for field in fields:
        field.remove(field[-1])
    return [element("div", element("div", *fields, class_="dw-range"), *said)]


def _known(box: Element, slot: Slot) -> Element:
    if slot.kind == "ingredient":
        box.set("list", "set-ingredients")
    return box


def _adder(path: Path, slot: Slot | None = None) -> Element:
    """Ingredients of the table, to be added to a list of names."""
    table = composition.table().values()
    fits = [each.name for each in table if slot is None or not slot.refusal(each)]
    target = _id(name_of(path))
    return element(
        "select",
        element("option", "add from the table", value=""),
        *(element("option", name, value=name) for name in sorted(fits)),
        data_add_to=target,
        aria_label=f"Add an ingredient to {path[-2] if path[-1] == 'list' else path[-1]}",
    )


def ingredient_list() -> Element:
    """The names of the table, for boxes that take one."""
    names = sorted(each.name for each in composition.table().values())
    return element(
        "datalist", *(element("option", value=name) for name in names), id="set-ingredients"
    )


def _questions(entry: Entry, path: Path) -> list[Element]:
    listed = entry.part("questions")
    there = listed.value if listed and isinstance(listed.value, list) else []
    return [
        element("span", class_="dw-complaint", data_for=name_of(path)),
        *(
            _question(each, number, (*path, number), len(there))
            for number, each in enumerate(there)
        ),
        element("p", _button("Add a question", "add-question", name_of(path))),
    ]


def _question(entry: Entry, number: int, path: Path, count: int) -> Element:
    listed = entry.part("options")
    there = listed.value if listed and isinstance(listed.value, list) else []
    title = f"Question {number + 1}"
    return element(
        "fieldset",
        element("legend", title),
        element("span", class_="dw-complaint", data_for=name_of(path)),
        _field((*path, "ask"), "It asks", _box(text_at(entry, "ask"))),
        element("span", class_="dw-complaint", data_for=name_of((*path, "options"))),
        *(_option(each, n, path, bool(entry.part("show")), len(there)) for n, each in enumerate(there)),
        element(
            "div",
            _button("Add an answer", "add-option", name_of((*path, "options")), f"Add an answer to question {number + 1}"),
            _button("Delete the question", "remove", name_of(path), f"Delete question {number + 1}") if count > 1 else None,
            class_="dw-buttons",
        ),
        _shown(entry, path, "answers"),
        class_="dw-given-set",
    )  # fmt: skip


def _shown(entry: Entry, path: Path, what: str) -> Element:
    counts = [("", "all of them", ""), *((str(n), str(n), "") for n in range(2, MOST_OPTIONS + 1))]
    note = f"Write more than that, and each student sees other {what}."
    return _field(
        (*path, "show"), "Each student sees", _select(text_at(entry, "show"), counts), note
    )


def _option(entry: Entry, number: int, path: Path, pooled: bool, count: int) -> Element:
    here = (*path, "options", number)
    label = f"Answer {number + 1}"
    right = text_at(entry, "right").lower() in ("yes", "true")
    name = name_of((*here, "right") if pooled else (*path, "right"))
    tick = element(
        "input",
        type="checkbox" if pooled else "radio",
        name=name,
        value="yes" if pooled else str(number),
        id=f"{_id(name_of(here))}-right",
        checked=right,
    )
    return element(
        "div",
        element("span", class_="dw-complaint", data_for=name_of(here)),
        _field((*here, "text"), label, _box(text_at(entry, "text"))),
        element("label", tick, " right", for_=f"{_id(name_of(here))}-right", class_="dw-box"),
        _field((*here, "because"), f"What is said when {label.lower()} is chosen", _box(text_at(entry, "because"))),
        _button("Delete", "remove", name_of(here), f"Delete {label.lower()}") if count > 2 else None,
        class_="dw-option-set",
    )  # fmt: skip


def _order(entry: Entry, path: Path) -> list[Element]:
    by = [(name, f"{name}. {ranking.asks}", "") for name, ranking in RANKINGS.items()]
    listed = entry.part("items")
    there = listed.value if listed and isinstance(listed.value, list) else []
    lines = "\n".join(one.text for one in there)
    box = element(
        "textarea",
        lines,
        rows=max(3, min(len(there) + 1, 12)),
        autocomplete="off",
        spellcheck="false",
    )
    box.set("aria-describedby", _whole_id((*path, "items")))
    return [
        _field((*path, "by"), "In order of", _select(text_at(entry, "by"), by)),
        _field((*path, "items", "list"), "What to put in order, one a line", box),
        _of_the_whole((*path, "items")),
        _adder((*path, "items", "list")),
        _shown(entry, path, "items"),
    ]  # fmt: skip


def _small_print(entry: Entry, path: Path, quantity: Quantity | None) -> list[Element]:
    made = [
        _field((*path, "marks per step"), "Marks per step", _box(text_at(entry, "marks per step"), inputmode="numeric", placeholder="1")),
        _field((*path, "tries"), "Tries before the solution opens", _box(text_at(entry, "tries"), inputmode="numeric", placeholder="3")),
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
                *_side_by_side({(*here, n): (hint, _box(there[n], inputmode="decimal", placeholder="0")) for n, hint in enumerate(HINTS)}),
                element("span", class_="dw-complaint", data_for=name_of(here)),
            )
        )  # fmt: skip
    made.append(
        _field(
            (*path, "id"), "Id", _box(text_at(entry, "id"), spellcheck="false"),
            "Small letters, digits, hyphens. It picks the numbers too: keep it while a class works.",
        )
    )  # fmt: skip
    return made
