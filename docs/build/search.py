"""The search index as bakers search it: our parts' words, whole words only, lessons first.

MkDocs writes ``search/search_index.json`` before the parts are filled; the theme's own search
(lunr, in a worker) reads it in the page. Nothing here is theme code: it is a file of texts and
settings, changed after the build.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator
from html import escape
from pathlib import Path

from calc import composition
from calc.names import SPELT, plain
from docs.build.texts import texts
from docs.build.tree import Tag, classes, tags

INDEX = Path("search") / "search_index.json"
LIQUIDS = Path("search") / "liquids.json"

# The theme puts a star behind each word typed, so that "of" finds "often". Small words that say
# nothing are therefore taken for gaps between words, in the pages and in the question alike; so are
# single signs, such as the g of "5 g".
SMALL_WORDS = (
    "about|all|am|an|and|any|are|as|at|be|been|by|can|did|do|does|else|for|from|get|go|had|has|have|"
    "how|if|in|into|is|it|its|me|much|many|my|no|not|of|on|or|our|out|should|so|some|that|the|their|"
    "them|then|there|they|this|to|up|was|we|what|when|where|which|who|why|will|with|would|you|your"
)
_SMALL = re.sub(r"\b[a-z]", lambda first: f"[{first[0]}{first[0].upper()}]", SMALL_WORDS)
# A plural is its singular: the theme finds longer words than the one typed, never shorter ones.
_PLURAL = r"(?<=[A-Za-z]{3})(?<!s)s(?![A-Za-z’'])"
_POSSESSIVE = r"[’']s?(?![A-Za-z])"
SEPARATOR = "|".join(
    (
        r"[\s\u00ad\u200b\-–—_,:;!?=+×÷<>()\[\]{}“”\"/&#…·]+",
        r"\.(?!\d)",
        _POSSESSIVE,
        rf"(?<![A-Za-z])(?:{_SMALL})(?![A-Za-z’'])",
        r"(?<![\w.,])\w(?![\w.,’'])",
        _PLURAL,
    )
)

# A word in a title counts for more than one in a text, and cannot outweigh all of them.
TITLE = 4.0
# A reader with a question wants the lesson or the tool; a teacher finds the teachers' pages all the same.
BOOSTS = (
    ("lessons/", 3.0),
    ("teachers/lessons/", 0.4),
    ("teachers", 0.7),
    # The page on practice itself, against the sets under it.
    ("practice/#", 3.0),
    ("practice/", 0.5),
    ("reference/", 0.5),
)
# Who types "sour" means no page's list of sources, which every longer word finds too.
SOURCES = 0.1

# In a part, what is to be filled in, pressed or run, or drawn.
# The skills map names the same mistakes in each of its rows; a lesson has a heading for each. Of the Python
# reference a search wants names and words, not code.
_NOT_READ = ("button", "textarea", "script", "svg")
HEADINGS = ("h1", "h2", "h3", "h4", "h5", "h6")

# The theme counts documents; a reader looks for pages.
SAYS = {
    "search.result.none": "No matching page",
    "search.result.one": "1 matching page",
    "search.result.other": "# matching pages",
}


def speak(page: Tag) -> None:
    """Let a page's search say what it found in our words."""
    for script in page.iterfind(".//script[@id='__config']"):
        config = json.loads(script.text)
        config["translations"] |= SAYS
        script.text = json.dumps(config)


def improve(site: Path, words: Iterable[tuple[str, str]]) -> None:
    """Rewrite a built site's index. `words` holds more of them, each with its address in the index."""
    file = site / INDEX
    index = json.loads(file.read_text("utf-8"))
    index["config"]["separator"] = SEPARATOR
    index["config"]["fields"]["title"]["boost"] = TITLE
    by_place = {doc["location"]: doc for doc in index["docs"]}
    for place, text in words:
        if place in by_place:
            by_place[place]["text"] += f" {escape(text, quote=False)}"
    for doc in index["docs"]:
        doc["boost"] = boost(doc["location"])
    file.write_text(json.dumps(index, ensure_ascii=False, separators=(",", ":")), "utf-8")


def write_liquids(site: Path) -> None:
    """Write what people call each liquid, for the search's answer to “kefir instead of milk” (search-swap.js).

    A name that several rows have is the first one's. Of a plain name, the row of that name is meant.
    """
    wet = [row for row in composition.table().values() if row.is_liquid]
    names = {plain(row.key): row.key for row in wet}
    names |= {plain(name): row.key for row in reversed(wet) for name in row.also}
    names |= {plain(row.name): row.key for row in wet}
    shown = {row.key: row.name for row in wet}
    text = json.dumps({"names": names, "shown": shown, "spelt": SPELT}, ensure_ascii=False)
    (site / LIQUIDS).write_text(text, "utf-8")


def boost(location: str) -> float:
    """How much a place of this address counts."""
    if location.endswith("#sources"):
        return SOURCES
    found = (amount for start, amount in BOOSTS if location.startswith(start) and location != start)
    return next(found, 1.0)


def more_words(tree: Tag, parts: Iterable[str], page: Path) -> Iterator[tuple[str, str]]:
    """What MkDocs did not see of a page: its description, and the words of its filled parts.

    `parts` are names of elements; `page` is the file, from the site's start. A part with a form shows an example that the reader changes at once: it is left out.
    """
    address = page.parent.as_posix()
    location = "" if address == "." else f"{address}/"
    for described in tree.iterfind("head/meta[@name='description']"):
        yield location, described.get("content")
    section = ""
    for tag in tags(tree, *HEADINGS, *parts):
        if tag.tag not in HEADINGS:
            if not any(map(_is_to_fill_in, tags(tag, "form"))):
                yield location + section, _read(tag)
        elif "id" in tag.attrib:
            # The address of a section within its page.
            section = f"#{tag.get('id')}" if tag.tag != "h1" else ""


def _read(part: Tag) -> str:
    return " ".join(" ".join(text.split()) for text in texts(part, _is_not_read))


def _is_to_fill_in(form: Tag) -> bool:
    return not any("dw-python" in classes(each) for each in form.iterancestors())


def _is_not_read(tag: Tag) -> bool:
    if tag.tag in _NOT_READ or "hidden" in tag.attrib or "dw-python" in classes(tag):
        return True
    if tag.tag == "div" and tag.getparent().tag == "details":
        return _is_in(tag, "skills-map")
    return tag.tag == "pre" and _is_in(tag, "python-reference")


def _is_in(tag: Tag, name: str) -> bool:
    return next(tag.iterancestors(name), None) is not None
