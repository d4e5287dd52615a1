"""Work that is spread over the processor's cores."""

import gc
import os

import pytest

from docs.build import cores
from docs.build.cores import MANY, aside, on_cores
from docs.build.error import BuildError


@pytest.fixture(params=[1, 2])
def number(request, monkeypatch):
    monkeypatch.setattr(cores, "all_cores", lambda: request.param)
    return request.param


def told(word, number):
    if word == "wrong":
        raise BuildError("page.md:3: wrong")
    return f"{word} {number}", os.getpid()


def test_results_come_in_order_and_from_other_processes_where_they_are_many(number):
    asked = [("page", n) for n in range(3 * MANY)]
    with on_cores(told, asked) as making:
        said, places = zip(*making, strict=True)
    assert said == tuple(f"page {n}" for n in range(3 * MANY))
    assert (set(places) == {os.getpid()}) == (number == 1)
    with on_cores(told, asked[:2]) as making:
        assert {place for _, place in making} == {os.getpid()}


def test_what_goes_wrong_is_told_as_it_is_and_the_rest_ends(number):
    before = gc.get_threshold()
    asked = [("page", 1), ("wrong", 2), *(("page", n) for n in range(3, 3 * MANY))]
    with pytest.raises(BuildError, match=r"^page.md:3: wrong$"), on_cores(told, asked) as making:
        list(making)
    assert gc.get_threshold() == before


def test_work_aside_is_done_meanwhile_and_in_order(number):
    with aside() as ask:
        first, second = ask(told, "page", 1), ask(told, "page", 2)
        (word, place), (_, other) = first(), second()
    assert word == "page 1"
    assert place == other
    assert (place == os.getpid()) == (number == 1)


def test_what_goes_wrong_aside_is_told_when_it_is_waited_for(number):
    with aside() as ask:
        wrong = ask(told, "wrong", 1)
        with pytest.raises(BuildError, match=r"^page.md:3: wrong$"):
            wrong()


KNOWN = []


def learn():
    KNOWN.append("what the first process knows")


def known(number):
    return KNOWN


def test_another_process_is_made_ready_first(monkeypatch):
    monkeypatch.setattr(cores, "all_cores", lambda: 2)
    with on_cores(known, [(n,) for n in range(MANY)], learn) as making:
        assert list(making) == [["what the first process knows"]] * MANY
