"""A page's policy: first in its head, with a hash for each script in it; what it would refuse is told.

The hash is checked against `openssl dgst -sha256 -binary | base64` (run on 2026-11-28).
"""

import pytest
from bs4 import BeautifulSoup

from docs.build.policy import integrity, secure
from docs.build.tree import read, written

HASH = "'sha256-bhHHL3z2vDgxUt0W3dWQOrprscmda2Y5pLsLg4GF+pI='"


def secured(body, head='<meta charset="utf-8"/>'):
    page = read(f"<html><head>{head}</head><body>{body}</body></html>")
    secure(page)
    return BeautifulSoup(written(page), "html.parser")


def test_a_hash_is_what_browsers_ask_for():
    assert f"'{integrity(b'alert(1)')}'" == HASH


@pytest.mark.parametrize("head", ['<meta charset="utf-8"/>', "", "<title>Dough</title>"])
def test_the_policy_comes_before_all_that_obeys_it(head):
    policy, *more = secured("", head + "<link href='x.css'/>").select("[http-equiv]")
    assert not more
    assert policy["content"].startswith("default-src 'none'; script-src 'self'; ")
    assert policy.find_previous(["link", "title", "script"]) is None


def test_a_script_of_the_theme_runs_by_its_hash_and_data_needs_none():
    policy = secured('<script>alert(1)</script><script type="application/json">{}</script>')
    scripts = policy.select_one("[http-equiv]")["content"].split("; ")[1]
    assert scripts == f"script-src 'self' {HASH}"


@pytest.mark.parametrize(
    "body", ['<p style="color: red">', "<style>p {}</style>", '<p onclick="x()">', "<p onMouseOver='x()'>"]
)  # fmt: skip
def test_what_the_policy_would_refuse_stops_the_build(body):
    with pytest.raises(ValueError, match="the page’s own policy refuses"):
        secured(body)


def test_a_tables_aligned_cell_becomes_a_class():
    cell = secured('<table><tr><td class="a" style="text-align: right;">5</td></tr></table>').td
    assert cell.attrs == {"class": ["a", "dw-cell-right"]}
