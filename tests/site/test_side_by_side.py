"""The side-by-side bake in a real browser: plan, sheets, results, files."""

import csv
import io
import json

import pytest
from bs4 import BeautifulSoup
from playwright.sync_api import expect

from docs.parts import side_by_side
from docs.parts.shared.fields import FieldErrors
from docs.parts.shared.side_by_side_files import harmless, open_json
from exercises.publish.html import write
from tests.site.conftest import open_page, open_ready, settled, tells_bad_input

LOAVES = ".dw-loaves:not(.dw-scores) details"
LIQUIDS = ("kefir", "orange-juice", "half-and-half", "water")


@pytest.fixture
def bake(page, address):
    """The page, with Python running in it."""
    return open_ready(page, address + "side-by-side/")


def plan(page, label):
    return page.locator("side-by-side .dw-beside form").get_by_label(label, exact=True)


def box(page, liquid, loaf, measure):
    return page.locator(f'side-by-side .dw-loaves [name="{liquid}.{loaf}.{measure}"]')


def type_heights(page):
    for liquid, heights in zip(LIQUIDS, ("104 106", "96 97", "95 97", "88 86"), strict=True):
        for loaf, height in enumerate(heights.split(), 1):
            box(page, liquid, loaf, "height").fill(height)
    expect(page.locator("[data-outcomes] circle")).to_have_count(8)


def test_the_page_is_right_before_any_script(site):
    soup = BeautifulSoup((site / "side-by-side/index.html").read_text("utf-8"), "html.parser")
    part = soup.find("side-by-side")
    text = part.get_text(" ").replace("\u00a0", " ")
    # Water 65 % of 500 g = 325 g, over the water in 100 g: 88 g in kefir (from memory) and
    # 80.57 g in half and half (USDA, NDB 1049).
    assert f"kefir (whole milk) {325 / 0.88:.0f} g" in text
    assert f"half and half {325 / 0.8057:.0f} g" in text
    assert len(part.select(".dw-bench")) == 4
    assert len(part.select(".dw-taster")) == 8
    allergens, answer = str(part).index("Allergens in each dough"), str(part).index("Bench sheets")
    assert allergens < answer


def test_tasting_sheets_hold_codes_and_no_liquids(site):
    soup = BeautifulSoup((site / "side-by-side/index.html").read_text("utf-8"), "html.parser")
    sheets = soup.select(".dw-taster")
    key = soup.select_one('[data-sheet="key"]')
    assert not any(sheet.find_parent(attrs={"data-sheet": "key"}) for sheet in sheets)
    for sheet in sheets:
        assert "milk" not in sheet.get_text()
        codes = [row.find("th").get_text() for row in sheet.select("tbody tr")]
        assert len(set(codes)) == 4
        assert all(code in key.get_text() for code in codes)


def test_plans_and_keeps_the_plan_in_the_address(bake, context):
    plan(bake, "Flour").fill("300 g")
    bake.locator('[name="liquid4"]').select_option("")
    plan(bake, "Loaves of each").fill("3")
    plan(bake, "Tasters").fill("6")
    expect(bake.locator(".dw-bench")).to_have_count(3)
    expect(bake.locator(".dw-taster")).to_have_count(6)
    expect(bake.locator(LOAVES)).to_have_count(9)
    expect(bake.locator('[data-sheet="tasting"]')).to_contain_text("the order is balanced")
    again = context.new_page()
    again.goto(bake.url)
    expect(again.locator(".dw-bench")).to_have_count(3)
    assert plan(again, "Tasters").input_value() == "6"


def test_a_bad_plan_is_told_beside_its_field(bake):
    tells_bad_input(
        bake.locator("side-by-side"),
        plan,
        [
            ("Flour", "", "Give the flour a weight"),
            ("Loaves of each", "0", "whole number of loaves of each liquid, from 1 to 5"),
            ("Tasters", "many", "whole number of tasters"),
            ("Name of this bake", " ", "Give the bake a name"),
        ],
    )
    expect(bake.locator(".dw-bench")).to_have_count(4)
    bake.locator('[name="liquid2"]').select_option("kefir")
    expect(bake.locator(".dw-complaint", has_text="appears twice")).to_be_visible()


