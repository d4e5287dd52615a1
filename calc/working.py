"""A working: one calculation, written once and read as value, bounds, words, marks and diagnosis.

A `Working` holds givens and named steps; each step is an `Expression` over givens and earlier
steps. Nothing here knows a particular calculation: those are in `calc.quantities` and
`calc.substitution`. What a wrong method looks like is in `calc.mistakes`.

>>> w = Working("Water for the dough")
>>> flour = w.given("flour", "flour", 220, "mass")
>>> hydration = w.given("hydration", "hydration", 0.63, "share")
>>> water = w.step("water", "water", flour * hydration, "mass")
>>> w.values()["water"]
138.6
>>> w.sentence("water")
'220 g × 0.63 = 138.6 g'
"""

from __future__ import annotations

import math
from collections.abc import Callable, Hashable, Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

from calc import units
from calc.expression import Expression, Name, Operation, evaluate, names, words
from calc.interval import Graded, Interval, tighten
from calc.units import PLAIN, Reading, Style


@dataclass(frozen=True)
class Given:
    """A quantity the problem states.

    `value` is in calc's unit; `range` is what it may honestly be (None: exactly as stated).
    `role` says what it is to the dough (``flour``, ``water content``, ``fat content`` …) and `of`
    which ingredient it belongs to, so that a known mistake can take the wrong one.
    """

    key: str
    label: str
    value: float
    kind: str
    range: Interval | None = None
    role: str = ""
    of: str = ""

    @property
    def interval(self) -> Interval:
        """Its range, or its value alone; in calc's unit."""
        return self.range or Interval.exactly(self.value)


@dataclass(frozen=True)
class Step:
    """A named step. `to` is the step of the scale it is read on (calc's unit); `why` a sentence."""

    key: str
    label: str
    expression: Expression
    kind: str
    to: float
    role: str = ""
    why: str = ""

    @cached_property
    def uses(self) -> frozenset[str]:
        """The givens and earlier steps that it is computed from directly."""
        return frozenset(names(self.expression))


# The role of a step that is a share of a whole, and so never more than 100 %.
PART_OF_A_WHOLE = "part of a whole"


