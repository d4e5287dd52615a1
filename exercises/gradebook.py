"""Mark a class: each student's marks and comments, and what the class misunderstood.

Students are marked one at a time and handed on; the class is known by running sums, so memory stays
flat however many there are. Who handed in twice is found in a store on disk.
"""

from __future__ import annotations

import hashlib
import sqlite3
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field, replace
from functools import cached_property, lru_cache

from calc.mistakes import BY_KEY, Mistake
from calc.units import PLAIN, Style
from exercises import near_names
from exercises.collect import Entry, Refusal, Remark
from exercises.draws import Box, ProblemSet, Variant, draw, plain_name
from exercises.item_analysis import Item
from exercises.marking import ProblemMark, StepMark, Verdict, mark
from exercises.near_names import Near
from exercises.roster import Roster

# In a larger class names and groups say nothing to a teacher; the counts stay exact.
MOST_GROUPED = 2_000
MOST_REFUSALS = 1_000
# A row with as many answers, of which hardly any earn, may bear a name that its student did not work with.
FEWEST_ANSWERS = 3
HARDLY_ANY = 0.25

Read = Callable[[], Iterable[Entry | Refusal | Remark]]


@dataclass(frozen=True)
class StudentMark:
    """One student's marks. `counts` is false where a later hand-in of the same student counts."""

    entry: Entry
    problems: tuple[ProblemMark, ...]
    notes: tuple[str, ...] = ()
    counts: bool = True

    @cached_property
    def each(self) -> tuple[float, ...]:
        """The marks of each problem."""
        return tuple(problem.marks for problem in self.problems)

    @cached_property
    def earned(self) -> tuple[tuple[str, float, int], ...]:
        """Of each problem its id, the marks, and out of how many."""
        of = zip(self.problems, self.each, strict=True)
        return tuple((one.variant.problem.id, marks, one.out_of) for one, marks in of)

    @property
    def marks(self) -> float:
        return round(sum(self.each), 2)

    @property
    def out_of(self) -> int:
        return sum(problem.out_of for problem in self.problems)

    @property
    def percent(self) -> float:
        """The share of the marks, 0 to 100."""
        return 100 * self.marks / self.out_of if self.out_of else 0.0

    @property
    def is_changed(self) -> bool:
        """Whether any of its marks was changed by hand."""
        return any(part.by_hand for problem in self.problems for part in (problem, *problem.steps))

    @cached_property
    def mistakes(self) -> Counter[str]:
        """The known mistakes made for certain, each with the number of problems it was made in."""
        # In a fixed order: the same hand-ins give the same bytes each time.
        return Counter(
            key for problem in self.problems for key in sorted(certain_mistakes(problem))
        )

    @cached_property
    def chosen(self) -> tuple[tuple[str, str, str], ...]:
        """The options that were chosen: problem, box and text of each. An order is no choice."""
        return tuple(
            (problem.variant.problem.id, step.step.key, option.text)
            for problem in self.problems
            if not problem.variant.problem.ranking
            for step in problem.steps
            if isinstance(step.step, Box) and (option := step.step.chosen(step.wrote))
        )

    @property
    def tally(self) -> Tally:
        bare = replace(self.entry, answers={}, hints={})
        return Tally(bare, self.counts, self.earned, self.chosen, self.mistakes)


@dataclass(frozen=True)
class Tally:
    """Of a `StudentMark` what a class's sums need, under the same names: plain data, for another process."""

    entry: Entry
    counts: bool
    earned: tuple[tuple[str, float, int], ...]
    chosen: tuple[tuple[str, str, str], ...]
    mistakes: Counter[str]

    @property
    def marks(self) -> float:
        return round(sum(marks for _, marks, _ in self.earned), 2)

    @property
    def out_of(self) -> int:
        return sum(out_of for *_, out_of in self.earned)


