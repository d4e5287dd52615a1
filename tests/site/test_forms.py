"""What every form does with what a reader typed, in a real browser."""

import re

import pytest
from playwright.sync_api import expect

from docs.parts import PARTS, dry_sample, liquid_swap, scale_formula
from docs.parts.shared import formula_form
from docs.parts.shared.fields import FieldErrors
from exercises.publish.html import write
from tests.site.conftest import open_ready, settled

PAGES = {
    "liquid-swap": "swap/",
    "dough-temperature": "temperature/",
    "side-by-side": "side-by-side/",
}


@pytest.fixture
def opened(page, address):
    """Open the page of a part, and wait for Python in it."""

    def open_part(name, query=""):
        return open_ready(page, address + PAGES[name] + query).locator(name)

    return open_part


def field(part, label):
    return part.get_by_label(label, exact=True).first


# Choosing units never changes an amount.


def test_a_bare_weight_stays_the_same_weight_when_the_unit_changes(opened, page):
    part = opened("liquid-swap")
    field(part, "Flour").fill("600")
    field(part, "Liquid: weight or % of flour").fill("65 %")
    part.locator('[name="amount3"]').fill("80")
    expect(part.locator(".dw-sheet")).to_contain_text("13.3\u00a0%")
    part.get_by_text("Grams or ounces, decimal mark, scale").click()
    field(part, "Weights in").select_option("oz")
    expect(part.locator(".dw-sheet")).to_contain_text("2.8\u00a0oz")
    expect(part.locator(".dw-sheet")).to_contain_text("13.3\u00a0%")
    expect(field(part, "Flour")).to_have_value("600 g")
    expect(part.locator('[name="amount3"]')).to_have_value("80 g")
    expect(field(part, "Liquid: weight or % of flour")).to_have_value("65 %")
    expect(field(part, "Part to swap: % or weight")).to_have_value("100 %")
    assert "amount3=80+g" in page.url


def test_bare_weights_of_an_old_link_keep_their_unit(opened):
    part = opened("liquid-swap", "?flour=21&amount3=1/2&mass=oz")
    expect(part.locator(".dw-sheet")).to_contain_text("21.0\u00a0oz")
    part.get_by_text("Grams or ounces, decimal mark, scale").click()
    field(part, "Weights in").select_option("g")
    expect(field(part, "Flour")).to_have_value("21 oz")
    expect(part.locator('[name="amount3"]')).to_have_value("1/2 oz")


def test_bare_degrees_keep_their_unit(opened):
    part = opened("dough-temperature")
    field(part, "Rise by mixing").fill("4")
    part.get_by_text("Tap, refrigerator, ice, bowl").click()
    field(part, "Ice").fill("-18")
    field(part, "Room").focus()
    # Who leaves a box sees how the number in it is read.
    expect(field(part, "Ice")).to_have_value("-18 °C")
    part.get_by_text("Grams or ounces, decimal mark, °C or °F").click()
    field(part, "Temperatures in").select_option("°F")
    expect(field(part, "Rise by mixing")).to_have_value("4 °C")
    expect(field(part, "Ice")).to_have_value("-18 °C")


# What was changed can be undone.


def press(page, text):
    """By keyboard alone."""
    button = page.get_by_role("button", name=text)
    button.focus()
    page.keyboard.press("Enter")


def test_each_change_can_be_undone_and_so_can_starting_again(opened, page):
    part = opened("liquid-swap")
    undo = part.get_by_role("button", name="Undo")
    expect(undo).to_have_attribute("aria-disabled", "true")
    field(part, "Flour").fill("740 g")
    settled(page, "flour=740")
    # Letter by letter is one change.
    field(part, "Flour").press_sequentially(" ")
    settled(page, "flour=740+g+")
    part.locator('[name="with4"]').select_option("honey")
    part.locator('[name="amount4"]').fill("5 %")
    expect(part.locator('[data-cell="after amount4"]')).to_contain_text("37")
    press(page, "Take out: salt")
    expect(part.locator('[data-cell="after amount4"]')).to_be_empty()
    press(page, "Start again")
    expect(field(part, "Flour")).to_have_value("500 g")
    expect(part.locator(".dw-did")).to_contain_text("“Undo” brings back")
    press(page, "Undo")
    expect(field(part, "Flour")).to_have_value("740 g ")
    expect(part.locator('[name="with3"]')).to_have_value("honey")
    page.keyboard.press("Enter")
    expect(part.locator('[name="with4"]')).to_have_value("honey")
    expect(part.locator('[name="amount1"]')).to_have_value("2 %")
    expect(undo).to_be_focused()
    for _ in range(4):
        expect(part.locator(".dw-output")).not_to_have_attribute("aria-busy", "true")
        page.keyboard.press("Enter")
    expect(field(part, "Flour")).to_have_value("500 g")
    expect(undo).to_have_attribute("aria-disabled", "true")


