"""A reader's own ingredients: added in the page, kept on their device, exported and imported.

The page sends what it keeps as text with each request. That text, and a file to import, may hold
anything: `kept` leaves out what cannot be read, the form and the import say what is wrong.
"""

from __future__ import annotations

import json
import re
from collections.abc import Collection, Iterable, Mapping
from xml.etree.ElementTree import Element

from calc.allergens import ALLERGENS
from calc.composition import Ingredient
from calc.own_ingredient import (
    KINDS,
    LONGEST_NAME,
    STATED_PARTS,
    RecordError,
    from_record,
    read_figures,
    to_record,
)
from calc.words import counted
from docs.parts.shared.cards import as_cards
from docs.parts.shared.fields import FieldErrors, choice_field, quiet_button, text_field
from docs.parts.shared.own_shelf import shelf_text
from exercises import untrusted
from exercises.publish.html import element
from exercises.publish.own_table import KIND_NAMES, READ_THE_PACK, own_cells, own_table

MOST_INGREDIENTS = 200
LONGEST_TEXT = 200_000
FORMAT = "doughwater-ingredients"
NO_ALLERGENS = "no-allergens"
FILE_NAME = "my-ingredients.json"

PART_NAMES = {
    "fat": "Fat", "carbohydrate": "Carbohydrate, with fibre", "sugars": "Sugars",
    "protein": "Protein", "salt": "Salt", "alcohol": "Alcohol",
}  # fmt: skip

# Its form is in a card, as the other tools' do.
card = True


def build(attributes: Mapping[str, str]) -> list[Element]:
    """The empty form and the empty list."""
    prefix = attributes.get("id", "own")
    return [
        form(prefix),
        element("div", class_="dw-output", data_output=True),
        _empty(),
        _shelf_field(prefix),
        _file_buttons(prefix),
        element("p", class_="dw-status", role="status"),
    ]


def respond(values: Mapping[str, str]) -> dict[str, object]:
    """Do the ``action`` (list, save, remove, import, export, share, arrive) on the ``store``, named ``shelf``.

    Raises FieldErrors when a field or the file cannot be read; the store then stays as it is.
    """
    text = values.get("store", "")
    name = _shelf_name(values.get("shelf", ""))
    have = {each.key: each for each in kept(text)}
    match values.get("action", "list"):
        case "arrive":
            return _arrived(values.get("file", ""), have)
        case "list":
            return _listed(have, name, says=_lost(text, len(have)))
        case "share":
            return _listed(have, name, says="", link=_link(have.values(), name))
        case "export":
            return _exported(have, name)
        case "remove":
            says = _remove(have, values.get("key", ""))
        case "import":
            found = imported(values.get("file", ""))
            # A shelf that has no name yet takes the one that comes.
            name = name or _name_in(values.get("file", ""))
            have |= {each.key: each for each in found}
            says = f"Added {counted(len(found), 'ingredient')} from the file."
        case _:
            says = _save(have, values)
    if len(have) > MOST_INGREDIENTS:
        raise FieldErrors(
            {"name": f"There is room for {MOST_INGREDIENTS} ingredients. Remove some first."}
        )
    records = [to_record(each) for each in have.values()]
    return _listed(have, name, says=says, records=records, shelf=name)


# The reader's ingredients, by their keys.
Shelf = dict[str, Ingredient]


def _listed(have: Shelf, name: str, **more: object) -> dict[str, object]:
    """The answer with the list of all, and `more` for the page."""
    return {"elements": list_view(have.values(), name), **more}


def _arrived(file: str, have: Shelf) -> dict[str, object]:
    found = _linked(file)
    brings = f"{_named(file)} {counted(len(found), 'ingredient')}."
    return {"elements": _offer(found, have, brings), "says": brings}


def _exported(have: Shelf, name: str) -> dict[str, object]:
    shelf = {"format": FORMAT, "version": 1, "name": name}
    shelf["ingredients"] = [to_record(each) for each in have.values()]
    made = json.dumps(shelf, ensure_ascii=False, indent=1)
    file = f"{_slug(name)}.json" if name else FILE_NAME
    says = f"Saved {counted(len(have), 'ingredient')} to {file}."
    return _listed(have, name, says=says, file=made, filename=file)


def _remove(have: Shelf, key: str) -> str:
    """Take one out, and say so."""
    gone = have.pop(key, None)
    return f"Removed {gone.name}." if gone else "There is no such ingredient."