def certain_mistakes(problem: ProblemMark) -> set[str]:
    """The keys of the mistakes that were made: not those that are one of two explanations."""
    if problem.by_hand and problem.all_right:
        return set()
    return {
        finding.mistake.key
        for step in problem.steps
        if len(step.findings) == 1 or step.in_a_row
        for finding in step.findings
    }


@dataclass
class Made:
    """A mistake and who made it: students, problems, and names as far as they are kept."""

    mistake: Mistake
    students: int = 0
    problems: int = 0
    names: list[str] = field(default_factory=list)


@dataclass(frozen=True)
class Group:
    """Students to teach together; without a mistake, those in whose work none was named."""

    mistake: Mistake | None
    names: tuple[str, ...]


@dataclass(frozen=True)
class Option:
    """An option of a choice question, and how many students chose it."""

    text: str
    right: bool
    students: int


@dataclass
class Gradebook:
    """What is known of a class. `roster` are those who should have handed in.

    `doubtful` are students, each with what a teacher should know before trusting the marks; `remarks` say how
    files were read.
    """

    problem_set: ProblemSet
    roster: Roster = field(default_factory=Roster)
    students: int = 0
    handed_in_twice: int = 0
    marks: float = 0
    out_of: int = 0
    items: dict[str, Item] = field(default_factory=dict)
    made: dict[str, Made] = field(default_factory=dict)
    refusals: list[Refusal] = field(default_factory=list)
    refused: int = 0
    remarks: list[Remark] = field(default_factory=list)
    unlisted: list[str] = field(default_factory=list)
    doubtful: list[tuple[str, str]] = field(default_factory=list)
    _mistakes_of: list[tuple[str, frozenset[str]]] = field(default_factory=list)
    _chosen: Counter[tuple[str, str, str]] = field(default_factory=Counter)

    def __post_init__(self) -> None:
        self._missing = dict.fromkeys(range(len(self.roster.people)))

    @property
    def missing(self) -> list[str]:
        """Those on the list of whom nothing was marked, in its order."""
        return [self.roster.names[place] for place in self._missing]

    @property
    def near(self) -> list[Near]:
        """Those not on the list who may be one who is: of the missing first."""
        return near_names.of_a_list(self.unlisted, self.missing, self.roster.names)

    def chosen(self, problem: str, box: Box) -> list[Option]:
        """How often each option of a choice question was chosen, in the set's order."""
        return [
            Option(o.text, o.right, self._chosen[problem, box.key, o.text]) for o in box.options
        ]

    def refuse(self, refusal: Refusal) -> None:
        self.refused += 1
        if len(self.refusals) < MOST_REFUSALS:
            self.refusals.append(refusal)

    def remark(self, remark: Remark) -> None:
        if len(self.remarks) < MOST_REFUSALS:
            self.remarks.append(remark)

    def add(self, student: StudentMark | Tally) -> None:
        """Count a student; one whose later hand-in counts is only noted."""
        if not student.counts:
            self.handed_in_twice += 1
            return
        self.students += 1
        self._tick_off(student.entry.student)
        if student.entry.notes and len(self.doubtful) < MOST_GROUPED:
            self.doubtful.append((student.entry.student, " ".join(student.entry.notes)))
        total = student.marks
        self.marks += total
        self.out_of += student.out_of
        for problem, marks, out_of in student.earned:
            self.items.setdefault(problem, Item()).add(marks, out_of, total)
        self._chosen.update(student.chosen)
        self._add_mistakes(student)

    def _tick_off(self, student: str) -> None:
        place = self.roster.place(student)
        if place is not None:
            self._missing.pop(place, None)
        elif self.roster.people and len(self.unlisted) < MOST_GROUPED:
            self.unlisted.append(student)

    def _add_mistakes(self, student: StudentMark | Tally) -> None:
        found = student.mistakes
        for key, problems in found.items():
            made = self.made.setdefault(key, Made(BY_KEY[key]))
            made.students += 1
            made.problems += problems
            if len(made.names) < MOST_GROUPED:
                made.names.append(student.entry.student)
        if len(self._mistakes_of) < MOST_GROUPED:
            self._mistakes_of.append((student.entry.student, frozenset(found)))

    def reteach(self) -> list[Made]:
        """The mistakes in the order to reteach: most students first, then most problems."""
        return sorted(
            self.made.values(), key=lambda one: (-one.students, -one.problems, one.mistake.key)
        )

    def groups(self) -> list[Group]:
        """Each student in one group: again and again the mistake that most of the rest share.

        A mistake that one student alone made gives no group: that student is listed with a group of
        one. The last group made no mistake that could be named. Empty for a class too large to sit
        in one room.
        """
        if self.students > MOST_GROUPED:
            return []
        rest = dict(enumerate(self._mistakes_of))
        found: list[Group] = []
        while shared := Counter(key for _, mistakes in rest.values() for key in mistakes):
            key = min(shared, key=lambda one: (-shared[one], one))
            members = {n: name for n, (name, mistakes) in rest.items() if key in mistakes}
            found.append(Group(self.made[key].mistake, tuple(members.values())))
            for n in members:
                del rest[n]
        if rest:
            found.append(Group(None, tuple(name for name, _ in rest.values())))
        return found


