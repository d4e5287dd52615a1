"""Judge the steps of a working by QTI's rules, so that they agree with `exercises.marking`.

What is right, and what follows from a student's own figures, is written from the working's own
bounds. Each step keeps what later steps go on from, and where that comes from: the student's figure
if there is one, else what its own step gives. So the rules grow with the steps, and not with every
way of showing some of them. What a wrong number means is asked of `marking.mark`, once for each number of the scale that
a known mistake gives: the item then holds marking's own words.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cached_property
from itertools import combinations, permutations
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
    is_one_of,
    kept,
    number,
    on_scale,
    put,
    rounded,
    variable,
    within,
)

# What an outcome holds while a step is judged, and what is shown then.
_SAYS = {
    Verdict.RIGHT: "Right.",
    Verdict.FOLLOWS: "Your method is right; only an earlier figure is not.",
    Verdict.WRONG: "Not yet. Check each number against the story, then the sum itself.",
}


class Source(StrEnum):
    """What the figure rests on that later steps go on from."""

    NOTHING = "NOTHING"
    """No figure of the student's: the working alone."""
    RIGHT = "RIGHT"
    """The student's figures, all of them right."""
    OWN = "OWN"
    """The student's figures, of which one is not right."""
    UNKNOWN = "UNKNOWN"
    """A divisor that may be zero: nothing can go on from it."""


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
    def point(self) -> str:
        """The figure as a point of the scale: so many of its steps."""
        return f"POINT_{self.place}"

    @property
    def span(self) -> str:
        """Between what the figure lies that later steps go on from."""
        return f"SPAN_{self.place}"

    @property
    def source(self) -> str:
        """What that figure rests on: a `Source`."""
        return f"SOURCE_{self.place}"

    @property
    def unit(self) -> Unit | None:
        return PLAIN.unit(self.step.kind)

    @property
    def grain(self) -> float:
        """What one of the last figure is worth, where a number is written to the scale: 0.01 g on a scale of 0.05 g."""
        factor = self.unit.factor if self.unit else 1.0
        return factor * 0.1 ** units.places(self.step.to / factor)

    @property
    def figure(self) -> Element:
        return in_own_unit(self.response, self.unit)

    @cached_property
    def earlier(self) -> tuple[StepRules, ...]:
        """The steps this one is computed from, at any distance."""
        working = self.variant.working
        return tuple(one for one in self.before if working.depends_on(self.step.key, one.step.key))

    @cached_property
    def used(self) -> tuple[StepRules, ...]:
        """The steps whose figures its expression holds."""
        names = self.step.uses
        return tuple(one for one in self.before if one.step.key in names)

    @cached_property
    def goes_on(self) -> bool:
        """Whether what it comes to depends on a figure that a student may show."""
        return any(one.asked for one in self.earlier)

    @cached_property
    def computed(self) -> Bounds:
        """What it can come to from the steps it uses: `Working.attainable`, written out."""
        found = self._givens | {one.step.key: one.found for one in self.used}
        expression = self.step.expression
        return evaluate(expression, found.__getitem__, Bounds.exactly).widened(self.step.to / 2)

    @property
    def is_fixed(self) -> bool:
        """Whether nothing a student shows can change what later steps go on from."""
        return not (self.asked or self.goes_on)

    @property
    def start(self) -> tuple[float, float]:
        """What its span holds before any rule: what is known already."""
        return (0.0, 0.0) if self.goes_on else (self.computed.low, self.computed.high)

    @property
    def found(self) -> Bounds:
        """What later steps go on from: a number that is known, or what the outcome keeps."""
        if self.is_fixed:
            return self.computed
        return Bounds.kept(self.span)

    @property
    def may_be_unknown(self) -> bool:
        return bool(self.computed.provided) or any(one.may_be_unknown for one in self.used)

    @property
    def _givens(self) -> dict[str, Bounds]:
        givens = self.variant.working.givens
        return {key: Bounds.exactly(given.value) for key, given in givens.items()}

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
        if self.goes_on:
            yield from self._compute()
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
                *self._show(),
                *self._credit(),
            ],
        )

    def _compute(self) -> Iterator[Rule]:
        """Keep what this step comes to from those before it, and where they have it from."""
        sources = [one.source for one in self.used if not one.is_fixed]
        if len(sources) == 1:
            yield put(self.source, variable(sources[0]))
        else:
            yield choose(
                *(
                    (any_of(*(is_(one, word) for one in sources)), [put(self.source, word)])
                    for word in (Source.UNKNOWN, Source.OWN, Source.RIGHT)
                    if word is not Source.UNKNOWN or any(u.may_be_unknown for u in self.used)
                )
            )
        keep = put(self.span, self.computed.ordered)
        known = [*self.computed.provided]
        if any(one.may_be_unknown for one in self.used):
            known.insert(0, call("not", is_(self.source, Source.UNKNOWN)))
        if known:
            unknown = put(self.source, Source.UNKNOWN)
            keep = choose((all_of(*known), [keep]), otherwise=[unknown])
        yield keep

    def _scale(self) -> Rule:
        """How exact the figure is: half its grain, or a tenth of that where it is finer.

        None is 0: what the scale shows as nothing follows from no figure.
        """
        coarse, fine = (number(self.grain / part) for part in (2, 20))
        size = call("max", self.figure, call("subtract", number(0.0), self.figure))
        return choose(
            (call("lt", size, number(self.step.to)), [put(self.half, number(0.0))]),
            (on_scale(self.figure, self.grain), [put(self.half, coarse)]),
            otherwise=[put(self.half, fine)],
        )

    def _show(self) -> Iterator[Rule]:
        """Later steps go on from the figure shown; from one that is nothing, as 0 is, too."""
        if self.step is self.variant.working.answer:
            return
        span = Bounds.around(self.figure, variable(self.half)).ordered
        is_right = is_(self.verdict, Verdict.RIGHT.name)
        is_zero = call(
            "and", *(call("lte", *pair) for pair in permutations((self.figure, number(0.0))))
        )
        yield choose((is_zero, [put(self.half, number(self.grain / 2))]))
        yield choose(
            (
                self.has_figure,
                [
                    put(self.span, span),
                    put(self.source, Source.OWN),
                    choose((is_right, [put(self.source, Source.RIGHT)])),
                ],
            )
        )

    def _in(self, bounds: Bounds) -> Element:
        """Whether the figure lies in bounds that are half a step wide; or coarsely, if it is coarse."""
        finely = within(self.figure, bounds)
        to = self.variant.rounding(self.step)
        if to <= self.step.to:
            return finely
        coarsely = within(self.figure, bounds.widened((to - self.step.to) / 2))
        return any_of(finely, call("and", on_scale(self.figure, to), coarsely))

    def _judged(self, verdict: Verdict) -> list[Rule]:
        self.says[verdict.name] = _SAYS[verdict]
        return self._put(verdict)

    def _put(self, verdict: Verdict) -> list[Rule]:
        return [put(self.verdict, verdict.name), put(self.feedback, verdict.name)]

    def _is_right(self) -> Element:
        right = Bounds.of(self.variant.working.attainable({})[self.step.key])
        return self._in(right.widened(self.step.to / 2))

    def _follows(self) -> Iterator[tuple[Element, list[Rule]]]:
        """Whether it is right from the student's own figures, by the working or by another route.

        From figures that are only rounded it is right; what cannot be follows from nothing.
        """
        if self.goes_on:
            inside = call("and", self.has_figure, self._in(Bounds.kept(self.span)))
            yield from self._from(
                inside, is_(self.source, Source.RIGHT), is_(self.source, Source.OWN)
            )
        for shown, bounds in self._routes():
            inside = all_of(*(one.has_figure for one in (*shown, self)), self._in(bounds))
            are_right = all_of(*(is_(one.verdict, Verdict.RIGHT.name) for one in shown))
            yield from self._from(inside, are_right)

    def _from(
        self, inside: Element, are_right: Element, *are_own: Element
    ) -> Iterator[tuple[Element, list[Rule]]]:
        yield call("and", are_right, inside), self._judged(Verdict.RIGHT)
        yield all_of(*are_own, inside, *self._can_be()), self._judged(Verdict.FOLLOWS)

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
        steps = {one.step.key: one for one in self.before}
        for route in routes(self.variant.working, self.step.key):
            shown = tuple(steps[key] for key in dict.fromkeys(names(route)) if key in steps)
            if all(one.asked for one in shown):
                own = {one.step.key: Bounds.kept(one.span) for one in shown}
                found = self._givens | own
                bounds = evaluate(route, found.__getitem__, Bounds.exactly)
                yield shown, bounds.widened(self.step.to / 2)

    @property
    def has_figure(self) -> Element:
        return call("gt", variable(self.half), number(0.0))

    def _wrong(self) -> list[Rule]:
        """Name the mistake: with nothing shown before this step, or with all of it right."""
        asked = [one for one in self.earlier if one.asked]
        shown = {one.step.key: self.variant.working.weighed(one.step.key) for one in asked}
        alone = self._named({}, self.earlier)
        after = self._named(shown, tuple(one for one in self.earlier if not one.asked))
        both = {point: told for point, told in alone.items() if after.get(point) == told}
        rules = [
            *self._judged(Verdict.WRONG),
            put(self.point, call("ordered", rounded(self.figure, self.step.to))),
        ]
        named = self._tell(both)
        if asked:
            nothing = is_(self.source, Source.NOTHING)
            all_right = all_of(*(is_(one.verdict, Verdict.RIGHT.name) for one in asked))
            only = [
                (condition, [choose(*branches)])
                for condition, way in ((nothing, alone), (all_right, after))
                if (branches := self._tell({n: way[n] for n in way if n not in both}))
            ]
            if named := [*named, *only]:
                named = [(any_of(nothing, all_right), [choose(*named)])]
        return [*rules, choose(*named)] if named else rules

    def _tell(self, named: Mapping[int, str]) -> list[tuple[Element, list[Rule]]]:
        """A branch for each thing that is said, with the points of the scale it is said of."""
        points: dict[str, list[int]] = {}
        for point, told in named.items():
            points.setdefault(told, []).append(point)
        return [
            (is_one_of(kept(self.point, 1), found), [put(self.feedback, told)])
            for told, found in points.items()
        ]

    def _named(self, shown: Mapping[str, str], hidden: tuple[StepRules, ...]) -> dict[int, str]:
        """What marking says of the wrong numbers it knows: the feedback's identifier, by point."""
        found: dict[int, str] = {}
        for point in self._points(hidden):
            typed = self.written(point * self.step.to)
            result = mark(self.variant, {**shown, self.step.key: typed})
            marks = {one.step.key: one for one in result.steps}
            mine = marks[self.step.key]
            slips = {f.mistake.key: None for one in result.steps for f in one.findings}
            if mine.verdict is Verdict.WRONG and slips:
                found[point] = self._told(tuple(slips), mine.says)
        return found

    def _points(self, hidden: tuple[StepRules, ...]) -> list[int]:
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
        return [point for point in sorted(found) if point >= 0]

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
