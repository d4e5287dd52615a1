"""The built site where teachers put it: a plain host's sub-folder, a stick, the classroom's network."""

import subprocess
import sys
import threading
from functools import partial
from http.client import HTTPConnection
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from urllib.parse import urljoin, urlsplit

import pytest
from bs4 import BeautifulSoup
from playwright.sync_api import expect

from docs.build.from_disk import NOTICE
from docs.build.serve import HERE_ONLY, Trouble, site_server
from docs.build.site import build_site
from tests.site.conftest import made_once, open_page
from tests.site.tags import tags_of

# What browsers insist on: MIME types of the WHATWG MIME Sniffing and WebAssembly Web API standards.
TYPES = {
    "index.html": "text/html; charset=utf-8",
    "page/joined.js": "text/javascript",
    "engine/pyodide/pyodide.js": "text/javascript",
    "engine/python.zip": "application/zip",
    "assets/mark.svg": "image/svg+xml",
    "search/search_index.json": "application/json",
    "sw.js": "text/javascript",
}


@pytest.fixture(scope="module")
def stick(tmp_path_factory):
    """A site built for a stick, and for an address: of this only the page for wrong addresses hears."""
    build = partial(build_site, address="https://school.example/dough/", for_files=True)
    return made_once(tmp_path_factory, "stick", build)


def running(server):
    threading.Thread(target=server.serve_forever, daemon=True).start()
    return server


@pytest.fixture(scope="module")
def plugged(stick):
    with running(site_server(stick, port=0)) as server:
        yield f"http://{HERE_ONLY}:{server.server_port}/"
        server.shutdown()


def computes(page):
    """Ask the start page's one question; Python in the page answers."""
    page.locator("one-swap select[name=becomes]").select_option("plain-yogurt")
    page.locator("one-swap select[name=was]").select_option("water")
    page.locator("one-swap input[name=have]").fill("")
    page.locator("one-swap input[name=liquid]").fill("390 g")
    # 390 g of water; plain whole-milk yogurt is 87.9 % water (USDA 1116): 444 g.
    expect(page.locator("one-swap .dw-answer")).to_contain_text("444")


def finds(page):
    page.locator("input.md-search__input").click()
    page.locator("input.md-search__input").press_sequentially("yogurt")
    return page.locator(".md-search-result__item a").first.get_attribute("href")


class Plain(SimpleHTTPRequestHandler):
    """A host that knows files and nothing else."""

    def log_message(self, *arguments):
        pass


class SaysPacked(Plain):
    """A host that has the browser unpack what is packed, as some do of a “.zst”."""

    def end_headers(self):
        if self.path.endswith(".zstd"):
            self.send_header("Content-Encoding", "zstd")
        super().end_headers()


@pytest.mark.parametrize(("deep", "kind"), [("some/path", Plain), ("some", SaysPacked)])
def test_the_site_works_in_a_sub_folder_of_a_plain_host(site, newcomer, tmp_path, deep, kind):
    (tmp_path / deep).parent.mkdir(exist_ok=True)
    (tmp_path / deep).symlink_to(site)
    host = partial(kind, directory=str(tmp_path))
    with running(ThreadingHTTPServer((HERE_ONLY, 0), host)) as server:
        start = f"http://{HERE_ONLY}:{server.server_port}/{deep}/"
        page, asked = newcomer.new_page(), []
        page.on("request", lambda request: asked.append(request.url))
        page.on("response", lambda got: asked.append("missing") if got.status >= 400 else None)
        open_page(page, start)
        computes(page)
        assert finds(page).startswith((start, "lessons", "../", "./"))
        page.goto(urljoin(start, "lessons/divide-by-the-water-content/"))
        expect(page.locator("worked-example").first).to_contain_text("138.6")
        assert "missing" not in asked
        assert all(url.startswith((start, "data:", "blob:")) for url in asked)
        newcomer.close()
        server.shutdown()


LEADS = {"a": "href", "link": "href", "script": "src", "img": "src"}


def local_links(site):
    """Every link of every page to a page of the site, as the file it must lead to."""
    for page in sorted(site.rglob("*.html")):
        if page.name == "404.html":
            continue
        for tag, attributes in tags_of(page):
            link = attributes.get(LEADS.get(tag, ""), "")
            parts = urlsplit(link)
            if parts.scheme or parts.netloc or not parts.path:
                continue
            assert not parts.path.startswith("/"), f"{page}: {link} is not relative"
            yield page, link, (page.parent / parts.path)