def test_results_are_shown_and_stay_over_a_reload(bake):
    type_heights(bake)
    outcomes = bake.locator("[data-outcomes]")
    # Pooled spread of pairs 2, 1, 2 and 2 mm apart: the kefir loaf stands 18 mm above the control's.
    expect(outcomes).to_contain_text("kefir (whole milk) minus water: 18.0 mm")
    expect(outcomes).to_contain_text("larger than the spread can explain")
    expect(outcomes.locator(".dw-dots")).to_have_count(4)
    expect(outcomes.locator("circle")).to_have_count(8)
    expect(outcomes.locator("title").first).to_contain_text("loaf 1 104 mm, loaf 2 106 mm")
    assert "104" not in bake.url
    bake.reload()
    expect(bake.locator("[data-outcomes] circle")).to_have_count(8)
    assert box(bake, "water", 2, "height").input_value().startswith("86")


def test_one_loaf_each_says_nothing_beyond_the_loaf(bake):
    plan(bake, "Loaves of each").fill("1")
    expect(bake.locator(LOAVES)).to_have_count(4)
    box(bake, "kefir", 1, "height").fill("104")
    box(bake, "half-and-half", 1, "height").fill("60")
    outcomes = bake.locator("[data-outcomes]")
    expect(outcomes).to_contain_text("about that one loaf")
    expect(outcomes).to_contain_text("cannot be said")
    expect(outcomes).not_to_contain_text("larger than the spread can explain")


def test_tasters_are_told_apart_by_their_own_scores(bake):
    """Tasters of very unlike levels agree on the order: the page finds it, their levels taken out."""
    bake.locator('[name="liquid4"]').select_option("")
    bake.locator('[name="liquid3"]').select_option("")
    plan(bake, "Tasters").fill("5")
    plan(bake, "The question: what matters most").select_option("softness")
    expect(bake.locator(".dw-scores.dw-loaves details")).to_have_count(6)
    for taster, (milk, other) in enumerate(((9, 6), (5, 3), (8, 5), (4, 1), (7, 5)), 1):
        bake.locator(".dw-scores summary", has_text=f"Taster {taster}").click()
        box(bake, "kefir", taster, "score-softness").fill(str(milk))
        box(bake, "orange-juice", taster, "score-softness").fill(str(other))
    outcomes = bake.locator("[data-outcomes]")
    expect(outcomes).to_contain_text("Larger than the spread can explain:")
    expect(outcomes).to_contain_text("kefir (whole milk) minus orange juice: 2.6")
    expect(outcomes).to_contain_text("each taster’s own level is taken out")


def test_a_triangle_test_is_read_with_its_table(bake):
    bake.get_by_text("Two breads only: a triangle test or a paired test").click()
    needed = bake.locator(".dw-table", has_text="How many must choose alike")
    # FAO V7180E, appendix A: 8 tasters, 5 %: 6 right.
    expect(needed.locator("tr", has_text="8 tasters (yours)")).to_contain_text("6 (")
    bake.get_by_text("kefir (whole milk) and orange juice", exact=True).click()
    bake.get_by_label("Triangle test: how many tasted").fill("8")
    bake.get_by_label("Triangle test: how many found the odd one").fill("6")
    expect(bake.locator("[data-outcomes]")).to_contain_text(
        "tasters can tell these two breads apart"
    )
    bake.get_by_label("Triangle test: how many found the odd one").fill("9")
    expect(bake.locator("[data-told]")).to_contain_text(
        "Triangle test: More cannot choose than taste"
    )


def test_the_plan_says_before_the_bake_what_it_can_see(bake):
    sight = bake.locator(".dw-table", has_text="with 6 pairs to compare")
    yours = sight.locator("tr", has_text="your plan")
    # scipy: t of 8 loaves' 4 degrees of freedom at 0.05 / 6 is 4.85.
    expect(yours).to_contain_text("4.9 spreads")
    plan(bake, "Its spread, if you know it").fill("4 mm")
    expect(yours).to_contain_text("19.4 mm")
    plan(bake, "The question: what matters most").select_option("proof")
    expect(bake.locator(".dw-complaint", has_text="Choose the same volume")).to_be_visible()


def test_a_bake_without_water_says_what_it_cannot_say(bake):
    expect(bake.locator('[data-sheet="plan"]')).not_to_contain_text("No dough with plain water")
    bake.locator('[name="liquid4"]').select_option("oat-drink")
    expect(bake.locator('[data-sheet="plan"]')).to_contain_text("No dough with plain water")