def mark_class(
    problem_set: ProblemSet,
    read: Read,
    book: Gradebook,
    style: Style = PLAIN,
    change: Callable[[StudentMark], StudentMark] = lambda student: student,
) -> Iterator[StudentMark]:
    """Mark every student that `read` gives, counting them into `book`, with what a teacher will `change`.

    `read` is called twice, and must give the same again: first for the names, so that of two
    hand-ins of one student the one saved last counts, or the last in order, and both say so.
    """
    with Names() as names:
        for number, one in enumerate(read()):
            if isinstance(one, Entry):
                names.see(number, seen(one))
        for number, one in enumerate(read()):
            if isinstance(one, Refusal):
                book.refuse(one)
            elif isinstance(one, Remark):
                book.remark(one)
            else:
                marked = change(mark_student(problem_set, one, style, names, number, book.roster))
                book.add(marked)
                yield marked


def mark_student(
    problem_set: ProblemSet, entry: Entry, style: Style, names: Names, number: int, roster: Roster
) -> StudentMark:
    """Mark the hand-in that came as `number`; `names` knows whether the student handed in again."""
    problems = _mark_all(problem_set, entry, style)
    doubt = _doubt_of_name(problem_set, entry, problems, roster) if entry.typed else ""
    if doubt:
        entry = replace(entry, notes=(*entry.notes, doubt))
    last, place, times = names.of(entry.student)
    if times == 1:
        return StudentMark(entry, problems, entry.notes)
    counts = last == number
    said = "this one counts" if counts else f"the last, {place}, counts"
    twice = f"Handed in {times} times: {said}."
    return StudentMark(entry, problems, (*entry.notes, twice), counts)


def _mark_all(problem_set: ProblemSet, entry: Entry, style: Style) -> tuple[ProblemMark, ...]:
    return tuple(
        _mark(
            draw(problem_set, problem, entry.drawn_for),
            tuple(entry.answers.get(problem.id, {}).items()),
            tuple(entry.hints.get(problem.id, {}).items()),
            style,
        )
        for problem in problem_set.problems
    )


def _doubt_of_name(
    problem_set: ProblemSet, entry: Entry, problems: tuple[ProblemMark, ...], roster: Roster
) -> str:
    """Says so where hardly any number of a typed row earns: a misspelt name draws other numbers."""
    answered, right = _numbers(problems)
    if answered < FEWEST_ANSWERS or right > HARDLY_ANY * answered:
        return ""
    said = f"Of {answered} numbers in this row {right or 'none'} {'are' if right > 1 else 'is'} right. They depend on the name: is “{entry.student}” the name that the student worked with?"
    if roster.place(entry.student) is None:
        for near in near_names.pairs([entry.student], roster.names):
            again = _mark_all(problem_set, replace(entry, drawn_for=near.other), PLAIN)
            if _numbers(again)[1] > right:
                return f"{said} With the numbers of “{near.other}” {_numbers(again)[1]} are."
    return said


