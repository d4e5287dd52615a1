"""A set file to a problem set, and a problem to one student's variant of it.

A set gives a story, the givens and a quantity to ask for; everything else comes from the quantity's
working in `calc`. A student's numbers follow from set, version, problem and name alone, by SHA-256,
so they are the same on every machine.
"""

from __future__ import annotations

import hashlib
import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache
from importlib.resources import files

from calc import composition, units
from calc.composition import Ingredient
from calc.mistakes import outcomes, rewritten
from calc.quantities import REGISTRY
from calc.registry import Quantity, Slot
from calc.units import ReadingError
from calc.working import Working
from exercises.setfile import Complaint, Entry, SetError, near, nearest, parse

# A range with more values than this is a slip of the step, not variety.
MOST_VALUES = 10_000
LONGEST_STORY = 4_000
MOST_REDRAWS = 20


@dataclass(frozen=True)
class Choice:
    """A value a given can take: as `calc` needs it, and as the story shows it."""

    value: float | Ingredient
    shown: str


@dataclass(frozen=True, eq=False)
class Problem:
    """One problem: a story, a quantity to ask for, and what each given can be."""

    id: str
    title: str
    story: str
    quantity: Quantity
    givens: dict[str, tuple[Choice, ...]]
    marks_per_step: int = 1
    tries: int = 3


@dataclass(frozen=True)
class ProblemSet:
    """A set: `key` is the file's name without its ending."""

    key: str
    title: str
    version: int
    lesson: str
    about: str
    problems: tuple[Problem, ...]

    def problem(self, problem_id: str) -> Problem | None:
        return next((p for p in self.problems if p.id == problem_id), None)


@dataclass(frozen=True)
class Variant:
    """A problem with one student's numbers in it."""

    problem: Problem
    shown: dict[str, str]
    working: Working

    @property
    def story(self) -> str:
        """The story with the student's numbers in the braces."""
        return _PLACEHOLDER.sub(lambda m: self.shown.get(m[1], m[0]), self.problem.story)

    @cached_property
    def alike(self) -> tuple[str, str] | tuple[()]:
        """Two mistakes that give the same number in some step of this draw, if there are any."""
        right = self.working.honest({})
        for key, step in self.working.steps.items():
            seen: dict[int, str] = {}
            for mistake, changed in rewritten(self.working, key):
                for value in outcomes(self.working, key, {key: changed})[:1]:
                    if value in right[key].widened(step.to / 2):
                        continue
                    other = seen.setdefault(round(value / step.to), mistake.key)
                    if other != mistake.key:
                        return other, mistake.key
        return ()

    @property
    def out_of(self) -> int:
        return self.problem.marks_per_step * len(self.working.steps)


def draw(problem_set: ProblemSet, problem: Problem, student: str) -> Variant:
    """One student's variant. The same set, version, problem and name give the same numbers.

    A draw in which two mistakes give one number cannot be told apart when it is marked, so it is
    drawn again, at most `MOST_REDRAWS` times.
    """
    first = None
    for again in range(MOST_REDRAWS + 1):
        drawn = _variant_of_picks(problem, _picks(problem_set, problem, student, again))
        if not drawn.alike:
            return drawn
        first = first or drawn
    return first


def _picks(problem_set: ProblemSet, problem: Problem, student: str, again: int) -> tuple[int, ...]:
    """Which choice each given takes, by SHA-256 of what the draw depends on."""
    name = plain_name(student)
    picks = []
    for given, choices in problem.givens.items():
        seed = (problem_set.key, str(problem_set.version), problem.id, given, name, str(again))
        digest = hashlib.sha256("\n".join(seed).encode()).digest()
        picks.append(int.from_bytes(digest) % len(choices))
    return tuple(picks)


@lru_cache(maxsize=20_000)
def _variant_of_picks(problem: Problem, picks: tuple[int, ...]) -> Variant:
    """Students share variants: a class marks faster when each is built once."""
    return variant(
        problem,
        {
            given: choices[pick]
            for (given, choices), pick in zip(problem.givens.items(), picks, strict=True)
        },
    )


