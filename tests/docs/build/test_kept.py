"""What is kept between builds: taken only when all that it was made of is the same."""

import pytest

from docs.build import kept as module
from docs.build.kept import Kept


@pytest.fixture(autouse=True)
def empty(tmp_path, monkeypatch):
    monkeypatch.setattr(module, "CACHE", tmp_path / "made")


def made(kept, made_of):
    """What is given, and whether it was made now."""
    calls = []
    given = kept.get(made_of, lambda: calls.append(1) or {"text": " ".join(made_of)})
    return given, bool(calls)


def built(*pieces, anew=False):
    kept = Kept(anew)
    found = [made(kept, piece) for piece in pieces]
    kept.keep()
    return [now for _, now in found]


def test_what_is_the_same_is_made_once():
    assert built(["page", "a"], ["page", "b"]) == [True, True]
    assert built(["page", "a"], ["page", "c"]) == [False, True]
    assert made(Kept(), ["page", "c"]) == ({"text": "page c"}, False)


def test_it_is_known_what_need_not_be_made():
    built(["page", "a"])
    assert Kept().has(["page", "a"])
    assert not Kept().has(["page", "b"])
    assert not Kept(anew=True).has(["page", "a"])


def test_other_code_makes_all_again(monkeypatch):
    built(["page", "a"])
    monkeypatch.setattr(module, "AT_START", "another")
    assert built(["page", "a"]) == [True]


def test_what_was_edited_meanwhile_is_not_kept(monkeypatch):
    monkeypatch.setattr(module, "stamp", lambda: "edited")
    assert built(["page", "a"]) == [True]
    assert built(["page", "a"]) == [True]


def test_a_build_that_failed_keeps_nothing():
    made(Kept(), ["page", "a"])
    assert built(["page", "a"]) == [True]


def test_all_anew_makes_all_and_keeps_it():
    built(["page", "a"])
    assert built(["page", "a"], anew=True) == [True]
    assert built(["page", "a"]) == [False]


def test_what_is_cut_short_is_made_again():
    built(["page", "a"])
    (file,) = module.CACHE.iterdir()
    file.write_text(file.read_text("utf-8")[:9], "utf-8")
    assert built(["page", "a"]) == [True]


def test_the_oldest_goes(monkeypatch):
    monkeypatch.setattr(module, "MOST_KEPT", 2)
    built(["a"], ["b"], ["c"])
    assert len(list(module.CACHE.iterdir())) == 2
