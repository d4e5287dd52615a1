"""Work that is spread over the processor's cores."""

import gc
import multiprocessing
import os
import subprocess
import sys
import tempfile
import time
from functools import partial

import pytest

from docs.build import cores
from docs.build.cores import MANY, aside, begun, on_cores
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


def test_what_is_begun_is_done_when_it_was_waited_for(number, tmp_path):
    made = tmp_path / "made"
    wait = begun(partial(made.write_text, "whole"))
    wait()
    # Without another process whoever needs it makes it.
    assert made.is_file() == (number > 1)


def test_what_goes_wrong_there_is_left_to_who_needs_it(number, capfd):
    begun(partial(told, "wrong", 1))()
    assert capfd.readouterr() == ("", "")


def half_made(folder):
    with tempfile.TemporaryDirectory(dir=folder):
        program = f"import os, time; print(os.getpid(), file=open({str(folder / 'number')!r}, 'w')); time.sleep(60)"
        subprocess.run([sys.executable, "-c", program])


def test_what_is_ended_removes_what_is_half_made(tmp_path, monkeypatch):
    monkeypatch.setattr(cores, "all_cores", lambda: 2)
    wait = begun(partial(half_made, tmp_path))
    number = tmp_path / "number"
    while not (number.is_file() and number.read_text()):
        time.sleep(0.01)
    (process,) = multiprocessing.active_children()
    process.terminate()
    wait()
    assert list(tmp_path.iterdir()) == [number]
    with pytest.raises(ProcessLookupError):
        os.kill(int(number.read_text()), 0)


KNOWN = []


def learn():
    KNOWN.append("what the first process knows")


def known(number):
    return KNOWN


def test_another_process_is_made_ready_first(monkeypatch):
    monkeypatch.setattr(cores, "all_cores", lambda: 2)
    with on_cores(known, [(n,) for n in range(MANY)], learn) as making:
        assert list(making) == [["what the first process knows"]] * MANY
