"""Every part: answers to the page, and what is left of a reader afterwards."""

import gc
import json
import secrets

from docs.parts import EARLY, forget, respond
from docs.parts.set_writer import STARTER


def kept(marker):
    """Texts with the marker that something holds besides this test."""
    holders = [each for each in gc.get_objects() if isinstance(each, (dict, list, tuple, set))]
    texts = (text for each in holders for text in gc.get_referents(each) if type(text) is str)
    return [text for text in texts if marker in text]


def ask(part, **fields):
    return json.loads(respond(json.dumps({"part": part, "fields": fields})))


def test_nothing_of_a_readers_set_stays_for_the_next_page():
    """Pages of a visit share one Python, and more than one person may use the browser."""
    marker = f"loaf {secrets.token_hex(8)}"
    for _ in range(2):
        answer = ask(
            "set-writer",
            text=STARTER.replace("A loaf for the morning", marker),
            file="mine.yml",
            student="Ada",
        )
        assert marker in json.dumps(answer)
    del answer
    forget()
    gc.collect()
    assert kept(marker) == []


def test_half_of_a_pair_in_a_field_reaches_no_address():
    """Links onward carry the fields in their address, which can hold no such half."""
    for part in ("liquid-swap", "scale-formula", "dough-temperature"):
        fields = EARLY[part].fields({})
        for name in fields:
            asked = {"part": part, "fields": fields | {name: "\ud800"}}
            answer = json.loads(respond(json.dumps(asked)))
            assert json.dumps(answer, ensure_ascii=False).encode()
