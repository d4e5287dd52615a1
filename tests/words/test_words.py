"""Every word a reader may read: plain, short, spelt as in Britain, and no list with idle entries.

Outside the project: the dictionary (`dictionary-en-gb`), the CMU Pronouncing Dictionary, and a
published worked value of the Flesch-Kincaid grade.
"""

import pytest

from tests.words import check as checks
from tests.words import reading, spelling
from tests.words.check import check, files
from tests.words.prose import READERS, ROOT, Passage, passages


@pytest.fixture(scope="session")
def everything():
    """Every passage of the project."""
    return [passage for file in files() for passage in passages(file)]


@pytest.mark.parametrize("file", files(), ids=lambda file: str(file.relative_to(ROOT)))
def test_words_are_plain_and_spelt_right(file):
    found = check(file)
    assert not found, "\n" + "\n".join(map(str, found))


def test_no_idle_trade_words(everything):
    """An entry that no page uses, or that the dictionary knows by itself, hides later slips."""
    used = {
        spelling.entry(word)
        for passage in everything
        for _, word in checks.words_of(passage)
        if not spelling.known(word)
    }
    idle = sorted(spelling.listed(spelling.TRADE_WORDS) - used)
    assert not idle, f"take out of tests/words/trade_words.txt: {', '.join(idle)}"


def test_no_idle_names(everything):
    text = " ".join(passage.text for passage in everything)
    words = set(reading.WORD.findall(text))
    words |= {word.removesuffix("'s").removesuffix("’s") for word in words}
    idle = sorted(spelling.listed(spelling.NAMES) - words)
    assert not idle, f"take out of tests/words/names.txt: {', '.join(idle)}"


def test_grade_against_a_published_value():
    """The encyclopedias' worked sentence: 13 words, 24 syllables, grade 11.3.

    https://en.wikipedia.org/wiki/Flesch%E2%80%93Kincaid_readability_tests
    """
    sentence = "The Australian platypus is seemingly a hybrid of a mammal and reptilian creature."
    words = reading.WORD.findall(sentence)
    sounds = sum(map(reading.syllables, words))
    assert (len(words), sounds) == (13, 24)
    assert round(reading.grade(len(words), sounds / len(words)), 1) == 11.3


@pytest.mark.parametrize(
    ("word", "count"),
    # Counted aloud: the dictionary lacks these, so the groups of vowels decide.
    [("poolish", 2), ("doughs", 1), ("fumaric", 3), ("preferments", 3), ("wheats", 1)],
)
def test_syllables_of_trade_words(word, count):
    assert reading.syllables(word) == count


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("In order to swap, utilise milk.", ["In order to", "utilise"]),
        ("The flavor is good.", ["flavor"]),
        ("You organize the bench.", ["organise"]),
        ("Ask Marietta for the milk.", ["Marietta"]),
        ("Weigh " + "one more gram of flour and " * 7 + "stop.", ["words in one sentence"]),
        ("Stir it just before mixing, in ½ minute at 24 °C (75 °F).", []),
    ],
)
def test_what_is_told(tmp_path, text, told):
    file = tmp_path / "page.md"
    file.write_text(f"---\ntitle: A page\n---\n\n# A page\n\n{text}\n", "utf-8")
    found = check(file)
    assert [finding.line for finding in found] == [7] * len(told)
    assert all(any(words in finding.message for finding in found) for words in told)


def test_hard_and_passive_texts_are_told(tmp_path):
    hard = "Considerable experimentation notwithstanding, hydration calculations necessitate determination of constituents. "
    passive = "The dough was mixed by hand. The bowl is then put in the cold. "
    file = tmp_path / "page.md"
    file.write_text(hard * 15, "utf-8")
    assert any("school year" in finding.message for finding in check(file))
    file.write_text(passive * 12, "utf-8")
    assert any("look passive" in finding.message for finding in check(file))


def test_lines_are_those_of_the_file(tmp_path):
    """Code, tags and links go, and every line stays where it was."""
    text = (
        '# Bread\n\n```\nkode\n```\n\n<liquid-swap\n  flour="500 g"></liquid-swap>\n\n'
        "A [link](x.md) and\na wrongg word.\n\n| a | b |\n| --- | --- |\n| wrongg | `kode` |\n"
    )
    found = list(READERS[".md"](text, "page.md"))
    lines = [
        passage.line_of(place)
        for passage in found
        for place, word in checks.words_of(passage)
        if word == "wrongg"
    ]
    assert lines == [11, 15]
    assert not any("kode" in passage.text for passage in found)


@pytest.mark.parametrize(
    ("suffix", "text"),
    [
        (".py", '"""Not this wrongg one."""\n\nSAID = f"Say {1} wrongg word here."\n'),
        (".js", "// Not this wrongg one.\n\nsay('Say one wrongg word here.');\n"),
        (".yml", "title: Set\nproblems:\n  - story: Say {one} wrongg word here.\n"),
    ],
)
def test_what_code_and_sets_print_is_read(suffix, text):
    found = list(READERS[suffix](text, f"file{suffix}"))
    assert [(p.line, "wrongg" in p.text) for p in found if "wrongg" in p.text] == [(3, True)]


def test_sentences_end_where_a_reader_stops():
    text = "Weigh 1.5 kg of flour. Use water, e.g. Bowl A. “Why?” You ask."
    assert [one.text for one in reading.sentences(Passage("x", 1, text))] == [
        "Weigh 1.5 kg of flour.",
        "Use water, e.g. Bowl A.",
        "“Why?”",
        "You ask.",
    ]
