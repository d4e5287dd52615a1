"""Self-study: from a log of attempts to progress in each skill and what to practise next.

The rule:

- Only the first finished try at a set of numbers counts. It is right when it earns every mark.
- A skill is in one of six boxes. A right answer moves it up one box, a wrong one sends it back
  to the start: *So lernt man lernen*, 1972 (known from summaries, not from the book).
- Each box waits longer before the skill is due again: `WAITS`. Doubling is common practice, with
  no source; the book's own boxes were ruled by their size.
- A right answer before its day moves nothing up, because practice that is spread out holds longer
  than the same practice at once: “Distributed practice in verbal recall
  tasks”, Psychological Bulletin 132(3), 2006, 354–380 (its summary read; it studied words learnt by heart, not calculation).
- Next comes what was wrong last (the longest unmended first), then what is due (the longest overdue
  first), then what was never tried, then the rest (the soonest due first).

Times are seconds since 1970 (UTC), always given by the caller, so the same log gives the same plan.
"""

from __future__ import annotations

import hashlib
import itertools
import json
import re
from collections.abc import Collection, Iterable, Sequence
from dataclasses import asdict, dataclass, field
from enum import IntEnum

from calc.mistakes import BY_KEY
from calc.words import counted
from exercises import untrusted
from exercises.draws import MOST_REDRAWS, Problem, ProblemSet, Variant, draw, plain_name
from exercises.marking import ProblemMark, Verdict
from exercises.skills import Exercise, Skill

DAY = 86_400
# Days until a skill in each box is due again; box 0 is “not right yet”.
WAITS = (0, 1, 2, 4, 8, 16)
TOP = len(WAITS) - 1


@dataclass(frozen=True)
class Attempt:
    """One counted try at a problem. `mistakes` are the keys of the known mistakes that were named."""

    id: str
    problem: str
    skill: str
    when: int
    marks: float
    out_of: float
    mistakes: tuple[str, ...] = ()

    @property
    def right(self) -> bool:
        return self.marks >= self.out_of


class Standing(IntEnum):
    """How far a skill has come; what comes first is practised first."""

    WRONG = 0
    DUE = 1
    NEW = 2
    RESTING = 3


@dataclass(frozen=True)
class Progress:
    """A skill's progress at the time `now`. Times in seconds; `mistakes` are the last wrong try's."""

    skill: Skill
    now: int
    tries: int = 0
    right: int = 0
    box: int = 0
    last: int = 0
    due: int = 0
    wrong_since: int = 0
    mistakes: tuple[str, ...] = ()

    @property
    def standing(self) -> Standing:
        if not self.tries:
            return Standing.NEW
        if not self.box:
            return Standing.WRONG
        return Standing.DUE if self.due <= self.now else Standing.RESTING

    @property
    def page(self) -> str:
        """What to read first: where the last mistake is explained, or the skill's own page."""
        known = [BY_KEY[key] for key in self.mistakes if key in BY_KEY]
        if self.standing is Standing.WRONG and known:
            return f"lessons/{known[0].lesson}/#{known[0].key}"
        return self.skill.page

    @property
    def reason(self) -> str:
        """Why it is, or is not, to be practised now, in words."""
        since = self.now - self.last
        ago = f"{counted(since // DAY, 'day')} ago" if since >= DAY else "in the last 24 hours"
        match self.standing:
            case Standing.NEW:
                return "not tried yet"
            case Standing.WRONG:
                names = [BY_KEY[key].name for key in self.mistakes if key in BY_KEY]
                wrong = "last wrong" if since >= DAY else "wrong"
                return f"{wrong} {ago}" + (f": you {' and '.join(names)}" if names else "")
            case Standing.DUE:
                return f"right {ago}, and due again"
            case _:
                return (
                    f"right {ago}, due again in {counted(-(-(self.due - self.now) // DAY), 'day')}"
                )


