"""Offline use: one whole version of the site on the reader's device, and a clean change to the next.

The measure is the Service Workers specification (W3C) as Chromium carries it out, with a server that
really stops. The site is in a sub-folder, where a service worker's scope is easiest to get wrong.
"""

import json
import re
import shutil
import struct

import pytest
from playwright.sync_api import expect

from docs.build.policy import integrity
from docs.build.program import PROGRAM
from docs.offline.file_list import files_of, path_of
from tests.site.conftest import watch
from tests.site.sites import Host, version
from tests.site.test_pages import PAGES

pytestmark = pytest.mark.usefixtures("newcomer")

READY = re.compile("Ready for offline use")
NEW = re.compile("A new version of this site is ready")

# Asked again and again: the browser looks for an update by itself too, and one look may still see the
# older files.
UPDATED = """async () => {
  const registration = await navigator.serviceWorker.getRegistration();
  await registration.update();
  return registration.waiting;
}"""


@pytest.fixture(scope="module")
def chromium(whole_chromium):
    """Installing, updating and private windows are the whole browser's affair."""
    return whole_chromium


@pytest.fixture
def host(tmp_path):
    running = Host(tmp_path / "host")
    yield running
    running.stop()


@pytest.fixture(scope="module")
def small(site, tmp_path_factory):
    """The site without Python's large files and the pages that start it: versions change as ever."""
    made = shutil.copytree(site, tmp_path_factory.mktemp("small") / "site")
    shutil.rmtree(made / "engine" / "pyodide")
    for page in ("swap", "side-by-side", "lessons", "practice"):
        shutil.rmtree(made / page, ignore_errors=True)
    return made


@pytest.fixture
def versions(small, tmp_path):
    """Two versions of a small site: the second has another style, another script and another page."""
    old = version(small, tmp_path / "old", {})
    changes = {
        "assets/style.css": ("--dw-ink", "--dw-inked"),
        "page/board.js": ("A lesson on the board", "A lesson on the new board"),
        "sources/index.html": ("<h1", '<h1 data-new="yes"'),
    }
    return old, version(small, tmp_path / "new", changes, hours=1)


@pytest.fixture
def visit(context, host):
    """Opens a page of the host's site; no page may err or ask elsewhere."""
    troubles = []

    def open_page(path="sources/"):
        page = context.new_page()
        watch(page, host.address, troubles)
        page.goto(host.address + path)
        return page

    yield open_page
    assert troubles == []


def line(page):
    return page.locator(".dw-offline")


def text_of(page, path):
    """A file as this page gets it, asked for late."""
    return page.evaluate("path => fetch(path).then(answer => answer.text())", path)


def caches(page):
    return page.evaluate("caches.keys()")


def test_the_list_holds_every_file_with_its_hash(site):
    listed = json.loads(re.search(r"FILES = (\{.*?\});", (site / "sw.js").read_text(), re.S)[1])
    assert listed == {path_of(f, site): integrity(f.read_bytes()) for f in files_of(site)}
    assert {"", "swap/", "engine/python.zip", "engine/pyodide/pyodide.asm.wasm.zstd"} <= set(listed)
    on_disk = {path.relative_to(site).as_posix() for path in site.rglob("*") if path.is_file()}
    # No page needs the program, and a visit need not keep it.
    assert len(listed) == len(on_disk) - len({"404.html", "sw.js", PROGRAM})


def test_after_one_visit_everything_works_without_a_network(site, host, visit):
    host.show(site)
    page = visit("sources/")
    expect(line(page)).to_have_text(READY)
    host.stop()
    # The very page that was open first gets late files too, whatever they are.
    for path in PAGES:
        assert text_of(page, f"../{path}") == (site / path / "index.html").read_text("utf-8")
    assert text_of(page, "../engine/worker.js") == (site / "engine" / "worker.js").read_text(
        "utf-8"
    )
    # An address that is nowhere leads on, and its search finds.
    page.goto(host.address + "lessons/no-such/page")
    expect(page.locator("h1")).to_contain_text("There is no page at this address")
    page.get_by_label("Search the site").fill("buttermilk")
    page.get_by_role("button", name="Search", exact=True).last.click()
    expect(page.locator(".md-search-result__item").first).to_contain_text("ilk")
    page.goto(host.address + "swap/?flour=800+g")
    expect(page.locator("liquid-swap > .dw-status")).to_contain_text("Weigh")
    with_set = next(
        path for path in PAGES if "<problem-set" in (site / path / "index.html").read_text()
    )
    page.goto(host.address + with_set.rstrip("/"))
    assert page.url == host.address + with_set
    page.locator("problem-set [name=student]").first.fill("Ama")
    page.keyboard.press("Tab")
    expect(page.locator("html")).to_have_attribute("data-engine", "ready")
    page.locator(".md-search__input").click()
    page.locator(".md-search__input").press_sequentially("yogurt", delay=50)
    expect(page.locator(".md-search-result__meta")).to_have_text(re.compile("matching page"))
    expect(line(page)).to_have_text(READY)