class Working:
    """Givens, then steps; the last step is the answer.

    `given` and `step` add to it and return the name to write further expressions with.
    """

    def __init__(self, title: str) -> None:
        self.title = title
        self.givens: dict[str, Given] = {}
        self.steps: dict[str, Step] = {}
        self._found: dict[tuple, dict] = {}

    def given(
        self,
        key: str,
        label: str,
        value: float,
        kind: str,
        range: Interval | None = None,
        role: str = "",
        of: str = "",
    ) -> Name:
        """Add a given; `value` and `range` in calc's unit."""
        self._refuse_twice(key)
        self.givens[key] = Given(key, label, value, kind, range, role, of)
        return Name(key)

    def step(
        self,
        key: str,
        label: str,
        expression: Expression,
        kind: str,
        to: float | None = None,
        role: str = "",
        why: str = "",
    ) -> Name:
        """Add a step. `to` defaults to the usual scale of its kind: 1 g (0.1 g below 10 g), 1 % …

        Raises ValueError when the expression does not give the declared kind.
        """
        self._refuse_twice(key)
        if self.dimension(expression) != units.KINDS[kind].dimension:
            raise ValueError(f"step “{label}” is declared a {kind}, but its expression is not one")
        if to is None:
            value = evaluate(expression, self.values().__getitem__, float)
            to = units.mass_step(value) if kind == "mass" else units.KINDS[kind].step
        self.steps[key] = Step(key, label, expression, kind, to, role, why)
        return Name(key)

    def _once(self, what: Hashable, find: Callable[[], dict]) -> dict:
        """Found once for all that is there: whoever marks asks for the same of one working many times."""
        whole = (what, len(self.givens), len(self.steps))
        if whole not in self._found:
            self._found[whole] = find()
        return self._found[whole]

    def _refuse_twice(self, key: str) -> None:
        if key in self.givens or key in self.steps:
            raise ValueError(f"“{key}” appears twice in the working “{self.title}”")

    def dimension(self, expression: Expression) -> dict[str, int]:
        """The powers of calc's units that an expression has; ValueError where unlike things are added."""
        match expression:
            case Name(key):
                return units.KINDS[self.part(key).kind].dimension
            case Operation(symbol, left, right):
                one, two = self.dimension(left), self.dimension(right)
                if symbol in "+−":
                    if one != two:
                        raise ValueError(
                            "only like can be added to like: no weight to a percentage"
                        )
                    return one
                sign = 1 if symbol == "×" else -1
                powers = {unit: one.get(unit, 0) + sign * two.get(unit, 0) for unit in one | two}
                return {unit: power for unit, power in powers.items() if power}
        return {}

    @property
    def answer(self) -> Step:
        """The last step."""
        return next(reversed(self.steps.values()))

    def part(self, key: str) -> Given | Step:
        """The given or step of that key; KeyError if there is none."""
        return self.givens[key] if key in self.givens else self.steps[key]

    def with_role(self, role: str, of: str | None = None) -> list[Given]:
        """The givens that play a role (of one ingredient, if named)."""
        return [g for g in self.givens.values() if g.role == role and of in (None, g.of)]

    # Reading 1: the value.

    def values(self) -> dict[str, float]:
        """Every given and step, in calc's unit. Raises ZeroDivisionError for a zero divisor."""
        return dict(self._once("values", self._find_values))

    def _find_values(self) -> dict[str, float]:
        found = {given.key: given.value for given in self.givens.values()}
        for step in self.steps.values():
            found[step.key] = evaluate(step.expression, found.__getitem__, float)
        return found

    # Reading 2: the bounds.

    def bounds(self) -> dict[str, Interval]:
        """What every given and step may be, with each given anywhere in its range.

        The interval always holds the value. It is exact where each given pushes the step in one
        direction only, and may be too wide, never too narrow, elsewhere.
        """
        box = {given.key: given.interval for given in self.givens.values()}
        graded = {key: Graded.given(key, interval) for key, interval in box.items()}
        found = dict(box)
        for step in self.steps.values():
            graded[step.key] = evaluate(step.expression, graded.__getitem__, Graded.exactly)
            found[step.key] = tighten(
                graded[step.key], box, lambda ends, key=step.key: self._intervals(ends)[key]
            )
        return found

    def _intervals(self, givens: Mapping[str, Interval]) -> dict[str, Interval]:
        found = dict(givens)
        for step in self.steps.values():
            found[step.key] = evaluate(step.expression, found.__getitem__, Interval.exactly)
        return found

    # Reading 3: the words.

    def relation(self, key: str) -> str:
        """A step in names: ``water ÷ water content of buttermilk``."""
        return words(
            self.steps[key].expression,
            lambda name: self.part(name).label,
            lambda number: units.write_fraction(number),
        )

    def shape(self) -> tuple:
        """All of it but the numbers and the words: what a wrong method can be told from."""
        givens = ((g.key, g.kind, g.role, g.of) for g in self.givens.values())
        steps = ((s.key, s.kind, s.role, s.expression) for s in self.steps.values())
        return (*givens, *steps)

    def phrase(self, part: Expression) -> str:
        """A part of an expression in words: ``water content of buttermilk``."""
        return words(
            part, lambda name: self.part(name).label, lambda number: units.write_fraction(number)
        )

    def named(self, part: Expression) -> str:
        """A part as it is in a sentence: ``the salt``; a sum or product in quotes, as it is worked out."""
        phrase = self.phrase(part)
        return with_article(phrase) if isinstance(part, Name) else f"“{phrase}”"

    def numbers(self, key: str, style: Style = PLAIN) -> str:
        """A step with its numbers put in: ``138.6 g ÷ 0.81``."""
        values, figures = self.values(), self._figures(style)
        return words(
            self.steps[key].expression,
            lambda name: self._shown(name, values, style, figures.get(name, 0)),
            lambda number: units.write_fraction(number, style),
        )

    def sentence(self, key: str, style: Style = PLAIN) -> str:
        """A step as a baker writes it: ``138.6 g ÷ 0.81 = 171.1 g``.

        The result keeps one figure more than the scale shows, so that the next step starts from it,
        and as many more as a pocket calculator needs to come to the next step's printed result.
        """
        result = _middle(self.values()[key], self.steps[key], style, self._figures(style)[key])
        return f"{self.numbers(key, style)} = {result}"

    def _shown(self, name: str, values: Mapping[str, float], style: Style, more: int) -> str:
        """A given or a step as it is written in a sum, a step with `more` figures than usual."""
        part = self.part(name)
        if not units.KINDS[part.kind].dimension:
            return units.write_fraction(values[name], style, 4 + more)
        if isinstance(part, Given):
            return units.write_exact(part.value, part.kind, style)
        return _middle(values[name], part, style, more)

    def _figures(self, style: Style) -> Mapping[str, int]:
        """How many figures more than usual each step must show for the printed sums to come out."""
        return self._once(style, lambda: self._find_figures(style))

    def _find_figures(self, style: Style) -> dict[str, int]:
        values = self.values()
        more = dict.fromkeys(self.steps, 0)

        def printed(name: str) -> float:
            shown = self._shown(name, values, style, more.get(name, 0))
            return units.shown_value(shown, self.part(name).kind, style)

        for step in reversed(self.steps.values()):
            used = [name for name in names(step.expression) if name in self.steps]
            result = _middle(values[step.key], step, style, more[step.key])
            before = dict(more)
            for extra in range(_MORE_FIGURES + 1):
                more.update((name, before[name] + extra) for name in used)
                typed = evaluate(step.expression, printed, float)
                if _middle(typed, step, style, more[step.key]) == result:
                    break
            else:
                # A given that was rounded itself: no figure of a step mends that.
                more = before
        return more

    def weighed(self, key: str, style: Style = PLAIN) -> str:
        """A step's result, rounded to the scale it is read on: ``129 g``."""
        step = self.steps[key]
        return units.write(self.values()[key], step.kind, style, step.to)

    def stated(self, key: str, style: Style = PLAIN) -> str:
        """A given, as it was stated: ``220 g``."""
        given = self.givens[key]
        return units.write_exact(given.value, given.kind, style)

    # Reading 4: the marks.

    def attainable(self, own: Mapping[str, Reading], until: str = "") -> dict[str, Interval]:
        """What each step can come to when every earlier step was honestly rounded.

        `own` holds a student's readings of earlier steps: where there is one, later steps start
        from it (follow-through). It ends with the step `until`, where one is named: what comes after it
        may divide by a figure of nought. Raises ZeroDivisionError.
        """
        if not own and not until:
            return dict(self._once("attainable", lambda: self._find_attainable({}, "")))
        return self._find_attainable(own, until)

    def _find_attainable(self, own: Mapping[str, Reading], until: str) -> dict[str, Interval]:
        found = {given.key: Interval.exactly(given.value) for given in self.givens.values()}
        outcome: dict[str, Interval] = {}
        for step in self.steps.values():
            outcome[step.key] = evaluate(step.expression, found.__getitem__, Interval.exactly)
            reading = own.get(step.key)
            if reading is not None:
                found[step.key] = Interval.around(reading.value, reading.half_unit)
            else:
                found[step.key] = outcome[step.key].widened(step.to / 2)
            if step.key == until:
                break
        return outcome

    def from_own(self, expression: Expression, own: Mapping[str, Reading]) -> Interval:
        """What an expression over givens and a student's own figures can come to."""
        found = {given.key: Interval.exactly(given.value) for given in self.givens.values()}
        found |= {key: Interval.around(one.value, one.half_unit) for key, one in own.items()}
        return evaluate(expression, found.__getitem__, Interval.exactly)

    def enough(self, key: str) -> float:
        """How coarsely a middle result may be rounded, in calc's unit.

        Whole grams and whole per cent are enough (`whole`), and so are three figures.
        """
        step, value = self.steps[key], abs(self.values()[key])
        three = 10.0 ** (math.floor(math.log10(value)) - 2) if value else 0.0
        return max(whole(step, value), three)

    def depends_on(self, key: str, earlier: str, unless: Iterable[str] = ()) -> bool:
        """Whether a step is computed from `earlier`, not counting ways through `unless`."""
        used = self.steps[key].uses
        if earlier in used:
            return True
        between = [name for name in used if name in self.steps and name not in set(unless)]
        return any(self.depends_on(name, earlier, unless) for name in between)