def test_start_again_gives_back_the_name_of_a_bake_and_its_results(opened, page):
    part = opened("side-by-side")
    field(part, "Name of this bake").fill("class 2, week 5")
    part.locator('[name="kefir.1.height"]').fill("98")
    field(part, "Loaves of each").fill("3")
    expect(part.locator("[data-outcomes]")).to_contain_text("98 mm")
    press(page, "Start again")
    expect(field(part, "Name of this bake")).to_have_value("our first bake")
    expect(part.locator('[name="kefir.1.height"]')).to_have_value("")
    part.get_by_role("button", name="Undo").click()
    expect(field(part, "Name of this bake")).to_have_value("class 2, week 5")
    expect(field(part, "Loaves of each")).to_have_value("3")
    expect(part.locator('[name="kefir.1.height"]')).to_have_value("98 mm")


# How an amount was read.


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("65", ("Read as 65 g, 13.0 % of the flour.", ["65 %", "65 ml"])),
        ("65 g", ("Read as 65 g, 13.0 % of the flour.", ["65 %"])),
        ("0.65", ("Read as 0.65 g, 0.1 % of the flour.", ["65 %"])),
        ("1", ("Read as 1 g, 0.2 % of the flour.", ["100 %", "1 cup"])),
        ("325", ("Read as 325 g, 65.0 % of the flour.", ["325 ml"])),
        ("65 %", None), ("65 percent", None), ("65 per cent", None), ("325 g", None), ("0.02 kg", None),
    ],
)  # fmt: skip
def test_what_may_be_a_percentage_is_shown_as_it_is_read(typed, says):
    values = liquid_swap.PART.fields({}) | {"flour": "500 g", "liquid": typed}
    answer = liquid_swap.PART.respond(values)
    remark, offers = says or (None, [])
    assert answer["remarks"] == ({"liquid": remark} if says else {})
    assert answer["offers"] == ({"liquid": offers} if says else {})
    for text in offers:
        assert not liquid_swap.PART.respond(values | {"liquid": text})["offers"]


@pytest.mark.parametrize(
    ("typed", "says", "offers"),
    [
        ("50", "Read as 50 % of the liquid.", ["50 g"]),
        ("150", "Read as 150 g.", []),
        ("1/2", "Read as 50 % of the liquid.", ["1/2 g"]),
    ],
)
def test_a_part_is_a_percentage_up_to_a_hundred_and_a_weight_above(typed, says, offers):
    values = liquid_swap.PART.fields({}) | {"liquid": "325 g", "part": typed}
    answer = liquid_swap.PART.respond(values)
    assert answer["remarks"] == {"part": says}
    assert answer["offers"] == ({"part": offers} if offers else {})


def test_the_remark_stands_under_its_field_and_refuses_nothing(opened):
    part = opened("liquid-swap")
    box = field(part, "Liquid: weight or % of flour")
    box.fill("65")
    remark = part.locator('.dw-complaint[data-for="liquid"]')
    expect(remark).to_contain_text("Read as 65")
    expect(part.locator(".dw-answer").first).to_contain_text("Weigh 72")
    expect(box).not_to_have_attribute("aria-invalid", "true")
    assert remark.get_attribute("id") in box.get_attribute("aria-describedby")
    remark.get_by_role("button", name="65 %").click()
    expect(box).to_be_focused()
    expect(box).to_have_value("65 %")
    expect(remark).to_be_empty()
    expect(part.locator(".dw-answer").first).to_contain_text("Weigh 361")


@pytest.mark.parametrize("flour", ["20000 kg", "11 000 000", "30000 lb"])
def test_a_weight_beyond_all_bakeries_is_refused_beside_its_field(flour):
    values = liquid_swap.PART.fields({}) | {"flour": flour, "liquid": "65 %"}
    with pytest.raises(FieldErrors) as told:
        liquid_swap.PART.result(values)
    assert list(told.value.messages) == ["flour"]
    assert "more than 10 tonnes" in told.value.messages["flour"]


# What there is of the new liquid, and room for a rich formula.


