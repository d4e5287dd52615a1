"""Read a set: what a teacher writes, checked, with every complaint in its place.

A set gives a story, the givens and what to ask for; everything else comes from the working in
`calc`. The parts of a set are listed once: the reader and the JSON Schema that editors use
both come from those lists.
"""

from __future__ import annotations

import hashlib
import json
import pickle
import re
import unicodedata
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from importlib.resources import files
from itertools import pairwise

from calc import composition, units
from calc.composition import Ingredient
from calc.quantities import RANKINGS, REGISTRY
from calc.registry import BENCH_SHARES, Quantity, Slot
from calc.units import ReadingError, read_whole
from exercises import due, set_ingredients
from exercises.draws import (
    PLACEHOLDER,
    Box,
    Choice,
    Option,
    Problem,
    ProblemSet,
    plain_name,
    shown_of,
)
from exercises.due import Due
from exercises.lessons import LESSONS
from exercises.review import review
from exercises.setfile import Complaint, Entry, Path, SetError, near, nearest, parse

# A range with more values than this is a slip of the step, not variety.
MOST_VALUES = 10_000
LONGEST_STORY = 4_000
MOST_PROBLEMS = 100
MOST_OPTIONS = 8
# A pool that draws take some options or items from may be larger.
MOST_IN_POOL = 24
LEVELS = (1, 2, 3)
# Hexadecimal digits of a digest: two texts of one set agree by chance once in 300 million million times.
CONTENT_LENGTH = 12
# Where the sets of the lessons' own questions are: no student hands them in, and no list names them.
CHECKS = "checks/"
# How many draws are looked at when a set is only read; checking a set looks at all it can.
A_FEW = 8


@cache
def load(key: str) -> ProblemSet:
    """One of the sets that come with the project. Raises SetError if it is broken.

    Only the corners of its draws are looked at: the tests look at the rest.
    """
    if key in _PACKED:
        return pickle.loads(_PACKED[key])
    return read_set(text_of_ours(key), f"{key}.yml", most_draws=0)


def text_of_ours(key: str) -> str:
    """The text of one of the sets that come with the project."""
    return (files("exercises") / "sets" / f"{key}.yml").read_text("utf-8")


def set_keys() -> list[str]:
    """The sets that come with the project."""
    if _PACKED:
        return sorted(key for key in _PACKED if not key.startswith(CHECKS))
    return _keys_in("sets")


def check_keys() -> list[str]:
    """The questions that lessons ask in their text, a set a lesson: ``checks/bakers-percentage``."""
    if _PACKED:
        return sorted(key for key in _PACKED if key.startswith(CHECKS))
    return [CHECKS + key for key in _keys_in("sets/checks")]


def _keys_in(folder: str) -> list[str]:
    found = (files("exercises") / folder).iterdir()
    return sorted(path.name.removesuffix(".yml") for path in found if path.name.endswith(".yml"))


def is_ours(problem_set: ProblemSet) -> bool:
    """Whether a set, wherever it came from, is one of those that come with the project."""
    key = problem_set.key
    return key in set_keys() and load(key).content == problem_set.content


# Sets that were read before, and need no file: unpacking one takes a hundredth of reading its YAML.
_PACKED: dict[str, bytes] = {}


def packed_sets() -> dict[str, bytes]:
    """Every set that comes with the project, read and packed. Raises SetError."""
    return {key: pickle.dumps(load(key)) for key in [*set_keys(), *check_keys()]}


def take_packed(packed: dict[str, bytes]) -> None:
    """Take the project's sets from here on as they were packed: in a snapshot of memory, in another process."""
    _PACKED.update(packed)
    load.cache_clear()


def read_set(text: str, file: str, most_draws: int = A_FEW) -> ProblemSet:
    """Read a set. Raises SetError with every complaint found, each with its line and column.

    `most_draws` says how many draws of each problem to look at for absurd ones.
    """
    found, complaints = look_over(parse(text, file, KNOWN), file, most_draws)
    if complaints or found is None:
        raise SetError(complaints)
    return found


