"""Ingredients of the reader's own in a real browser, hostile ones too."""

import json

import pytest
from playwright.sync_api import expect

from tests.site.conftest import open_ready

SHELF = "doughwater/ingredients"
HOSTILE = "<img src=x onerror=document.title='hacked'><script>1"


@pytest.fixture
def own(page, address):
    """The page of own ingredients, with Python running in it."""
    return open_ready(page, address + "ingredients/")


def field(page, label):
    return page.locator("own-ingredients").get_by_label(label, exact=True)


def keep(page, name, water, **more):
    field(page, "Name").fill(name)
    field(page, "Water").fill(water)
    for label, text in more.items():
        field(page, label.replace("_", " ")).fill(text)
    if not page.locator("own-ingredients [name^=allergen-]:checked").count():
        field(page, "none of these").check()
    page.get_by_role("button", name="Keep this ingredient").click()


def stored(page):
    return json.loads(page.evaluate("(shelf) => localStorage.getItem(shelf)", SHELF) or "null")


def rows(page):
    return page.locator("own-ingredients tbody tr")


def test_keeps_an_ingredient_and_uses_it_in_other_parts(own, address):
    field(own, "egg").check()
    field(own, "It spoils: it must be kept cold").check()
    keep(own, "My thin quark", "80 g", Fat="0,2", Protein="11 %", Sugars="4")
    expect(rows(own)).to_have_count(1)
    expect(rows(own)).to_contain_text("My thin quark")
    open_ready(own, address + "swap/")
    swap = own.locator("liquid-swap")
    swap.locator('[name="becomes"]').select_option(label="My thin quark")
    # 325 g of water ÷ 0.80
    expect(swap.locator(".dw-answer").first).to_contain_text("406")
    # All the water in a quark comes first: it wets the flour badly.
    expect(swap.locator(".dw-caution").first).to_contain_text("held in curd")
    expect(swap.locator(".dw-caution").nth(1)).to_contain_text("Egg")
    expect(swap.locator(".dw-caution").nth(2)).to_contain_text("My thin quark can spoil")
    assert "becomes=own-my-thin-quark" in own.url
    own.reload()
    expect(swap.locator(".dw-answer").first).to_contain_text("My thin quark")
    swap.get_by_text("In Python: the exact call").click()
    swap.get_by_role("button", name="Run").click()
    expect(swap.locator(".dw-printed")).to_contain_text("new weight: 406.25")
    own.goto(address + "feel/")
    own.locator("acidity-and-feel").locator('[name="liquid1"]').select_option(label="My thin quark")
    expect(own.locator("acidity-and-feel section li", has_text="My thin quark")).to_have_count(4)


def test_a_name_with_a_script_stays_text_everywhere(own, address):
    keep(own, HOSTILE, "80")
    expect(rows(own)).to_contain_text(HOSTILE)
    for name, part, field_name in (
        ("swap/", "liquid-swap", "becomes"),
        ("feel/", "acidity-and-feel", "liquid1"),
    ):
        open_ready(own, address + name)
        chosen = own.locator(part)
        chosen.locator(f'[name="{field_name}"]').select_option(label=HOSTILE)
        expect(chosen.locator(".dw-output")).to_contain_text(HOSTILE)
        assert chosen.locator("img, script").count() == 0
        assert own.title() != "hacked"


def test_changes_and_removes(own):
    keep(own, "My puree", "90", Fat="1")
    own.get_by_role("button", name="Change My puree").click()
    expect(field(own, "Water")).to_have_value("90")
    expect(field(own, "Fat")).to_have_value("1")
    field(own, "Water").fill("85")
    own.get_by_role("button", name="Keep this ingredient").click()
    expect(rows(own)).to_contain_text("85")
    expect(rows(own)).to_have_count(1)
    own.get_by_role("button", name="Remove My puree").click()
    expect(rows(own)).to_have_count(0)
    assert stored(own) == []
    open_ready(own, own.url)
    expect(own.get_by_text("No ingredient of your own yet")).to_be_visible()


