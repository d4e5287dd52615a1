"""``python -m docs build`` makes the site; ``python -m docs serve`` makes it and serves it here."""

from __future__ import annotations

import argparse
import errno
import sys
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

from docs.build import SITE, BuildError, build_site

FIRST_PORT = 8000
PORTS_TO_TRY = 50


class Handler(SimpleHTTPRequestHandler):
    """Serves the site quietly, with the types that browsers insist on."""

    extensions_map = SimpleHTTPRequestHandler.extensions_map | {
        ".js": "text/javascript",
        ".mjs": "text/javascript",
        ".wasm": "application/wasm",
        ".svg": "image/svg+xml",
    }

    def log_message(self, format: str, *args: object) -> None:
        pass

    def end_headers(self) -> None:
        self.send_header("Cache-Control", "no-cache")
        super().end_headers()


def server(site: Path, port: int = FIRST_PORT) -> ThreadingHTTPServer:
    """A server for the site on this machine only, at the first free port from `port` (0: any)."""
    handler = partial(Handler, directory=str(site))
    for candidate in range(port, port + PORTS_TO_TRY):
        try:
            return ThreadingHTTPServer(("127.0.0.1", candidate), handler)
        except OSError as error:
            if error.errno != errno.EADDRINUSE:
                raise
    raise BuildError(f"no free port from {port} to {port + PORTS_TO_TRY - 1}; name one with --port")


def main() -> int:
    """Run the command; 1 when the site cannot be built."""
    parser = argparse.ArgumentParser(
        prog="python -m docs", description="Build the Doughwater site."
    )
    parser.add_argument("command", choices=("build", "serve"))
    parser.add_argument(
        "--port", type=int, default=FIRST_PORT, help="where to serve (default 8000)"
    )
    options = parser.parse_args()
    try:
        build_site(SITE)
        if options.command == "serve":
            with server(SITE, options.port) as site:
                print(
                    f"The site is at http://127.0.0.1:{site.server_port}/ (stop with Ctrl-C)",
                    flush=True,
                )
                site.serve_forever()
    except BuildError as error:
        print(error, file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        print()
    return 0


if __name__ == "__main__":
    sys.exit(main())