def look_over(
    root: Entry, file: str, most_draws: int = A_FEW
) -> tuple[ProblemSet | None, list[Complaint]]:
    """What is good of a set that may have slips, and every complaint.

    The set has the problems that nothing is wrong with; None where not even its parts could be told.
    """
    reader = _Reader(file, most_draws)
    return reader.problem_set(root), reader.complaints


ID = re.compile(r"[a-z0-9][a-z0-9-]{0,79}")
NAME = re.compile(r"[^\W_][\w-]{0,79}")
# What browsers and file managers add to the name of a second copy.
_COPIES = re.compile(r"(?:[ -]*\(\d{1,3}\)|[ -]+copy(?: \d{1,3})?)+$")


def key_of(file: str) -> str:
    """The name of a set that has none of its own: its file's, which copying and moving do not change.

    ``C:\\Sets\\Monday (1).yml`` is ``monday``.
    """
    name = re.split(r"[/\\]", file)[-1][:200]
    stem = _COPIES.sub("", plain_name(re.sub(r"\.[A-Za-z]{1,5}$", "", name)))
    return re.sub(r"[\W_]+", "-", stem).strip("-")[:80] or "set"


# The named parts of a set, and whether each must be there.
SET_KEYS = {
    "name": False,
    "title": True,
    "version": True,
    "due": False,
    "lesson": False,
    "about": False,
    "unshown steps": False,
    "ingredients": False,
    "problems": True,
}
# Who earns the marks of steps that were not written down, by the words of “unshown steps”.
UNSHOWN = {"with the right answer": True, "never": False}
_EVERY_PROBLEM = {
    "id": True,
    "title": True,
    "story": True,
    "ask": True,
    "level": False,
    "lesson": False,
    "marks per step": False,
    "tries": False,
}
PROBLEM_KEYS = {
    "quantity": _EVERY_PROBLEM | {"givens": True, "hint cost": False},
    "choice": _EVERY_PROBLEM | {"questions": True},
    "order": _EVERY_PROBLEM | {"by": True, "items": True, "show": False},
}
RANGE_KEYS = {"from": True, "to": True, "step": True}
QUESTION_KEYS = {"ask": True, "options": True, "show": False}
OPTION_KEYS = {"text": True, "right": False, "because": False}
# Every name of a part, for what is said where YAML cannot be read.
KNOWN = frozenset(
    name
    for parts in (
        SET_KEYS,
        set_ingredients.KEYS,
        *PROBLEM_KEYS.values(),
        QUESTION_KEYS,
        OPTION_KEYS,
        RANGE_KEYS,
    )
    for name in parts
)
# What people call a part, and the part.
_CALLED = {
    "points": "marks per step",
    "marks": "marks per step",
    "score": "marks per step",
    "attempts": "tries",
    "difficulty": "level",
    "text": "story",
    "question": "story",
    "description": "story",
    "type": "ask",
    "kind": "ask",
    "values": "givens",
    "numbers": "givens",
    "hints": "hint cost",
    "hint": "hint cost",
    "options": "questions",
    "name": "id",
}
_NOT_WRITTEN = ("answer", "answers", "solution", "tolerance", "key")
_YES = {"yes": True, "true": True, "no": False, "false": False}


STRAIGHT_QUOTES = 'Put straight quotes around both parts, such as "goat yogurt, 86 % water".'
_CURLY = "“”„«»"


def _bare(name: str) -> str:
    return name.strip(_CURLY + " ")


def _ingredient(text: str) -> Ingredient:
    """An ingredient as a set names it. Raises ValueError with what to do instead."""
    try:
        return composition.read(text)
    except composition.UnknownIngredient as error:
        if any(sign in text for sign in _CURLY):
            raise ValueError(f"“{_bare(text)}”: {STRAIGHT_QUOTES}") from None
        if error.near:
            raise ValueError(str(error)) from None
        name = text[: composition.LONGEST_ECHO]
        raise ValueError(
            f'{error} Write its water too, such as "{name}, 88 % water", '
            "or choose one of the page Liquids. A set can also bring it, under “ingredients”."
        ) from None


