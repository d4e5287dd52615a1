#!/usr/bin/env python3
"""Shows this site on this computer, with no network: ``python3 serve.py`` (Windows: ``py serve.py``).

The site's pages compute only when a server sends them, and this is one, in Python's own library. It
stays in the site's folder and sends that site's files and nothing else. Stop it with Ctrl-C.

    --class      also for the other devices on this network
    --port N     at this port, or the next free one (8000 if you name none)
    --no-browser do not open the browser
"""

# The build copies this file into the site, so it imports only the standard library.
from __future__ import annotations

import argparse
import errno
import json
import os
import socket
import sys
import webbrowser
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import ClassVar
from urllib.parse import quote

FIRST_PORT = 8000
PORTS_TO_TRY = 50
NOWHERE = "nowhere"
HERE_ONLY, WHOLE_NETWORK = "127.0.0.1", "0.0.0.0"

WARNING = """
  The pages are open to EVERY device on this network while this window is open.
  - Use it on a network you trust: a classroom's or your own, not a café's.
  - Others can read the site's pages. Nothing else on this computer is sent.
  - What students type stays on their devices.
  - The firewall of this computer may ask you. Allow private networks only.
  - School networks often keep devices apart. Then this cannot work: ask who runs the network.
"""


class Trouble(Exception):
    """What the person at the terminal can put right."""


class Handler(SimpleHTTPRequestHandler):
    """Sends files quietly, with the types that browsers insist on. Folders are not listed."""

    extensions_map: ClassVar = {
        **SimpleHTTPRequestHandler.extensions_map,
        ".html": "text/html; charset=utf-8",
        ".txt": "text/plain; charset=utf-8",
        ".css": "text/css",
        ".js": "text/javascript",
        ".json": "application/json",
        ".svg": "image/svg+xml",
        ".wasm": "application/wasm",
        ".webmanifest": "application/manifest+json",
        ".zip": "application/zip",
    }

    def log_message(self, format: str, *args: object) -> None:
        pass

    def list_directory(self, path: str) -> None:
        self.send_error(404)

    def send_error(self, code: int, *told: object) -> None:
        """To a reader at an address that is nowhere, the site's own page for it; to all else the bare number."""
        if code != 404 or not self._can_lead_on():
            super().send_error(code, *told)
            return
        self.send_response(302)
        self.send_header("Location", f"/{NOWHERE}/")
        self.send_header("Content-Length", "0")
        self.end_headers()

    def _can_lead_on(self) -> bool:
        is_read = "text/html" in self.headers.get("Accept", "")
        return is_read and Path(self.directory, NOWHERE, "index.html").is_file()

    def end_headers(self) -> None:
        # Ask each time whether a file has changed, so that no one sees an older site.
        self.send_header("Cache-Control", "no-cache")
        super().end_headers()


class SiteHandler(Handler):
    """Sends the files that the site's build listed, whatever else lies in the folder."""

    def __init__(self, *arguments: object, files: frozenset, **more: object) -> None:
        self.files = files
        super().__init__(*arguments, **more)

    def send_head(self) -> object:
        asked = Path(self.translate_path(self.path))
        path = asked.relative_to(self.directory)
        if not self.files & {path.as_posix(), (path / "index.html").as_posix()}:
            self.send_error(404)
            return None
        return super().send_head()


class Server(ThreadingHTTPServer):
    # On Windows this would let two servers share a port.
    allow_reuse_address = os.name != "nt"

    def handle_error(self, request: object, client_address: object) -> None:
        # A reader who leaves a page breaks its downloads off: no fault of the server's.
        if not isinstance(sys.exc_info()[1], ConnectionError):
            super().handle_error(request, client_address)


def bound(handler: object, host: str = HERE_ONLY, port: int = FIRST_PORT) -> Server:
    """A server at the first free port from `port` (0: any). Raises Trouble where none is free."""
    for candidate in range(port, port + PORTS_TO_TRY):
        try:
            return Server((host, candidate), handler)
        except OSError as error:
            if error.errno not in (errno.EADDRINUSE, errno.EACCES):
                raise
    raise Trouble(f"No port is free from {port} to {port + PORTS_TO_TRY - 1}. Name one: --port N")


def files_of(site: Path) -> frozenset:
    """The paths of a built site's files, from the list its service worker carries. Raises Trouble."""
    try:
        text = (site / "sw.js").read_text("utf-8")
        listed = json.loads(text.split("const FILES = ", 1)[1].split(";\n", 1)[0])
    except (OSError, IndexError, ValueError):
        raise Trouble(
            f"{site}: the site is not here, or not all of it. This file works in the site's own "
            "folder: copy the whole folder again."
        ) from None
    known = {f"{path}index.html" if not path or path.endswith("/") else path for path in listed}
    on_disk = (file.relative_to(site).as_posix() for file in site.rglob("*") if file.is_file())
    return frozenset(path for path in on_disk if quote(path) in known) | {"sw.js", "404.html"}


def own_address() -> str:
    """This computer's address on its network, as far as it can tell. Sends nothing."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            # Documentation's own network (RFC 5737): asking the way there is enough.
            probe.connect(("192.0.2.1", 9))
            return probe.getsockname()[0]
        except OSError:
            return "the address of this computer"


def site_server(site: Path, host: str = HERE_ONLY, port: int = FIRST_PORT) -> Server:
    """A server for a built site. Raises Trouble."""
    handler = partial(SiteHandler, directory=str(site), files=files_of(site))
    return bound(handler, host, port)


def main() -> int:
    parser = argparse.ArgumentParser(
        description="Shows this site on this computer. Ctrl-C stops it."
    )
    parser.add_argument(
        "--class", dest="shared", action="store_true", help="also for the devices on this network"
    )
    parser.add_argument("--port", type=int, default=FIRST_PORT, metavar="N")
    parser.add_argument("--no-browser", action="store_true", help="do not open the browser")
    options = parser.parse_args()
    site = Path(__file__).resolve().parent
    try:
        with site_server(
            site, WHOLE_NETWORK if options.shared else HERE_ONLY, options.port
        ) as server:
            address = f"http://{HERE_ONLY}:{server.server_port}/"
            print(f"The site is at {address}")
            if options.shared:
                print(f"For the class: http://{own_address()}:{server.server_port}/\n{WARNING}")
            print("Leave this window open. To stop: press Ctrl-C, or close it.", flush=True)
            if not options.no_browser:
                webbrowser.open(address)
            server.serve_forever()
    except Trouble as trouble:
        print(trouble, file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        print("\nStopped.")
    return 0


if __name__ == "__main__":
    sys.exit(main())
