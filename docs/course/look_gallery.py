"""Each element of the look in each of its states, on a light and on a dark page."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from xml.etree.ElementTree import Element

from docs.course.kitchen_picture import framed, picture
from docs.course.pictures.scenes import SCENES, hands_in_dough
from docs.parts.shared.fields import choice_field, text_field
from exercises.publish.html import element, table

SCHEMES = {"default": "On a light page", "slate": "On a dark page"}
# What a colour always means.
COLOURS = {
    "water": "water, and what counts",
    "fat": "fat",
    "protein": "protein",
    "carbohydrate": "sugar and starch",
    "other": "salt, ash and the rest",
}
SIZES = {
    "small": "Notes and lists",
    "text": "Text",
    "lead": "What a page is about",
    "head-3": "A thing in a section",
    "head-2": "A section",
    "head-1": "A page",
}


def build(attributes: Mapping[str, str]) -> list[Element]:
    """``of`` is ``elements`` or ``pictures``."""
    made = {"elements": _elements, "pictures": _pictures}.get(attributes.get("of", ""))
    if made is None:
        raise ValueError("“of” must be elements or pictures")
    return [
        element(
            "section",
            element("p", says, class_="dw-eyebrow"),
            *made(scheme),
            class_="dw-sample",
            data_md_color_scheme=scheme,
            aria_label=f"{says}: {attributes['of']}",
        )
        for scheme, says in SCHEMES.items()
    ]


def _pictures(scheme: str) -> Iterable[Element]:
    yield framed(hands_in_dough(), 420, 180, "wide")
    drawn = {draw: key for key, draw in reversed(SCENES.items())}
    yield element("p", *(picture(key, "small") for key in reversed(drawn.values())), class_="dw-sample-row")  # fmt: skip


def _elements(scheme: str) -> Iterable[Element]:
    yield from _type_and_colour()
    yield from _buttons()
    yield _fields(f"look-{scheme}")
    yield from _answers()
    yield from _boxes()
    yield table("A table of figures", ["Ingredient", "Weight", "% of flour"], [["flour", "500 g", "100 %"], ["water", "340 g", "68 %"], ["dough", "840 g", "168 %"]], "dw-figures dw-sheet")  # fmt: skip


def _type_and_colour() -> Iterable[Element]:
    for size, says in SIZES.items():
        yield element("p", f"{says}: ½ × 720 g ÷ 0.90 = 400 g", class_=f"dw-sample-{size}")
    swatches = (
        element("li", element("span", class_=f"dw-swatch dw-{name}"), says)
        for name, says in COLOURS.items()
    )
    yield element("ul", *swatches, class_="dw-legend")


def _buttons() -> Iterable[Element]:
    yield element(
        "p",
        _button("The one strong button"),
        _button("A quiet one", "dw-quiet"),
        _button("Pressed", "dw-quiet", aria_pressed="true"),
        _button("Not now", "dw-quiet", aria_disabled="true"),
        class_="dw-buttons",
    )


def _button(says: str, more: str = "", **attributes: str) -> Element:
    return element("button", says, type="button", class_=f"dw-button {more}".strip(), **attributes)


def _fields(prefix: str) -> Element:
    wrong = text_field(prefix, "wrong", "What cannot be read", "some")
    wrong.find(".//input").set("aria-invalid", "true")
    wrong.append(element("span", "Write a weight, such as 300 g.", class_="dw-complaint"))
    return element(
        "div",
        text_field(prefix, "plain", "A field", "300 g", "What fits, in small print"),
        choice_field(prefix, "list", "A list", "kefir", [("kefir", "kefir", ""), ("water", "water", "")]),
        wrong,
        class_="dw-row",
    )  # fmt: skip


def _answers() -> Iterable[Element]:
    number = element("strong", "400 g", class_="dw-number")
    yield element("p", "Weigh ", number, " of yogurt.", class_="dw-answer")
    yield element("p", "An honest “from … to …” in the soft ink.", class_="dw-bounds")
    signs = (("right", "✓", "Right."), ("follows", "✓", "Right from your own figure."), ("wrong", "✗", "This is the water, not the liquid."), ("unread", "?", "I cannot read this."))  # fmt: skip
    yield element(
        "ul",
        *(
            element("li", element("span", sign, class_="dw-sign", aria_hidden="true"), says, class_=f"dw-{name}")
            for name, sign, says in signs
        ),
        class_="dw-verdicts",
    )  # fmt: skip


def _boxes() -> Iterable[Element]:
    yield element("div", element("p", "A caution: keep it cold."), class_="dw-caution")
    yield element("div", element("p", "Where to go on with this dough"), class_="dw-onward")
    for is_open, says in ((None, "A fold, shut"), (True, "A fold, open")):
        yield element("details", element("summary", says), element("p", "What it holds."), open=is_open)  # fmt: skip
