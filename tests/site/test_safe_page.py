"""Safe pages: a strict policy in each, Trusted Types, and readers' text that stays text.

The browser's own refusals are the measure (W3C, Content Security Policy Level 3 and Trusted Types).
"""

import json
import re
from string import digits

import pytest
from bs4 import BeautifulSoup
from playwright.sync_api import expect

from docs.build.policy import integrity
from docs.parts import PARTS, respond
from docs.parts.shared.form_part import FormPart
from exercises.cli import main
from exercises.draws import plain_name
from exercises.handin import FORMAT
from exercises.problems import load
from tests.hostile import FORMULAS, PATHS, SCRIPTS
from tests.site.conftest import open_page
from tests.site.tags import scripts_of, tags_of
from tests.site.test_pages import PAGES

FORMS = sorted(name for name, part in PARTS.items() if isinstance(part, FormPart))


def soup_of(site, path):
    return BeautifulSoup((site / path / "index.html").read_text("utf-8"), "html.parser")


def policy_of(page):
    (content,) = (
        attributes["content"]
        for tag, attributes in tags_of(page)
        if tag == "meta" and attributes.get("http-equiv") == "Content-Security-Policy"
    )
    return dict(part.strip().partition(" ")[::2] for part in content.split(";"))


@pytest.mark.parametrize("path", PAGES)
def test_every_page_has_a_strict_policy_before_all_else(site, path):
    page = site / path / "index.html"
    policy = policy_of(page)
    assert policy["default-src"] == policy["base-uri"] == policy["object-src"] == "'none'"
    assert policy["connect-src"] == policy["worker-src"] == policy["style-src"] == "'self'"
    assert policy["require-trusted-types-for"] == "'script'"
    assert not re.search(r"unsafe|https?:|\*", " ".join(policy.values()))
    tags = tags_of(page)
    assert "style" not in {tag for tag, _ in tags}
    names = {name for _, attributes in tags for name in attributes}
    assert not {name for name in names if name == "style" or name.startswith("on")}
    for attributes, text in scripts_of(page):
        if "src" not in attributes and attributes.get("type") != "application/json":
            assert f"'{integrity(text.encode())}'" in policy["script-src"].split()
    first = [each for each in tags if each[0] not in ("html", "head")][:3]
    assert [tag for tag, _ in first] == ["meta", "meta", "script"]
    assert first[1][1]["http-equiv"] == "Content-Security-Policy"
    assert "data-root" in first[2][1]


def test_pages_that_stand_alone_have_a_policy_of_their_own(site):
    pages = {page for page in site.rglob("*.html") if page.name != "index.html"}
    assert pages
    for page in pages:
        assert policy_of(page)["default-src"] == "'none'", page


def test_the_browser_refuses_what_a_page_has_no_need_of(context, address):
    """Each attempt is made by a script of the page itself; the page's own policy stops it."""
    page = context.new_page()
    page.goto(address + "sources/")
    page.evaluate(
        "addEventListener('securitypolicyviolation', e => (window.said ??= []).push(e.effectiveDirective))"
    )
    attempts = {
        "require-trusted-types-for": "document.body.setAttribute('onclick', 'window.taken = 1'); document.body.click()",
        "style-src-attr": "document.body.setAttribute('style', 'color: red')",
        "connect-src": "fetch('https://taken.invalid/').catch(() => {})",
        "img-src": "new Image().src = 'https://taken.invalid/x.png'",
        "frame-src": "const f = document.createElement('iframe'); f.src = 'https://taken.invalid/'; document.body.append(f)",
        "form-action": "const f = document.createElement('form'); f.action = 'https://taken.invalid/'; document.body.append(f); f.submit()",
        "base-uri": "const b = document.createElement('base'); b.href = 'https://taken.invalid/'; document.head.append(b)",
    }
    for directive, attempt in attempts.items():
        page.evaluate(f"(() => {{ try {{ {attempt} }} catch {{}} }})()")
        page.wait_for_function("directive => window.said?.includes(directive)", arg=directive)
    page.evaluate(
        "() => { const s = document.createElement('script'); s.append('window.taken = 1'); document.body.append(s) }"
    )
    for attempt in (
        "eval('1')",
        "new Function('1')()",
        "new Worker('https://taken.invalid/x.js')",
        "document.body.insertAdjacentHTML('beforeend', '<img src=x onerror=window.taken=1>')",
        "document.body.insertAdjacentHTML('beforeend', '<iframe srcdoc=x></iframe>')",
        "document.body.insertAdjacentHTML('beforeend', '<a href=javascript:1>x</a>')",
        "document.createElement('script').src = 'https://taken.invalid/x.js'",
        "trustedTypes.createPolicy('mine', {})",
    ):
        # In a later task: a debugger's own evaluation may use `eval`.
        made = page.evaluate(
            f"new Promise(tell => setTimeout(() => {{ try {{ {attempt}; tell('done') }} catch (e) {{ tell(e.name) }} }}))"
        )
        assert made in ("EvalError", "TypeError", "SecurityError"), attempt
    assert page.evaluate("window.taken") is None


