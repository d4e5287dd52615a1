"""Every sentence that the project puts together reads as if a teacher had written it (tests/words/generated.py).

A small grammar of our own: what goes wrong where words are put together from parts. Source: none; English as it is.
"""

import re

import pytest

from tests.words.generated import sentences

WHOLE = ("hint", "reason", "mistake", "question", "size")

# What must not be in any of them, and how it comes about.
SLIPS = {
    "a word twice": r"\b(?!that\b)(\w+) \1\b",
    "two determiners": r"\b(the|a|an|this) (the|a|an|their|its|how|what|all of|both|my|your)\b(?! much| many)",
    "a before a vowel": r"\b[Aa] [aeio]\w+",
    "an before a consonant": r"\b[Aa]n (?![aeiouhAEIOU8“(])\w",
    "a key of the code": r"\w_\w|[{}|]|\bNone\b|\bNaN\b",
    "space before a sign": r"\s[.,;:?](?=\s|$)",
    "two spaces": r"  ",
    "two signs": r"[.,;:?]{2,}(?!\.)",
    "a number that touches its unit": r"\d(?:g|kg|ml|oz|lb|%|°C|°F|min|cm)\b",
    "a plural with a singular verb": r"\b(pieces|solids|heights|minerals|degrees|oats|eggs)\b(?: together)? (is|has|was)\b",
    "a singular with a plural verb": r"\bthe (flour|dough|salt|water|butter|liquid|milk|sum) (are|have|were)\b",
    "a lonely preposition": r"\b(of|than|the|an)[.?](?:\s|$)",
}  # fmt: skip


@pytest.fixture(scope="module")
def written():
    return sorted(set(sentences(draws=4)))


def test_there_is_much_to_read(written):
    assert len(written) > 2000
    assert {kind for kind, _ in written} >= {*WHOLE, "label", "relation", "numbers", "solution"}


@pytest.mark.parametrize("slip", SLIPS)
def test_no_sentence_has(slip, written):
    pattern = re.compile(SLIPS[slip])
    assert [(kind, text) for kind, text in written if pattern.search(text)] == []


def test_sentences_begin_with_a_capital_and_end(written):
    for kind, text in written:
        if kind in WHOLE:
            assert re.match(r"[A-Z°0-9(“]", text), text
            assert text.endswith((".", "?")), text
            for one in re.split(r"(?<=[.?:]) (?=[A-Z])", text):
                assert re.match(r"[A-Z0-9“°(p]", one), text


def test_no_sentence_is_a_scrap(written):
    """“Here too.”, “The rest.”: said alone, such a hint says nothing."""
    for kind, text in written:
        if kind in WHOLE:
            scraps = [one for one in re.split(r"(?<=[.?]) (?=[A-Z])", text) if len(one.split()) < 3]
            assert scraps == [], text


def test_labels_are_no_sentences(written):
    for kind, text in written:
        if kind == "label":
            assert not text.endswith((".", ":", "?", " by", " of")), text
            assert text == text.strip()
            assert text