def test_a_bad_cell_is_told_and_nothing_is_lost(bake):
    box(bake, "kefir", 1, "height").fill("104")
    box(bake, "orange-juice", 2, "height").fill("tall")
    box(bake, "half-and-half", 1, "before").fill("800")
    box(bake, "half-and-half", 1, "after").fill("900")
    told = bake.locator("[data-told]")
    expect(told).to_contain_text("orange juice, loaf 2, height: I cannot read a number in “tall”")
    expect(told).to_contain_text(
        "half and half, loaf 1, weight after baking: A loaf cannot weigh more"
    )
    expect(box(bake, "orange-juice", 2, "height")).to_have_attribute("aria-invalid", "true")
    beside = bake.locator('.dw-loaves [data-for="orange-juice.2.height"]')
    expect(beside).to_contain_text("cannot read")
    expect(bake.locator("[data-outcomes]")).to_contain_text("104 mm")
    # A plan that cannot be read does not hide or lose the results.
    plan(bake, "Flour").fill("")
    expect(bake.locator(".dw-complaint", has_text="Give the flour")).to_be_visible()
    expect(beside).to_contain_text("cannot read")
    plan(bake, "Flour").fill("600 g")
    settled(bake, "flour=600")
    assert box(bake, "orange-juice", 2, "height").input_value() == "tall"
    box(bake, "orange-juice", 2, "height").fill("98")
    expect(box(bake, "orange-juice", 2, "height")).not_to_have_attribute("aria-invalid", "true")


def test_a_bare_number_keeps_its_unit_when_the_unit_changes(bake):
    bake.get_by_text("Grams or ounces, °C or °F, decimal mark, scale").click()
    plan(bake, "Weights in").select_option("oz")
    expect(
        bake.locator(".dw-loaves label", has_text="weight after baking, oz").first
    ).to_be_visible()
    box(bake, "kefir", 1, "after").fill("28,5")
    box(bake, "kefir", 1, "after").blur()
    expect(box(bake, "kefir", 1, "after")).to_have_value("28,5 oz")
    plan(bake, "Weights in").select_option("g")
    expect(bake.locator("[data-outcomes]")).to_contain_text("808 g")  # 28.5 × 28.3495 g


def saved(page, name):
    with page.expect_download() as waiting:
        page.get_by_role("button", name=name).click()
    return waiting.value.path().read_bytes().decode("utf-8")


def test_saves_csv_and_json_and_opens_the_json_again(bake, address):
    type_heights(bake)
    bake.locator(".dw-scores summary", has_text="Taster 3").click()
    box(bake, "orange-juice", 3, "score-taste").fill("7")
    box(bake, "orange-juice", 1, "remark").fill('=1+1, "dull" crust')
    expect(bake.locator("[data-outcomes] circle")).to_have_count(8)
    text = saved(bake, "Save as CSV")
    assert text.count("\r\n") == 9
    rows = list(csv.DictReader(io.StringIO(text, newline="")))
    assert [row["height (mm)"] for row in rows] == [
        "104",
        "106",
        "96",
        "97",
        "95",
        "97",
        "88",
        "86",
    ]
    assert rows[2]["remark"] == '\'=1+1, "dull" crust'
    scores = list(csv.DictReader(io.StringIO(saved(bake, "Save the scores as CSV"), newline="")))
    assert len(scores) == 8 * 4
    (given,) = [row for row in scores if row["taste"]]
    assert (given["taster"], given["liquid"], given["taste"]) == ("3", "orange juice", "7")
    kept = saved(bake, "Save as JSON")
    assert json.loads(kept)["results"]["kefir.1.height"].startswith("104")
    # As if on another device.
    bake.goto(address + "404.html")
    bake.evaluate("localStorage.clear()")
    open_page(bake, address + "side-by-side/")
    expect(bake.locator("[data-outcomes] circle")).to_have_count(0)
    bake.set_input_files(
        "side-by-side .dw-files input[type=file]",
        {"name": "bake.json", "mimeType": "application/json", "buffer": kept.encode()},
    )
    expect(bake.locator("[data-outcomes] circle")).to_have_count(8)
    assert box(bake, "orange-juice", 3, "score-taste").input_value() == "7"
    assert box(bake, "orange-juice", 1, "remark").input_value() == '=1+1, "dull" crust'