def variant(problem: Problem, picked: dict[str, Choice]) -> Variant:
    """A problem with the given choices put in."""
    working = problem.quantity.working({given: choice.value for given, choice in picked.items()})
    shown = {given: choice.shown for given, choice in picked.items()}
    for given, choice in picked.items():
        if isinstance(choice.value, Ingredient):
            shown[f"water content of {given}"] = units.write(choice.value.water, "share")
            if choice.value.fat is not None:
                shown[f"fat content of {given}"] = units.write(choice.value.fat, "share")
    return Variant(problem, shown, working)


def plain_name(student: str) -> str:
    """A name without the differences that typing makes: case, accents' encoding, extra spaces."""
    return " ".join(unicodedata.normalize("NFKC", student).casefold().split())


# Reading a set.


def load(key: str) -> ProblemSet:
    """One of the sets that come with the project. Raises SetError if it is broken."""
    name = f"{key}.yml"
    return read_set((files("exercises") / "sets" / name).read_text("utf-8"), name)


def set_keys() -> list[str]:
    """The sets that come with the project."""
    found = (files("exercises") / "sets").iterdir()
    return sorted(path.name.removesuffix(".yml") for path in found if path.name.endswith(".yml"))


def read_set(text: str, file: str) -> ProblemSet:
    """Read a set. Raises SetError with every complaint found, each with its line and column."""
    root = parse(text, file)
    reader = _Reader(file)
    found = reader.problem_set(root, file.rsplit("/", 1)[-1].rsplit(".", 1)[0])
    if reader.complaints or found is None:
        raise SetError(reader.complaints)
    return found


_PLACEHOLDER = re.compile(r"\{([^{}]*)\}")
_ID = re.compile(r"^[a-z0-9][a-z0-9-]*$")

_SET_KEYS = {"title": True, "version": True, "lesson": False, "about": False, "problems": True}
_PROBLEM_KEYS = {
    "id": True,
    "title": True,
    "story": True,
    "ask": True,
    "givens": True,
    "marks per step": False,
    "tries": False,
}
_RANGE_KEYS = {"from": True, "to": True, "step": True}