def progress(skill: Skill, attempts: Iterable[Attempt], now: int) -> Progress:
    """A skill's progress, from all attempts in any order; those of other skills are passed over.

    An attempt from the future (a clock was changed) counts as made now.
    """
    tries = right = box = last = due = wrong_since = 0
    mistakes: tuple[str, ...] = ()
    for each in union(attempts):
        if each.skill != skill.key:
            continue
        when = min(each.when, now)
        if each.right:
            right += 1
            if not box or when >= due:
                box = min(box + 1, TOP)
                due = when + WAITS[box] * DAY
        else:
            wrong_since = wrong_since if tries and not box else when
            box, due, mistakes = 0, when, each.mistakes
        tries, last = tries + 1, when
    return Progress(skill, now, tries, right, box, last, due, wrong_since, mistakes)


def plan(skills: Iterable[Skill], attempts: Iterable[Attempt], now: int) -> list[Progress]:
    """Every skill's progress, what to practise next first."""
    attempts = list(attempts)
    return sorted((progress(skill, attempts, now) for skill in skills), key=_urgency)


def _urgency(one: Progress) -> tuple[int, int]:
    """Skills that tie keep the order in which they are taught."""
    since = {Standing.WRONG: one.wrong_since, Standing.NEW: 0}
    return one.standing, since.get(one.standing, one.due)


def next_exercise(among: Sequence[Exercise], attempts: Iterable[Attempt]) -> Exercise:
    """The problem not tried for the longest time; those never tried come first, the easiest of them."""
    last = {each.problem: each.when for each in union(attempts)}
    return min(among, key=lambda each: (last.get(each.key, -1), each.problem.level))


# Fresh numbers.


def draw_name(student: str, number: int) -> str:
    """The name that draws the numbers of one attempt; no hand-in is drawn by such a name."""
    return f"{student.strip()}#{number}"


def fresh(
    exercise: Exercise, student: str, first: int, used: Collection[str], before: str = ""
) -> str:
    """A draw's name for numbers that were not used yet, from attempt number `first` on.

    `used` are the ids of logged attempts; `before` is the draw shown last, to differ from it.
    """
    shown = draw(exercise.problem_set, exercise.problem, before).shown if before else None
    name = ""
    for number in itertools.count(first):
        name = draw_name(student, number)
        if attempt_id(exercise.problem_set, exercise.problem, name) in used:
            continue
        drawn = draw(exercise.problem_set, exercise.problem, name)
        if not drawn.shown or drawn.shown != shown or number - first > MOST_REDRAWS:
            break
    return name


def attempt_id(problem_set: ProblemSet, problem: Problem, name: str) -> str:
    """Names one set of numbers: a second try at the same numbers has the same id.

    It is a digest, so that a log file does not tell the student's name.
    """
    seed = (problem_set.key, str(problem_set.version), problem.id, plain_name(name))
    return hashlib.sha256("\n".join(seed).encode("utf-8", "replace")).hexdigest()[:24]


def attempt(exercise: Exercise, name: str, result: ProblemMark, now: int) -> Attempt | None:
    """What to log of a marking; nothing while it is neither finished nor wrong anywhere.

    Nor where the log could not be read again with the name of a teacher's own set in it.
    """
    if not _WORD.fullmatch(exercise.key):
        return None
    verdicts = {one.verdict for one in result.steps}
    unfinished = verdicts & {Verdict.BLANK, Verdict.UNREAD}
    if unfinished and not any(one.misses for one in verdicts):
        return None
    mistakes = dict.fromkeys(
        finding.mistake.key for one in result.steps for finding in one.findings
    )
    return Attempt(
        attempt_id(exercise.problem_set, exercise.problem, name),
        exercise.key,
        exercise.skill.key,
        now,
        result.marks,
        result.out_of,
        tuple(mistakes)[:MOST_MISTAKES],
    )


def variant(exercise: Exercise, name: str) -> Variant:
    """The exercise with the numbers that a draw's name gives."""
    return draw(exercise.problem_set, exercise.problem, name)


# The log.

FORMAT = "doughwater practice log 1"
FILE_NAME = "my-practice.json"
# The newest attempts are kept; each is small, so no readable log is larger than this.
MOST_ATTEMPTS = 1_000
LARGEST_LOG = 2_000_000
MOST_MISTAKES = 6
LATEST = 100_000_000_000
MOST_MARKS = 10_000
_WORD = re.compile(r"[A-Za-z0-9][A-Za-z0-9/_.-]{0,99}")


class LogError(ValueError):
    """A log that cannot be read; the message says what to do."""


