"""An answer written over the last one: it reads as if written anew, and what did not change was left alone."""

import re

import pytest
from playwright.sync_api import expect

from docs.parts import EARLY
from docs.parts.shared.fields import FieldErrors
from docs.parts.shared.form_part import FormPart
from exercises.publish.html import element, write
from tests.site.conftest import open_ready

# What makes an answer of another shape: other rows, a caution more, another unit.
OTHERWISE = [
    {},
    {"flour": "501 g"},
    {"flour": "38 oz", "mass": "oz", "degrees": "F"},
    {"becomes": "egg", "with4": "honey", "amount4": "3 %"},
    {"becomes": "buttermilk", "part": "40 %", "decimal": "comma"},
    {"panel": "us", "fat": "3.5 g", "water": "41 %"},
]
MODULES = """
  const [{refill}, {fill}] = await Promise.all(['refill', 'live-part'].map((name) =>
    import(new URL(`../parts/shared/${name}.js`, location.href))));
  const made = () => document.querySelector('article').appendChild(document.createElement('div'));
"""
# The numbers of the steps after which the two do not read alike.
UNLIKE = f"""async (answers) => {{{MODULES}
  const anew = made(), over = made();
  return answers.map((html, at) => {{
    fill(anew, html);
    refill(over, html);
    return anew.innerHTML === over.innerHTML ? -1 : at;
  }}).filter((at) => at >= 0);
}}"""


def answers_of(part):
    fields = part.fields({})
    for changed in OTHERWISE:
        known = {name: text for name, text in changed.items() if name in fields}
        try:
            yield write(*part.respond(fields | known)["elements"])
        except FieldErrors:
            continue


def test_an_answer_over_another_reads_as_if_written_anew(page, address):
    """Any of a tool's answers over any other, and one tool's over another's."""
    open_ready(page, address + "swap/")
    tools = [each for each in EARLY.values() if isinstance(each, FormPart)]
    each_tools = [list(dict.fromkeys(answers_of(tool))) for tool in tools]
    assert sum(len(answers) for answers in each_tools) > 2 * len(tools) > 10
    steps = [html for answers in each_tools for html in [*answers, *answers[::-1], *answers[::2]]]
    assert page.evaluate(UNLIKE, steps) == []


def word(*children, **attributes):
    return element("p", *children, **attributes)


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ([word("one"), word("two")], [word("two")]),
        ([word("two")], [word("one"), word("two"), word("three")]),
        ([word("one", class_="a")], [word("one", class_="b"), element("div", "one")]),
        ([word("one ", element("b", "two"))], [word("one ", element("i", "two"), " three")]),
        ([word("one", title="x", lang="en")], [word("one", title="y")]),
        ([element("input", value="1")], [element("input", value="2")]),
        ([word("one")], []),
        ([], [word("one")]),
    ],
)
def test_any_html_over_any_other(page, address, before, after):
    open_ready(page, address + "swap/")
    both = [write(*before), write(*after)]
    assert page.evaluate(UNLIKE, [*both, *both, ""]) == []


KEPT = f"""async ([before, after]) => {{{MODULES}
  const place = made();
  refill(place, before);
  const [fold, answer, table, box] = ['details', 'p', '.dw-table', 'textarea'].map((each) => place.querySelector(each));
  fold.open = true;
  box.value = 'mine';
  box.focus();
  box.setSelectionRange(1, 3);
  refill(place, after);
  const at = document.activeElement === box && [box.selectionStart, box.selectionEnd].join();
  getSelection().setBaseAndExtent(answer.firstChild, 0, answer.firstChild, 3);
  refill(place, before);
  refill(place, after);
  return {{
    same: [fold, answer, table, box].every((each) => each.isConnected), open: fold.open,
    typed: box.value, at,
    says: answer.textContent, number: table.textContent, selected: getSelection().anchorNode === answer.firstChild,
  }};
}}"""