def _numbers(problems: tuple[ProblemMark, ...]) -> tuple[int, int]:
    """How many numbers were written, and how many of them are right; a choice may be right by chance."""
    steps = [
        step
        for problem in problems
        if not problem.variant.boxes
        for step in problem.steps
        if step.wrote
    ]
    return len(steps), sum(step.verdict is Verdict.RIGHT for step in steps)


@lru_cache(maxsize=10_000)
def _mark(
    variant: Variant,
    answers: tuple[tuple[str, str], ...],
    hints: tuple[tuple[str, int], ...],
    style: Style,
) -> ProblemMark:
    """Students share variants, and many share answers: each is marked once."""
    return mark(variant, dict(answers), style, dict(hints))


# Of an entry what tells which of a student's hand-ins is the last: the name as a number, the place, the time.
Seen = tuple[int, str, int]


def seen(entry: Entry) -> Seen:
    return _key(entry.student), entry.place, entry.saved


def _key(student: str) -> int:
    digest = hashlib.blake2b(plain_name(student).encode(), digest_size=8).digest()
    return int.from_bytes(digest, signed=True)


class Names:
    """Which hand-in of each student is the last. On disk: a million names would not stay flat."""

    def __init__(self, store: str = "", known: bool = False) -> None:
        """`store` is a file for several processes; those that read it, when all names are `known`, write nothing."""
        # SQLite keeps a database without a name in a temporary file, behind a small cache.
        self._store = sqlite3.connect(store)
        if not known:
            self._store.execute(
                "CREATE TABLE seen (name INTEGER PRIMARY KEY, last INTEGER, place TEXT, saved INTEGER, "
                "times INTEGER)"
            )

    def __enter__(self) -> Names:
        return self

    def __exit__(self, *trouble: object) -> None:
        self._store.close()

    def see(self, number: int, seen: Seen) -> None:
        """Note a hand-in. What tells no time counts as older than what tells one."""
        name, place, saved = seen
        self._store.execute(
            "INSERT INTO seen VALUES (?, ?, ?, ?, 0) ON CONFLICT (name) DO UPDATE "
            "SET last = excluded.last, place = excluded.place, saved = excluded.saved "
            "WHERE excluded.saved >= saved",
            (name, number, place, saved),
        )
        self._store.execute("UPDATE seen SET times = times + 1 WHERE name = ?", (name,))

    def know(self) -> None:
        """All are seen: let the other processes read, and `counted` find."""
        self._store.execute("CREATE INDEX by_last ON seen (last)")
        self._store.commit()

    def counted(self, begin: int, end: int) -> int:
        """How many hand-ins count, of those from number `begin` to before `end`."""
        asked = "SELECT COUNT(*) FROM seen WHERE last >= ? AND last < ?"
        return self._store.execute(asked, (begin, end)).fetchone()[0]

    def of(self, student: str) -> tuple[int, str, int]:
        """The number and place of the student's last hand-in, and how many there are."""
        return self._store.execute(
            "SELECT last, place, times FROM seen WHERE name = ?", (_key(student),)
        ).fetchone()


def wrote(problem: ProblemMark, step: StepMark, entry: Entry) -> str:
    """What a student wrote for a step: in its box, or as a line of free working."""
    text = entry.answers.get(problem.variant.problem.id, {}).get(step.step.key, "").strip()
    return text or step.wrote


def comment(step: StepMark) -> str:
    """What to tell the teacher: how the answer was read, and what is wrong where it is not right."""
    if step.by_hand:
        return " ".join(filter(None, (step.note, step.by_hand.says)))
    says = "" if step.verdict is Verdict.RIGHT else step.says
    if step.verdict is Verdict.WRONG and step.reading and not step.findings:
        # To the student this says where to look for help.
        says = "No one mistake explains this number."
    return " ".join(filter(None, (step.note, says)))