def _save(have: Shelf, values: Mapping[str, str]) -> str:
    """Put the one in the form in, and say so. Raises FieldErrors."""
    new = from_form(values)
    # A change of name leaves no twin under the old one.
    if values.get("was", new.key) != new.key and new.key not in have:
        have.pop(values["was"], None)
    done = "Changed" if new.key in have else "Added"
    have[new.key] = new
    return f"{done} {new.name}. It is now in the lists of this site, on this device."


# Sharing.


def _shelf_name(text: object) -> str:
    """What a shelf is called, on one line; empty where it is not called anything that can be shown."""
    name = " ".join(text.split())[:LONGEST_NAME] if isinstance(text, str) else ""
    return name if name.isprintable() else ""


def _name_in(text: object) -> str:
    found = _read(text)
    return _shelf_name(found.get("name")) if isinstance(found, dict) else ""


def _named(text: object) -> str:
    """What a link brings, up to the number: “This link brings “School bakery”:”."""
    name = _name_in(text)
    return f"This link brings “{name}”:" if name else "This link brings"


def _slug(name: str) -> str:
    return re.sub(r"[\W_]+", "-", name.lower()).strip("-") or "ingredients"


def _link(ingredients: Collection[Ingredient], name: str) -> str:
    """The ingredients as the part of a link that stays in the browser. Raises FieldErrors."""
    if not ingredients:
        raise FieldErrors({"file": "There is nothing to share yet. Keep an ingredient first."})
    text = shelf_text(ingredients, name)
    if not text:
        raise FieldErrors(
            {"file": "That is too much for a link. Save it to a file, and send that."}
        )
    return text


def _linked(text: str) -> list[Ingredient]:
    try:
        return imported(text)
    except FieldErrors:
        raise FieldErrors(
            {"file": "This link’s ingredients cannot be read. It may have been cut: ask for it again, or for a file."}
        ) from None  # fmt: skip


def _offer(
    found: Collection[Ingredient], have: Mapping[str, Ingredient], brings: str
) -> list[Element]:
    """What a link brings, to keep or to leave; nothing is kept before the reader says so."""
    replaced = [each.name for each in found if each.key in have and have[each.key] != each]
    warning = f"Keeping them replaces your own {', '.join(replaced)}." if replaced else ""
    return [
        element("p", f"{brings} {READ_THE_PACK} {warning}"),
        as_cards(own_table("In the link (in 100 g)", [own_cells(each) for each in found])),
        element(
            "div",
            element("button", "Keep them on this device", type="button", class_="dw-button", data_action="keep"),
            quiet_button("Leave them", "leave"),
            class_="dw-buttons",
        ),
        *list_view(have.values()),
    ]  # fmt: skip


# Reading.


def kept(text: object) -> list[Ingredient]:
    """The ingredients in a store's text; what cannot be read is left out."""
    found = {}
    for record in _records(text):
        try:
            ingredient = from_record(record)
        except RecordError:
            continue
        found[ingredient.key] = ingredient
    return list(found.values())


def imported(text: str) -> list[Ingredient]:
    """The ingredients in a file, all of them. Raises FieldErrors: nothing is added in part."""
    records = _records(text)
    if not records:
        raise FieldErrors(
            {"file": f"This file holds no ingredients. Choose one saved here, such as {FILE_NAME}."}
        )
    found = []
    for number, record in enumerate(records, 1):
        try:
            found.append(from_record(record))
        except RecordError as error:
            raise FieldErrors(
                {"file": f"Ingredient {number} in the file: {error} Nothing was added."}
            ) from None
    return found


# Deeper JSON is none of ours, and overflows the stack of the page's Python for good.
def _read(text: object) -> object:
    if not isinstance(text, str):
        return None
    try:
        return untrusted.read_json(text, LONGEST_TEXT)
    except ValueError:
        return None


def _records(text: object) -> list[object]:
    found = _read(text)
    if isinstance(found, dict):
        found = found.get("ingredients")
    return found[:MOST_INGREDIENTS] if isinstance(found, list) else []


def from_form(values: Mapping[str, str]) -> Ingredient:
    """The ingredient in the form. Raises FieldErrors."""
    figures, messages = read_figures(values)
    record = {"name": values.get("name", ""), "kind": values.get("kind", ""), **figures}
    record["allergens"] = [word for word in ALLERGENS if f"allergen-{word}" in values]
    record["no_allergens"] = NO_ALLERGENS in values
    record["perishable"] = "perishable" in values
    if bool(record["allergens"]) == record["no_allergens"]:
        messages["allergens"] = (
            "You ticked allergens and “none of these”. Take one of them off."
            if record["allergens"]
            else "Read the pack, and tick what it names, or “none of these”. Someone may have to rely on it."
        )
    try:
        made = from_record(record)
    except RecordError as error:
        messages.setdefault(error.field, str(error))
    if messages:
        raise FieldErrors(messages)
    return made