def test_an_open_page_keeps_its_version_until_the_reader_agrees(host, visit, versions):
    old, new = versions
    host.show(old)
    first = visit()
    expect(line(first)).to_have_text(READY)
    second = visit("teachers/")
    host.show(new)
    first.wait_for_function(UPDATED)
    expect(line(first)).to_have_text(NEW)
    # Only what changed came over the network.
    files = ["assets/style.css", "offline/version.js", "page/board.js", "sources/"]
    assert sorted(name for name in host.asked if name != "sw.js") == files
    assert text_of(first, "../assets/style.css") == (old / "assets/style.css").read_text()
    first.goto(host.address + "sources/?still=old")
    assert first.locator("h1[data-new]").count() == 0
    # With a second page open the first may not change under it.
    first.get_by_role("button", name="Use the new version").click()
    expect(line(first)).to_contain_text("Close the other tabs")
    assert text_of(second, "../assets/style.css") == (old / "assets/style.css").read_text()
    second.close()
    first.get_by_role("button", name="Use the new version").click()
    expect(first.locator("h1[data-new]")).to_be_visible()
    expect(line(first)).to_have_text(READY)
    assert text_of(first, "../assets/style.css") == (new / "assets/style.css").read_text()
    assert len(caches(first)) == 1


def test_a_new_version_comes_by_itself_at_the_next_visit(host, visit, versions):
    old, new = versions
    host.show(old)
    page = visit()
    expect(line(page)).to_have_text(READY)
    host.show(new)
    page.reload()
    expect(line(page)).to_have_text(NEW)
    assert page.locator("h1[data-new]").count() == 0
    keeper = page.context.new_page()
    page.close()
    # The older worker first ends what it was answering; a reader comes back later than that.
    while len(keeper.context.service_workers) > 1:
        keeper.wait_for_timeout(50)
    again = visit()
    expect(again.locator("h1[data-new]")).to_be_visible()
    expect(line(again)).to_have_text(READY)
    keeper.close()


def test_a_site_that_is_just_being_uploaded_changes_nothing(host, visit, versions, tmp_path):
    old, new = versions
    half = shutil.copytree(new, tmp_path / "half")
    shutil.copy2(old / "assets/style.css", half / "assets/style.css")
    host.show(old)
    page = visit()
    expect(line(page)).to_have_text(READY)
    host.show(half)
    # The file that does not fit must have been asked for before there is anything to give up.
    while "assets/style.css" not in host.asked:
        page.evaluate(UPDATED)
        page.wait_for_timeout(50)
    page.wait_for_function(
        "async () => !(await navigator.serviceWorker.getRegistration()).installing"
    )
    assert not page.evaluate(
        "async () => Boolean((await navigator.serviceWorker.getRegistration()).waiting)"
    )
    page.reload()
    assert page.locator("h1[data-new]").count() == 0
    assert text_of(page, "../assets/style.css") == (old / "assets/style.css").read_text()
    expect(line(page)).to_have_text(READY)
    host.show(new)
    page.wait_for_function(UPDATED)
    expect(line(page)).to_have_text(NEW)


BUSY = """document.addEventListener('readystatechange', () => {
  document.documentElement.dataset.engine = 'starting';
}, {once: true})"""


def test_a_page_of_another_version_is_not_taken_in(host, visit, versions, context):
    old, new = versions
    host.show(old)
    # While Python starts, the service worker waits.
    context.add_init_script(BUSY)
    page = visit()
    page.wait_for_load_state("networkidle")
    host.show(new)
    page.evaluate("document.documentElement.dataset.engine = 'ready'")
    expect(line(page)).to_have_text(READY)
    assert page.evaluate("navigator.serviceWorker.controller") is None


NOTE_GIVEN_UP = """
const register = ServiceWorkerContainer.prototype.register;
ServiceWorkerContainer.prototype.register = async function (...of) {
  const made = await register.apply(this, of);
  const look = () => { window.givenUp = !made.installing; };
  made.installing?.addEventListener('statechange', look);
  look();
  return made;
}"""


