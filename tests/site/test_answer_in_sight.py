"""While one types, the answer is in the window: in its place, or in the line at the window's foot."""

import pytest
from playwright.sync_api import expect

from tests.site.conftest import open_page, open_ready, visitor

SIZES = [(320, 640), (360, 740), (740, 360), (768, 1024), (1024, 768), (1280, 800), (1920, 1080)]
TOOLS = ["", "swap/", "balance/", "temperature/", "pack/", "feel/", "scale/", "lessons/divide-by-the-water-content/#try-it"]  # fmt: skip
# Whether the whole of a card's answer can be read now, in one place of the two.
SEEN = """(card) => {
  const seen = (each) => {
    const {top, bottom, width} = each.getBoundingClientRect();
    return top >= 0 && bottom <= innerHeight && width > 50 && getComputedStyle(each).opacity === '1';
  };
  return [card.querySelector('.dw-answer'), card.querySelector(':scope > .dw-status')].filter(seen).length;
}"""
# Whether what has the focus is in the window too, and not under what sticks to its edges.
TYPED_INTO = """() => {
  const {left, right, top, bottom} = document.activeElement.getBoundingClientRect();
  const there = document.elementFromPoint((left + right) / 2, (top + bottom) / 2);
  return there === document.activeElement;
}"""


@pytest.fixture(params=SIZES, ids=lambda size: "{}x{}".format(*size))
def window(request, chromium):
    width, height = request.param
    with visitor(chromium, viewport={"width": width, "height": height}) as context:
        # What is in sight is asked of the page as the build wrote it.
        context.route("**/engine/worker.js", lambda route: route.abort())
        yield context.new_page()


def answer_seen(card):
    card.evaluate_handle(f"(card) => new Promise((done) => {{ const look = () => ({SEEN})(card) > 0 ? done(true) : requestAnimationFrame(look); look(); }})")  # fmt: skip


def test_the_answer_is_in_sight_at_every_field(window, address):
    for tool in TOOLS:
        open_page(window, address + tool)
        card = window.locator(".dw-card:has(form):visible").first
        for box in card.locator("form input[type=text]:visible").all():
            box.focus()
            answer_seen(card)


def test_the_line_says_the_new_answer(page, address):
    page.set_viewport_size({"width": 768, "height": 500})
    open_ready(page, address + "swap/")
    line = page.locator("liquid-swap > .dw-status")
    expect(line).to_be_in_viewport(ratio=1)
    before = line.inner_text()
    page.get_by_label("Flour", exact=True).first.fill("900 g")
    expect(line).not_to_have_text(before)
    expect(line).to_contain_text("Weigh")
    expect(line).to_be_in_viewport(ratio=1)
    expect(line).not_to_have_attribute("data-answer-in-sight", "")
    # Where the answer itself is seen, the line only speaks to those who hear it.
    page.locator("liquid-swap .dw-answer").scroll_into_view_if_needed()
    page.evaluate(
        "document.querySelector('liquid-swap .dw-answer').scrollIntoView({block: 'center'})"
    )
    expect(line).to_have_attribute("data-answer-in-sight", "")


# A recipe of one's own, typed by keyboard alone: 640 g of bread flour, 400 g of whole milk, salt, yeast, 2 eggs;
# kefir takes the milk's place. What is pressed is what a reader presses.
RECIPE = [
    ("Flour", ["640"]),
    ("Liquid in the formula", ["whole milk", "Enter"]),
    ("Liquid: weight or % of flour", ["400"]),
    ("New liquid", ["kefir", "Enter"]),
    ("Ingredient 3", ["egg", "Enter"]),
    ("Amount 3", ["2"]),
]
KEYS_THAT_ARE_NAMES = ("Enter",)


@pytest.mark.parametrize(
    ("width", "height", "text"),
    [(360, 740, 1), (740, 360, 1), (768, 1024, 1), (1024, 768, 1), (1280, 800, 1), (1920, 1080, 1), (1280, 800, 2)],
)  # fmt: skip
def test_a_recipe_of_ones_own_is_swapped_by_keyboard_with_the_answer_in_sight(
    chromium, address, width, height, text
):
    # Text of twice the size is half the window.
    window = {"width": width // text, "height": height // text}
    with visitor(chromium, viewport=window, device_scale_factor=text) as context:
        page = open_ready(context.new_page(), address + "swap/")
        card = page.locator("liquid-swap")
        presses = 0
        for label, keys in RECIPE:
            box = card.get_by_label(label, exact=True)
            # Tab from field to field; what a box holds is selected, so that one types over it.
            while not box.evaluate("(box) => box === document.activeElement"):
                if page.evaluate("document.activeElement === document.body"):
                    card.get_by_label("Kind of flour", exact=True).focus()
                page.keyboard.press("Tab")
                presses += 1
                assert presses < 80, label
            for key in keys:
                if key in KEYS_THAT_ARE_NAMES:
                    expect(card.locator(".dw-found-one[aria-selected=true]")).to_be_visible()
                    page.keyboard.press(key)
                else:
                    page.keyboard.type(key)
                presses += 1 if key in KEYS_THAT_ARE_NAMES else len(key)
                assert page.evaluate(TYPED_INTO), label
                answer_seen(card)
        # “2” beside egg is asked about, and a press makes it two eggs.
        offer = card.get_by_role("button", name="2 eggs")
        expect(offer).to_be_visible()
        while not offer.evaluate("(each) => each === document.activeElement"):
            page.keyboard.press("Tab")
            presses += 1
            assert presses < 90
        page.keyboard.press("Enter")
        answer_seen(card)
        expect(card.locator(".dw-answer")).to_contain_text("of kefir (whole milk)")
        expect(card.locator('[data-cell="after amount3"]')).to_have_text("100\u00a0g")
        # The same water: the table's kefir and milk, by hand 400 × 88.32 ÷ 88.07 (USDA, as calc/data names them).
        assert presses < 70
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
