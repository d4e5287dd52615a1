"""The site for readers who do not see, point, or read small text well.

The rules are not ours: axe-core (npm, at the version locked in `tests/axe/`) tests what a machine can
of the W3C's Web Content Accessibility Guidelines (WCAG) 2.2, levels A and AA, and its makers' list of
best practice. Where a test checks a guideline by itself, it names it.
"""

import json
import re
from itertools import pairwise
from pathlib import Path

import pytest
from playwright.sync_api import TimeoutError, expect

from docs.build.site import ROOT
from docs.engine.npm import installed
from tests.site.conftest import DESK, at_problem, open_page, open_ready, visitor
from tests.site.searching import open_search
from tests.site.test_pages import PAGES

AXE = Path(__file__).resolve().parent.parent / "axe"
STANDARDS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
DEMO = [f"demo/{name}.html" for name in ("report", "worksheet", "key", "put-in-and-found")]
EVERY_PAGE = [*PAGES, *DEMO, "404.html"]
# One of each kind of page, where a test takes many steps in each.
KINDS = ["swap/", "practice/first-swaps/", "reference/ingredients/", "lessons/finding-the-water/"]

# WCAG 2.5.8 is new, and axe-core leaves its rule off unless asked.
IN_FULL = {
    "runOnly": {"type": "tag", "values": STANDARDS},
    "rules": {"target-size": {"enabled": True}},
}
# Where there is a fold of each kind: what is in it, and in a lesson's later steps, is looked at for its colours.
FOLDED = [*KINDS, "practice/skills/"]
UNFOLD = """() => {
    for (const fold of document.querySelectorAll(".md-content details")) fold.open = true;
    for (const step of document.querySelectorAll(".dw-step[hidden], form[data-problem][hidden]")) step.hidden = false;
}"""
COLOURS = {"runOnly": {"type": "rule", "values": ["color-contrast", "link-in-text-block"]}}
# What is hidden breaks few rules, yet half of axe's time goes into it. So it leaves the page, save what those rules look
# at, what something in sight is named by, and what the theme's script would miss.
SHOWN = """() => {
    const BY_ID = ["for", "headers", "list", ...["labelledby", "describedby", "controls", "owns", "details",
        "activedescendant", "errormessage", "flowto"].map((name) => `aria-${name}`)];
    const shown = [...document.querySelectorAll("*")].filter((each) => each.checkVisibility());
    const names = new Set(shown.flatMap((each) => BY_ID.flatMap((by) => each.getAttribute(by)?.split(" ") ?? [])));
    const naming = [...document.querySelectorAll("[id]")].filter((each) => names.has(each.id));
    const stays = new Set(naming.flatMap((each) => [...each.querySelectorAll("*")]));
    const looked = document.querySelectorAll("[accesskey], area, blink, marquee, [data-md-component], [data-md-toggle]");
    for (const each of [...shown, ...naming, ...looked])
        for (let up = each; up && !stays.has(up); up = up.parentElement) stays.add(up);
    for (const each of document.body.querySelectorAll(":not(script, style, svg *, option, optgroup)"))
        if (!stays.has(each)) each.remove();
}"""
# The theme's own is the same around every page, each with its names in it.
FRAME = ".md-header, .md-tabs, .md-sidebar, .md-footer { display: none }"
DOUBLE = """() => {
    const ids = [...document.querySelectorAll("[id]")].map((each) => each.id);
    return ids.filter((id, place) => ids.indexOf(id) !== place);
}"""

