"""A site on a host of its own, whose files can be exchanged: what a new version looks like to a reader."""

import os
import shutil
import threading
from functools import partial
from http.server import ThreadingHTTPServer
from pathlib import Path

from docs.__main__ import OfflineHandler
from docs.offline.file_list import write_worker

FOLDER = "school/dough"


class Host:
    """Serves one version of a site in a sub-folder, and notes what it is asked for."""

    def __init__(self, home: Path) -> None:
        self.home = home
        self.asked: list[str] = []
        host = self

        class Noting(OfflineHandler):
            def do_GET(self) -> None:
                host.asked.append(self.path.removeprefix(f"/{FOLDER}/"))
                super().do_GET()

            def handle_one_request(self) -> None:
                # A page that is left hangs up in the middle of a file.
                try:
                    super().handle_one_request()
                except ConnectionError:
                    self.close_connection = True

        (home / FOLDER).parent.mkdir(parents=True)
        self._server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Noting, directory=str(home)))
        self.address = f"http://127.0.0.1:{self._server.server_port}/{FOLDER}/"
        threading.Thread(target=self._server.serve_forever, daemon=True).start()

    def show(self, site: Path) -> None:
        """Exchange all files at once."""
        fresh = self.home / "next"
        fresh.symlink_to(site, target_is_directory=True)
        os.replace(fresh, self.home / FOLDER)
        self.asked.clear()

    def stop(self) -> None:
        """The network is gone: nothing answers at this address any more."""
        self._server.shutdown()
        self._server.server_close()


def version(site: Path, target: Path, changes: dict[str, tuple[str, str]], hours: int = 0) -> Path:
    """A copy of a site with texts exchanged, `hours` younger, and a service worker of its own."""
    shutil.copytree(site, target)
    for name, (old, new) in changes.items():
        file = target / name
        text = file.read_text("utf-8")
        assert old in text, f"{name} does not hold {old}"
        file.write_text(text.replace(old, new), "utf-8")
    write_worker(target)
    for name in (*changes, "offline/version.js", "sw.js"):
        # A server tells changed files by their time, in whole seconds.
        at = (target / name).stat().st_mtime + 3600 * hours
        os.utime(target / name, (at, at))
    return target
