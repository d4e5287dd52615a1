"""A school's system for the tests: a host that serves packages as careless hosts do, plays one in a frame, and keeps
what it is told. The system's side of SCORM is `scorm-again` from npm, at the version and integrity locked in
`tests/scorm/`; it is used by tests alone.
"""

import io
import json
import threading
import zipfile
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

from docs.engine.npm import installed
from exercises.publish.scorm import PAGE

HERE = Path(__file__).resolve().parent.parent / "scorm"
SYSTEM = "scorm-again"
# Each edition's file of the system, its class, and the name that it has in a window.
SIDES = {
    "scorm12": ("scorm12.js", "Scorm12API", "API"),
    "scorm2004": ("scorm2004.js", "Scorm2004API", "API_1484_11"),
}
# No host knows them all; a browser must not need to be told.
TYPES = {".zstd": "text/plain", ".zip": "text/html", ".woff2": "text/plain", ".json": "text/plain"}
STRICT = "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; img-src 'self' data:; object-src 'none'"
PLAYER = """<!doctype html><html lang="en"><meta charset="utf-8"><title>School</title>
<link rel="icon" href="data:,"><script src="/system.js"></script><script>
const api = new {name}({{lmsCommitUrl: '/commit?{page}', logLevel: 5, autocommit: false}});
api.loadFromJSON({state}, '');
window.{window} = api;
</script><div><iframe {sandbox} src="/{folder}/{page}?session=7" title="The set" width="100%" height="900"></iframe></div></html>
"""


class School:
    """Holds one package after another, and plays the item that is `open`; `failing` makes it take nothing."""

    def __init__(self, home: Path) -> None:
        self.home = home
        self.asked: list[str] = []
        self.failing = False
        self.sandbox: str | None = None
        self.about: dict = {}
        self.open = PAGE
        # What was committed last of each item.
        self.all_kept: dict[str, dict] = {}
        self.edition = "scorm12"
        # How often something was committed.
        self.heard = 0
        school = self

        class Handler(SimpleHTTPRequestHandler):
            def log_message(self, *arguments):
                pass

            def guess_type(self, path):
                return TYPES.get(Path(path).suffix) or super().guess_type(path)

            def end_headers(self):
                if self.path.startswith("/content/"):
                    self.send_header("Content-Security-Policy", STRICT)
                    self.send_header("X-Content-Type-Options", "nosniff")
                super().end_headers()

            def do_GET(self):
                school.asked.append(self.path)
                if self.path == "/play":
                    self.answer(school.player(), "text/html; charset=utf-8")
                elif self.path in ("/failing", "/working"):
                    school.failing = self.path == "/failing"
                    self.answer("", "text/plain")
                elif self.path == "/closed":
                    school.close()
                    self.answer("", "text/plain")
                elif self.path == "/system.js":
                    self.answer(school.system(), "text/javascript")
                else:
                    super().do_GET()

            def do_POST(self):
                told = json.loads(self.rfile.read(int(self.headers["Content-Length"])))
                if school.failing:
                    self.answer('{"result": "false", "errorCode": 101}', "application/json", 500)
                    return
                school.all_kept[self.path.partition("?")[2]] = told["cmi"]
                school.heard += 1
                self.answer('{"result": "true", "errorCode": 0}', "application/json")

            def answer(self, text, type_, status=200):
                content = text.encode()
                self.send_response(status)
                self.send_header("Content-Type", type_)
                self.send_header("Content-Length", str(len(content)))
                self.end_headers()
                self.wfile.write(content)

        self._server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Handler, directory=str(home)))
        self.address = f"http://127.0.0.1:{self._server.server_port}/"
        threading.Thread(target=self._server.serve_forever, daemon=True).start()

    def take(self, edition: str, package: bytes) -> None:
        """Import a package; a class begins."""
        self.edition, self.all_kept, self.open = edition, {}, PAGE
        self.folder = f"content/{edition}/deep"
        with zipfile.ZipFile(io.BytesIO(package)) as zipped:
            zipped.extractall(self.home / self.folder)

    def close(self) -> None:
        """The attempt is over: it is shown, and no more."""
        if self.edition == "scorm2004":
            self.about = {**self.about, "mode": "review"}
        else:
            self.about = {"core": {**self.about["core"], "lesson_mode": "review"}}

    @property
    def kept(self) -> dict:
        """Of the item that is open."""
        return self.all_kept.get(self.open, {})

    def system(self) -> str:
        return (installed(HERE, SYSTEM) / "dist" / SIDES[self.edition][0]).read_text("utf-8")

    def player(self) -> str:
        _, name, window = SIDES[self.edition]
        state = json.loads(json.dumps({**self.kept, **self.about}))
        if core := self.kept.get("core"):
            state["core"] = {**core, **self.about.get("core", {})}
        return PLAYER.format(
            name=name,
            window=window,
            state=json.dumps({"cmi": state}),
            sandbox="" if self.sandbox is None else f'sandbox="{self.sandbox}"',
            folder=self.folder,
            page=self.open,
        )

    def stop(self) -> None:
        self._server.shutdown()
        self._server.server_close()