SCHEMES = {"light": "default", "dark": "slate"}
TURN = """(scheme) => {
    if (document.body.dataset.mdColorScheme) document.body.dataset.mdColorScheme = scheme;
}"""
STYLE = ROOT / "docs/pages/assets/style.css"
# What the style sheet chooses by its value looks different with another one; an option of a list is not seen.
VALUED = sorted(set(re.findall(r"\[([\w-]+)[~|^$*]?=", STYLE.read_text("utf-8"))) - {"value"})
# Of rows, entries and shapes that are written alike in one list, two stay: axe looks at each element several times,
# and takes seconds for a long table. Alike is what has the same tags, classes and attributes, and words in the same
# places; so what axe would tell of the third is told of the first, and how close such rows are of the first two.
# A table's row goes where two others have what each of its cells has.
THIN = """(valued) => {
    const SAYS = ["class", "style", "role", "lang", "aria-hidden", "aria-level", ...valued];
    const told = ({name, value}) => SAYS.includes(name) ? `${name}=${value}` : value ? name : `no ${name}`;
    const text = (node) => node.nodeType === Node.TEXT_NODE && node.data.trim() ? "…" : "";
    const alone = (each) => each.localName + [...each.attributes].map(told).join(" ");
    const look = (each) => alone(each)
        + `(${[...each.childNodes].map((node) => node.nodeType === Node.ELEMENT_NODE ? look(node) : text(node)).join("")})`;
    const looks = (each) => each.localName === "tr"
        ? [alone(each), ...[...each.children].map((cell, column) => `${column} ${look(cell)}`)] : [look(each)];
    const lists = document.querySelectorAll("tbody, ul, ol, dl, select, optgroup, datalist, svg, svg g");
    // What is within first: then two that only differ in how long theirs are look alike.
    for (const list of [...lists].reverse()) {
        const seen = {};
        for (const each of [...list.children]) {
            const its = looks(each);
            if (its.every((one) => seen[one] >= 2)) each.remove();
            else for (const one of its) seen[one] = (seen[one] ?? 0) + 1;
        }
    }
}"""
# The shadows at the ends of what scrolls are pictures, and of words on a picture axe tells no colours.
PLAIN = "* { background-image: none !important }"
STYLED = """(style) => {
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(style);
    document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
}"""
# What WCAG 1.4.12 lists, a line no lower than the page's own; a style sheet made so is no inline style to the page's policy.
SPACED = """* { line-height: 1.6 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important }
    p { margin-bottom: 2em !important }"""
TWICE = """() => {
    const root = document.documentElement;
    root.style.fontSize = `${2 * parseFloat(getComputedStyle(root).fontSize)}px`;
}"""
AS_BEFORE = """() => {
    document.documentElement.style.fontSize = "";
    document.adoptedStyleSheets = [];
}"""
# Text that its box cuts off. The page's title in the header, shortened, is below as the heading;
# what is typed moves in its box; the bar of a phone repeats what the part says in full; what is one pixel
# large is for screen readers.
LOST = """() => {
    const width = document.documentElement.clientWidth;
    const lost = [];
    if (document.documentElement.scrollWidth > width) lost.push("the page scrolls sideways");
    const cuts = (overflow) => ["hidden", "clip"].includes(overflow);
    for (const each of document.querySelectorAll("body *:not(input, select, textarea, svg *)")) {
        if (!each.checkVisibility({visibilityProperty: true, opacityProperty: true})) continue;
        const style = getComputedStyle(each);
        const wide = cuts(style.overflowX) && each.scrollWidth > each.clientWidth + 2;
        const high = cuts(style.overflowY) && each.scrollHeight > each.clientHeight + 2;
        const scrolls = ["auto", "scroll"].includes(style.overflowX) && each.scrollWidth > each.clientWidth;
        if (!wide && !high && !scrolls || !each.textContent.trim() || each.closest(".md-header__topic, .dw-status")) continue;
        if (each.clientWidth > 2 && (wide || high)) lost.push(`${each.localName}.${each.className} is cut`);
        const named = each.getAttribute("aria-label") && each.tabIndex === 0;
        if (scrolls && each.querySelector("table") && !named) lost.push(`${each.className} scrolls unnamed`);
    }
    return lost;
}"""
# The place of the focus: what it is, whether its outline shows, whether something covers it (2.4.7, 2.4.11).
FOCUS = """() => {
    const focused = document.activeElement;
    if (!focused || focused === document.body) return null;
    const shown = focused.matches(".md-option") ? focused.nextElementSibling : focused;
    const box = shown.getBoundingClientRect();
    const [left, top] = [Math.max(box.left, 0), Math.max(box.top, 0)];
    const [wide, high] = [Math.min(box.right, innerWidth) - left, Math.min(box.bottom, innerHeight) - top];
    const points = [0.05, 0.5, 0.95].flatMap((x) => [0.1, 0.5, 0.9].map((y) =>
        document.elementFromPoint(left + x * wide, top + y * high)));
    const style = getComputedStyle(shown);
    return {
        what: `${focused.localName}.${focused.className} “${(focused.textContent || focused.name || "").trim().slice(0, 30)}”`,
        seen: points.some((found) => found && (shown.contains(found) || found.contains(shown) && found !== document.body
            && !found.matches("main, header, html"))),
        marked: style.outlineStyle !== "none" && parseFloat(style.outlineWidth) > 0,
        top: box.top + scrollY,
        inText: Boolean(focused.closest(".md-content")),
    };
}"""
# At each press the place that it leaves; when the focus has left the page, nothing more.
NOTE_STOPS = f"""() => {{
    window.stops = [];
    const noted = () => {{
        const stop = ({FOCUS})();
        if (stop) window.stops.push(stop);
        else if (window.stops.length) document.removeEventListener("keydown", noted, true);
    }};
    document.addEventListener("keydown", noted, true);
}}"""
MOVES = """() => [...document.querySelectorAll("*")].flatMap((each) => ["", "::before", "::after"].map((part) => {
    const style = getComputedStyle(each, part || null);
    const still = (times) => times.split(",").every((time) => parseFloat(time) === 0);
    return still(style.transitionDuration) && still(style.animationDuration) && style.scrollBehavior === "auto"
        ? "" : `${each.localName}.${each.className}${part}`;
})).filter(Boolean)"""


