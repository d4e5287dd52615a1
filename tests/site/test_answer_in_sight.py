"""While one types, the answer is in the window: in its place, or in the line at the window's foot."""

import pytest
from playwright.sync_api import expect

from tests.site.conftest import open_page, open_ready
from tests.site.keys import Keys

SIZES = [(320, 640), (360, 740), (740, 360), (768, 1024), (1024, 768), (1280, 800), (1920, 1080)]
TOOLS = ["", "swap/", "balance/", "temperature/", "pack/", "feel/", "scale/", "blends/", "lessons/divide-by-the-water-content/#try-it"]  # fmt: skip
# Whether the whole of a card's answer can be read now, in one place of the two.
SEEN = """(card) => {
  const seen = (each) => {
    const {top, bottom, width} = each.getBoundingClientRect();
    return top >= 0 && bottom <= innerHeight && width > 50 && getComputedStyle(each).opacity === '1';
  };
  return [card.querySelector('.dw-answer'), card.querySelector(':scope > .dw-status')].some(seen);
}"""
# Until it is seen: a line that has to come needs a moment.
COMES = f"""async (card) => {{
  for (let frames = 0; frames < 1000; frames++) {{
    if (({SEEN})(card)) return true;
    await new Promise(requestAnimationFrame);
  }}
  return false;
}}"""
# The fields at which it is not, of all those that can be typed into now.
UNSEEN = f"""async (card) => {{
  const unseen = [];
  document.activeElement.blur();
  const boxes = [...card.querySelectorAll('form input[type=text]')].filter((box) => box.checkVisibility());
  for (const box of boxes) {{
    box.focus();
    await new Promise(requestAnimationFrame);
    if (!await ({COMES})(card)) unseen.push(box.name);
  }}
  return [boxes.length, unseen];
}}"""
# Whether what has the focus is in the window too, and not under what sticks to its edges.
TYPED_INTO = """() => {
  const {left, right, top, bottom} = document.activeElement.getBoundingClientRect();
  const there = document.elementFromPoint((left + right) / 2, (top + bottom) / 2);
  return there === document.activeElement;
}"""


def answer_seen(card):
    assert card.evaluate(COMES)


@pytest.mark.parametrize("tool", TOOLS)
def test_the_answer_is_in_sight_at_every_field(page, address, tool):
    page.set_viewport_size({"width": 1280, "height": 800})
    open_page(page, address + tool)
    card = page.locator(".dw-card:has(form):visible").first
    for width, height in SIZES:
        page.set_viewport_size({"width": width, "height": height})
        fields, unseen = card.evaluate(UNSEEN)
        assert fields > 1
        assert unseen == [], f"{width}x{height}"


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


# Three jobs by keyboard alone: what is pressed is what a reader presses. Each gives the labels of fields with what is
# typed into them, in the order in which Tab reaches them; then the presses that such a job may take at most.
KEYS_THAT_ARE_NAMES = ("Enter",)
# 640 g of bread flour, 160 g of rye, 400 g of whole milk, salt, yeast, 2 eggs; kefir takes the milk's place.
OWN_RECIPE = [
    ("Flour", ["640"]),
    ("Liquid in the formula", ["whole milk", "Enter"]),
    ("Liquid: weight or % of flour", ["400"]),
    ("New liquid", ["kefir", "Enter"]),
    ("Ingredient 3", ["egg", "Enter"]),
    ("Amount 3", ["2"]),
    ("Ingredient 4", ["rye fl", "Enter"]),
    ("Amount 4", ["20%"]),
]
# A tub of something sour: 150 g hold 5 g of fat, 7 g of carbohydrate, all of it sugars, and 6 g of protein.
PACK = [
    ("One serving", ["150g"]), ("Total fat", ["5"]), ("Carbohydrate", ["7"]), ("Sugars", ["7"]),
    ("Protein", ["6"]), ("Sodium", ["70"]),
]  # fmt: skip
FROM_PACK = [("Flour", ["640"]), ("Liquid: weight or % of flour", ["400"])]
# The whole dough, 200 g of poolish of its rye, and buttermilk for the rest of the water.
POOLISH = [
    ("Flour", ["640"]),
    ("Ingredient 3", ["rye fl", "Enter"]),
    ("Amount 3", ["160"]),
    ("How much", ["200"]),
    ("Its flour", ["rye fl", "Enter"]),
]


