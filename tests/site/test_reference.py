"""The reference: ingredient table, formulas, Python reference, glossary, sources."""

import importlib
import inspect
import json
import pkgutil
import re
from functools import cache

import pytest
from bs4 import BeautifulSoup
from playwright.sync_api import expect

import calc
from calc import composition
from calc.allergens import ALLERGENS
from calc.quantities import RANKINGS, REGISTRY
from docs.course.formula_list import anchor
from docs.course.ingredient_table import names_for
from docs.course.python_reference import anchors
from docs.parts.worked_example import given_list
from exercises.draws import draw
from exercises.problems import load, set_keys
from tests.calc.test_composition import usda
from tests.site.conftest import open_page


def soup_of(site, name):
    return BeautifulSoup((site / name / "index.html").read_text("utf-8"), "html.parser")


# The ingredient table, before any script.


@pytest.fixture(scope="module")
def rows(site):
    """Each row's cells by the label a phone shows, as the HTML has them."""
    found = {}
    for row in soup_of(site, "reference/ingredients").select("ingredient-table tbody tr"):
        cells = {cell["data-label"]: cell for cell in row.find_all("td")}
        found[row["id"].removeprefix("of-")] = {"name": row.th} | cells
    return found


def number(cell):
    """The figure a cell shows, without the small print; None where it is not known."""
    shown = cell.find(string=True, recursive=False)
    return float(shown) if shown else None


PARTS = {
    "Water": "water", "Fat": "fat", "Protein": "protein", "Carbohydrate": "carbohydrate",
    "Sugars": "sugars", "Salt": "salt",
}  # fmt: skip


def test_the_table_has_every_ingredient_in_order(rows):
    assert list(rows) == list(composition.table())


@pytest.mark.parametrize("each", composition.table().values(), ids=lambda each: each.key)
def test_every_figure_is_the_compositions(rows, each):
    row = rows[each.key]
    for label, part in PARTS.items():
        share = getattr(each, part)
        if share is None:
            assert row[label].get_text() == "not known", label
            continue
        # Salt is reckoned from sodium, and shown to 0.01 g where there is 0.1 g or more.
        loose = 0.005 + 1e-9 if part == "salt" and share >= 0.001 else 1e-9
        assert number(row[label]) == pytest.approx(100 * share, abs=loose), label
        assert float(row[label]["data-value"]) == pytest.approx(100 * share, abs=1e-4), label
    around = row["Water"].find("small")
    if each.water_range.width:
        ends = [float(end) for end in around.get_text().split(" to ")]
        assert ends == pytest.approx([100 * each.water_range.low, 100 * each.water_range.high])
    else:
        assert around is None
    if each.ph is None:
        assert row["pH"].get_text() == "not known"
    else:
        ends = [float(end) for end in row["pH"].get_text().split(" to ")]
        assert (ends[0], ends[-1]) == (each.ph.low, each.ph.high)
    named = [ALLERGENS[word].name for word in each.allergens]
    assert row["Allergens"].get_text() == (", ".join(named) or "none named")


def test_the_table_shows_what_the_usda_prints(rows):
    """Outside check: USDA National Nutrient Database for Standard Reference, rows by NDB number."""
    checked = 0
    for cells in rows.values():
        cited = re.match(r"USDA table, row (\d+)", cells["Source"].get_text())
        if cited:
            row = usda()[cited[1]]
            for label, column in (("Water", "water_g"), ("Fat", "fat_g"), ("Protein", "protein_g")):
                assert number(cells[label]) == float(row[column])
            checked += 1
    assert checked > 100


def test_every_source_is_named_in_words_and_leads_to_its_place(site, rows):
    places = {tag["id"] for tag in soup_of(site, "sources").find_all(id=True)}
    for key, each in composition.table().items():
        links = rows[key]["Source"].find_all("a")
        given = [each.source, each.water_range_source] if each.water_range.width else [each.source]
        given += [each.ph_source] if each.ph else []
        given += [each.density_source] if each.density else []
        given += [each.bulk_source] if each.bulk else []
        if each.sugars is not None and each.sugars_source != each.source:
            given.append(each.sugars_source)
        assert sorted(link["href"].partition("#")[2] for link in links) == sorted(
            source.partition(":")[0] for source in given
        ), key
        for link in links:
            assert link["href"].startswith("../../sources/#")
            assert link["href"].partition("#")[2] in places
            assert "usda-sr" not in link.get_text()


def test_a_row_is_found_by_its_other_names(rows):
    assert names_for(composition.find("oat drink"))[1] == "oat milk"
    for each in composition.table().values():
        for name in each.also:
            assert name in rows[each.key]["name"].parent["data-names"].split("|")