@pytest.fixture(scope="module")
def axe():
    """The source of axe-core."""
    return (installed(AXE, "axe-core") / "axe.min.js").read_text("utf-8")


@pytest.fixture(scope="module")
def quiet(chromium):
    """A visitor who asks for no motion, and whose Python never starts: some tests look at what is there before."""
    with visitor(chromium, viewport=DESK, reduced_motion="reduce") as context:
        context.route("**/engine/worker.js", lambda route: route.abort())
        yield context


@pytest.fixture
def still(quiet):
    """A page of the quiet visitor."""
    page = quiet.new_page()
    yield page
    page.close()


def violations(page, axe, rules=IN_FULL):
    """What axe finds, a line for each place."""
    if page.evaluate("!window.axe"):
        page.evaluate(f"() => {{ {axe} }}")
        page.evaluate(STYLED, PLAIN)
    options = rules | {"resultTypes": ["violations"], "preload": False, "selectors": False}
    found = page.evaluate(
        "async (options) => (await axe.run(document, options)).violations", options
    )
    return [
        f"{rule['id']}: {place['html'][:120]} {place.get('failureSummary', '')}"
        for rule in found
        for place in rule["nodes"]
    ]


def turn(page, scheme):
    page.emulate_media(color_scheme=scheme, reduced_motion="reduce")
    page.evaluate(TURN, SCHEMES[scheme])


def both(page, axe, rules=IN_FULL):
    """What axe finds of colours in the dark page, and in the light one."""
    turn(page, "dark")
    # What the band covers in part is no small target: a reader scrolls. Where typing scrolled to is chance.
    page.evaluate("scrollTo({top: 0, behavior: 'instant'})")
    found = [f"dark: {each}" for each in violations(page, axe, COLOURS)]
    turn(page, "light")
    return found + violations(page, axe, rules)


def at_last(page, axe):
    """What axe finds where nothing is asked of the page afterwards: what tells it nothing new is taken out."""
    doubles = [f"two of id {each}" for each in page.evaluate(DOUBLE)]
    page.evaluate(THIN, VALUED)
    page.evaluate(SHOWN)
    return doubles + both(page, axe)


def tab_to(page, condition):
    """Press Tab until the focused element (`it`) meets a condition in JavaScript."""
    for _ in range(400):
        page.keyboard.press("Tab")
        if page.evaluate(f"() => {{ const it = document.activeElement; return {condition}; }}"):
            return
    raise AssertionError(f"Tab never comes to {condition}")


# Every page, as it comes.