def test_opening_a_file_asks_before_it_replaces_results(bake):
    type_heights(bake)
    kept = saved(bake, "Save as JSON").replace('"104', '"111')
    file = {"name": "bake.json", "mimeType": "application/json", "buffer": kept.encode()}
    asked = []
    bake.once("dialog", lambda dialog: (asked.append(dialog.message), dialog.dismiss()))
    bake.set_input_files("side-by-side .dw-files input[type=file]", file)
    expect(bake.locator(".dw-files .dw-did")).to_contain_text("stay as they were")
    assert "Put those of the file in their place?" in asked[0]
    assert box(bake, "kefir", 1, "height").input_value().startswith("104")
    bake.once("dialog", lambda dialog: dialog.accept())
    bake.set_input_files("side-by-side .dw-files input[type=file]", file)
    expect(box(bake, "kefir", 1, "height")).to_have_value("111 mm")


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("no json", "it is not JSON"),
        ("[" * 100_000, "it is not JSON"),
        ("[]", "not a side-by-side bake"),
        ('{"doughwater": "side-by-side bake", "version": 99}', "another version"),
        ('{"doughwater": "side-by-side bake", "version": 1, "plan": []}', "are missing"),
        (
            '{"doughwater": "side-by-side bake", "version": 1, "plan": {"x": "1"}, "results": {}}',
            "does not know",
        ),
        (
            '{"doughwater": "side-by-side bake", "version": 1, "plan": {"flour": 5}, "results": {}}',
            "not a short text",
        ),
        (
            '{"doughwater": "side-by-side bake", "version": 1, "plan": {},'
            ' "results": {"<img src=x>": "1"}}',
            "not one that this page knows",
        ),
        (" " * 500_001, "too large"),
    ],
    ids=lambda value: value[:20],
)
def test_a_hostile_file_is_refused_with_the_reason(text, says):
    with pytest.raises(FieldErrors, match=says):
        open_json(text, side_by_side.fields_of({}))


def test_a_refused_file_is_told_and_changes_nothing(bake):
    type_heights(bake)
    bake.set_input_files(
        "side-by-side .dw-files input[type=file]",
        {"name": "x.json", "mimeType": "application/json", "buffer": b"<script>alert(1)</script>"},
    )
    expect(bake.locator('.dw-complaint[data-for="file"]')).to_contain_text("it is not JSON")
    assert box(bake, "kefir", 1, "height").input_value().startswith("104")


def test_rubbish_in_the_store_does_not_stop_the_page(page, address):
    page.add_init_script(
        """localStorage.setItem('doughwater/side-by-side/our first bake',
             JSON.stringify({'kefir.1.height': '104', 'x': {'y': 1}, '<b>': 'z'}))"""
    )
    page.goto(address + "side-by-side/")
    expect(page.locator("[data-outcomes] circle")).to_have_count(1)


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r", "\n"])
def test_no_cell_starts_a_formula(start):
    """The starts that OWASP's page on CSV injection names (from memory), and a line feed."""
    assert harmless(f"{start}cmd") == f"'{start}cmd"
    assert harmless("plain - text") == "plain - text"


def test_prints_one_bench_sheet_a_page_and_the_key_apart(bake):
    bake.evaluate("window.print = () => {}")
    bake.get_by_role("button", name="Print the code key").click()
    assert pages(bake) == 1
    bake.get_by_role("button", name="Print the bench sheets").click()
    assert pages(bake) == 4
    # After printing, the page is whole again; so press once more to look at what prints.
    bake.get_by_role("button", name="Print the bench sheets").click()
    bake.emulate_media(media="print")
    expect(bake.locator('[data-sheet="bench"]')).to_be_visible()
    expect(bake.locator('[data-sheet="key"]')).to_be_hidden()
    expect(bake.locator("h1")).to_be_hidden()
    bake.emulate_media(media="screen")
    bake.get_by_role("button", name="Print the tasting sheets").click()
    bake.emulate_media(media="print")
    expect(bake.locator(".dw-taster").nth(7)).to_be_visible()
    expect(bake.locator('[data-sheet="key"]')).to_be_hidden()
    expect(bake.locator('[data-sheet="bench"]')).to_be_hidden()


def pages(page):
    """How many pages the browser prints."""
    margins = dict.fromkeys(("top", "right", "bottom", "left"), "0.5in")
    return page.pdf(format="Letter", margin=margins).count(b"/Type /Page\n")