# The ingredient table in a browser.


@pytest.fixture
def table(page, address):
    return open_page(page, address + "reference/ingredients/")


def column(page, place):
    """What the rows in sight show in one column, from the top."""
    return page.evaluate(
        """(place) => [...document.querySelectorAll('ingredient-table tbody tr')]
             .filter((row) => row.checkVisibility()).map((row) => row.cells[place].dataset.value)""",
        place,
    )


def status(page):
    return page.locator("ingredient-table > .dw-status")


def test_finds_by_the_words_a_baker_says_and_tells_where_nothing_is_found(table):
    for typed, found in (
        ("yoghurt", "plain yogurt (whole milk)"),
        ("curd", "plain yogurt (low fat)"),
        ("CREAM", "sour cream (light)"),
        ("crème fraîche", "creme fraiche"),
        ("soya", "soy drink"),
        ("strong flour", "bread flour"),
    ):
        table.get_by_label("Find an ingredient").fill(typed)
        names = column(table, 0)
        assert found in names
        assert len(names) < 30
        match = "matches" if len(names) == 1 else "match"
        expect(status(table)).to_contain_text(
            f"{len(names)} of {len(composition.table())} ingredients {match} “{typed}”."
        )
    # A word must begin a word.
    table.get_by_label("Find an ingredient").fill("oat")
    names = column(table, 0)
    assert {"oat drink", "oat flour", "cooked oats"} <= set(names)
    assert "goat milk" not in names
    table.get_by_label("Find an ingredient").fill("<b>gravel</b>")
    expect(status(table)).to_contain_text("No ingredient matches “<b>gravel</b>”. Try one word")
    assert column(table, 0) == []
    table.get_by_label("Find an ingredient").fill("")
    assert len(column(table, 0)) == len(composition.table())
    expect(table).not_to_have_url(re.compile("find="))


def test_sorts_by_figures_with_the_unknown_last_and_by_words_with_the_keyboard(table):
    for head, place in (("Water", 1), ("Fat", 2), ("Salt", 6), ("pH", 7)):
        button = table.locator("ingredient-table").get_by_role("button", name=head, exact=True)
        cell = table.locator("ingredient-table thead th").nth(place)
        for sort in ("descending", "ascending"):
            button.click()
            expect(cell).to_have_attribute("aria-sort", sort)
            values = column(table, place)
            known = [float(value) for value in values if value]
            assert known == sorted(known, reverse=sort == "descending"), head
            assert not any(values[len(known) :]), head
        assert table.locator("ingredient-table [aria-sort]").count() == 1
    button = table.locator("ingredient-table").get_by_role("button", name="Ingredient", exact=True)
    button.focus()
    table.keyboard.press("Enter")
    names = column(table, 0)
    assert names[0] == "1 % milk"
    assert names[-1] == "winter squash puree"
    expect(status(table)).to_have_text(
        f"{len(composition.table())} ingredients. Sorted by ingredient, smallest or A first."
    )
    table.keyboard.press("Space")
    assert column(table, 0) == names[::-1]


def test_the_address_opens_the_same_view(table, context):
    table.get_by_label("Find an ingredient").fill("cream")
    table.get_by_label("Sort by").select_option("fat")
    table.get_by_label("In order").select_option("down")
    names = column(table, 0)
    assert names[0] == "clotted cream"
    again = context.new_page()
    again.goto(table.url)
    expect(status(again)).to_contain_text("match “cream”. Sorted by fat, largest or Z first.")
    assert column(again, 0) == names
    assert again.get_by_label("Find an ingredient").input_value() == "cream"


def test_an_address_with_an_unknown_column_shows_the_table(page, address):
    page.goto(address + "reference/ingredients/?by=colour&order=sideways&find=milk")
    expect(status(page)).to_contain_text("match “milk”.")
    assert page.get_by_label("Sort by").input_value() == ""


def test_a_phone_shows_blocks_with_labels_and_nothing_sideways(page, address):
    page.set_viewport_size({"width": 360, "height": 800})
    open_page(page, address + "reference/ingredients/?find=kefir")
    row = page.locator("#of-kefir")
    expect(row).to_be_visible()
    expect(row.get_by_text("Protein")).to_be_hidden()
    row.get_by_role("button", name="Figures of kefir").click()
    row.locator("summary").click()
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    label = row.locator("td").first.evaluate("cell => getComputedStyle(cell, '::before').content")
    assert label == '"Water"'
    assert row.evaluate("row => row.scrollWidth <= row.clientWidth")