# The tools: what one fills in is in view as the page opens.
TOOLS = ["", "swap/", "balance/", "pack/", "blends/", "feel/", "temperature/", "scale/", "side-by-side/", "ingredients/"]  # fmt: skip
FIRST_FIELD = """() => [...document.querySelectorAll('.md-content form :is(input, select, textarea)')]
  .find((each) => each.checkVisibility() && !each.closest('details:not([open])')).getBoundingClientRect().top + scrollY"""
LONGEST = 15 * 740


def is_short(page, name, width):
    """No page is above 15 screens of a phone; a tool's first field is in the first 250 pixels."""
    if width == 360:
        # What a wide page opened by itself is shut where a phone opens the page.
        page.evaluate(
            "document.querySelectorAll('.dw-loaves details').forEach((each) => each.open = false)"
        )
        # A class's report is a document for paper; the demo class shows one as it is.
        is_report = name.startswith("demo/")
        assert is_report or page.evaluate("document.documentElement.scrollHeight") <= LONGEST
    if name in TOOLS:
        assert page.evaluate(FIRST_FIELD) <= 250


# Asked until it holds: the page's own scripts must first hear of its new width.
FITS = "(width) => innerWidth === width && document.documentElement.scrollWidth <= width"


@pytest.mark.parametrize("name", EVERY_PAGE)
def test_a_page_errs_nowhere_fits_breaks_no_rule_and_loses_no_text(page, address, axe, name):
    """One visit for all that is asked of every page: a visit takes longer than what is asked in it."""
    open_page(page, address + name)
    fits(page, name)
    turn(page, "dark")
    loses_nothing(page)
    if name in FOLDED:
        page.evaluate(THIN, VALUED)
        assert both(page, axe) == []
        page.evaluate(UNFOLD)
        assert both(page, axe, COLOURS) == []
    else:
        page.evaluate(STYLED, FRAME)
        assert at_last(page, axe) == []


def fits(page, name):
    """The dark page, which has the same sizes, is looked at for this where it `loses_nothing`."""
    for width in (1280, 360):
        page.set_viewport_size({"width": width, "height": 800})
        try:
            page.wait_for_function(FITS, arg=width)
        except TimeoutError:
            pytest.fail(f"{name} scrolls sideways at {width} px")
        is_short(page, name, width)


def loses_nothing(page):
    """WCAG 1.4.12 (spacing), with it 1.4.10 (320 pixels, which is 400 %) and 1.4.4 (text of twice the size)."""
    page.evaluate(STYLED, SPACED)
    page.set_viewport_size({"width": 320, "height": 800})
    assert page.evaluate(LOST) == [], "narrow"
    page.set_viewport_size({"width": 1280, "height": 800})
    page.evaluate(TWICE)
    assert page.evaluate(LOST) == [], "twice the size"
    page.evaluate(AS_BEFORE)


@pytest.mark.parametrize(
    ("name", "entry"), [("reference/formulas/", "li"), ("reference/ingredients/", "tbody td")]
)
def test_the_rules_see_what_is_wrong(still, address, axe, name, entry):
    """That nothing is found must mean that something would be, and be it in the last entry of a long list or table."""
    open_page(still, address + name)
    entries = still.locator(f".md-content {entry}")
    entries.evaluate_all("""(all) => {
        const wrong = document.createElement("div");
        const [picture, link, small] = ["img", "a", "p"].map((name) => document.createElement(name));
        small.textContent = "Pale words";
        small.style.color = "#aaa";
        link.href = "#";
        wrong.append(picture, link, small);
        all.filter((each) => each.checkVisibility()).at(-1).append(wrong);
    }""")
    before = entries.count()
    still.evaluate(STYLED, FRAME)
    found = {each.removeprefix("dark: ").split(":")[0] for each in at_last(still, axe)}
    assert found == {"image-alt", "link-name", "color-contrast"}
    assert 2 < entries.count() < before * 2 / 3


@pytest.mark.parametrize("name", KINDS)
def test_nothing_moves_for_a_reader_who_asks_for_none(still, address, name):
    open_page(still, address + name)
    assert still.evaluate(MOVES) == []


# What happens in a page.