class _Reader:
    """Turns entries into a set and gathers complaints instead of stopping at the first."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.complaints: list[Complaint] = []

    def complain(self, place: Entry, message: str) -> None:
        self.complaints.append(Complaint(self.file, place.line, place.column, message))

    def fields(self, entry: Entry, known: dict[str, bool], what: str) -> dict[str, Entry] | None:
        """The named parts of `entry`; `known` maps each name to whether it must be there."""
        if not isinstance(entry.value, dict):
            self.complain(entry, f"{what} needs named parts: {', '.join(known)}.")
            return None
        for name, place in entry.keys.items():
            if name not in known:
                self.complaints.append(
                    Complaint(
                        self.file, *place, f"{what} has no part “{name}”. {nearest(name, known)}"
                    )
                )
        missing = [name for name, needed in known.items() if needed and name not in entry.value]
        # A misspelt name has its own complaint already.
        misspelt = {
            match for name in entry.keys if name not in known for match in near(name, known)
        }
        for name in missing:
            if name not in misspelt:
                self.complain(entry, f"{what} lacks “{name}”. Add a line “{name}: …”.")
        return None if missing else entry.value

    def whole(self, parts: dict[str, Entry], name: str, default: int, low: int, high: int) -> int:
        if name not in parts:
            return default
        text = parts[name].text
        if not (text.isascii() and text.isdigit() and len(text) < 6 and low <= int(text) <= high):
            self.complain(parts[name], f"“{name}” must be a whole number from {low} to {high}.")
            return default
        return int(text)

    def line(self, parts: dict[str, Entry], name: str, longest: int = 200) -> str:
        if name not in parts:
            return ""
        text = parts[name].text.strip()
        if not text:
            self.complain(parts[name], f"“{name}” needs some text.")
        if len(text) > longest:
            self.complain(parts[name], f"“{name}” is longer than {longest} characters. Shorten it.")
        return text

    def problem_set(self, root: Entry, key: str) -> ProblemSet | None:
        parts = self.fields(root, _SET_KEYS, "A set")
        if parts is None:
            return None
        entries = parts["problems"].value
        if not isinstance(entries, list) or not entries:
            self.complain(
                parts["problems"], "“problems” must be a list: start each one with “- id:”."
            )
            return None
        problems: list[Problem] = []
        for entry in entries:
            problem = self.problem(entry)
            if problem is None:
                continue
            if any(other.id == problem.id for other in problems):
                self.complain(entry, f"Two problems have the id “{problem.id}”. Give each its own.")
            problems.append(problem)
        return ProblemSet(
            key,
            self.line(parts, "title"),
            self.whole(parts, "version", 1, 1, 9999),
            self.line(parts, "lesson"),
            self.line(parts, "about", LONGEST_STORY),
            tuple(problems),
        )

    def problem(self, entry: Entry) -> Problem | None:
        parts = self.fields(entry, _PROBLEM_KEYS, "A problem")
        if parts is None:
            return None
        quantity = REGISTRY.get(parts["ask"].text)
        if quantity is None:
            self.complain(
                parts["ask"],
                f"There is nothing called “{parts['ask'].text}” to ask for. {nearest(parts['ask'].text, REGISTRY)}",
            )
            return None
        if not _ID.match(parts["id"].text):
            self.complain(
                parts["id"], "An id is made of small letters, digits and hyphens: milk-for-water."
            )
        givens = self.givens(parts["givens"], quantity)
        problem = Problem(
            parts["id"].text,
            self.line(parts, "title"),
            self.line(parts, "story", LONGEST_STORY),
            quantity,
            givens or {},
            self.whole(parts, "marks per step", 1, 1, 100),
            self.whole(parts, "tries", 3, 1, 99),
        )
        if givens is None:
            return None
        self.check_story(parts["story"], problem)
        self.check_draws(parts["givens"], problem)
        return problem

    def givens(self, entry: Entry, quantity: Quantity) -> dict[str, tuple[Choice, ...]] | None:
        known = {slot.name: not slot.optional for slot in quantity.slots}
        parts = self.fields(entry, known, f"“{quantity.name}”")
        if parts is None:
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
        for one in entries:
            choice = self.choice(one, slot)
            if choice is not None:
                yield choice

    def choice(self, entry: Entry, slot: Slot) -> Choice | None:
        try:
            if slot.kind == "ingredient":
                value = composition.read(entry.text)
            else:
                value = units.read(entry.text, slot.kind).value
        except (ReadingError, composition.UnknownIngredient, ValueError) as error:
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
        parts = self.fields(entry, _RANGE_KEYS, f"The range for “{slot.name}”")
        if parts is None:
            return
        first, last = self.choice(parts["from"], slot), self.choice(parts["to"], slot)
        try:
            step = units.read(parts["step"].text, slot.kind).value
        except ReadingError as error:
            self.complain(parts["step"], f"“step”: {error}")
            return
        if first is None or last is None:
            return
        if step <= 0 or last.value < first.value or (last.value - first.value) / step > MOST_VALUES:
            self.complain(
                parts["step"],
                f"“{slot.name}” cannot go from {first.shown} to {last.shown} in steps of {parts['step'].text}.",
            )
            return
        for n in range(int((last.value - first.value) / step + 1e-9) + 1):
            value = round(first.value + n * step, 9)
            yield Choice(value, units.write_exact(value, slot.kind))

    def check_story(self, entry: Entry, problem: Problem) -> None:
        """Every placeholder must name a given, and the story must tell every given."""
        example = variant(problem, {given: choices[0] for given, choices in problem.givens.items()})
        for name in _PLACEHOLDER.findall(problem.story):
            if name not in example.shown:
                self.complain(
                    entry,
                    f"The story has {{{name}}}, which no given fills. {nearest(name, example.shown)}",
                )
        for given in problem.givens:
            if f"{{{given}}}" not in problem.story and given != "other ingredients":
                self.complain(
                    entry, f"The story never tells {{{given}}}, so the problem cannot be solved."
                )

    def check_draws(self, entry: Entry, problem: Problem) -> None:
        """Refuse a set whose smallest draw is absurd: a swap of a few grams, say."""
        for which in (0, -1):
            picked = {given: choices[which] for given, choices in problem.givens.items()}
            working = variant(problem, picked).working
            answer = working.values()[working.answer.key]
            least, most = problem.quantity.least, problem.quantity.most
            if not least <= answer <= most:
                shown, low, high = (
                    units.write_exact(n, working.answer.kind) for n in (answer, least, most)
                )
                drawn = ", ".join(choice.shown for choice in picked.values())
                self.complain(
                    entry,
                    f"With {drawn} the answer is {shown}. Choose givens that keep it between {low} and {high}.",
                )