WRONG = (
    ("Name", "", "Give it a name"),
    ("Name", "Buttermilk", "has Buttermilk already"),
    ("Water", "", "Give its water"),
    ("Water", "a lot", "cannot read a number"),
    ("Water", "101", "from 0 to 100"),
    ("Fat", "40", "one is too high"),
)


def test_what_is_wrong_is_told_beside_its_field_and_nothing_is_lost(own):
    for label, typed, says in WRONG:
        field(own, "Name").fill("My liquid")
        field(own, "Water").fill("80")
        field(own, label).fill(typed)
        own.get_by_role("button", name="Keep this ingredient").click()
        expect(own.locator("own-ingredients .dw-complaint", has_text=says)).to_be_visible()
        assert field(own, label).input_value() == typed
    assert stored(own) is None


def test_asks_what_the_pack_names_as_allergens(own):
    field(own, "Name").fill("My drink")
    field(own, "Water").fill("90")
    own.get_by_role("button", name="Keep this ingredient").click()
    complaint = own.locator("own-ingredients .dw-complaint[data-for=allergens]")
    expect(complaint).to_contain_text("Read the pack")
    field(own, "none of these").check()
    own.get_by_role("button", name="Keep this ingredient").click()
    expect(rows(own)).to_contain_text("none on its pack")
    own.get_by_role("button", name="Change My drink").click()
    expect(field(own, "none of these")).to_be_checked()


def test_saves_to_a_file_and_reads_it_back(own, tmp_path):
    field(own, "egg").check()
    keep(own, "My custard", "70", Fat="5")
    expect(rows(own)).to_have_count(1)
    with own.expect_download() as saving:
        own.get_by_role("button", name="Save to a file").click()
    file = tmp_path / saving.value.suggested_filename
    saving.value.save_as(file)
    saved = json.loads(file.read_text("utf-8"))
    assert saved["ingredients"][0]["name"] == "My custard"
    assert saved["ingredients"][0]["allergens"] == ["egg"]
    own.get_by_role("button", name="Remove My custard").click()
    expect(rows(own)).to_have_count(0)
    own.get_by_label("Read from a file").set_input_files(file)
    expect(rows(own)).to_contain_text("My custard")
    expect(rows(own)).to_contain_text("egg")


BAD_FILES = {
    "not JSON": "ingredients: yes",
    "nothing in it": "{}",
    "too deep": "[" * 100_000,
    "an impossible one": json.dumps(
        [{"name": "good", "water": 50}, {"name": "bad one", "water": 500}]
    ),
}


def test_a_link_carries_the_shelf_and_keeps_nothing_unasked(own, context, address):
    context.grant_permissions(["clipboard-read", "clipboard-write"])
    field(own, "egg").check()
    keep(own, "My custard", "70", Fat="5")
    expect(rows(own)).to_have_count(1)
    expect(field(own, "Name")).to_have_value("")
    keep(own, "My <b>drink</b>", "90")
    expect(rows(own)).to_have_count(2)
    own.get_by_role("button", name="Copy a link to all of them").click()
    expect(own.locator("own-ingredients .dw-status")).to_contain_text("The link is copied")
    link = own.evaluate("navigator.clipboard.readText()")
    assert "?" not in link
    own.evaluate("localStorage.clear()")
    own.goto("about:blank")
    own.goto(link)
    expect(own.locator("own-ingredients")).to_contain_text("This link brings 2 ingredients")
    expect(own.locator("own-ingredients")).to_contain_text("My <b>drink</b>")
    assert stored(own) is None
    own.get_by_role("button", name="Keep them on this device").click()
    expect(own.locator("own-ingredients .dw-status")).to_contain_text("Added 2 ingredients")
    assert [each["name"] for each in stored(own)] == ["My custard", "My <b>drink</b>"]
    assert "#" not in own.url