def test_paper_has_every_row_and_what_is_folded(table):
    table.get_by_label("Find an ingredient").fill("kefir")
    table.emulate_media(media="print")
    assert len(column(table, 0)) == len(composition.table())
    expect(table.locator("#of-kefir details dl")).to_be_visible()
    expect(table.get_by_label("Find an ingredient")).to_be_hidden()


def test_the_table_is_whole_without_scripts(without_scripts, address):
    page = without_scripts
    page.goto(address + "reference/ingredients/")
    assert page.locator("ingredient-table tbody tr").count() == len(composition.table())
    assert not page.locator("ingredient-table form").first.is_visible()


# Formulas.


def test_the_formulas_page_has_every_calculation_and_order(site):
    soup = soup_of(site, "reference/formulas")
    listed = {link["href"] for link in soup.select("formula-list nav a")}
    api = set(anchors())
    for name, quantity in REGISTRY.items():
        place = anchor("find", name)
        assert f"#{place}" in listed, name
        section = soup.find(id=place).find_parent("section")
        text = section.get_text(" ").replace("\u00a0", " ")
        assert quantity.means in text, name
        for slot in quantity.slots:
            assert slot.name in text, name
        call = section.select_one("p.dw-note a[href*='reference/python']")
        assert call["href"].partition("#")[2] in api, name
    for name, ranking in RANKINGS.items():
        section = soup.find(id=anchor("order", name)).find_parent("section")
        assert ranking.asks in section.get_text()


def test_each_example_is_a_problems_own_numbers(site):
    """What the page prints beside what the set gives the same student, worked out again."""
    soup = soup_of(site, "reference/formulas")
    asked = {
        problem.quantity.name: (problem_set, problem)
        for key in reversed(set_keys())
        for problem_set in [load(key)]
        for problem in reversed(problem_set.problems)
        if problem.quantity
    }
    assert len(asked) >= 9
    for name in REGISTRY:
        section = soup.find(id=anchor("find", name)).find_parent("section")
        if name not in asked:
            assert "No problem in the sets asks for this yet" in section.get_text(), name
            continue
        working = draw(*asked[name], "Sample").working
        text = section.get_text(" ").replace("\u00a0", " ")
        for step in working.steps.values():
            assert working.sentence(step.key) in text, name
            assert working.relation(step.key) in text, name
            assert step.why in text, name
        for given in given_list(working).iter("dt"):
            assert given.text.replace("\u00a0", " ") in text, name


# The Python reference.


def modules():
    yield calc
    for each in pkgutil.iter_modules(calc.__path__):
        if not each.name.startswith("_"):
            yield importlib.import_module(f"calc.{each.name}")


def public(module):
    """What Python itself finds: names without an underscore that the module defines."""
    for name, thing in vars(module).items():
        made_here = getattr(thing, "__module__", None) == module.__name__
        is_code = inspect.isfunction(thing) or inspect.isclass(thing)
        if not name.startswith("_") and is_code and made_here and thing.__name__ == name:
            yield name, thing


def members(thing):
    for name, each in vars(thing).items():
        code = (
            getattr(each, "fget", None)
            or getattr(each, "func", None)
            or getattr(each, "__func__", each)
        )
        if not name.startswith("_") and inspect.isfunction(code):
            yield name, code


def test_the_python_reference_has_every_public_name(site):
    soup = soup_of(site, "reference/python")
    ids = {tag["id"] for tag in soup.find_all(id=True)}
    listed = {link["href"] for link in soup.select("python-reference nav a")}
    for module in modules():
        assert module.__name__ in ids
        assert f"#{module.__name__}" in listed
        for name, thing in public(module):
            assert f"{module.__name__}.{name}" in ids
            if inspect.isclass(thing):
                for member, _ in members(thing):
                    assert f"{module.__name__}.{name}.{member}" in ids
    for constant in (
        "calc.units.KINDS",
        "calc.composition.SALT_PER_SODIUM",
        "calc.formula.MEANINGS",
    ):
        assert constant in ids


def test_the_python_reference_has_no_name_that_python_lacks():
    for name in anchors():
        module, *path = re.match(r"(calc(?:\.[a-z_]+)?)(?:\.(.+))?$", name).groups()
        thing = importlib.import_module(module)
        for step in (path[0] or "").split(".") if path[0] else ():
            # A field of a data class without a default is no attribute of the class.
            thing = getattr(thing, step)


