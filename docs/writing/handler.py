"""The writers' server: the site's files, a script in each page that hears of changes, and what it asks."""

from __future__ import annotations

import json
from http.server import SimpleHTTPRequestHandler
from io import BytesIO
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

from docs.writing.news import News

SCRIPT = Path(__file__).with_name("open-page.js")
# Of this server alone: the site has no such folder.
SCRIPT_ADDRESS = "/-writing/open-page.js"
NEWS_ADDRESS = "/-writing/news"
# In seconds. A line that says nothing finds out whether the page is still there.
BREATH = 10
# A first build, engine and all, on a slow machine.
PATIENCE = 300
UNMADE = (
    "<!DOCTYPE html><html lang=en><meta charset=utf-8><title>Not built yet</title>"
    "<h1>This page is not built</h1><p>It is shown as soon as it is.</p>"
)


class WritingHandler(SimpleHTTPRequestHandler):
    """To mix into a handler of files; each is asked of the site as it is by then."""

    news: News

    def do_GET(self) -> None:
        address = urlsplit(self.path)
        if address.path == NEWS_ADDRESS:
            asked = {name: values[0] for name, values in parse_qs(address.query, True).items()}
            self._tell(asked["page"], int(asked["since"]))
        else:
            super().do_GET()

    def translate_path(self, path: str) -> str:
        is_script = urlsplit(path).path == SCRIPT_ADDRESS
        return str(SCRIPT) if is_script else super().translate_path(path)

    def send_head(self) -> object:
        """A page with the script that hears of changes, or a file as it is; waits for what is still being made."""
        path, file = self.path.partition("?")[0], Path(self.translate_path(self.path))
        page = file / "index.html" if path.endswith("/") else file
        # Before the file is read: what changes meanwhile is news.
        since = self.news.number
        self.news.await_file(lambda: page.is_file() or page.is_dir(), PATIENCE)
        if page.suffix == ".html" and (page.is_file() or self.news.trouble):
            return self._page(page.read_text("utf-8") if page.is_file() else UNMADE, since)
        return super().send_head()

    def _page(self, html: str, since: int) -> BytesIO:
        script = f'<script type="module" src="{SCRIPT_ADDRESS}?since={since}"></script>'
        head, end, rest = html.partition("</head>")
        body = (head + script + end + rest).encode()
        self.send_response(200)
        self.send_header("Content-Type", "text/html; charset=utf-8")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        return BytesIO(body)

    def _tell(self, page: str, since: int) -> None:
        """Tell a page, while it is open, what there is for it: server-sent events (WHATWG, HTML)."""
        self.send_response(200)
        self.send_header("Content-Type", "text/event-stream")
        self.end_headers()
        seconds = 0.0
        with self.news.opened(page):
            while True:
                tidings = self.news.wait(since, page, seconds)
                seconds = BREATH
                said = {"isOther": tidings.is_other, "trouble": tidings.trouble}
                self.wfile.write(f"data: {json.dumps(said)}\n\n".encode())
                since = tidings.number