# Showing.


# What 100 g of it hold: each row's fields, with their titles and what to write.
_PART_ROW = tuple((part, PART_NAMES[part], "blank: not known") for part in STATED_PARTS)
_ROWS = (
    (
        ("water", "Water", "such as 81 g"),
        ("water_low", "Lowest (may be blank)", ""),
        ("water_high", "Highest (may be blank)", ""),
    ),
    _PART_ROW,
    (
        ("density", "Weight of 1 ml", "such as 1.03 g, to read cups and ml"),
        ("density_low", "Lightest", "may be blank"),
        ("density_high", "Heaviest", "may be blank"),
    ),
    (("ph_low", "pH, lowest", "blank: not known"), ("ph_high", "pH, highest", "")),
)


def form(prefix: str) -> Element:
    """The empty form for one ingredient."""
    kinds = [(kind, KIND_NAMES[kind], "") for kind in KINDS]
    return element(
        "form",
        element(
            "fieldset",
            element("legend", "What it is"),
            element(
                "div",
                text_field(prefix, "name", "Name", "", "such as goat yogurt"),
                choice_field(prefix, "kind", "Kind", "liquid", kinds),
                class_="dw-row",
            ),
        ),
        element(
            "fieldset",
            element("legend", "In 100 g of it"),
            *(
                element(
                    "div",
                    *(text_field(prefix, name, title, "", help) for name, title, help in row),
                    class_="dw-row",
                )
                for row in _ROWS
            ),
        ),
        _safety(prefix),
        element(
            "div",
            element("button", "Keep this ingredient", type="submit", class_="dw-button"),
            class_="dw-buttons",
        ),
        class_="dw-form",
        novalidate=True,
        aria_label="An ingredient of your own",
    )


def _safety(prefix: str) -> Element:
    """What its pack says of allergens, and whether it spoils."""
    return element(
        "fieldset",
        element("legend", "Allergens, as its pack says"),
        element(
            "div",
            *(_box(prefix, f"allergen-{a.word}", a.name) for a in ALLERGENS.values()),
            _box(prefix, NO_ALLERGENS, "none of these"),
            class_="dw-boxes",
        ),
        element("span", class_="dw-complaint", data_for="allergens"),
        _box(prefix, "perishable", "It spoils: it must be kept cold"),
    )


def _box(prefix: str, name: str, label: str) -> Element:
    box = element("input", type="checkbox", name=name, value="yes", id=f"{prefix}-{name}")
    return element("label", box, f" {label}", for_=f"{prefix}-{name}", class_="dw-box")


def _shelf_field(prefix: str) -> Element:
    """What the whole shelf is called: it goes along with the link and the file."""
    help = "such as School bakery; the link and the file carry it"
    box = text_field(prefix, "shelf", "Name of this shelf", "", help)
    return element("div", box, class_="dw-form")


def _file_buttons(prefix: str) -> Element:
    return element(
        "div",
        quiet_button("Save to a file", "export"),
        quiet_button("Copy a link to all of them", "share"),
        element(
            "label", "Read from a file ",
            element("input", type="file", name="file", id=f"{prefix}-file", accept=".json,application/json"),
            for_=f"{prefix}-file",
        ),
        element("span", class_="dw-complaint", data_for="file"),
        class_="dw-buttons",
    )  # fmt: skip


def list_view(ingredients: Iterable[Ingredient], shelf: str = "") -> list[Element]:
    """The ingredients as a table, each with its buttons, under the name of the shelf."""
    rows = [
        [
            *own_cells(each),
            element("span", _button("Change", "change", each), _button("Remove", "remove", each)),
        ]
        for each in ingredients
    ]
    if not rows:
        return []
    kept_here = "Kept on this device (in 100 g)"
    caption = f"{shelf}. {kept_here}" if shelf else kept_here
    return [as_cards(own_table(caption, rows, [""]))]


def _empty() -> Element:
    """What is where the table will be; style.css hides it as soon as there is one."""
    says = "No ingredient of your own yet. Fill in the form from its pack, keep it, and it has its place here."
    return element("div", element("p", says), class_="dw-empty-place", data_picture="own-shelf")


def _button(text: str, action: str, ingredient: Ingredient) -> Element:
    return quiet_button(
        text, action, data_key=ingredient.key, aria_label=f"{text} {ingredient.name}"
    )


def _lost(text: str, readable: int) -> str:
    lost = len(_records(text)) - readable
    return (
        f"{counted(lost, 'ingredient')} on this device cannot be read and is left out."
        if lost > 0
        else ""
    )