def test_a_weight_of_the_new_liquid_says_what_stays_of_the_old_one(opened, page):
    part = opened("liquid-swap")
    part.locator('[name="was"]').select_option("whole-milk")
    field(part, "Liquid: weight or % of flour").fill("340 g")
    part.locator('[name="becomes"]').select_option("egg")
    field(part, "Part to swap: % or weight").fill("100 g")
    expect(part.locator(".dw-answer").first).to_contain_text("254")
    expect(part.locator(".dw-answer").first).to_contain_text("stays")
    expect(part.locator(".dw-steps")).to_contain_text("part of the whole milk to take out")
    expect(part.locator(".dw-bounds")).to_contain_text("The whole milk that stays may need to be")
    assert "part=100+g" in page.url
    field(part, "Part to swap: % or weight").fill("500 g")
    beside = part.locator('.dw-complaint[data-for="part"]')
    expect(beside).to_contain_text(
        "500\u00a0g of whole egg brings more water than 340\u00a0g of whole milk"
    )
    expect(beside).to_contain_text("At most 395.9")
    part.get_by_text("In Python: the exact call").click()
    expect(part.locator("python-cell textarea")).to_contain_text("swap_weight")


@pytest.mark.parametrize(
    ("typed", "says"),
    [("9 eggs", "At most"), ("1 heaped cup", "fill the spoon level"), ("0 g", "above 0"), ("400 g", "At most"), ("wet", "cannot read")],
)  # fmt: skip
def test_a_part_that_cannot_be_is_told_beside_its_field(typed, says):
    values = liquid_swap.PART.fields({}) | {"liquid": "300 g", "becomes": "egg", "part": typed}
    with pytest.raises(FieldErrors) as told:
        liquid_swap.PART.result(values)
    assert list(told.value.messages) == ["part"]
    assert says in told.value.messages["part"]


def test_a_measure_is_read_in_every_field_and_told_and_its_bounds_widen_the_answer():
    values = liquid_swap.PART.fields({"with": "egg 100 g; salt 9 g"}) | {
        "flour": "4 cups", "liquid": "1 cup of milk", "was": "whole-milk", "becomes": "oat-drink",
        "amount1": "2 eggs", "amount2": "1 1/2 tsp",
    }  # fmt: skip
    told = liquid_swap.PART.respond(values)["remarks"]
    assert told["liquid"].startswith("1 cup of milk: 244 g, a US cup of 236.6 ml")
    assert told["amount1"].startswith("2 eggs: 100 g, shell off")
    assert list(told) == ["flour", "liquid", "amount1", "amount2"]
    measured = liquid_swap.PART.result(values).swap
    weighed = liquid_swap.PART.result(values | {"liquid": f"{measured.old.grams} g"}).swap
    assert measured.new.grams == weighed.new.grams
    wide, narrow = (each.working.bounds()["new"] for each in (measured, weighed))
    assert wide.width > narrow.width + 5
    assert narrow.low in wide.widened(1)
    assert narrow.high in wide.widened(1)


def test_a_measure_of_the_new_liquid_says_what_stays():
    values = liquid_swap.PART.fields({}) | {"liquid": "300 g", "becomes": "egg", "part": "2 eggs"}
    answer = liquid_swap.PART.respond(values)
    assert answer["remarks"]["part"].startswith("2 eggs: 100 g, shell off")
    made = liquid_swap.PART.result(values).swap
    assert made.working.bounds()["kept"].width > 10
    assert made.kept == pytest.approx(300 - made.new.grams * 0.7584)


def test_a_number_alone_beside_eggs_is_asked_about():
    values = liquid_swap.PART.fields({"with": "egg 50 g"}) | {"amount1": "2"}
    assert liquid_swap.PART.respond(values)["offers"]["amount1"] == ["2 %", "2 eggs"]


def test_what_is_said_to_fit_fits_in_grams_and_ounces():
    for mass in ("g", "oz"):
        values = liquid_swap.PART.fields({}) | {
            "liquid": "300 g",
            "part": f"90 {mass}",
            "mass": mass,
        }
        with pytest.raises(FieldErrors, match="At most") as told:
            liquid_swap.PART.result(values | {"part": "5 kg"})
        fits = told.value.messages["part"].partition("At most ")[2].partition(" fits")[0]
        made = liquid_swap.PART.result(values | {"part": fits})
        assert made.swap.kept < 3


def test_a_rich_formula_has_room(opened):
    part = opened("liquid-swap")
    lines = ["salt", "instant-yeast", "sugar", "butter", "egg", "whole-milk-powder", "honey"]
    for number, key in enumerate(lines, 1):
        part.locator(f'[name="with{number}"]').select_option(key)
        part.locator(f'[name="amount{number}"]').fill("2 %")
    expect(part.locator(".dw-sheet")).to_contain_text("honey")
    expect(part.locator('[name="with8"]')).to_be_visible()
    expect(part.locator('[name="with9"]')).to_be_hidden()


