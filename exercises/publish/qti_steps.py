"""Judge the steps of a working by QTI's rules, so that they agree with `exercises.marking`.

What is right, and what follows from a student's own figures, is written from the working's own
bounds. What a wrong number means is asked of `marking.mark`, once for each number of the scale that
a known mistake gives: the item then holds marking's own words.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import combinations
from xml.etree.ElementTree import Element

from calc import units
from calc.diagnosis import outcomes, rewritten
from calc.expression import evaluate, names
from calc.routes import routes
from calc.units import PLAIN, Unit
from calc.working import Step
from exercises.draws import Variant
from exercises.marking import Verdict, cannot_be, mark
from exercises.publish.qti_rules import (
    Bounds,
    Rule,
    all_of,
    any_of,
    call,
    choose,
    in_own_unit,
    is_,
    number,
    on_scale,
    put,
    rounds_to,
    value,
    variable,
    within,
)

# What an outcome holds while a step is judged, and what is shown then.
_SAYS = {
    Verdict.RIGHT: "Right.",
    Verdict.FOLLOWS: "Your method is right; only an earlier figure is not.",
    Verdict.WRONG: "Not yet. Check each number against the story, then the sum itself.",
}


@dataclass
class StepRules:
    """One step: the names of its variables, its rules, and what its feedback may say."""

    variant: Variant
    step: Step
    place: int
    asked: bool
    before: tuple[StepRules, ...]
    says: dict[str, str] = field(default_factory=dict)

    @property
    def response(self) -> str:
        return f"RESPONSE_{self.place}"

    @property
    def verdict(self) -> str:
        return f"VERDICT_{self.place}"

    @property
    def feedback(self) -> str:
        return f"FEEDBACK_{self.place}"

    @property
    def half(self) -> str:
        """Half of the last figure written; 0 while there is no figure to go on from."""
        return f"HALF_{self.place}"

    @property
    def unit(self) -> Unit | None:
        return PLAIN.unit(self.step.kind)

    @property
    def figure(self) -> Element:
        return in_own_unit(self.response, self.unit)

    @cached_property
    def earlier(self) -> tuple[StepRules, ...]:
        """The steps this one is computed from, at any distance."""
        working = self.variant.working
        return tuple(one for one in self.before if working.depends_on(self.step.key, one.step.key))

    def typed(self, figure: float) -> str:
        """A figure in calc's unit as a student types it: rounded to the scale, without the unit."""
        unit = self.unit
        factor, offset = (unit.factor, unit.offset) if unit else (1.0, 0.0)
        return units.digits((figure - offset) / factor, self.step.to / factor).replace("−", "-")

    def written(self, figure: float) -> str:
        """The same, with the unit, as `marking.mark` reads it."""
        return f"{self.typed(figure)} {self.unit.symbol if self.unit else ''}".strip()

    # Rules.

    def rules(self) -> Iterator[Rule]:
        """Everything that judges this step, once the steps before it are judged."""
        if not self.asked:
            yield put(self.verdict, Verdict.BLANK.name)
            return
        yield choose(
            (call("is-null", variable(self.response)), self._put(Verdict.BLANK)),
            otherwise=[
                self._scale(),
                choose(
                    (self._is_right(), self._judged(Verdict.RIGHT)),
                    *self._follows(),
                    otherwise=self._wrong(),
                ),
                choose(
                    (
                        call("lt", self.figure, number(self.step.to)),
                        [put(self.half, value("0", "float"))],
                    )
                ),
                *self._credit(),
            ],
        )

    def _scale(self) -> Rule:
        """A number on the scale may be half a step off; a finer one a tenth of that."""
        coarse, fine = (number(self.step.to / part) for part in (2, 20))
        return choose(
            (on_scale(self.figure, self.step.to), [put(self.half, coarse)]),
            otherwise=[put(self.half, fine)],
        )

    def _in(self, bounds: Bounds) -> Element:
        """Whether the figure lies in bounds, by half a step; by half a coarse one if it is coarse."""
        finely = within(self.figure, bounds.widened(self.step.to / 2))
        to = self.variant.rounding(self.step)
        if to <= self.step.to:
            return finely
        return any_of(
            finely,
            call("and", on_scale(self.figure, to), within(self.figure, bounds.widened(to / 2))),
        )

    def _judged(self, verdict: Verdict) -> list[Rule]:
        self.says[verdict.name] = _SAYS[verdict]
        return self._put(verdict)

    def _put(self, verdict: Verdict) -> list[Rule]:
        return [put(self.verdict, verdict.name), put(self.feedback, verdict.name)]

    def _is_right(self) -> Element:
        return self._in(Bounds.of(self.variant.working.attainable({})[self.step.key]))

    def _follows(self) -> Iterator[tuple[Element, list[Rule]]]:
        """For each way of showing some earlier steps: is this one right from those figures?

        From figures that are only rounded it is right; what cannot be follows from nothing.
        """
        for shown, left_out in self._ways():
            conditions = [one.has_figure for one in shown]
            conditions += [one.has_none for one in left_out if one.asked]
            try:
                bounds = self._from_own(shown, left_out)
            except ZeroDivisionError:
                continue
            yield from self._from(shown, all_of(*conditions, self._in(bounds)))
        for shown, bounds in self._routes():
            yield from self._from(
                shown, all_of(*(one.has_figure for one in shown), self._in(bounds))
            )

    def _from(
        self, shown: tuple[StepRules, ...], follows: Element
    ) -> Iterator[tuple[Element, list[Rule]]]:
        are_right = all_of(*(is_(one.verdict, Verdict.RIGHT.name) for one in shown))
        yield call("and", follows, are_right), self._judged(Verdict.RIGHT)
        yield all_of(follows, *self._can_be()), self._judged(Verdict.FOLLOWS)

    def _can_be(self) -> list[Element]:
        """What a figure must be, whatever it follows from: see `marking.cannot_be`."""
        conditions = []
        if cannot_be(self.step, -1.0, follows=True):
            conditions.append(call("lte", number(0.0), self.figure))
        if cannot_be(self.step, 2.0, follows=True):
            conditions.append(call("lte", self.figure, number(1.0)))
        return conditions

    def _routes(self) -> Iterator[tuple[tuple[StepRules, ...], Bounds]]:
        """The other correct routes to this step, each with the steps it starts from."""
        working = self.variant.working
        steps = {one.step.key: one for one in self.before}
        for route in routes(working, self.step.key):
            shown = tuple(steps[key] for key in dict.fromkeys(names(route)) if key in steps)
            found = {key: Bounds.exactly(given.value) for key, given in working.givens.items()}
            for one in shown:
                found[one.step.key] = Bounds.around(one.figure, variable(one.half))
            if all(one.asked for one in shown):
                yield shown, evaluate(route, found.__getitem__, Bounds.exactly)

    @property
    def has_figure(self) -> Element:
        return call("gt", variable(self.half), number(0.0))

    @property
    def has_none(self) -> Element:
        return call("lte", variable(self.half), number(0.0))

    def _ways(self) -> list[tuple[tuple[StepRules, ...], tuple[StepRules, ...]]]:
        """The earlier steps used as shown, and those computed on the way; each pair once."""
        steps = {one.place: one for one in self.before}
        return [
            (tuple(steps[n] for n in sorted(shown)), tuple(steps[n] for n in sorted(left_out)))
            for shown, left_out in self._decided(self._used_by(self.step), (), ())
            if shown
        ]

    def _decided(
        self, undecided: Sequence[StepRules], shown: tuple[int, ...], left_out: tuple[int, ...]
    ) -> Iterator[tuple[tuple[int, ...], tuple[int, ...]]]:
        """Each used step is shown, or left out: then those that it is computed from are used."""
        if not undecided:
            yield shown, left_out
            return
        one, *others = undecided
        if one.place in (*shown, *left_out):
            yield from self._decided(others, shown, left_out)
            return
        if one.asked:
            yield from self._decided(others, (*shown, one.place), left_out)
        used = [*others, *self._used_by(one.step)]
        yield from self._decided(used, shown, (*left_out, one.place))

    def _used_by(self, step: Step) -> list[StepRules]:
        used = self.variant.working.names_in(step)
        return [one for one in self.before if one.step.key in used]

    def _from_own(self, shown: tuple[StepRules, ...], left_out: tuple[StepRules, ...]) -> Bounds:
        """What this step can come to from the figures shown: `Working.attainable`, written out."""
        working = self.variant.working
        found = {key: Bounds.exactly(given.value) for key, given in working.givens.items()}
        for one in shown:
            found[one.step.key] = Bounds.around(one.figure, variable(one.half))
        for one in left_out:
            found[one.step.key] = evaluate(
                one.step.expression, found.__getitem__, Bounds.exactly
            ).widened(one.step.to / 2)
        return evaluate(self.step.expression, found.__getitem__, Bounds.exactly)

    def _wrong(self) -> list[Rule]:
        """Name the mistake: with nothing shown before this step, or with all of it right."""
        asked = [one for one in self.earlier if one.asked]
        alone = self._named({}, self.earlier)
        plain = self._judged(Verdict.WRONG)
        if not asked:
            return [choose(*alone, otherwise=plain)] if alone else plain
        shown = {one.step.key: self.variant.working.weighed(one.step.key) for one in asked}
        after = self._named(shown, tuple(one for one in self.earlier if not one.asked))
        ways = (
            (alone, [one.has_none for one in asked]),
            (after, [is_(one.verdict, "RIGHT") for one in asked]),
        )
        branches = [
            (all_of(*conditions), [choose(*named, otherwise=plain)])
            for named, conditions in ways
            if named
        ]
        return [choose(*branches, otherwise=plain)] if branches else plain

    def _named(
        self, shown: Mapping[str, str], hidden: tuple[StepRules, ...]
    ) -> list[tuple[Element, list[Rule]]]:
        """A branch for each thing that marking says of some wrong number."""
        points: dict[tuple, list[float]] = {}
        for point in self._points(hidden):
            result = mark(self.variant, {**shown, self.step.key: self.written(point)})
            marks = {one.step.key: one for one in result.steps}
            mine = marks[self.step.key]
            slips = {f.mistake.key: None for one in result.steps for f in one.findings}
            if mine.verdict is Verdict.WRONG and slips:
                points.setdefault((mine.says, tuple(slips)), []).append(point)
        branches = []
        for (says, slips), found in points.items():
            close = any_of(*(rounds_to(self.figure, point, self.step.to) for point in found))
            told = put(self.feedback, self._told(slips, says))
            branches.append((close, [put(self.verdict, Verdict.WRONG.name), told]))
        return branches

    def _points(self, hidden: tuple[StepRules, ...]) -> list[float]:
        """The numbers of the scale that known mistakes give, in this step or one not shown."""
        working, key, to = self.variant.working, self.step.key, self.step.to
        changes = [
            (name, one.mistake, one.expression)
            for name in (*(one.step.key for one in hidden), key)
            for one in rewritten(working, name)
        ]
        single = [{name: changed} for name, _, changed in changes]
        common = [(name, changed) for name, mistake, changed in changes if mistake.in_pairs]
        pairs = [dict(two) for two in combinations(common, 2) if two[0][0] != two[1][0]]
        found = {
            near
            for change in (*single, *pairs)
            for figure in outcomes(working, key, change)
            # A figure halfway between two points of the scale is near both.
            for near in (math.floor(figure / to + 0.501), math.ceil(figure / to - 0.501))
        }
        return [n * to for n in sorted(found) if n >= 0]

    def _told(self, slips: tuple[str, ...], says: str) -> str:
        """The identifier of what is said; a number after it where the same slips say two things."""
        name, again = ".".join(slips), 1
        while self.says.setdefault(name, says) != says:
            again += 1
            name = f"{'.'.join(slips)}.{again}"
        return name

    def _credit(self) -> Iterator[Rule]:
        """A step not shown counts as done when a later answer shows that it was."""
        if not self.earlier or not self._credits:
            return
        earned = any_of(is_(self.verdict, "RIGHT"), is_(self.verdict, "FOLLOWS"))
        yield choose(
            (
                earned,
                [
                    choose((is_(one.verdict, "BLANK"), [put(one.verdict, "NOT_NEEDED")]))
                    for one in self.earlier
                ],
            )
        )

    @property
    def _credits(self) -> bool:
        key = self.step.key
        result = mark(self.variant, {key: self.variant.working.weighed(key)})
        return any(one.verdict is Verdict.NOT_NEEDED for one in result.steps)


def steps_of(variant: Variant, answer_only: bool) -> list[StepRules]:
    """The steps of a variant's working, in order.

    Only the last is asked for if so wished; a table's cells are all asked for in any case.
    """
    made: list[StepRules] = []
    answer_only = answer_only and not variant.problem.quantity.cells
    for place, step in enumerate(variant.working.steps.values(), 1):
        asked = not answer_only or step in variant.asked
        made.append(StepRules(variant, step, place, asked, tuple(made)))
    return made