def _unknown(what: str, name: str, known: dict[str, bool]) -> str:
    """What is said of a part that nobody knows."""
    if name in _NOT_WRITTEN:
        return f"Leave “{name}” out: answers and marks come from what the problem asks for."
    seen = "".join(sign for sign in name if unicodedata.category(sign) != "Cf")
    if seen != name and seen in known:
        return f"A sign that cannot be seen is in “{name}”. Delete the word, and type it again."
    meant = _CALLED.get(name, "")
    hint = f"Write “{meant}”." if meant in known else nearest(name, known)
    return f"{what} has no part “{name}”. {hint}"


# “300–800 g”, “60 % to 70 %”.
_FROM_TO = re.compile(
    r"(?P<first>[\d.,]+)(?P<unit>[^\d–—-]*?)\s*(?:to\b|[–—-])\s*(?P<last>[\d.,]+)(?P<same>\D*)"
)


def _number(text: str, kind: str) -> float:
    """One value of a given. Raises ReadingError with what to write instead."""
    try:
        return units.read(text, kind).value
    except ReadingError:
        range_ = _FROM_TO.fullmatch(text.strip())
        if not range_:
            raise
    unit = (range_["same"] or range_["unit"]).strip()
    first, last = (f"{range_[one]} {unit}".strip() for one in ("first", "last"))
    example = f"{{from: {first}, to: {last}, step: 5 {unit}}}"
    raise ReadingError(f"A range has three parts, such as {example}.")


def _no_steps(first: float, last: float, step: float) -> str:
    """Why a range has no steps, as what to do; empty where it has some."""
    if step <= 0:
        return "The step must be more than 0."
    if last < first:
        return "Put the smaller one under “from”."
    return "Take a larger step." if (last - first) / step > MOST_VALUES else ""


def _parted(entry: Entry, name: str) -> str:
    """What is said where a comma within braces parted a sentence; empty where none did."""
    names = list(entry.keys)
    before = names[names.index(name) - 1] if name != names[0] else ""
    follows = before and entry.keys[before][0] == entry.keys[name][0]
    if not follows or entry.value[name].text:
        return ""
    return f"The comma before “{name}” ends “{before}”. Put quotes around the whole text."


def _content(root: Entry, *but: str) -> dict:
    """What a set says, apart from some of its parts."""
    content = root.plain
    return {part: content[part] for part in content if part not in but}


def _digest(content: dict) -> str:
    """What tells one content from another: notes, order of parts and layout do not count."""
    plain = json.dumps(content, sort_keys=True)
    return hashlib.sha256(plain.encode()).hexdigest()[:CONTENT_LENGTH]


def _shown(problem: Problem) -> list[str]:
    """What the story of a problem can tell: its givens, and what the table knows of them."""
    return list(shown_of({given: choices[0] for given, choices in problem.givens.items()}))


def may_tell(quantity: Quantity) -> list[str]:
    """What a story may tell of what a quantity asks with, where the table knows it."""
    shares = [each.name for each in BENCH_SHARES] + ["density"]
    found = [slot.name for slot in quantity.slots]
    liquids = [slot.name for slot in quantity.slots if slot.kind == "ingredient"]
    return found + [f"{share} of {liquid}" for liquid in liquids for share in shares]