# What begins so has its article, or takes none.
_HAS_ARTICLE = ("the ", "a ", "an ", "how ", "its ", "their ", "all ", "both ", "that ", "(")


def with_article(label: str) -> str:
    """A label as it is in a sentence: ``the salt``, but ``how sour the cream is``."""
    return label if label.startswith(_HAS_ARTICLE) else f"the {label}"


# Figures that a middle result keeps, so that the next printed line can be computed from it.
_FIGURES = 4
# How many more it may show where the printed sum would not come out otherwise: a tie, such as
# 0.033 ÷ 0.88, needs the first figure that rounds up.
_MORE_FIGURES = 4


def _middle(value: float, step: Step, style: Style, more: int = 0) -> str:
    """A result with a figure more than the scale shows, or `more`; noughts at the end are left out."""
    size = abs(value) / step.to
    shown = math.floor(math.log10(size)) + 1 if size else 0
    guard = min(max(1, _FIGURES - shown), 2 * _FIGURES) + more
    number, _, unit = units.write(value, step.kind, style, step.to, guard).partition(" ")
    whole = units.write(value, step.kind, style, step.to).partition(" ")[0]
    while style.decimal in number and number.endswith("0") and len(number) > len(whole):
        number = number[:-1].removesuffix(style.decimal)
    return f"{number} {unit}".rstrip()