# Each row says what became of it.


def cells(tool, **changed):
    values = tool.fields({"with": "salt 2 %; water 20 g; butter 100 g; salt 5 g"}) | changed
    return tool.respond(values)["cells"]


def grams(text):
    return sum(float(number) for number in re.findall(r"([\d.]+).g\b", text.replace("\u00a0", " ")))


@pytest.mark.parametrize("kind", ["after", "ahead"])
@pytest.mark.parametrize(
    "name", ["liquid-swap", "balance-formula", "scale-formula", "preferment-form"]
)
def test_the_rows_of_a_column_are_the_dough(name, kind):
    """Also where two rows have one ingredient, and where the dough holds what no row has."""
    told = cells(PARTS[name], becomes="heavy-cream", part="60 %", final="skim-milk")
    column = {row: grams(text) for row, text in told.items() if row.startswith(f"{kind} ")}
    if not column:
        assert (name, kind) != ("preferment-form", "ahead")
        return
    dough = column.pop(f"{kind} dough")
    beside = [
        each
        for each in told.get("added", "").split("; ")
        if kind == "after" and "preferment:" not in each
    ]
    assert sum(column.values()) + grams(" ".join(beside)) == pytest.approx(dough, abs=3)


def test_a_row_keeps_its_weight_where_another_has_the_same_ingredient():
    told = cells(liquid_swap.PART, becomes="kefir")
    assert told["after liquid"] == "–"
    assert told["after amount2"] == "20 g"
    assert told["after amount4"] == "5.0 g"
    assert told["read liquid"] == "= 325 g"
    # The next column tells this weight.
    assert "read amount1" not in told


def test_each_ingredient_goes_in_at_its_temperature():
    told = cells(PARTS["dough-temperature"], **{"flour-at": "18 °C", "amount2": ""})
    assert told["warm flour"] == "18 °C"
    assert "warm amount2" not in told


def test_the_build_and_the_page_write_the_same_cells():
    filled = write(*liquid_swap.PART.build({"with": "salt 2 %"}))
    for name, text in liquid_swap.PART.respond(liquid_swap.PART.fields({"with": "salt 2 %"}))[
        "cells"
    ].items():
        assert re.search(f'data-cell="{name}"[^>]*>{re.escape(text)}<', filled), name


# Ounces, and a reader's own way with numbers.


def test_a_scale_is_named_in_its_own_unit():
    values = liquid_swap.PART.fields({}) | {"mass": "oz", "decimal": ",", "flour": "18 oz"}
    for scale, named, weight in (
        ("1 g", "steps of 1\u00a0g", "13,0\u00a0oz"),
        ("0.05 oz", "steps of 0,05\u00a0oz", "13\u00a0oz"),
        ("1/4 oz", "steps of 1/4\u00a0oz", "13\u00a0oz"),
    ):
        html = write(*liquid_swap.PART.respond(values | {"scale": scale})["elements"])
        assert named in html
        assert f'Weigh <strong class="dw-number">{weight}</strong> of buttermilk' in html
        assert "0,035" not in html


def test_every_scale_in_the_lists_weighs():
    for part, name, scales in (
        (liquid_swap.PART, "scale", formula_form.SCALES),
        (scale_formula.PART, "scale", formula_form.SCALES),
        (dry_sample.PART, "scale", dry_sample.SCALES),
    ):
        for scale in scales:
            for mass in ("g", "oz"):
                values = part.fields({}) | {name: scale, "mass": mass}
                if part is dry_sample.PART:
                    values |= {"before": "700 g", "after": "520 g", "again": "520 g"}
                assert part.respond(values)["says"]


def test_units_are_remembered_for_the_next_page_and_change_no_amount(opened, page, address):
    part = opened("liquid-swap")
    part.get_by_text("Grams or ounces, decimal mark, scale").click()
    field(part, "Weights in").select_option("oz")
    field(part, "Decimal mark").select_option(",")
    expect(part.locator(".dw-sheet")).to_contain_text("17,6\u00a0oz")
    # A link that says nothing about units means grams by a number alone.
    part = opened("liquid-swap", "?flour=600")
    expect(part.locator(".dw-sheet")).to_contain_text("21,2\u00a0oz")
    expect(field(part, "Flour")).to_have_value("600 g")
    # What a link says comes first.
    part = opened("liquid-swap", "?flour=500+g&decimal=.")
    expect(part.locator(".dw-sheet")).to_contain_text("17.6\u00a0oz")
    other = opened("dough-temperature")
    expect(other.locator(".dw-sheet")).to_contain_text("oz")
    assert "?" not in page.url
    press(page, "Start again")
    expect(other.locator(".dw-sheet")).to_contain_text("oz")


