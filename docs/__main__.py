"""``python -m docs build`` makes the site; ``python -m docs serve`` serves it here and follows what is saved."""

from __future__ import annotations

import argparse
import logging
import sys
from functools import partial
from http.server import ThreadingHTTPServer
from pathlib import Path

from docs.build import serve
from docs.build.error import BuildError
from docs.build.policy import HEADERS, PAGE_HEADERS, SCRIPT_HEADERS
from docs.build.serve import FIRST_PORT, Trouble
from docs.build.site import SITE, build_site, check_folder
from docs.writing.handler import WritingHandler
from docs.writing.news import News
from docs.writing.watch import watching
from exercises.plain_signs import never_stop_at_a_sign

# A service worker that removes the real one: an author never sees an older version.
REMOVER = Path(__file__).resolve().parent / "offline" / "remove.js"


class Handler(serve.Handler):
    """Serves the site as on a stick, with the headers a host may add."""

    offline = False

    def translate_path(self, path: str) -> str:
        file = super().translate_path(path)
        is_worker = Path(file) == Path(self.directory, "sw.js")
        return str(REMOVER) if is_worker and not self.offline else file

    def end_headers(self) -> None:
        is_script = self.path.partition("?")[0].endswith(".js")
        headers = HEADERS | (SCRIPT_HEADERS if is_script else PAGE_HEADERS)
        for name, value in headers.items():
            self.send_header(name, value)
        super().end_headers()


class OfflineHandler(Handler):
    """Serves the site with its service worker, as a host does."""

    offline = True


def server(site: Path, port: int = FIRST_PORT, offline: bool = False) -> ThreadingHTTPServer:
    """A server for the site on this machine only, at the first free port from `port` (0: any).

    Without `offline` nothing is kept in the browser: each visit shows what was built last.
    """
    handler = partial(OfflineHandler if offline else Handler, directory=str(site))
    return serve.bound(handler, port=port)


def serve_writer(site: Path, port: int, how: dict[str, object]) -> None:
    """Serve the site while it is built, and again after each change, until Ctrl-C. Raises BuildError, Trouble."""
    check_folder(site)
    news = News()
    handler = partial(
        type("Served", (WritingHandler, Handler), {"news": news}), directory=str(site)
    )
    with serve.bound(handler, port=port) as running, watching(site, news, how):
        _serve(running)


def _serve(running: ThreadingHTTPServer) -> None:
    print(f"The site is at http://127.0.0.1:{running.server_port}/ (stop with Ctrl-C)", flush=True)
    running.serve_forever()


def main() -> int:
    """Run the command; 1 when the site cannot be built."""
    never_stop_at_a_sign()
    parser = argparse.ArgumentParser(
        prog="python -m docs", description="Build the Doughwater site."
    )
    parser.add_argument("command", choices=("build", "serve"))
    parser.add_argument(
        "--port", type=int, default=FIRST_PORT, help="where to serve (default 8000)"
    )
    parser.add_argument(
        "--offline", action="store_true", help="serve with offline use, as a host does"
    )
    parser.add_argument(
        "--out", type=Path, default=SITE, metavar="FOLDER", help="where to write (default .site)"
    )
    parser.add_argument(
        "--address",
        default="",
        metavar="ADDRESS",
        help="where the site will be, such as https://school.example/dough/",
    )
    parser.add_argument(
        "--for-files", action="store_true", help="links also work from a disk or stick"
    )
    parser.add_argument(
        "--anew", action="store_true", help="make every page again, also those that did not change"
    )
    options = parser.parse_args()
    # What MkDocs warns of names the page to mend.
    logging.basicConfig(format="%(levelname)s: %(message)s", level=logging.WARNING)
    how = {name: getattr(options, name) for name in ("address", "for_files", "anew")}
    try:
        if options.command == "serve" and not options.offline:
            serve_writer(options.out, options.port, how)
            return 0
        build_site(options.out, **how)
        if options.command == "build":
            print(f"The site is in {options.out}. Copy the whole folder to its place.")
        else:
            with server(options.out, options.port, offline=True) as running:
                _serve(running)
    except (BuildError, Trouble) as error:
        print(error, file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        print()
    return 0


if __name__ == "__main__":
    sys.exit(main())