def test_a_marked_problem_with_its_hints_open(page, address, axe):
    open_ready(page, address + "practice/first-swaps/")
    form = at_problem(page, "yogurt-loaf")
    form.locator("input").last.fill("3 g")
    form.get_by_role("button", name="Mark my answer").click()
    expect(form.locator(".dw-wrong")).not_to_have_count(0)
    for hint in form.locator("details.dw-hint summary").all():
        hint.click()
    assert at_last(page, axe) == []


def test_a_complaint_is_read_with_its_field(page, address, axe):
    """WCAG 3.3.1: the field is marked, and what is wrong is told in words that belong to it."""
    open_ready(page, address + "swap/")
    flour = page.locator("liquid-swap input[name=flour]")
    flour.fill("much")
    expect(flour).to_have_attribute("aria-invalid", "true")
    complaint = page.locator('liquid-swap .dw-complaint[data-for="flour"]')
    described = flour.get_attribute("aria-describedby").split()
    assert described[0] == complaint.get_attribute("id")
    flour.fill("500 g")
    expect(flour).not_to_have_attribute("aria-invalid", "true")
    assert flour.get_attribute("aria-describedby").split() == described[1:]
    flour.fill("much")
    expect(flour).to_have_attribute("aria-invalid", "true")
    assert at_last(page, axe) == []


def test_the_dialog_that_asks_again(page, address, axe):
    open_ready(page, address + "practice/study/")
    page.get_by_role("button", name="Empty the log").click()
    expect(page.get_by_role("dialog")).to_be_visible()
    assert at_last(page, axe) == []


def test_results_side_by_side(page, address, axe):
    open_ready(page, address + "side-by-side/")
    heights = page.locator('side-by-side input[name$="height"]')
    for place, height in enumerate(("104", "99", "87")):
        heights.nth(place).fill(height)
    expect(page.locator("[data-outcomes] circle")).to_have_count(3)
    assert at_last(page, axe) == []


def test_the_search_with_its_list_open(page, address, axe):
    open_search(page, address)
    page.keyboard.type("yogurt")
    expect(page.locator(".md-search-result__item").first).to_be_visible()
    assert at_last(page, axe) == []


def test_a_set_that_a_teacher_writes_with_a_slip(page, address, axe):
    open_ready(page, address + "desk/write/")
    for name in ("Add a new problem", "Take problems from ours", "More about the set"):
        page.locator("summary", has_text=name).click()
    page.get_by_label("Words").fill("egg")
    page.locator('[name="problems/0/givens/flour/step"]').fill("40 g")
    expect(page.locator("set-writer .dw-complaint:visible")).to_contain_text("never reaches")
    assert both(page, axe) == []
    page.get_by_role("button", name="Text", exact=True).click()
    expect(page.locator(".dw-slips li").first).to_be_visible()
    assert at_last(page, axe) == []


def test_the_menu_of_a_narrow_page(page, address, axe):
    page.set_viewport_size({"width": 360, "height": 740})
    page.goto(address + "swap/")
    page.get_by_role("button", name="Menu").click()
    expect(page.locator(".md-nav--primary").get_by_role("link", name="Liquids")).to_be_visible()
    assert at_last(page, axe) == []


# By keyboard alone.


@pytest.mark.parametrize("width", [360, 1280])
@pytest.mark.parametrize("name", KINDS)
def test_the_focus_is_always_in_sight_and_goes_down_the_page(still, address, name, width):
    """WCAG 2.4.3, 2.4.7 and 2.4.11."""
    still.set_viewport_size({"width": width, "height": 740})
    open_page(still, address + name)
    still.evaluate(NOTE_STOPS)
    for _ in range(121):
        still.keyboard.press("Tab")
    stops = still.evaluate("stops")
    wrong = [f"covered: {stop['what']}" for stop in stops if not stop["seen"]]
    wrong += [f"no outline: {stop['what']}" for stop in stops if not stop["marked"]]
    assert not wrong, "\n".join(wrong)
    tops = [stop["top"] for stop in stops if stop["inText"]]
    # Two columns stand side by side on a wide page: the second begins higher again, once.
    back = [one for one, following in pairwise(tops) if following < one - 60]
    assert len(back) <= 1
    assert len(tops) > 5


