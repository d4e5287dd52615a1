"""Nothing that one reads jumps while a page opens: not when the type comes, not when the parts wake."""

import pytest
from playwright.sync_api import expect

from tests.site.conftest import open_page

# A page of each kind.
PAGES = (
    "", "lessons/", "lessons/divide-by-the-water-content/", "practice/", "practice/study/",
    "practice/finding-the-water/", "swap/", "pack/", "feel/", "side-by-side/", "reference/ingredients/",
    "teachers/", "teachers/term-plan/", "desk/write/", "desk/give/",
)  # fmt: skip
# Web Vitals calls a page good below 0.1 (web.dev/articles/cls); ours are to be twice as calm.
MOST = 0.05
WATCH = """
window.jumps = [];
new PerformanceObserver((list) => window.jumps.push(...list.getEntries().map(({value, sources}) =>
  [value, sources.map(({node}) => node?.outerHTML?.slice(0, 80) ?? '').join(' | ')])))
  .observe({type: 'layout-shift', buffered: true});
"""
SEEN = "(all) => all.filter((each) => each.checkVisibility()).map((each) => each.innerText)"
SETTLED = "() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))"


@pytest.mark.parametrize(("width", "height"), [(360, 740), (1280, 800)])
def test_nothing_jumps_while_a_page_opens(newcomer, page, address, width, height):
    page.set_viewport_size({"width": width, "height": height})
    page.add_init_script(WATCH)
    # On a line with delay, and with nothing kept, the page is painted long before its scripts run.
    line = newcomer.new_cdp_session(page)
    line.send("Network.setCacheDisabled", {"cacheDisabled": True})
    line.send("Network.emulateNetworkConditions", {"offline": False, "latency": 120, "downloadThroughput": -1, "uploadThroughput": -1})  # fmt: skip
    found = {}
    for name in PAGES:
        open_page(page, address + name)
        page.evaluate(SETTLED)
        jumps = page.evaluate("window.jumps")
        if sum(value for value, _ in jumps) >= MOST:
            found[name] = jumps
    assert found == {}


def test_a_lesson_left_in_its_middle_opens_there_from_its_first_paint(newcomer, page, address):
    lesson = address + "lessons/finding-the-water/"
    open_page(page, lesson)
    third = page.locator("section.dw-step h2").nth(2)
    page.locator(".dw-step-list a").nth(2).click()
    expect(third).to_be_visible()
    title = third.inner_text()
    # The scripts of its parts do not come: what the page's head does is all that one sees.
    page.route(
        "**/page/joined.js",
        lambda route: route.fulfill(body="export function $() {}", content_type="text/javascript"),
    )
    page.goto(lesson)
    seen = page.locator("section.dw-step h2").evaluate_all(SEEN)
    assert seen == [title]
