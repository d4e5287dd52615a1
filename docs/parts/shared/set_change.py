"""What is typed into a field of the form, or pressed there, as a change in the set's text."""

from __future__ import annotations

from collections.abc import Collection

from calc import composition, units
from calc.quantities import RANKINGS, REGISTRY
from calc.registry import Slot
from calc.units import ReadingError
from docs.parts.shared.set_bank import example_of, written_as
from docs.parts.shared.set_fields import path_of, text_at
from docs.parts.shared.set_form import CHOICE, ORDER
from docs.parts.shared.set_givens import FIXED, LIST, OUT
from exercises import problems, set_edit
from exercises.set_edit import entries, insert, put, remove, slug, unique
from exercises.set_ingredients import as_parts
from exercises.setfile import Entry, Path
from exercises.yaml_write import Data

NEW_TITLE = "New problem"
# Until a set or a problem has a title of its own, its name or id follows the title.
NEW_NAME, NEW_ID = "my-set", "new-problem"
_LONG = 70

Change = tuple[str, int | None]


def filled(text: str, name: str, value: str) -> str:
    """The text after `value` was typed into the field `name`."""
    path = path_of(name)
    last = path[-1]
    if last == "how":
        return _told(text, path[:-1], value)
    if last == "list":
        return put(text, path[:-1], _lines(value))
    if last == "ask" and path[0] == "problems" and len(path) == 3:
        return _asking(text, path[:-1], value)
    if last == "right":
        return _right(text, path, value)
    if len(path) > 3 and path[2] == "hint cost":
        return _hint_cost(text, path[:-1], last, value)
    if last in ("story", "about"):
        return _words(text, path, value)
    if not value.strip() and last in _MAY_GO:
        return remove(text, path)
    return put(text, path, value.strip())


_MAY_GO = {
    "level", "marks per step", "tries", "show", "because", "lesson", "unshown steps",
}  # fmt: skip


def _lines(value: str) -> list[Data]:
    return [line.strip() for line in value.split("\n") if line.strip()]


def _words(text: str, path: Path, value: str) -> str:
    """Sentences: on lines of their own where they are long."""
    words = value.strip()
    if not words and path[-1] == "about":
        return remove(text, path)
    long = "\n" in words or len(words) > _LONG
    old = entries(text).part(*path)
    if old is not None and old.text.strip() == words:
        return text
    return put(text, path, words + "\n" if long else words)


def _named(text: str, path: Path, taken: Collection[str]) -> str:
    """What is new takes its name or id from its title, and keeps that; `taken` are names of other sets."""
    root = entries(text)
    title, here = text_at(root, *path), path[:-1]
    if not title or title == NEW_TITLE:
        return text
    if not here and text_at(root, "name").startswith(NEW_NAME):
        name = unique(slug(title, NEW_NAME), {*problems.set_keys(), *taken})
        return put(text, ("name",), name)
    if here and text_at(root, *here, "id").startswith(NEW_ID):
        others = set_edit.ids(root) - {text_at(root, *here, "id")}
        return put(text, (*here, "id"), unique(slug(title, NEW_ID), others))
    return text


def _hint_cost(text: str, path: Path, number: str | int, value: str) -> str:
    there = entries(text).part(*path)
    costs = [one.text for one in there.value] if there and isinstance(there.value, list) else []
    costs = ["0"] * (4 - len(costs)) + costs
    typed = value.strip() or "0"
    if costs[int(number)] == typed:
        return text
    costs[int(number)] = typed
    if all(cost == "0" for cost in costs):
        return remove(text, path)
    return put(text, path, costs)


def _right(text: str, path: Path, value: str) -> str:
    """Of answers that all are shown one is right; of those to pick from, each that is ticked."""
    if "options" in path:
        return put(text, path, "yes") if value else remove(text, path)
    options = (*path[:-1], "options")
    for number, _ in enumerate(entries(text).part(*options).value):
        here = (*options, number, "right")
        text = put(text, here, "yes") if str(number) == value else remove(text, here)
    return text


# What a given can be


def _told(text: str, path: Path, way: str) -> str:
    """A given told in another way, from the values that it had."""
    if way == OUT:
        return remove(text, path)
    asked = text_at(entries(text), *path[:2], "ask")
    quantity = REGISTRY.get(asked)
    slot = quantity.slot(path[-1]) if quantity else None
    values = _values_of(entries(text).part(*path)) or _usual(asked, path[-1])
    return put(text, path, _in_way(way, values, slot))


def _values_of(given: Entry | None) -> list[str]:
    if given is None:
        return []
    if isinstance(given.value, dict):
        return [one.text for name, one in given.value.items() if name in ("from", "to")]
    return [one.text for one in given.value] if isinstance(given.value, list) else [given.text]


def _usual(asked: str, slot: str) -> list[str]:
    """The values that a problem of ours takes."""
    example = example_of(asked)
    return _values_of(written_as(example).part("givens", slot)) if example else []


def _in_way(way: str, values: list[str], slot: Slot | None) -> Data:
    values = values or [""]
    if way == FIXED:
        return values[0]
    if way == LIST:
        return values
    ends = sorted(values, key=lambda each: _size(each, slot))
    return {"from": ends[0], "to": ends[-1], "step": _step(ends[0], ends[-1], slot)}


def _size(text: str, slot: Slot | None) -> float:
    try:
        return units.read(text, slot.kind).value if slot else 0.0
    except (ReadingError, KeyError):
        return 0.0


