"""While one types, the answer is in the window: in its place, or in the line at the window's foot."""

import pytest
from playwright.sync_api import expect

from tests.site.conftest import open_page, open_ready, visitor

SIZES = [(320, 640), (360, 740), (740, 360), (768, 1024), (1024, 768), (1280, 800), (1920, 1080)]
TOOLS = ["", "swap/", "balance/", "temperature/", "pack/", "feel/", "scale/", "lessons/divide-by-the-water-content/"]  # fmt: skip
# Whether the whole of a card's answer can be read now, in one place of the two.
SEEN = """(card) => {
  const seen = (each) => {
    const {top, bottom, width} = each.getBoundingClientRect();
    return top >= 0 && bottom <= innerHeight && width > 50 && getComputedStyle(each).opacity === '1';
  };
  return [card.querySelector('.dw-answer'), card.querySelector(':scope > .dw-status')].filter(seen).length;
}"""


@pytest.fixture(params=SIZES, ids=lambda size: "{}x{}".format(*size))
def window(request, chromium):
    width, height = request.param
    with visitor(chromium, viewport={"width": width, "height": height}) as context:
        # What is in sight is asked of the page as the build wrote it.
        context.route("**/engine/worker.js", lambda route: route.abort())
        yield context.new_page()


def test_the_answer_is_in_sight_at_every_field(window, address):
    for tool in TOOLS:
        open_page(window, address + tool)
        card = window.locator(".dw-card:has(form)").first
        for box in card.locator("form input[type=text]:visible").all():
            box.focus()
            card.evaluate_handle(f"(card) => new Promise((done) => {{ const look = () => ({SEEN})(card) > 0 ? done(true) : requestAnimationFrame(look); look(); }})")  # fmt: skip


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