def test_a_remembered_style_that_is_none_is_left_alone(page, opened):
    page.add_init_script(
        'localStorage.setItem(\'doughwater/style\', \'{"mass": "stone", "decimal": 5, "flour": "1 kg"}\')'
    )
    part = opened("liquid-swap")
    expect(field(part, "Flour")).to_have_value("500 g")
    expect(part.locator('[name="mass"]')).to_have_value("g")


def test_the_formula_before_is_not_rounded_to_a_coarse_scale():
    values = scale_formula.PART.fields({}) | {"flour": "500 g", "mass": "oz", "steps": "1/4 oz"}
    html = write(*scale_formula.PART.respond(values)["elements"])
    assert "17.6\u00a0oz" in html
    assert "17.75\u00a0oz" not in html


def options(page, name):
    return page.locator(f"form [name='{name}'] option").all_text_contents()


def test_a_row_of_ingredients_gets_its_list_when_it_is_shown(page, address):
    """All the rows' lists together were two thirds of a lesson's page."""
    row = "&with1=salt&amount1=10+g&with2=butter&amount2=25+g&with3=&amount3=&with4=&with5=&with6="
    open_ready(page, f"{address}swap/?flour=500+g{row}")
    whole = options(page, "with1")
    assert len(whole) > 100
    assert options(page, "with2") == options(page, "with3") == whole
    assert len(options(page, "with4")) == 1
    assert page.locator("form [name='with2']").input_value() == "butter"
    page.locator('[name="with3"]').select_option("honey")
    page.locator('[name="with4"]').select_option("egg")
    page.locator('[name="amount3"]').fill("20 g")
    expect(page.get_by_label("Ingredient 5", exact=True)).to_be_visible()
    assert options(page, "with5") == whole
    expect(page.locator("liquid-swap .dw-sheet")).to_contain_text("honey")
    before = page.locator("form [name='with1']").input_value()
    page.get_by_role("button", name="Start again").click()
    page.get_by_role("button", name="Undo").click()
    assert page.locator("form [name='with4']").input_value() == "egg"
    assert page.locator("form [name='with1']").input_value() == before


# While one types.


def test_no_option_of_a_list_behind_a_box_is_laid_out(opened):
    """A letter has the form laid out anew; measuring all the options took most of that."""
    lists = opened("liquid-swap").locator(".dw-find > select")
    assert lists.evaluate_all("all => all.filter(({options}) => options.length > 100).length") > 3
    left_out = "all => all.map((list) => getComputedStyle(list).contentVisibility)"
    assert set(lists.evaluate_all(left_out)) == {"hidden"}


# Types quicker than Python answers; counts what is asked of it, and what a screen reader is told. Then half a
# number: the line that is seen keeps the last answer for as long as there is no rest.
TYPED_QUICKLY = """async (part) => {
  const {engine} = await import(new URL('../engine/engine.js', location.href));
  const {ask} = engine;
  const told = part.querySelector(':scope > [role=status]'), seen = part.querySelector(':scope > .dw-status');
  const box = part.form.elements.namedItem('flour');
  const type = (text) => {
    box.value = text;
    box.dispatchEvent(new Event('input', {bubbles: true}));
  };
  const counts = {asked: 0, told: 0};
  engine.ask = (...all) => (counts.asked++, ask.apply(engine, all));
  new MutationObserver(() => counts.told++).observe(told, {childList: true});
  for (let flour = 501; flour <= 530; flour++) type(flour === 520 ? 'much' : `${flour} g`);
  await part.asking;
  counts.shown = part.output.textContent.includes('530');
  while (!told.textContent) await new Promise((soon) => setTimeout(soon, 20));
  engine.ask = ask;
  const heard = counts.told, before = seen.textContent;
  type('530 gx');
  await part.asking;
  counts.kept = !part.rest.waits || seen.textContent === before;
  return {...counts, told: heard};
}"""


def test_only_the_newest_is_asked_and_a_screen_reader_is_told_when_typing_rests(opened):
    part = opened("liquid-swap")
    counts = part.evaluate(TYPED_QUICKLY)
    assert counts == {"asked": 2, "told": 1, "shown": True, "kept": True}
    expect(field(part, "Flour")).to_have_attribute("aria-invalid", "true")
    for line in ("> .dw-status", "> [role=status]"):
        expect(part.locator(line)).to_contain_text("Not changed yet.")
