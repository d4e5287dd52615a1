"""The JSON Schema (2020-12) of a set file, for editors that complete and check YAML.

It is made from the same lists that the reader uses, so the two cannot disagree on names.
"""

from __future__ import annotations

from calc import composition
from calc.allergens import ALLERGENS
from calc.own_ingredient import KINDS as KINDS_OF_OWN
from calc.quantities import RANKINGS, REGISTRY
from calc.registry import Quantity, Slot
from calc.units import KINDS
from exercises import due, problems, set_ingredients

_TEXT = {"type": "string", "minLength": 1}
_WHOLE = {"type": "integer", "minimum": 1}
_SHOW = {"type": "integer", "minimum": 2, "maximum": problems.MOST_OPTIONS} | {
    "description": "How many of them each student sees, drawn by name. Without it, all."
}


def schema() -> dict:
    """The schema as plain data, ready for `json.dumps`."""
    kinds = [_numbers(quantity) for quantity in REGISTRY.values()]
    return _object(
        problems.SET_KEYS,
        {
            "name": _TEXT
            | {"pattern": problems.NAME.pattern}
            | {
                "description": "Picks the numbers, with the version. Without it, the file's name does."
            },
            "title": _TEXT,
            "version": _WHOLE | {"description": "A new version gives every student new numbers."},
            "due": _TEXT | {"description": due.WANTED},
            "lesson": _TEXT,
            "about": _TEXT,
            "unshown steps": {"enum": list(problems.UNSHOWN)}
            | {"description": "When steps that were not written down earn their marks."},
            "ingredients": _own_ingredients(),
            "problems": {
                "type": "array",
                "minItems": 1,
                "items": {"oneOf": [*kinds, _choice(), _order()]},
            },
        },
    ) | {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A Doughwater problem set",
        "$defs": {"ingredient": _ingredient()},
    }


def _object(keys: dict[str, bool], parts: dict[str, dict]) -> dict:
    return {
        "type": "object",
        "properties": {name: parts[name] for name in keys},
        "required": [name for name, needed in keys.items() if needed],
        "additionalProperties": False,
    }


def _problem(kind: str, asked: dict, parts: dict[str, dict]) -> dict:
    common = {
        "id": _TEXT | {"pattern": problems.ID.pattern},
        "title": _TEXT,
        "story": _TEXT | {"description": "A given's name in {braces} is replaced by its value."},
        "ask": asked,
        "level": {"enum": list(problems.LEVELS)},
        "lesson": _TEXT | {"description": "The earlier lesson whose skill it brings back."},
        "marks per step": _WHOLE,
        "tries": _WHOLE,
    }
    return _object(problems.PROBLEM_KEYS[kind], common | parts)


def _numbers(quantity: Quantity) -> dict:
    givens = {slot.name: _given(slot) for slot in quantity.slots}
    needed = {slot.name: not slot.optional for slot in quantity.slots}
    costs = {
        "type": "array",
        "items": {"type": "number", "minimum": 0},
        "minItems": 3,
        "maxItems": 4,
    }
    asked = {"const": quantity.name, "description": quantity.means}
    return _problem("quantity", asked, {"givens": _object(needed, givens), "hint cost": costs})


def _given(slot: Slot) -> dict:
    if slot.kind == "ingredient":
        one = {"$ref": "#/$defs/ingredient"}
        return {"anyOf": [one, {"type": "array", "items": one, "minItems": 1}]}
    one = {"type": ["string", "number"], "description": f"Write {KINDS[slot.kind].wanted}."}
    span = _object(problems.RANGE_KEYS, dict.fromkeys(problems.RANGE_KEYS, one))
    return {"anyOf": [one, {"type": "array", "items": one, "minItems": 1}, span]}


def _ingredient() -> dict:
    return _TEXT | {
        "description": "A name from the table, or a name with its water: goat yogurt, 86 % water",
        "examples": [each.name for each in composition.table().values()],
    }


def _own_ingredients() -> dict:
    words = {"enum": list(ALLERGENS)}
    figure = {"type": ["string", "number"]}
    parts = dict.fromkeys(set_ingredients.KEYS, figure) | {
        "name": _TEXT,
        "kind": {"enum": list(KINDS_OF_OWN)},
        "water": figure | {"description": "In 100 g: 81 g, or 81 %"},
        "allergens": {
            "anyOf": [
                {
                    "enum": [
                        set_ingredients.NONE,
                        set_ingredients.NONE_READ,
                        set_ingredients.NOT_KNOWN,
                    ]
                },
                words,
                {"type": "array", "items": words, "minItems": 1},
            ]
        },
        "keep cold": {"type": ["boolean", "string"]},
    }
    one = _object(set_ingredients.KEYS, parts)
    return {"type": "array", "items": one, "minItems": 1, "maxItems": set_ingredients.MOST}


def _choice() -> dict:
    option = _object(
        problems.OPTION_KEYS,
        {"text": _TEXT, "right": {"type": ["boolean", "string"]}, "because": _TEXT},
    )
    options = {"type": "array", "items": option, "minItems": 2, "maxItems": problems.MOST_IN_POOL}
    question = _object(problems.QUESTION_KEYS, {"ask": _TEXT, "options": options, "show": _SHOW})
    questions = {
        "type": "array",
        "items": question,
        "minItems": 1,
        "maxItems": problems.MOST_OPTIONS,
    }
    return _problem("choice", {"const": "choice"}, {"questions": questions})


def _order() -> dict:
    one = {"$ref": "#/$defs/ingredient"}
    items = {"type": "array", "items": one, "minItems": 3, "maxItems": problems.MOST_IN_POOL}
    parts = {"by": {"enum": list(RANKINGS)}, "items": items, "show": _SHOW}
    return _problem("order", {"const": "order"}, parts)