@dataclass(frozen=True)
class Log:
    """What could be read of a kept log. `trouble` tells, in one line, what could not."""

    attempts: list[Attempt] = field(default_factory=list)
    trouble: str = ""


def union(attempts: Iterable[Attempt]) -> list[Attempt]:
    """Attempts in the order they were made. Of several with one id the first counts."""
    found: dict[str, Attempt] = {}
    for each in sorted(
        attempts, key=lambda a: (a.when, a.id, a.problem, a.skill, a.marks, a.out_of, a.mistakes)
    ):
        found.setdefault(each.id, each)
    return list(found.values())[-MOST_ATTEMPTS:]


def kept_log(text: str) -> Log:
    """Read the log a device keeps; what cannot be read is left out and told."""
    if not text:
        return Log()
    try:
        records = _records(text)
    except LogError:
        return Log([], "The practice log on this device cannot be read. It starts anew.")
    attempts, lost = [], 0
    for record in records:
        try:
            attempts.append(_attempt(record))
        except LogError:
            lost += 1
    trouble = (
        f"{counted(lost, 'attempt')} in the practice log cannot be read. We leave it out."
        if lost
        else ""
    )
    return Log(union(attempts), trouble)


def read_log(text: str) -> list[Attempt]:
    """Read a log file, whole or not at all. Raises LogError with the place and the reason."""
    attempts = []
    for number, record in enumerate(_records(text, FORMAT), 1):
        try:
            attempts.append(_attempt(record))
        except LogError as error:
            raise LogError(f"Attempt {number} in the file: {error} Nothing was added.") from None
    if not attempts:
        raise LogError("This log holds no attempts. Nothing was added.")
    return union(attempts)


def write_log(attempts: Iterable[Attempt]) -> str:
    """The text of a log file, as JSON."""
    return json.dumps(
        {"format": FORMAT, "attempts": [asdict(a) for a in union(attempts)]}, indent=1
    )


def _records(text: str, wanted: str = "") -> list[object]:
    """The records in a JSON list, or in a log file of the `wanted` format."""
    if len(text) > LARGEST_LOG:
        raise LogError("This file is far too large for a practice log. Choose one saved here.")
    try:
        data = untrusted.read_json(text, LARGEST_LOG)
    except ValueError:
        raise LogError(
            f"This file is not complete JSON. Choose a log saved here, such as {FILE_NAME}."
        ) from None
    if wanted:
        named = isinstance(data, dict) and data.get("format") == wanted
        data = data.get("attempts") if named else None
    if not isinstance(data, list) or len(data) > MOST_ATTEMPTS:
        raise LogError(
            f"This is not a practice log of up to {MOST_ATTEMPTS} attempts. "
            f"Choose one saved here, such as {FILE_NAME}."
        )
    return data


def _attempt(record: object) -> Attempt:
    """An attempt from untrusted data."""
    if not isinstance(record, dict):
        raise LogError("it is not an attempt.")
    for name in ("id", "problem", "skill"):
        if not _is_word(record.get(name)):
            raise LogError(f"“{name}” must be a short name.")
    mistakes = record.get("mistakes", [])
    if not (
        isinstance(mistakes, list)
        and len(mistakes) <= MOST_MISTAKES
        and all(map(_is_word, mistakes))
    ):
        raise LogError(f"“mistakes” must be a list of up to {MOST_MISTAKES} names.")
    when, marks, out_of = (record.get(name) for name in ("when", "marks", "out_of"))
    if not (_is_number(when, LATEST) and when == int(when)):
        raise LogError("“when” must be whole seconds since 1970.")
    if not (_is_number(out_of, MOST_MARKS) and out_of > 0 and _is_number(marks, out_of)):
        raise LogError("“marks” must be a number from 0 to “out_of”.")
    return Attempt(
        record["id"], record["problem"], record["skill"], int(when), marks, out_of, tuple(mistakes)
    )


def _is_word(value: object) -> bool:
    return isinstance(value, str) and _WORD.fullmatch(value) is not None


def _is_number(value: object, most: float) -> bool:
    """Whether this is a number from 0 to `most`; what is not a number (NaN) is not."""
    return isinstance(value, int | float) and not isinstance(value, bool) and 0 <= value <= most
