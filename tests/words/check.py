"""What is wrong with the words of a file: where, which words, and what to do."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from tests.words import reading, spelling
from tests.words.prose import ROOT, Passage, passages

HERE = Path(__file__).resolve().parent
GLOSSARY = ROOT / "docs/pages/reference/glossary.md"


@dataclass(frozen=True)
class Finding:
    """One thing to mend."""

    file: str
    line: int
    message: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line}: {self.message}"


@dataclass(frozen=True)
class Plain:
    """A word not to use, the plain one, and why."""

    pattern: re.Pattern[str]
    instead: str
    why: str


def files() -> list[Path]:
    """Every file with words that a reader of the site reads."""
    found = [ROOT / "README.md"]
    for pattern in (
        "docs/pages/**/*.md",
        "docs/parts/**/*.py",
        "docs/course/**/*.py",
        "docs/parts/**/*.js",
        "docs/course/*.js",
        "docs/page/*.js",
        "docs/engine/*.js",
        "exercises/sets/**/*.yml",
        "exercises/**/*.py",
        "calc/*.py",
    ):
        found += sorted(ROOT.glob(pattern))
    return found


def check(file: Path) -> list[Finding]:
    """Everything to mend in one file."""
    texts = passages(file)
    found = [
        *_plain(texts),
        *_spelling(texts),
        *_names(texts),
        *_long(texts),
        *_measures(texts),
        *_terms(file, texts),
    ]
    return sorted(dict.fromkeys(found), key=lambda one: one.line)


@cache
def plain_words() -> list[Plain]:
    """The list of words not to use."""
    made = []
    for line in (HERE / "plain_words.tsv").read_text("utf-8").splitlines():
        if line and not line.startswith("#"):
            pattern, instead, why = line.split("\t")
            made.append(Plain(re.compile(rf"(?<![\w-])(?:{pattern})(?![\w-])", re.I), instead, why))
    return made


def _plain(texts: Iterable[Passage]) -> Iterator[Finding]:
    for passage in texts:
        if passage.kind == "source":
            continue
        for plain in plain_words():
            for hit in plain.pattern.finditer(passage.text):
                yield Finding(
                    passage.file,
                    passage.line_of(hit.start()),
                    f"“{hit.group()}”: write {plain.instead}. Why: {plain.why}.",
                )


def words_of(passage: Passage) -> Iterator[tuple[int, str]]:
    """The words to spell: not units joined to figures, codes, addresses or names in a source."""
    for hit in reading.WORD.finditer(passage.text):
        before = passage.text[hit.start() - 1 : hit.start()]
        after = passage.text[hit.end() : hit.end() + 1]
        joined = (before in ("@", "/", ".", "_", "#") and before) or after in ("@", "_", "/")
        if joined or before.isdigit() or after.isdigit() or len(hit.group()) == 1:
            continue
        if hit.group().isupper() and len(hit.group()) <= 2:
            continue
        yield hit.start(), hit.group()


def _spelling(texts: Iterable[Passage]) -> Iterator[Finding]:
    for passage in texts:
        for place, word in words_of(passage):
            if word[0].isupper() and (passage.kind == "source" or _acronym(word)):
                continue
            line = passage.line_of(place)
            british = spelling.american(word)
            if british:
                yield Finding(passage.file, line, f"“{word}”: write “{british}”, as the site does.")
            elif not (
                spelling.known(word) or spelling.entry(word) or {word, _singular(word)} & names()
            ):
                near = " or ".join(f"“{each}”" for each in spelling.suggestions(word))
                yield Finding(
                    passage.file,
                    line,
                    f"“{word}” is not in the British dictionary. "
                    + (f"Did you mean {near}? " if near else "")
                    + "A true word of the trade goes into tests/words/trade_words.txt.",
                )


def names() -> frozenset[str]:
    """The names that pages may use: places, units, bodies, laws."""
    return spelling.listed(spelling.NAMES)


def capitals(passage: Passage) -> Iterator[tuple[int, str]]:
    """Words with a capital letter inside a sentence: names, as a rule."""
    if passage.kind == "source":
        return
    for place, word in words_of(passage):
        inside = re.search(r"[\w,;)’%]\s+$", passage.text[:place])
        if word[0].isupper() and (inside or _acronym(word)):
            yield place, word


def _singular(word: str) -> str:
    return re.sub(r"[’']?s$", "", word)


def _acronym(word: str) -> bool:
    return sum(letter.isupper() for letter in word) > 1


def _names(texts: Iterable[Passage]) -> Iterator[Finding]:
    for passage in texts:
        for place, word in capitals(passage):
            known = word in names() or _singular(word) in names() or spelling.entry(word)
            if not known and not spelling.known(word.lower()):
                yield Finding(
                    passage.file,
                    passage.line_of(place),
                    f"“{word}” looks like a name. Pages name no people, brands or products. "
                    "A place, a unit, a law or a public body goes into tests/words/names.txt.",
                )


def _long(texts: Iterable[Passage]) -> Iterator[Finding]:
    for passage in texts:
        if passage.kind == "source":
            continue
        for sentence in reading.sentences(passage):
            if sentence.length > reading.LONGEST_SENTENCE:
                yield Finding(
                    passage.file,
                    sentence.line,
                    f"{sentence.length} words in one sentence, at most {reading.LONGEST_SENTENCE}: "
                    f"“{_start(sentence.text)}”. Make two or three of it.",
                )


def _measures(texts: list[Passage]) -> Iterator[Finding]:
    found = reading.measure(texts)
    if found is None:
        return
    file = texts[0].file
    highest = reading.HIGHEST_IN_LESSONS if "/lessons/" in file else reading.HIGHEST_GRADE
    longest = sorted(reading.whole_sentences(texts), key=lambda one: -one.length)[:3]
    begin_with = "; ".join(f"line {one.line}, {one.length} words" for one in longest)
    if found.grade > highest:
        yield Finding(
            file,
            1,
            f"reads like school year {found.grade:.1f}, at most {highest:g}. Use shorter words and "
            f"sentences. The longest sentences: {begin_with}. Long words: {', '.join(_longest_words(texts))}.",
        )
    if found.mean_sentence > reading.MEAN_SENTENCE:
        yield Finding(
            file,
            1,
            f"{found.mean_sentence:.1f} words in a sentence on average, at most {reading.MEAN_SENTENCE:g}. "
            f"The longest: {begin_with}.",
        )
    # An error says "cannot be read": nobody is to blame. Pages have room to say who does what.
    if file.endswith(".md") and found.passive_share > reading.PASSIVE_SHARE:
        some = [
            f"line {one.line}, “{reading.passive(one.text)}”"
            for one in reading.whole_sentences(texts)
            if reading.passive(one.text)
        ]
        yield Finding(
            file,
            1,
            f"{found.passive_share:.0%} of the sentences look passive, at most {reading.PASSIVE_SHARE:.0%}. "
            f"Say who does it: {'; '.join(some[:8])}.",
        )


def _longest_words(texts: Iterable[Passage]) -> list[str]:
    """The words that cost most: many syllables, often."""
    cost: dict[str, int] = {}
    for sentence in reading.whole_sentences(texts):
        for word in reading.WORD.findall(sentence.text.lower()):
            if reading.syllables(word) > 2:
                cost[word] = cost.get(word, 0) + reading.syllables(word) - 2
    return sorted(cost, key=lambda word: (-cost[word], word))[:8]


def headwords() -> frozenset[str]:
    """What the glossary explains, in small letters. A headword is a bold start of a line."""
    heads = re.findall(r"^\*\*([^*]+)\*\*", GLOSSARY.read_text("utf-8"), re.M)
    return frozenset(part.strip().lower() for head in heads for part in re.split(r"[,()]", head))


def _terms(file: Path, texts: list[Passage]) -> Iterator[Finding]:
    if file.resolve().parent != ROOT / "docs/pages/lessons":
        return
    for term in sorted(spelling.listed(HERE / "terms.txt")):
        if term.lower() in headwords():
            continue
        for passage in texts:
            hit = re.search(rf"\b{re.escape(term)}(?:s|es)?\b", passage.text, re.I)
            if hit and passage.kind != "source":
                yield Finding(
                    passage.file,
                    passage.line_of(hit.start()),
                    f"“{hit.group()}” is a trade word, and the glossary does not explain it. "
                    "Add it to docs/pages/reference/glossary.md, or say it plainly.",
                )
                break


def _start(text: str) -> str:
    words = text.split()
    return " ".join(words[:9]) + (" …" if len(words) > 9 else "")