def test_search_and_the_theme_work_under_the_policy(page, address):
    page.goto(address + "sources/")
    page.locator(".md-search__input").click()
    page.locator(".md-search__input").press_sequentially("yogurt", delay=50)
    expect(page.locator(".md-search-result__meta")).to_have_text(re.compile("matching"))
    expect(page.locator(".md-search-result__item").nth(1)).to_be_visible()
    page.keyboard.press("Escape")
    page.locator('label[for="__palette_1"]').first.click()
    expect(page.locator("body")).to_have_attribute("data-md-color-scheme", "slate")


@pytest.mark.usefixtures("newcomer")
def test_python_in_the_page_reaches_no_other_origin_and_no_eval(page, address):
    """The worker obeys the headers it came with; ours are those a host may add."""
    header = page.request.get(address + "engine/worker.js").headers["content-security-policy"]
    assert "'unsafe-eval'" not in header
    page.goto(address + "swap/")
    asked = """async () => {
      const {engine} = await import(new URL('engine/engine.js', document.baseURI.replace('swap/', '')));
      const ask = (code) => engine.ask({part: 'python-cell', fields: {code}}).then(JSON.stringify);
      return [await ask('print(6 * 7)'), await ask('import js\\njs.eval("1")'),
              await ask('import js\\njs.Function.new("return 1")()')];
    }"""
    works, evaluated, made = page.evaluate(asked)
    assert "42" in works
    assert "EvalError" in evaluated or "unsafe-eval" in evaluated
    assert "EvalError" in made or "unsafe-eval" in made


# Readers' text.

ALLOWED_ADDRESS = re.compile(r"^(https?:|#|[a-z0-9./-]*([?#].*)?$)")


def assert_only_text(html, where):
    """Python's HTML holds nothing that runs, loads or sends, whatever was typed."""
    soup = BeautifulSoup(html, "html.parser")
    banned = [
        "script",
        "style",
        "iframe",
        "object",
        "embed",
        "base",
        "meta",
        "link",
        "img",
        "template",
        "math",
    ]
    assert not soup.find_all(banned), where
    for tag in soup.find_all(True):
        for name, value in tag.attrs.items():
            assert not name.startswith("on"), where
            assert name not in ("style", "srcdoc", "action", "formaction"), where
            assert name not in ("href", "src") or ALLOWED_ADDRESS.match(value), where


def fields_of(site, part):
    """The names and first values of a part's form, as the build wrote them."""
    made = soup_of(site, page_with(site, part)).find(part)
    controls = made.find("form").find_all(["input", "select", "textarea"])
    return {
        each["name"]: each.get("value")
        or (each.find("option", selected=True) or {"value": ""})["value"]
        for each in controls
        if each.get("name") and each.get("type") not in ("checkbox", "radio", "file")
    }


def page_with(site, part):
    """The first page that has a part."""
    return next(
        path for path in PAGES if part in {tag for tag, _ in tags_of(site / path / "index.html")}
    )


@pytest.mark.parametrize("part", FORMS)
def test_a_field_of_any_form_stays_text(site, part):
    fields = fields_of(site, part)
    # Of rows that are alike, the last.
    for name in {name.rstrip(digits): name for name in fields}.values():
        for text in (*SCRIPTS[:6], FORMULAS[0], PATHS[0], "9" * 1_000_000):
            try:
                answer = json.loads(
                    respond(json.dumps({"part": part, "fields": fields | {name: text}}))
                )
            except (KeyError, ValueError):
                continue  # a list's value that is not in the list: the page says it cannot work with it
            assert answer.get("complaints") or "html" in answer
            assert_only_text(answer.get("html", ""), (name, text))
            assert len(json.dumps(answer.get("complaints", {}))) < 5_000


def taken(page):
    return page.evaluate("window.taken ?? null")