class Keyboard(Keys):
    """Who works in one card without a mouse, counts what is typed too, and sees the answer at each key."""

    def __init__(self, page, name, start):
        super().__init__(page)
        self.card = page.locator(name).first
        self.field(start).focus()

    def field(self, label):
        return self.card.get_by_label(label, exact=True)

    def job(self, steps):
        """Tab from field to field; what a box holds is selected, so that one types over it."""
        for label, keys in steps:
            self.tab_to(self.field(label))
            for key in keys:
                self.type(key)
                assert self.page.evaluate(TYPED_INTO), label
                answer_seen(self.card)

    def type(self, key):
        if key in KEYS_THAT_ARE_NAMES:
            expect(self.card.locator(".dw-found-one[aria-selected=true]")).to_be_visible()
            self.press(key)
        else:
            self.page.keyboard.type(key)
            self.presses += len(key)

    def follow(self, name, role="link"):
        """Tab to a button or link of the answer, and press it."""
        self.tab_to(self.card.get_by_role(role, name=name))
        self.press("Enter")

    def says(self, *texts):
        for text in texts:
            expect(self.card.locator(".dw-answer")).to_contain_text(text)
        answer_seen(self.card)
        assert self.page.evaluate("document.documentElement.scrollWidth <= innerWidth")


def swap_ones_own_recipe(page, address):
    open_ready(page, address + "swap/")
    hands = Keyboard(page, "liquid-swap", "Kind of flour")
    hands.job(OWN_RECIPE)
    # “2” beside egg is asked about, and a press makes it two eggs.
    offer = hands.card.get_by_role("button", name="2 eggs")
    expect(offer).to_be_visible()
    hands.tab_to(offer)
    hands.press("Enter")
    expect(hands.card.locator('[data-cell="after amount3"]')).to_have_text("100\u00a0g")
    # By hand: 640 g are 80 % of the flour, so the rye weighs 160 g. The same water: the table's kefir and milk,
    # 400 × 88.32 ÷ 88.07 = 401 g (USDA, as calc/data names them).
    expect(hands.card.locator('[data-cell="after amount4"]')).to_have_text("160\u00a0g")
    hands.says("401\u00a0g", "of kefir (whole milk)")
    return hands.presses


def swap_from_a_pack(page, address):
    open_ready(page, address + "pack/")
    hands = Keyboard(page, "pack-reader", "Panel")
    hands.job(PACK)
    # By hand: 18 g of 150 g are fat, carbohydrate and protein, and such a food holds about 0.8 % of minerals and
    # 0.7 % of acid more (docs/pages/pack.md); its salt is among the minerals.
    hands.says("87.")
    hands.follow("Use it in a swap")
    page.wait_for_url("**/swap/**")
    expect(page.locator("html")).to_have_attribute("data-engine", "ready")
    swap = Keyboard(page, "liquid-swap", "Kind of flour")
    swap.job(FROM_PACK)
    swap.says("of your liquid", "4")
    return hands.presses + swap.presses


def take_a_poolish_out(page, address):
    open_ready(page, address + "blends/")
    hands = Keyboard(page, "preferment-form", "Kind of flour")
    hands.job(POOLISH)
    # By hand: half of the 200 g is rye, so 60 g of the 160 g are left; 65 % of 800 g are 520 g of water, and the 420 g
    # that the poolish does not hold are 466 g of buttermilk at 90.13 % water (USDA, as calc/data names it).
    expect(hands.card.locator('[data-cell="ahead amount3"]')).to_have_text("100\u00a0g")
    expect(hands.card.locator('[data-cell="after amount3"]')).to_have_text("60\u00a0g")
    hands.says("200\u00a0g", "of buttermilk")
    return hands.presses


# Each job with the most keys that it may take; Tab is one.
JOBS = [(swap_ones_own_recipe, 90), (swap_from_a_pack, 45), (take_a_poolish_out, 60)]


# Each layout of the style sheet once: a phone both ways, a tablet, a desk, and a desk with text of twice the size,
# which is half the window.
@pytest.mark.parametrize(
    "window", [(360, 740), (740, 360), (1024, 768), (1280, 800), (640, 400)], ids=str
)
@pytest.mark.parametrize(("job", "most"), JOBS)
def test_a_job_is_done_by_keyboard_with_the_answer_in_sight(page, address, job, most, window):
    page.set_viewport_size(dict(zip(("width", "height"), window, strict=True)))
    assert job(page, address) < most