@pytest.mark.parametrize(
    "shelf", ["%", "[]", "nonsense", "[" * 900, '[{"name":"x","water":"much"}]']
)
def test_a_link_that_cannot_be_read_is_told(page, address, shelf):
    page.goto(f"{address}ingredients/#shelf={shelf}")
    expect(page.locator("own-ingredients .dw-status")).to_contain_text("cannot be read")
    assert stored(page) is None


def test_a_changed_name_leaves_no_twin(own):
    keep(own, "My custard", "70")
    own.get_by_role("button", name="Change My custard").click()
    field(own, "Name").fill("School custard")
    own.get_by_role("button", name="Keep this ingredient").click()
    expect(rows(own)).to_have_count(1)
    expect(rows(own)).to_contain_text("School custard")


def test_a_bad_file_is_told_and_adds_nothing(own, tmp_path):
    for number, text in enumerate(BAD_FILES.values()):
        file = tmp_path / f"mine{number}.json"
        file.write_text(text, "utf-8")
        box = own.get_by_label("Read from a file")
        box.set_input_files(file)
        # Once the file is answered to, its box is empty again.
        expect(box).to_have_value("")
        says = "Ingredient 2 in the file" if "bad one" in text else "holds no ingredients"
        expect(own.locator("own-ingredients .dw-complaint", has_text=says)).to_be_visible()
        expect(rows(own)).to_have_count(0)


STORES = {
    "not JSON": "{{{",
    "a string": '"hello"',
    "null": "null",
    "an object": '{"a": 1}',
    "too deep": "[" * 100_000,
    "strange entries": json.dumps(
        [None, 7, [], {}, {"key": "water", "name": "lead", "kind": "liquid", "water": 1},
         {"key": {"a": 1}, "name": "x", "kind": "liquid"}, {"name": "good one", "water": 50}]
    ),
    "too large": json.dumps(["x" * 300_000]),
}  # fmt: skip


@pytest.mark.parametrize("store", STORES.values(), ids=STORES.keys())
def test_a_broken_or_hostile_store_breaks_no_page(page, address, store):
    page.add_init_script(f"localStorage.setItem('{SHELF}', {json.dumps(store)})")
    open_ready(page, address + "swap/")
    swap = page.locator("liquid-swap")
    swap.locator('[name="becomes"]').select_option("water")
    expect(swap.locator(".dw-answer").first).to_contain_text("Weigh 325")


def test_a_store_with_strange_entries_can_be_put_right(page, address):
    page.goto(address + "swap/")
    page.evaluate(
        "([shelf, text]) => localStorage.setItem(shelf, text)", [SHELF, STORES["strange entries"]]
    )
    open_ready(page, address + "ingredients/")
    expect(page.locator("own-ingredients .dw-status")).to_contain_text("cannot be read")
    keep(page, "My rescue", "60")
    expect(rows(page).filter(has_text="My rescue")).to_have_count(1)
    kept = stored(page)
    assert [each["name"] for each in kept] == ["lead", "good one", "My rescue"]
    assert kept[0]["key"] == "own-lead"


def test_the_shelf_has_a_name_that_the_link_brings(own, context, address):
    context.grant_permissions(["clipboard-read", "clipboard-write"])
    keep(own, "My drink", "90", Weight_of_1_ml="1,04 g")
    expect(rows(own)).to_contain_text("1.04 g")
    field(own, "Name of this shelf").fill("School <b>bakery")
    field(own, "Name of this shelf").blur()
    expect(own.locator("own-ingredients caption")).to_contain_text("School <b>bakery. Kept")
    own.get_by_role("button", name="Copy a link to all of them").click()
    expect(own.locator("own-ingredients .dw-status")).to_contain_text("The link is copied")
    link = own.evaluate("navigator.clipboard.readText()")
    own.evaluate("localStorage.clear()")
    own.goto("about:blank")
    own.goto(link)
    expect(own.locator("own-ingredients")).to_contain_text("“School <b>bakery”: 1 ingredient")
    own.get_by_role("button", name="Keep them on this device").click()
    expect(field(own, "Name of this shelf")).to_have_value("School <b>bakery")
    assert stored(own)[0]["density"] == 1.04