@pytest.mark.parametrize("path", ["swap/", "balance/", "temperature/", "side-by-side/"])
def test_a_hostile_address_stays_text_in_the_browser(page, address, site, path):
    part = next(tag.name for tag in soup_of(site, path).find_all([*FORMS, "side-by-side"]))
    text = "".join(SCRIPTS[:12])
    query = "&".join(f"{name}={text}" for name in fields_of(site, part))
    page.goto(f"{address}{path}?{page.evaluate('encodeURI', query).replace('#', '%23')}#{text}")
    expect(page.locator(f"{part} > .dw-status")).to_contain_text(re.compile("Not changed|cannot"))
    shown = page.locator(f"{part} .dw-complaint").all_inner_texts()
    assert any("<img" in complaint or "too long" in complaint for complaint in shown)
    assert page.locator(f"{part} img, {part} iframe, {part} script").count() == 0
    assert taken(page) is None


def test_a_hostile_set_stays_text_in_the_writer(page, address, site):
    open_page(page, address + page_with(site, "set-writer"))
    hostile = "\n".join(
        ["title: " + json.dumps("".join(SCRIPTS[:12])[:199]), "version: 1", "problems:", "  - id: one"]
        + [f"    {name}: {json.dumps(text)}" for name, text in zip(("title", "story"), SCRIPTS[:2], strict=True)]
        + ["    ask: choice", "    questions:", f"      - ask: {json.dumps(SCRIPTS[2])}", "        options:"]
        + [f"          - {{text: {json.dumps(text)}, right: {right}, because: {json.dumps(text)}}}" for text, right in ((SCRIPTS[4], "yes"), (SCRIPTS[6], "no"))]
    )  # fmt: skip
    # The name first: its answer would draw the problem anew under what is chosen there.
    page.locator("set-writer input[name=student]").fill(SCRIPTS[1])
    page.get_by_role("button", name="Text", exact=True).click()
    page.locator("set-writer textarea[name=text]").fill(hostile)
    expect(page.locator("set-writer > .dw-status")).to_have_text("Good: 1 problem.")
    page.get_by_role("button", name="Form", exact=True).click()
    expect(page.locator('[name="problems/0/questions/0/ask"]')).to_have_value(SCRIPTS[2])
    assert SCRIPTS[1] in page.locator("set-writer [data-output]").inner_text()
    page.locator("set-writer [data-output] input[type=radio]").first.check()
    page.locator("set-writer [data-output] form button[type=submit]").first.click()
    expect(page.locator("set-writer [data-feedback]").first).not_to_be_empty()
    assert page.locator("set-writer img, set-writer iframe").count() == 0
    assert taken(page) is None


def test_10_mb_of_digits_are_refused_beside_their_field(page, address):
    open_page(page, address + "swap/")
    page.evaluate(
        """() => {
          const box = document.querySelector('liquid-swap input[name=flour]');
          box.value = '9'.repeat(10_000_000);
          box.dispatchEvent(new Event('input', {bubbles: true}));
        }"""
    )
    expect(page.locator('liquid-swap [data-for="flour"]')).to_contain_text("too long")
    assert len(page.url) < 2_000


def test_a_hostile_class_stays_text_on_paper_and_in_the_report(newcomer, tmp_path):
    """The report and the sheets, opened as a teacher opens them: from the disk."""
    first = load("first-swaps").problems[0].id
    for number, text in enumerate(SCRIPTS):
        answers = {first: {"liquid": text, "water": text}}
        handin = {
            "format": FORMAT,
            "set": "first-swaps",
            "version": 1,
            "student": text,
            "answers": answers,
        }
        (tmp_path / f"{number:02}.json").write_text(json.dumps(handin))
    # Two that look alike are one name to a class list.
    different = {plain_name(text): text for text in reversed(SCRIPTS) if text.isprintable()}
    names = tmp_path / "class" / "names.txt"
    names.parent.mkdir()
    names.write_text("\n".join(different.values()), "utf-8")
    report = tmp_path / "report.html"
    main(["mark", str(tmp_path), "--set", "first-swaps", "--report", str(report)])
    assert (
        main(["print", "first-swaps", "--students", str(names), "--out", str(tmp_path / "paper")])
        == 0
    )
    for file in (report, tmp_path / "paper" / "worksheet.html", tmp_path / "paper" / "key.html"):
        page = newcomer.new_page()
        asked = []
        page.on("request", lambda request, asked=asked: asked.append(request.url))
        page.goto(file.as_uri())
        assert SCRIPTS[0] in page.locator("body").inner_text()
        assert page.locator("script, img, svg, iframe, base, form, template").count() == 0
        assert taken(page) is None
        assert asked == [file.as_uri()]