class _Reader:
    """Turns entries into a set and gathers complaints instead of stopping at the first."""

    def __init__(self, file: str, most_draws: int) -> None:
        self.file = file
        self.most_draws = most_draws
        self.complaints: list[Complaint] = []

    def complain(self, place: Entry, message: str) -> None:
        # What is not there was complained of when it was looked for.
        if not place.absent:
            self._note((place.line, place.column), message, place.path)

    def _note(self, place: tuple[int, int], message: str, path: Path) -> None:
        self.complaints.append(Complaint(self.file, *place, message, path))

    def fields(self, entry: Entry, known: dict[str, bool], what: str) -> dict[str, Entry] | None:
        """The named parts of `entry`; `known` maps each name to whether it must be there.

        One that must be and is not is complained of, and `absent`, so that the others are read too.
        """
        if not isinstance(entry.value, dict):
            self.complain(entry, f"{what} needs named parts: {', '.join(known)}.")
            return None
        for name, place in entry.keys.items():
            if name not in known:
                says = _parted(entry, name) or _unknown(what, name, known)
                self._note(place, says, (*entry.path, name))
        missing = [name for name, needed in known.items() if needed and name not in entry.value]
        # A misspelt name has its own complaint already.
        misspelt = {
            match for name in entry.keys if name not in known for match in near(name, known)
        }
        for name in missing:
            if name not in misspelt:
                says = f"{what} lacks “{name}”. Add a line “{name}: …”."
                self._note((entry.line, entry.column), says, (*entry.path, name))
        absent = Entry("", entry.line, entry.column, absent=True)
        return entry.value | dict.fromkeys(missing, absent)

    def whole(self, parts: dict[str, Entry], name: str, default: int, low: int, high: int) -> int:
        if name not in parts:
            return default
        number = read_whole(parts[name].text)
        if number is None or not low <= number <= high:
            self.complain(parts[name], f"“{name}” must be a whole number from {low} to {high}.")
            return default
        return number

    def line(self, parts: dict[str, Entry], name: str, longest: int = 200) -> str:
        if name not in parts:
            return ""
        text = parts[name].text.strip()
        if isinstance(parts[name].value, dict):
            self.complain(
                parts[name],
                f"“{name}” starts with a brace. Put it in quotes, or on lines of its own after |.",
            )
        elif not text:
            self.complain(parts[name], f"“{name}” needs some text.")
        if len(text) > longest:
            self.complain(parts[name], f"“{name}” is longer than {longest} characters. Shorten it.")
        return text

    def problem_set(self, root: Entry) -> ProblemSet | None:
        parts = self.fields(root, SET_KEYS, "A set")
        if parts is None:
            return None
        entries = parts["problems"].value
        if parts["problems"].absent:
            return None
        if entries == []:
            self.complain(parts["problems"], "There is no problem in the set yet. Add one.")
            return None
        if not isinstance(entries, list):
            self.complain(
                parts["problems"], "“problems” must be a list: start each one with “- id:”."
            )
            return None
        if len(entries) > MOST_PROBLEMS:
            self.complain(
                parts["problems"], f"A set has at most {MOST_PROBLEMS} problems. Split the set."
            )
            return None
        own, stand_ins = self.ingredients(parts)
        # A set means the same on every device: a reader's own ingredients are not among its names.
        with composition.known([*own, *stand_ins]):
            problems = self.problems(entries, self.unshown(parts))
        return ProblemSet(
            self.key(root, parts),
            self.line(parts, "title"),
            self.whole(parts, "version", 1, 1, 9999),
            self.lesson(parts),
            self.line(parts, "about", LONGEST_STORY),
            problems,
            content=_digest(_content(root, "name", "due")),
            due=self.due(parts),
            ingredients=own,
        )

    def problems(self, entries: list[Entry], credits_unshown: bool) -> tuple[Problem, ...]:
        problems: list[Problem] = []
        for entry in entries:
            problem = self.problem(entry)
            if problem is None:
                continue
            problem = replace(problem, credits_unshown=credits_unshown)
            if any(other.id == problem.id for other in problems):
                self.complain(entry, f"Two problems have the id “{problem.id}”. Give each its own.")
            problems.append(problem)
        return tuple(problems)

    def ingredients(
        self, parts: dict[str, Entry]
    ) -> tuple[tuple[Ingredient, ...], list[Ingredient]]:
        """The set's own ingredients, and something in place of each that has a slip.

        So a slip is told once, and not again at every problem that names the ingredient.
        """
        if "ingredients" not in parts:
            return (), []
        found: dict[str, Ingredient] = {}
        stand_ins = []
        with composition.known(()):
            for entry in self.listed(
                parts["ingredients"], "“ingredients”", 1, set_ingredients.MOST
            ):
                made = self.ingredient(entry)
                if made is None:
                    stand_ins.append(set_ingredients.stand_in(entry))
                elif made.key in found:
                    self.complain(entry, f"Two ingredients are called “{made.name}”. Keep one.")
                else:
                    found[made.key] = made
        return tuple(found.values()), stand_ins

    def ingredient(self, entry: Entry) -> Ingredient | None:
        parts = self.fields(entry, set_ingredients.KEYS, "An ingredient")
        if parts is None:
            return None
        return set_ingredients.ingredient_of(entry, parts, self.complain)

    def due(self, parts: dict[str, Entry]) -> Due | None:
        if "due" not in parts:
            return None
        try:
            return due.read(parts["due"].text)
        except ValueError as error:
            self.complain(parts["due"], str(error))
            return None

    def key(self, root: Entry, parts: dict[str, Entry]) -> str:
        """The set's own name, else its file's; only ours bear the name of one of ours."""
        if "name" not in parts:
            return key_of(self.file)
        name = parts["name"].text
        if not NAME.fullmatch(name) or name != name.casefold():
            says = "A set's name is made of small letters, digits and hyphens: rolls-and-loaves."
            self.complain(parts["name"], says)
        elif name in set_keys() and _content(root, "name", "due") != _content(
            parse(text_of_ours(name), name), "name", "due"
        ):
            says = f"One of our sets is called “{name}”, and this is not the same. Give yours another name, such as {name}-2."
            self.complain(parts["name"], says)
        return name

    def unshown(self, parts: dict[str, Entry]) -> bool:
        words = self.line(parts, "unshown steps") or next(iter(UNSHOWN))
        if words not in UNSHOWN:
            ways = " or ".join(f"“{way}”" for way in UNSHOWN)
            self.complain(parts["unshown steps"], f"“unshown steps” is {ways}.")
        return UNSHOWN.get(words, True)

    def lesson(self, parts: dict[str, Entry]) -> str:
        key = self.line(parts, "lesson")
        if key and key not in LESSONS:
            self.complain(parts["lesson"], f"There is no lesson “{key}”. {nearest(key, LESSONS)}")
        return key

    def problem(self, entry: Entry) -> Problem | None:
        asked = entry.value.get("ask") if isinstance(entry.value, dict) else None
        word = asked.text if asked else ""
        kind = word if word in ("choice", "order") else "quantity"
        before = len(self.complaints)
        parts = self.fields(entry, PROBLEM_KEYS[kind], "A problem")
        if parts is None:
            return None
        if not ID.fullmatch(parts["id"].text):
            self.complain(
                parts["id"], "An id is made of small letters, digits and hyphens: milk-for-water."
            )
        common = {
            "id": parts["id"].text,
            "title": self.line(parts, "title"),
            "story": self.line(parts, "story", LONGEST_STORY),
            "level": self.whole(parts, "level", LEVELS[0], LEVELS[0], LEVELS[-1]),
            "lesson": self.lesson(parts),
            "marks_per_step": self.whole(parts, "marks per step", 1, 1, 100),
            "tries": self.whole(parts, "tries", 3, 1, 99),
        }
        if kind == "choice":
            problem = Problem(**common, questions=tuple(self.questions(parts["questions"])))
        elif kind == "order":
            problem = self.order(parts, common)
        else:
            problem = self.numbers(parts, common)
        if kind == "quantity":
            self.check_story(parts, problem)
        if problem is None or len(self.complaints) > before:
            return None
        if kind == "quantity":
            self.check_draws(parts["givens"], problem, self.most_draws)
        return problem if len(self.complaints) == before else None

    def numbers(self, parts: dict[str, Entry], common: dict) -> Problem | None:
        asked = parts["ask"].text
        quantity = REGISTRY.get(asked)
        if quantity is None:
            known = [*REGISTRY, "choice", "order"]
            hint = nearest(asked, known)
            self.complain(parts["ask"], f"There is nothing called “{asked}” to ask for. {hint}")
            return None
        givens = self.givens(parts["givens"], quantity)
        costs = self.hint_costs(parts)
        if givens is None:
            return None
        return Problem(**common, quantity=quantity, givens=givens, hint_costs=costs)

    def hint_costs(self, parts: dict[str, Entry]) -> tuple[float, float, float, float]:
        """What each hint takes; of three numbers, the first hint, a question, takes nothing."""
        free = (0.0, 0.0, 0.0, 0.0)
        if "hint cost" not in parts:
            return free
        entry = parts["hint cost"]
        texts = [one.text for one in entry.value] if isinstance(entry.value, list) else []
        if len(texts) not in (3, 4) or not all(
            re.fullmatch(r"\d{1,3}([.,]\d{1,2})?", t) for t in texts
        ):
            self.complain(
                entry,
                "“hint cost” is a list of the marks each of the four hints takes: [0, 0, 0.5, 1].",
            )
            return free
        costs = [float(text.replace(",", ".")) for text in texts]
        return (*free[: 4 - len(costs)], *costs)

    def listed(self, entry: Entry, what: str, low: int, high: int) -> list[Entry]:
        """The entries of a list; a complaint and nothing when it has too few or too many."""
        found = entry.value if isinstance(entry.value, list) else []
        if low <= len(found) <= high:
            return found
        if entry.text and "," in entry.text:
            self.complain(entry, f"{what} must be a list. Put [ ] around it.")
            return []
        self.complain(entry, f"{what} must be a list of {low} to {high}; this has {len(found)}.")
        return []

    def pool(self, parts: dict[str, Entry], name: str, low: int) -> list[Entry]:
        """Options or items; more of them may be written when only some are shown."""
        most = MOST_IN_POOL if "show" in parts else MOST_OPTIONS
        return self.listed(parts[name], f"“{name}”", low, most)

    def shown(self, parts: dict[str, Entry], listed: list[Entry]) -> int:
        """How many of the listed a draw shows; 0 where it shows them all."""
        most = min(MOST_OPTIONS, len(listed))
        return self.whole(parts, "show", 0, 2, most) if listed else 0

    def questions(self, entry: Entry) -> Iterator[Box]:
        for number, one in enumerate(self.listed(entry, "“questions”", 1, MOST_OPTIONS), 1):
            parts = self.fields(one, QUESTION_KEYS, "A question")
            if parts is None:
                continue
            listed = self.pool(parts, "options", 2)
            show = self.shown(parts, listed)
            options = tuple(filter(None, map(self.option, listed)))
            right = sum(option.right for option in options)
            if listed and not show and right != 1:
                self.complain(parts["options"], "Mark exactly one option with “right: yes”.")
            if show and not (right >= 1 and len(options) - right >= show - 1):
                self.complain(
                    parts["options"],
                    f"To show {show}, give one right option or more, and {show - 1} wrong ones or more.",
                )
            if len({plain_name(option.text) for option in options}) < len(options):
                self.complain(parts["options"], "Two options say the same. Make them differ.")
            yield Box(f"question {number}", self.line(parts, "ask"), options, show=show)

    def option(self, entry: Entry) -> Option | None:
        parts = self.fields(entry, OPTION_KEYS, "An option")
        if parts is None:
            return None
        right = parts["right"].text.lower() if "right" in parts else "no"
        if right not in _YES:
            self.complain(parts["right"], "“right” is yes or no.")
            return None
        because = self.line(parts, "because", LONGEST_STORY)
        return Option(self.line(parts, "text"), _YES[right], because)

    def order(self, parts: dict[str, Entry], common: dict) -> Problem | None:
        by = parts["by"].text
        ranking = RANKINGS.get(by)
        if ranking is None:
            self.complain(parts["by"], f"Nothing can be ordered by “{by}”. {nearest(by, RANKINGS)}")
            return None
        items = []
        listed = self.pool(parts, "items", 3)
        show = self.shown(parts, listed)
        if self.parted_name(listed):
            listed = []
        for one in listed:
            try:
                items.append(_ingredient(one.text))
                ranking.score(items[-1])
            except ValueError as error:
                self.complain(one, str(error))
        return Problem(**common, ranking=ranking, items=tuple(items), show=show)

    def givens(self, entry: Entry, quantity: Quantity) -> dict[str, tuple[Choice, ...]] | None:
        known = {slot.name: not slot.optional for slot in quantity.slots}
        parts = self.fields(entry, known, f"“{quantity.name}”")
        if parts is None or entry.absent:
            return None
        before = len(self.complaints)
        found = {
            slot.name: tuple(self.choices(parts[slot.name], slot))
            for slot in quantity.slots
            if slot.name in parts
        }
        return found if len(self.complaints) == before else None

    def choices(self, entry: Entry, slot: Slot) -> Iterator[Choice]:
        """What a given can be: one value, a list of values, or from … to … by steps."""
        if isinstance(entry.value, dict):
            yield from self.stepped(entry, slot)
            return
        entries = entry.value if isinstance(entry.value, list) else [entry]
        if not entries:
            self.complain(
                entry, f"The list for “{slot.name}” is empty. Put at least one value in it."
            )
        if slot.kind == "ingredient":
            if self.parted_name(entries):
                return
        elif entry.comma:
            self.complaints.append(entry.comma)
            return
        for one in entries:
            choice = self.choice(one, slot)
            if choice is not None:
                yield choice

    def parted_name(self, entries: list[Entry]) -> bool:
        """Whether a comma without quotes parts a name from its water; one complaint if so."""
        for name, water in pairwise(entries):
            if re.fullmatch(r"[\d.,]+(\s*%\s*water)?\W*", water.text):
                self.complain(name, f"“{_bare(name.text)}” and its water: {STRAIGHT_QUOTES}")
                return True
        return False

    def choice(self, entry: Entry, slot: Slot) -> Choice | None:
        try:
            if slot.kind == "ingredient":
                value = _ingredient(entry.text)
            else:
                value = _number(entry.text, slot.kind)
        except ValueError as error:
            self.complain(entry, f"“{slot.name}”: {error}")
            return None
        if slot.refusal(value):
            self.complain(entry, f"“{slot.name}”: {slot.refusal(value)}")
            return None
        shown = value.name if isinstance(value, Ingredient) else units.write_exact(value, slot.kind)
        return Choice(value, shown)

    def stepped(self, entry: Entry, slot: Slot) -> Iterator[Choice]:
        if slot.kind == "ingredient":
            self.complain(
                entry, f"“{slot.name}” is a name, or a list of names: [whole milk, buttermilk]."
            )
            return
        parts = self.fields(entry, RANGE_KEYS, f"The range for “{slot.name}”")
        if parts is None:
            return
        first, last = self.choice(parts["from"], slot), self.choice(parts["to"], slot)
        try:
            # A step of 5 °F is a difference, not 5 °F on the thermometer.
            is_temperature = slot.kind == "temperature"
            kind = "temperature difference" if is_temperature else slot.kind
            step = units.read(parts["step"].text, kind).value
        except ReadingError as error:
            self.complain(parts["step"], f"“step”: {error}")
            return
        if first is None or last is None:
            return
        refused = _no_steps(first.value, last.value, step)
        if refused:
            self.complain(
                parts["step"],
                f"“{slot.name}” cannot go from {first.shown} to {last.shown} in steps of {parts['step'].text}. {refused}",
            )
            return
        steps = round((last.value - first.value) / step)
        if abs(first.value + steps * step - last.value) > 1e-6 * step:
            self.complain(
                parts["step"],
                f"“{slot.name}” starts at {first.shown} and goes by {parts['step'].text}, so it "
                f"never reaches {last.shown}. Change the step or the end.",
            )
            return
        for n in range(steps + 1):
            value = round(first.value + n * step, 9)
            yield Choice(value, units.write_exact(value, slot.kind))

    def check_story(self, parts: dict[str, Entry], problem: Problem | None) -> None:
        """Every placeholder must name a given, and the story must tell every given."""
        quantity = REGISTRY.get(parts["ask"].text)
        told, givens = parts["story"].text, parts["givens"].value
        if quantity is None or not told or not isinstance(givens, dict):
            return
        is_whole = problem and all(problem.givens.values())
        tellable = _shown(problem) if is_whole else may_tell(quantity)
        for name in PLACEHOLDER.findall(told):
            if name not in tellable:
                hint = nearest(name, tellable)
                self.complain(
                    parts["story"], f"The story has {{{name}}}, which no given fills. {hint}"
                )
        for given in givens:
            if quantity.slot(given) and f"{{{given}}}" not in told and given != "other ingredients":
                says = f"The story never tells {{{given}}}, so the problem cannot be solved."
                self.complain(parts["story"], says)

    def check_draws(self, entry: Entry, problem: Problem, most: int) -> None:
        """Refuse a set whose draws are absurd: a swap of a few grams, a negative weight."""
        try:
            for trouble in review(problem, most).absurd:
                self.complain(entry, trouble)
        except (ValueError, ZeroDivisionError) as error:
            self.complain(entry, f"These givens do not go together: {error}.")