def _step(low: str, high: str, slot: Slot | None) -> str:
    """A step that reaches the end: a tenth of the way where that is a plain number, else the whole way."""
    span = _size(high, slot) - _size(low, slot)
    kind = (
        "temperature difference"
        if slot and slot.kind == "temperature"
        else slot.kind
        if slot
        else ""
    )
    if span <= 0:
        return "1" if not slot else units.write_exact(0.01 if kind == "share" else 10, kind)
    for parts in (10, 5, 4, 2, 1):
        step = units.write_exact(span / parts, kind)
        if abs(_size_of(step, kind) * parts - span) < 1e-9 * span:
            return step
    return units.write_exact(span, kind)


def _size_of(text: str, kind: str) -> float:
    return units.read(text, kind).value


# Another thing to ask for


def _asking(text: str, path: Path, asked: str) -> str:
    """The problem asks for something else: what both take stays, the rest comes from a problem of ours."""
    old = entries(text).part(*path)
    text = put(text, (*path, "ask"), asked)
    wanted = _parts_for(asked, old)
    for name in ("givens", "hint cost", "questions", "by", "items", "show"):
        kind = asked if asked in (CHOICE, ORDER) else "quantity"
        if name in wanted:
            text = put(text, (*path, name), wanted[name])
        elif name not in problems.PROBLEM_KEYS[kind]:
            text = remove(text, (*path, name))
    return text


def _parts_for(asked: str, old: Entry | None = None) -> dict[str, Data]:
    """What a problem that asks for something holds besides its words; `old` are its parts so far."""
    before = old.plain if old and isinstance(old.plain, dict) else {}
    if asked == CHOICE:
        answers = [{"text": "the right answer", "right": "yes", "because": "Say why."}, {"text": "a wrong answer", "because": "Say why not."}]  # fmt: skip
        return {
            "questions": before.get("questions") or [{"ask": "Which is it?", "options": answers}]
        }
    if asked == ORDER:
        items = before.get("items") or ["water", "whole milk", "sour cream"]
        return {"by": before.get("by") or next(iter(RANKINGS)), "items": items}
    quantity, example = REGISTRY.get(asked), example_of(asked)
    if quantity is None:
        return {}
    there = before.get("givens")
    there = there if isinstance(there, dict) else {}
    usual = written_as(example).part("givens").plain if example else {}
    return {
        "givens": {
            slot.name: there.get(slot.name) or usual[slot.name]
            for slot in quantity.slots
            if slot.name in there or slot.name in usual
        }
    }


def new_problem(asked: str) -> dict[str, Data]:
    """A problem to begin with: what it asks, and a story and numbers of ours to write over."""
    example = example_of(asked) if asked in REGISTRY else None
    story = written_as(example).part("story").text if example else "What is this about?"
    return {
        "id": NEW_ID, "title": NEW_TITLE, "ask": asked, "story": story, **_parts_for(asked),
    }  # fmt: skip


# What is pressed


def pressed(text: str, do: str, at: str, taken: Collection[str] = ()) -> Change:
    """The text after a button was pressed, and the problem that is open then (None: as before).

    `taken` are the names of the teacher's other sets.
    """
    if do == "add":
        return _with_new(text, at)
    if do == "take":
        return _with_taken(text, at.split()), None
    if do in ("up", "down"):
        by = -1 if do == "up" else 1
        return set_edit.move(text, ("problems", int(at)), by), int(at) + by
    if do == "copy":
        return set_edit.duplicate(text, int(at)), int(at) + 1
    if do == "delete":
        return remove(text, ("problems", int(at))), -1
    if do == "add-own":
        return _with_own(text), None
    path = path_of(at)
    if do == "named":
        return _named(text, path, taken), None
    if do == "remove":
        return remove(text, path[:-1] if _is_last_brought(text, path) else path), None
    answers = {"text": "another answer", "because": ""}
    if do == "add-option":
        return insert(text, (*path, 10_000), {"text": answers["text"]}), None
    if do == "add-question":
        return insert(text, (*path, 10_000), _parts_for(CHOICE)["questions"][0]), None
    raise ValueError(f"nothing is called “{do[:40]}” here")


def _with_new(text: str, asked: str) -> Change:
    problem = new_problem(asked) if asked in (*REGISTRY, CHOICE, ORDER) else new_problem(CHOICE)
    root = entries(text)
    listed = root.part("problems")
    count = len(listed.value) if listed and isinstance(listed.value, list) else 0
    problem["id"] = unique(NEW_ID, set_edit.ids(root))
    return insert(text, ("problems", count), problem), count


def _is_last_brought(text: str, path: Path) -> bool:
    """Whether nothing is left of the set's ingredients without this one: then their part goes."""
    listed = entries(text).part("ingredients")
    return path[:1] == ("ingredients",) and listed is not None and len(listed.value) == 1


def _with_own(text: str) -> str:
    """The ingredients of this device, as parts of the set; one of the same name stays as it is."""
    for each in composition.readers_own():
        listed = entries(text).part("ingredients")
        there = listed.value if listed and isinstance(listed.value, list) else []
        if each.name not in {text_at(one, "name") for one in there}:
            text = insert(text, ("ingredients", len(there)), as_parts(each))
    return text


def _with_taken(text: str, keys: list[str]) -> str:
    """Problems of ours by their keys, ``set/problem``, in the order of the bank."""
    wanted: dict[str, list[str]] = {}
    for key in keys:
        set_key, _, problem = key.partition("/")
        if set_key in problems.set_keys():
            wanted.setdefault(set_key, []).append(problem)
    for set_key, ids in wanted.items():
        text = set_edit.take_in(text, problems.text_of_ours(set_key), ids)
    return text