def test_a_full_store_says_nothing_and_breaks_nothing(host, visit, versions, context):
    host.show(versions[0])
    context.add_init_script(NOTE_GIVEN_UP)
    page = context.new_page()
    session = context.new_cdp_session(page)
    origin = host.address.partition("/school")[0]
    session.send("Storage.overrideQuotaForOrigin", {"origin": origin, "quotaSize": 100_000})
    page.goto(host.address + "sources/")
    page.wait_for_function("() => window.givenUp")
    page.wait_for_function("async () => !(await navigator.serviceWorker.getRegistration())")
    assert line(page).inner_text() == ""
    assert caches(page) == []
    page.goto(host.address + "teachers/")
    expect(page.locator("h1")).to_be_visible()


@pytest.mark.parametrize(
    "without",
    [
        "delete Navigator.prototype.serviceWorker",
        "ServiceWorkerContainer.prototype.register = () => { window.refused = true; return Promise.reject(new DOMException('no', 'SecurityError')); }",
    ],
)
def test_without_a_service_worker_the_page_is_as_before(host, visit, versions, context, without):
    context.add_init_script(without)
    host.show(versions[0])
    page = visit()
    page.wait_for_function("() => !navigator.serviceWorker || window.refused")
    expect(page.locator("h1")).to_be_visible()
    assert line(page).all_inner_texts() in ([], [""])


def test_a_store_that_lost_its_files_is_filled_again(host, visit, versions):
    host.show(versions[0])
    page = visit()
    expect(line(page)).to_have_text(READY)
    page.evaluate(
        "caches.keys().then(names => Promise.all(names.map(name => caches.delete(name))))"
    )
    page.reload()
    expect(page.locator("h1")).to_be_visible()
    expect(line(page)).to_have_text(READY)
    host.stop()
    page.goto(host.address + "teachers/")
    expect(page.locator("h1")).to_be_visible()


def test_a_reader_who_saves_data_is_asked_first(host, visit, versions, context):
    context.add_init_script(
        "Object.defineProperty(navigator, 'connection', {value: {saveData: true}})"
    )
    host.show(versions[0])
    page = visit()
    expect(line(page)).to_contain_text(re.compile(r"It takes about \d+ MB"))
    assert "sw.js" not in host.asked
    page.get_by_role("button", name="Keep it").click()
    expect(line(page)).to_have_text(READY)


def test_authors_always_see_what_was_built_last(visit, host, versions, tmp_path, monkeypatch):
    old, new = versions
    host.show(old)
    page = visit()
    expect(line(page)).to_have_text(READY)
    serving = shutil.copytree(new, tmp_path / "serving")
    remover = serving.parent / "serving" / "sw.js"
    from docs.__main__ import REMOVER

    remover.write_bytes(REMOVER.read_bytes())
    host.show(serving)
    page.reload()
    expect(page.locator("h1[data-new]")).to_be_visible()
    page.wait_for_function("async () => !(await caches.keys()).length")
    assert line(page).inner_text() == ""


def test_what_serve_answers_with_in_place_of_the_service_worker(site, address, page):
    from docs.__main__ import REMOVER

    assert page.request.get(address + "sw.js").body() == REMOVER.read_bytes()


# The installed app.


def test_the_manifest_names_icons_that_are_what_it_says(site):
    manifest = json.loads((site / "manifest.webmanifest").read_text("utf-8"))
    assert manifest["start_url"] == manifest["scope"] == "./"
    assert {(icon["sizes"], icon.get("purpose", "any")) for icon in manifest["icons"]} >= {
        ("192x192", "any"), ("512x512", "any"), ("512x512", "maskable"),
    }  # fmt: skip
    for icon in manifest["icons"]:
        file = site / icon["src"]
        if icon["type"] == "image/png":
            # Source: W3C, PNG (third edition), the header chunk.
            assert file.read_bytes()[:8] == b"\x89PNG\r\n\x1a\n"
            width, height = struct.unpack(">II", file.read_bytes()[16:24])
            assert icon["sizes"] == f"{width}x{height}"


def test_chromium_finds_nothing_wrong_with_the_manifest(host, visit, versions, context):
    host.show(versions[0])
    page = visit("")
    expect(line(page)).to_have_text(READY)
    session = context.new_cdp_session(page)
    assert session.send("Page.getAppManifest")["errors"] == []
    wrong = {
        each["errorId"]
        for each in session.send("Page.getInstallabilityErrors")["installabilityErrors"]
    }
    # A test's window is a private one, where nothing can be installed.
    assert wrong <= {"in-incognito"}