def test_works_by_keyboard_alone(bake):
    box(bake, "kefir", 1, "height").focus()
    bake.keyboard.type("104")
    bake.keyboard.press("Tab")
    bake.keyboard.type("21")
    expect(bake.locator("[data-outcomes] circle")).to_have_count(2)
    bake.keyboard.type("00")  # the reader's place is not lost when the pictures are drawn again
    bake.keyboard.press("Enter")
    expect(bake.locator("[data-outcomes]")).to_contain_text("2100 ml")
    expect(bake.locator("[data-outcomes] circle")).to_have_count(2)
    assert box(bake, "kefir", 1, "volume").input_value().startswith("2100")


def test_opens_the_calculation_in_python(bake):
    bake.get_by_text("In Python: the exact call").click()
    cell = bake.locator("side-by-side python-cell")
    cell.get_by_role("button", name="Run").click()
    expect(cell.locator(".dw-printed")).to_contain_text("half and half 403.4 g, hydration 0.65")


def test_a_bake_is_found_again_by_its_name_in_other_letters(bake, address):
    plan(bake, "Name of this bake").fill("Sunday Test")
    plan(bake, "Loaves of each").fill("1")
    expect(box(bake, "kefir", 2, "height")).to_have_count(0)
    box(bake, "kefir", 1, "height").fill("104 mm")
    expect(bake.get_by_role("button", name="Sunday Test", exact=True)).to_be_visible()
    key = bake.locator('[data-sheet="key"] tbody').first
    codes = key.text_content()
    bake.goto(address + "side-by-side/")
    # By its button the whole plan comes back.
    bake.get_by_role("button", name="Sunday Test", exact=True).click()
    expect(box(bake, "kefir", 1, "height")).to_have_value("104 mm")
    expect(box(bake, "kefir", 2, "height")).to_have_count(0)
    # By hand its results come back, and the codes that are printed on its sheets.
    bake.goto(address + "side-by-side/?loaves=1&word=++sunday+++test")
    expect(box(bake, "kefir", 1, "height")).to_have_value("104 mm")
    expect(key).to_have_text(codes)
    box(bake, "kefir", 1, "height").fill("105 mm")
    kept = "() => Object.keys(localStorage).filter((key) => key.includes('side-by-side/'))"
    assert bake.evaluate(kept) == ["doughwater/side-by-side/Sunday Test"]


def test_names_of_kept_bakes_stay_text(bake):
    bake.evaluate(
        """() => localStorage.setItem('doughwater/side-by-side/<img src=x onerror=1>', '{"a.1.height": "3"}')"""
    )
    bake.reload()
    expect(bake.get_by_role("button", name="<img src=x onerror=1>")).to_be_visible()
    assert bake.locator("side-by-side [data-kept] img").count() == 0


def test_each_sheet_bears_the_name_of_the_bake():
    shown = side_by_side.respond(side_by_side.fields_of({}) | {"word": "group blue"})
    soup = BeautifulSoup(write(*shown["elements"]), "html.parser")
    sheets = soup.select('.dw-bench, .dw-taster, [data-sheet="plan"], [data-sheet="key"]')
    assert len(sheets) > 4
    for each in sheets:
        assert "Bake: group blue" in each.get_text()
    # An empty place is on the screen alone.
    waiting = BeautifulSoup(shown["outcomes"], "html.parser").find("p")
    assert waiting.parent["class"] == ["dw-empty-place"]


def test_a_new_name_leaves_the_reader_in_the_box_of_a_loaf(bake):
    codes = bake.locator(LOAVES).first.locator("summary")
    before = codes.inner_text()
    plan(bake, "Name of this bake").evaluate(
        """(name, box) => {
            name.value = 'class 4, week 2';
            name.dispatchEvent(new Event('input', {bubbles: true}));
            document.querySelector(`[name="${box}"]`).focus();
        }""",
        "kefir.1.height",
    )
    # The codes hang on the name: all boxes are new.
    expect(codes).not_to_have_text(before)
    bake.keyboard.type("97")
    expect(box(bake, "kefir", 1, "height")).to_have_value("97")


def test_a_height_typed_before_the_script_came_is_kept(newcomer, address):
    page, held = newcomer.new_page(), []
    page.route("**/side-by-side.js", lambda route: held.append(route))
    page.goto(address + "side-by-side/")
    box(page, "kefir", 1, "height").fill("97")
    held.pop().continue_()
    expect(page.locator("[data-outcomes]")).to_contain_text("97 mm")
    expect(box(page, "kefir", 1, "height")).to_have_value("97")