def test_every_link_is_relative_and_leads_somewhere(site):
    for page, link, target in local_links(site):
        leads = (
            (target / "index.html").is_file()
            if link.split("?")[0].split("#")[0].endswith(("/", "."))
            else target.is_file()
        )
        assert leads, f"{page}: {link}"


def test_on_a_stick_every_link_names_a_file(stick):
    for page, link, target in local_links(stick):
        assert target.is_file(), f"{page}: {link}"


def test_pages_read_and_print_straight_from_the_disk(stick, newcomer):
    page = newcomer.new_page()
    page.goto((stick / "index.html").as_uri())
    # The notice is there, because nothing computes; the numbers of the build are, too.
    expect(page.locator(".dw-as-files")).to_have_text(NOTICE)
    expect(page.locator("one-swap .dw-answer")).to_contain_text("Weigh 291")
    page.get_by_role("link", name="Swap a liquid").locator("visible=true").first.click()
    expect(page).to_have_url((stick / "swap" / "index.html").as_uri())
    expect(page.locator(".dw-as-files")).to_be_visible()
    page.emulate_media(media="print")
    expect(page.locator(".dw-as-files")).to_be_hidden()
    expect(page.locator("liquid-swap .dw-answer")).to_be_visible()


def test_with_its_server_the_same_stick_computes_and_searches(plugged, newcomer):
    page = newcomer.new_page()
    open_page(page, plugged)
    computes(page)
    assert page.locator(".dw-as-files").count() == 0
    page.goto(plugged + urljoin("", finds(page).removeprefix(plugged)))
    expect(page.locator("h1")).to_be_visible()


def ask(address, path):
    connection = HTTPConnection(urlsplit(address).netloc)
    connection.request("GET", path)
    answer = connection.getresponse()
    answer.read()
    connection.close()
    return answer


@pytest.mark.parametrize(("path", "type_"), TYPES.items())
def test_the_sticks_server_sends_right_types(plugged, path, type_):
    answer = ask(plugged, f"/{path}")
    assert (answer.status, answer.headers["Content-Type"]) == (200, type_)


@pytest.mark.parametrize(
    "path", ["/private.txt", "/../private.txt", "/%2e%2e/private.txt", "/demo/", "/parts", "/x/"]
)
def test_the_sticks_server_sends_the_site_and_nothing_else(stick, plugged, path):
    for place in (stick, stick.parent):
        (place / "private.txt").write_text("my marks", "utf-8")
    assert ask(plugged, path).status == 404


def test_the_sticks_server_needs_the_whole_site(tmp_path):
    with pytest.raises(Trouble, match="copy the whole folder again"):
        site_server(tmp_path)


def started(stick, *options):
    """The server's own process, until it has said where it is."""
    process = subprocess.Popen(
        [sys.executable, "-I", "serve.py", "--no-browser", *options],
        cwd=stick,
        stdout=subprocess.PIPE,
        text=True,
    )
    said = []
    while not said or "To stop" not in said[-1]:
        said.append(process.stdout.readline())
        assert said[-1] or process.poll() is None
    return process, "".join(said)


@pytest.mark.parametrize("shared", [False, True])
def test_serve_py_runs_alone_and_says_how_to_stop_it(stick, shared):
    """In isolated mode, so that only Python's own library is within reach."""
    process, said = started(stick, *(["--class"] if shared else []))
    try:
        address = said.split()[4]
        assert address.startswith(f"http://{HERE_ONLY}:")
        assert ask(address, "/").status == 200
        assert ("EVERY device" in said) == shared
        assert "Ctrl-C" in said
    finally:
        process.terminate()
        process.wait()
        process.stdout.close()


def test_the_page_for_wrong_addresses_knows_its_sub_folder(stick):
    soup = BeautifulSoup((stick / "404.html").read_text("utf-8"), "html.parser")
    links = [tag["href"] for tag in soup.select("link[rel=stylesheet]")]
    assert links
    assert all(urlsplit(link).path.startswith("/dough/") for link in links)
    assert soup.find("script", attrs={"data-root": "/dough/"})


@pytest.mark.parametrize("width", [360, 1280])
def test_the_demo_pages_fit_and_the_teachers_page_leads_to_them(page, address, width):
    page.set_viewport_size({"width": width, "height": 800})
    page.goto(address + "teachers/demo-class/")
    links = page.locator("article a[data-site^='demo/']")
    places = [link.get_attribute("href") for link in links.all()]
    assert len(places) == 4
    for place in places:
        page.goto(urljoin(address + "teachers/demo-class/", place))
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        page.locator(".way-back a").click()
        expect(page).to_have_url(address + "teachers/demo-class/")
        expect(page.locator("h1")).to_contain_text("Demo class")