def test_signatures_are_pythons_own(site):
    """Outside check: `inspect`, of the standard library, reads the parameters another way."""
    places = {tag["id"]: tag for tag in soup_of(site, "reference/python").find_all(id=True)}
    for module in modules():
        for name, thing in public(module):
            shown = places[f"{module.__name__}.{name}"].find_next("pre").get_text()
            assert shown.startswith(f"{name}(")
            if inspect.isfunction(thing):
                for parameter in inspect.signature(thing).parameters:
                    assert re.search(rf"\b{parameter}\b", shown), name


def test_every_public_name_has_a_docstring():
    missing = []
    for module in modules():
        if not module.__doc__:
            missing.append(module.__name__)
        for name, thing in public(module):
            own = vars(thing).get("__doc__") if inspect.isclass(thing) else thing.__doc__
            if not own or own.startswith(f"{name}("):
                missing.append(f"{module.__name__}.{name}")
            if inspect.isclass(thing):
                missing += [
                    f"{module.__name__}.{name}.{member}"
                    for member, _ in members(thing)
                    if not inspect.getdoc(getattr(thing, member))
                ]
    assert missing == []


UNITS = re.compile(
    r"\b(grams?|g|ml|cm|shares?|fractions?|per cent|points?|degrees|hours|pH|units?|level|plain number|minutes)\b|°C|°F|J/",
    re.IGNORECASE,
)


def test_a_function_of_numbers_says_in_what_unit():
    missing = [
        f"{module.__name__}.{name}"
        for module in modules()
        for name, thing in public(module)
        if inspect.isfunction(thing)
        and "float" in str(inspect.signature(thing))
        and not UNITS.search(thing.__doc__ or "")
        and module.__name__ != "calc.expression"  # it computes with any kind of number
    ]
    assert missing == []


def test_the_python_reference_runs_its_cells(page, address):
    open_page(page, address + "reference/python/")
    cell = page.locator("python-cell").first
    printed = cell.locator(".dw-printed").inner_text()
    assert "buttermilk: 361 g" in printed.replace("\u00a0", " ")
    cell.get_by_label("Python code").fill(
        "from calc.units import read\nprint(read('4 oz', 'mass').value)"
    )
    cell.get_by_role("button", name="Run").click()
    # NIST SP 811, appendix B: one ounce (avoirdupois) is 28.349 523 125 g.
    expect(cell.locator(".dw-printed")).to_contain_text("113.3980925")


# The glossary and the sources.


def test_the_glossary_is_in_order_and_every_letter_leads_somewhere(site):
    soup = soup_of(site, "reference/glossary")
    terms = [term.get_text() for term in soup.select("dl dt")]
    assert len(terms) >= 60
    plain = [term.casefold().replace("÷", "").replace("’", "") for term in terms]
    assert plain == sorted(plain)
    letters = {fold.h2.get_text(): fold for fold in soup.select("details.dw-section")}
    assert list(letters) == sorted({term[0].upper() for term in terms})
    for letter, fold in letters.items():
        assert fold.summary.h2["id"] == letter.lower()
        # Its words are told before it is opened.
        told = fold.summary.select_one(".dw-terms").get_text().split("\u00a0· ")
        assert told == [term.get_text() for term in fold.select("dl dt")]
    for term in soup.select("dl dt"):
        assert term["id"], term


@cache
def title_of(page):
    heading = re.search("<h1.*?</h1>", page.read_text("utf-8"), re.DOTALL)[0]
    return BeautifulSoup(heading, "html.parser").find(string=True).strip()


def test_every_terms_link_resolves_and_its_text_is_short(site):
    place = site / "reference" / "glossary"
    soup = soup_of(site, "reference/glossary")
    for meaning in soup.select("dl dd"):
        links = meaning.find_all("a")
        assert links, meaning
        for link in links:
            target = (place / link["href"].partition("#")[0] / "index.html").resolve()
            assert target.is_file(), link["href"]
            assert title_of(target) == link.get_text(), link["href"]
        said = meaning.get_text().removesuffix(f"See {links[-1].get_text()}.").strip()
        assert 1 <= len(re.findall(r"[.?!](?= |$)", said)) <= 3, said


def test_the_sources_page_names_every_source_of_the_table(site):
    soup = soup_of(site, "sources")
    for key, source in composition.sources().items():
        term = soup.find(id=key)
        assert source["title"] in term.get_text()
        assert source["note"] in term.find_next("dd").get_text().replace("\u00a0", " ")


def test_reference_stands_in_the_sites_search(site):
    found = json.loads((site / "search" / "search_index.json").read_text("utf-8"))["docs"]
    places = {doc["location"].partition("#")[0] for doc in found}
    assert {
        f"reference/{name}/" for name in ("ingredients", "formulas", "glossary", "python")
    } <= places