def test_the_first_stop_skips_to_the_text(page, address):
    """WCAG 2.4.1."""
    page.goto(address + "lessons/finding-the-water/")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent").strip() == "Skip to content"
    page.keyboard.press("Enter")
    expect(page).to_have_url(re.compile("#"))
    page.keyboard.press("Tab")
    assert page.evaluate("Boolean(document.activeElement.closest('.md-content'))")


def test_a_letter_alone_is_no_shortcut(page, address):
    """WCAG 2.1.4; the theme has six such letters."""
    page.goto(address + "lessons/finding-the-water/")
    at = page.url
    for key in "pn,.fs/":
        page.keyboard.press(key)
    assert page.evaluate("document.activeElement === document.body")
    page.locator(".md-search__input").click()
    page.keyboard.type("spin")
    expect(page.locator(".md-search-result__meta")).to_contain_text("matching")
    expect(page.locator(".md-search__input")).to_have_value("spin")
    # A way to another page that a letter had begun would have ended by now.
    assert page.url == at


def test_a_problem_is_answered_helped_and_handed_in(page, address):
    open_ready(page, address + "practice/first-swaps/")
    tab_to(page, "it.name === 'student'")
    page.keyboard.type("Ada Invented")
    page.keyboard.press("Tab")
    status = page.locator("problem-set .dw-status")
    expect(status).to_contain_text("These are your numbers")
    tab_to(page, "it.closest('form[data-problem]') && it.localName === 'input'")
    page.keyboard.type("3 g")
    page.keyboard.press("Enter")
    expect(page.locator(".dw-marks")).to_contain_text("0 of")
    # A screen reader hears it there, and nowhere else again (tried with one).
    expect(page.locator("[aria-live] .dw-marks")).to_have_count(1)
    expect(status).to_be_empty()
    # The verdict is under its box, and the way to read again in it comes before the hint.
    tab_to(page, "it.localName === 'summary'")
    page.keyboard.press("Enter")
    expect(page.locator("details.dw-hint[open]")).to_have_count(1)
    tab_to(page, "it.dataset.action === 'hand-in'")
    with page.expect_download() as waiting:
        page.keyboard.press("Enter")
    handed = json.loads(Path(waiting.value.path()).read_text("utf-8"))
    assert handed["student"] == "Ada Invented"
    expect(status).to_have_text("The hand-in file is saved. 8 of 9 problems are empty.")


def test_a_set_is_written_and_looked_at(page, address):
    open_ready(page, address + "desk/write/")
    tab_to(page, "it.name === 'problems/0/title'")
    page.keyboard.press("Control+A")
    page.keyboard.type("Tuesday's loaf")
    tab_to(page, "it.dataset.do === 'down'")
    page.keyboard.press("Enter")
    # What moved keeps the focus, and can move on.
    expect(page.locator(".dw-set-open:focus")).to_have_text(re.compile("2. Tuesday's loaf"))
    tab_to(page, "it.textContent === 'Text'")
    page.keyboard.press("Enter")
    tab_to(page, "it.name === 'text'")
    page.keyboard.press("Control+Home")
    page.keyboard.type("# My set")
    page.keyboard.press("Enter")
    # Tab leaves the box: no trap (WCAG 2.1.2).
    tab_to(page, "it.name === 'student'")
    page.keyboard.type("Ada")
    expect(page.locator('set-writer form[data-problem="morning-loaf"]')).to_be_visible()
    text = page.get_by_label("The set as text").input_value()
    assert text.startswith("# My set\n")
    assert "title: Tuesday's loaf" in text


def test_code_is_changed_and_run(page, address):
    open_ready(page, address + "swap/")
    tab_to(page, "it.localName === 'summary' && it.textContent.startsWith('In Python')")
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    page.keyboard.press("Control+A")
    page.keyboard.type("print(6 * 7)")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    cell = page.locator("liquid-swap python-cell")
    expect(cell.locator("pre")).to_have_text("42\n")
    expect(cell.get_by_role("status")).to_have_text("Python has run it.")