# What is exact enough in the middle of a working, in calc's unit: the whole gram, per cent, degree, minute.
_WHOLE = {
    "mass": 1.0,
    "share": 0.01,
    "temperature": 1.0,
    "temperature difference": 1.0,
    "time": 1.0,
}


def whole(step: Step, value: float) -> float:
    """The whole gram, per cent … of a middle result, in calc's unit; a part of it for a small one."""
    unit = _WHOLE.get(step.kind, step.to)
    if step.kind in ("mass", "share", "temperature difference"):
        while value and unit > abs(value) / 2 and unit > step.to:
            unit /= 10
    return max(unit, step.to)


def is_usual(step: Step, value: float) -> bool:
    """Whether a step of that unit is rounded as every middle result is, so that nobody needs to be told."""
    return step.kind == "heat" or whole(step, value) == _WHOLE.get(step.kind)


def rounded_to(step: Step, style: Style = PLAIN) -> str:
    """To what a step's result is to be rounded: ``to the gram``, ``to 0.1 %``."""
    unit = style.unit(step.kind)
    if unit is None:
        return f"to {units.digits(step.to, step.to, style)}"
    if unit.symbol == "g" and step.to == 1:
        return "to the gram"
    if unit.symbol in ("°C", "°F") and step.to == 1:
        return "to the degree"
    if unit.symbol == "%" and math.isclose(step.to, unit.factor):
        return "to the whole per cent"
    scale = (
        step.to / unit.factor if style.unit(step.kind) == PLAIN.unit(step.kind) else unit.scale_step
    )
    return f"to {units.digits(scale, scale, style)} {unit.symbol}"


def margin(step: Step, reading: Reading, to: float = 0.0) -> float:
    """How far a reading of a right result may lie from it, in calc's unit.

    Half a step of the scale the problem states, or of `to`, how coarsely it may be rounded; half a
    step of an ounce or pound scale where the student chose one.
    """
    scale = to = max(step.to, to)
    if reading.unit.symbol in ("oz", "lb"):
        scale = max(scale, reading.unit.factor * reading.unit.scale_step)
        if reading.unit.symbol == "oz":
            scale = max(step.to, units.mass_step(reading.value, Style(mass="oz")))
            # Pounds and ounces are weighed to the whole ounce.
            is_whole = math.isclose(reading.half_unit, reading.unit.factor / 2)
            if is_whole and reading.value >= units.BY_SYMBOL["lb"].factor:
                scale = reading.unit.factor
    steps = reading.value / to
    half = to / 2 if abs(steps - round(steps)) < 1e-6 else reading.half_unit
    return max(step.to / 2, min(max(half, reading.half_unit), scale / 2))