def test_what_a_reader_unfolded_selected_or_typed_stays(page, address):
    def answer(grams):
        return write(
            word(f"Weigh {grams} g."),
            element("div", element("table", element("tr", element("td", grams))), class_="dw-table"),
            element("details", element("summary", "More"), word(grams)),
            element("form", element("textarea", "ours")),
        )  # fmt: skip

    open_ready(page, address + "swap/")
    kept = page.evaluate(KEPT, [answer("321"), answer("322")])
    says = {"says": "Weigh 322\u00a0g.", "number": "322"}
    assert kept == says | {"same": True, "open": True, "typed": "mine", "at": "1,3", "selected": True}  # fmt: skip


ANEW = f"""async ([before, after]) => {{{MODULES}
  const place = made();
  refill(place, before);
  place.querySelector('textarea').value = 'mine';
  place.querySelector('a').replaceWith('one');
  refill(place, after);
  return [place.querySelector('textarea').value, place.querySelector('a')?.textContent];
}}"""


@pytest.mark.parametrize(("ours", "holds"), [(("one", "two"), "two"), (("same", "same"), "mine")])
def test_a_form_that_changed_is_new_and_so_is_what_a_script_put_elsewhere(
    page, address, ours, holds
):
    """A box that is written as before keeps what was typed in it; a link that a script took away comes again."""

    def answer(text, box):
        return write(
            element("form", element("label", text), element("textarea", box, name="box")),
            word("See ", element("a", text, data_site="swap/")),
        )

    open_ready(page, address + "swap/")
    answers = [answer(text, box) for text, box in zip(("one", "two"), ours, strict=True)]
    assert page.evaluate(ANEW, answers) == [holds, "two"]


# Which elements of the answer are those that were there before the letter, and which rows of the form were touched.
TYPED = """async (part) => {
  const box = part.form.elements.namedItem('flour');
  const type = (text) => {
    box.value = text;
    box.dispatchEvent(new Event('input', {bubbles: true}));
    return part.asking;
  };
  await type('510 g');
  const held = ['.dw-answer', 'svg', '.dw-figures', 'nav', 'details'].map((each) => part.output.querySelector(each));
  const touched = [];
  new MutationObserver((changes) => touched.push(...changes)).observe(part.form, {childList: true, attributes: true, subtree: true});
  await type('511 g');
  await new Promise(requestAnimationFrame);
  const empty = touched.filter(({target}) => target instanceof Element && target.matches('tr[hidden], tr[hidden] [data-cell]'));
  return [held.map((each) => each.isConnected), part.output.textContent.includes('511'), empty.length];
}"""


def test_a_letter_changes_the_words_and_not_the_elements(page, address):
    open_ready(page, address + "swap/")
    stay, new, empty = page.locator("liquid-swap").evaluate(TYPED)
    assert (stay, new, empty) == ([True] * 5, True, 0)


RUNS = """() => {
  const cell = document.querySelector('liquid-swap python-cell');
  cell.closest('details').open = true;
  cell.ask = () => new Promise((end) => { window.endRun = end; });
  cell.querySelector('form').requestSubmit();
}"""
ENDS = "endRun({text: 'printed late', says: ''})"


def test_code_that_runs_while_answers_come_prints_in_the_page(page, address):
    """The first answer writes all anew, the second only what differs."""
    open_ready(page, address + "swap/")
    cell = page.locator("liquid-swap python-cell")
    page.evaluate(RUNS)
    for flour in ("777 g", "888 g"):
        page.get_by_label("Flour", exact=True).first.fill(flour)
        expect(cell.get_by_label("Python code")).to_have_value(re.compile(flour[:3]))
        expect(cell.get_by_role("button", name="Stop")).to_be_visible()
    page.evaluate(ENDS)
    expect(cell.locator(".dw-printed")).to_have_text("printed late")
    expect(cell.locator(".dw-status")).to_contain_text("the code of before")
    expect(cell.get_by_role("button", name="Stop")).to_be_hidden()