def test_the_table_is_searched(page, address):
    open_page(page, address + "reference/ingredients/")
    status = page.locator("ingredient-table > [role=status]")
    before = status.inner_text()
    tab_to(page, "it.name === 'find'")
    page.keyboard.type("buttermilk")
    expect(status).to_contain_text("match “buttermilk”")
    assert status.inner_text() != before


def test_an_answer_of_python_is_announced(page, address):
    """WCAG 4.1.3: a result is told without the focus going there."""
    open_ready(page, address + "swap/")
    status = page.locator("liquid-swap > [role=status]")
    before = status.text_content()
    tab_to(page, "it.name === 'flour'")
    page.keyboard.press("Control+A")
    page.keyboard.type("777 g")
    expect(status).not_to_have_text(before)
    assert page.evaluate("document.activeElement.name") == "flour"


def test_the_dialog_takes_the_focus_and_gives_it_back(page, address):
    open_ready(page, address + "practice/study/")
    tab_to(page, "it.textContent === 'Empty the log'")
    page.keyboard.press("Enter")
    expect(page.locator("study-plan dialog :focus")).to_be_visible()
    page.keyboard.press("Escape")
    expect(page.locator("study-plan dialog")).to_be_hidden()
    expect(page.get_by_role("button", name="Empty the log")).to_be_focused()


def test_dark_and_light_are_switched_and_kept(page, address):
    page.emulate_media(color_scheme="light")
    page.goto(address + "swap/")
    body = page.locator("body")
    tab_to(page, "it.name === '__palette'")
    assert page.evaluate("document.activeElement.ariaLabel") == "Light page"
    page.keyboard.press("ArrowRight")
    expect(body).to_have_attribute("data-md-color-scheme", "slate")
    assert page.evaluate("document.activeElement.ariaLabel") == "Dark page"
    page.reload()
    expect(body).to_have_attribute("data-md-color-scheme", "slate")
    tab_to(page, "it.name === '__palette'")
    page.keyboard.press("Enter")
    expect(body).to_have_attribute("data-md-color-scheme", "default")


def test_a_switch_before_the_themes_script_came_counts(newcomer, page, address):
    held = []
    page.route("**/bundle.*.js", lambda route: held.append(route))
    page.emulate_media(color_scheme="light")
    page.goto(address + "swap/", wait_until="domcontentloaded")
    tab_to(page, "it.name === '__palette'")
    page.keyboard.press("ArrowRight")
    page.wait_for_function("document.querySelector('script[src*=bundle]')")
    held[0].continue_()
    expect(page.locator("body")).to_have_attribute("data-md-color-scheme", "slate")
    assert page.evaluate("document.activeElement.ariaLabel") == "Dark page"


def test_the_dark_page_comes_to_who_asks_the_browser_for_it(page, address):
    page.emulate_media(color_scheme="dark")
    page.goto(address + "swap/")
    expect(page.locator("body")).to_have_attribute("data-md-color-scheme", "slate")


def test_the_menu_of_a_narrow_page_leads_to_another_section(page, address):
    page.set_viewport_size({"width": 360, "height": 740})
    page.goto(address + "swap/")
    menu = page.locator("label.md-header__button[for=__drawer] > button")
    tab_to(page, "it.ariaLabel === 'Menu'")
    expect(menu).to_have_attribute("aria-expanded", "false")
    page.keyboard.press("Enter")
    expect(menu).to_have_attribute("aria-expanded", "true")
    focused = page.locator(":focus")
    expect(focused).to_have_attribute("aria-label", "Back from At the bench")
    page.keyboard.press("Escape")
    expect(menu).to_be_focused()
    page.keyboard.press("Space")
    page.keyboard.press("Enter")
    expect(focused).to_have_text("At the bench")
    tab_to(page, "it.textContent.trim() === 'Lessons'")
    page.keyboard.press("Space")
    expect(focused).to_have_attribute("aria-label", "Back from Lessons")
    # The menu keeps the focus: what it covers cannot be reached.
    page.keyboard.press("Tab")
    expect(focused).to_have_text("All the lessons")
    page.keyboard.press("Enter")
    expect(page).to_have_url(address + "lessons/")
