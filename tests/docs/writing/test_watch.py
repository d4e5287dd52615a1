"""The watch over what the site is made of, with a build that only says what it was asked."""

import sys
import threading

import pytest

from docs.writing.news import News
from docs.writing.watch import ROOT, Builder, is_source

# Says as changed what it was asked to make first; the second time, what is wrong.
BUILD = """
import json, pathlib, sys
asked, turn = json.loads(sys.stdin.readline()), pathlib.Path(sys.argv[1])
print(json.dumps({"changed": [*asked["first"], str(asked.get("anew"))]}), flush=True)
trouble = "sets/x.yml:3:1: no" if turn.exists() else ""
turn.touch()
print(json.dumps({"trouble": trouble}), flush=True)
"""


@pytest.mark.parametrize(
    ("name", "is_one"),
    [
        ("docs/pages/swap.md", True),
        ("docs/engine/node_modules/pyodide/pyodide.js", False),
        ("exercises/sets/first-swaps.yml", True),
        ("calc/data/ingredients.csv", True),
        ("docs/parts/liquid-swap.js", True),
        ("site_config.yml", True),
        ("pyproject.toml", False),
        ("README.md", False),
        ("docs/pages/.swap.md.swp", False),
        ("docs/pages/swap.md~", False),
        ("calc/__pycache__/units.cpython-311.pyc", False),
    ],
)
def test_what_a_build_reads_is_watched_and_no_more(name, is_one):
    assert is_source(str(ROOT / name)) is is_one


def test_each_wish_is_a_build_with_the_open_page_first_and_trouble_ends_nothing(tmp_path, capfd):
    news = News()
    builder = Builder([sys.executable, "-c", BUILD, str(tmp_path / "turn")], news, {"anew": True})
    running = threading.Thread(target=builder.run)
    running.start()
    with news.opened("swap/"):
        heard = news.wait(0, "True", 60)
        assert not heard.trouble
        news.await_file(lambda: False, 60)
        assert capfd.readouterr().err == "The site is up to date.\n"
        builder.wish()
        builder.wish()
        while not (heard := news.wait(heard.number, "swap/", 60)).trouble:
            pass
        assert heard.trouble == "sets/x.yml:3:1: no"
        assert "sets/x.yml:3:1: no\n" in capfd.readouterr().err
        builder.wish()
        assert not news.wait(heard.number, "swap/", 60).trouble
    builder.stop()
    running.join(60)
    assert not running.is_alive()
