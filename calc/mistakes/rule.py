"""What a known mistake is, and how one is entered into the catalogue.

A rule yields changed expressions. It looks at the shape of an expression and at the roles and kinds of its
parts, never at a particular calculation, so a new one is diagnosed without a line written for it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import NamedTuple

from calc import units
from calc.expression import Expression, Name, Number, Operation, names
from calc.working import Given, Step, Working


class Changed(NamedTuple):
    """A changed expression, the part that the change is about (for the words), if there is one, and how
    plausible it is where it is more or less so than its mistake usually is."""

    expression: Expression
    part: Expression | None = None
    rank: int = 0


# A rule for one part of an expression; it yields what the part becomes.
PartRule = Callable[[Working, Expression], Iterator[Expression | Changed]]
# A rule for a step. `flat` is its expression with every step that was not shown put in.
StepRule = Callable[[Working, Step, Expression], Iterator[Expression | Changed]]

# How plausible a mistake is beside another that gives the same number.
COMMON, USUAL, RARE = 3, 2, 1


@dataclass(frozen=True, eq=False)
class Mistake:
    """A wrong method.

    `template` completes "You …" in the past tense ("swapped gram for gram"); `{part|…}` in it is the part of the
    calculation it is about, with what is said where that is not known. `advice` is what a kind teacher says then, `lesson` the one that helps. A mistake of
    a higher `rank` explains a number better than one of a lower. One `in_pairs` is also sought together with
    another such, in two steps not shown; one `when_shown` (a slip of the unit, say) only in the step asked for. One that `looks_at_numbers` cannot be told from the
    shape of a calculation alone. One that `is_slip` is of the pen, not of the method: it may be told of a
    mistyped number too.
    """

    key: str
    template: str
    advice: str
    lesson: str
    rules: list[StepRule]
    rank: int = USUAL
    in_pairs: bool = False
    when_shown: bool = False
    looks_at_numbers: bool = False
    is_slip: bool = False

    def named(self, part: str = "") -> str:
        """What was done, as it completes "You …": ``left out the salt``."""
        return _PART.sub(lambda found: part or found[1], self.template)

    @property
    def name(self) -> str:
        return self.named()

    def told(self, part: str = "") -> str:
        """What a kind teacher says."""
        return f"You {self.named(part)}. {self.advice}"

    def asked(self, part: str = "") -> str:
        """The same as a question, where it may have been another mistake."""
        verb, _, rest = self.named(part).partition(" ")
        return f"Did you {PRESENT[verb]} {rest}? {self.advice}"

    @property
    def says(self) -> str:
        """What a kind teacher says, where the part is not known."""
        return self.told()


# A place for the part that a mistake is about, with what is said where it is not known.
_PART = re.compile(r"\{part\|([^}]*)\}")

# The verbs that names of mistakes begin with, as a question has them.
PRESENT = {
    "added": "add", "compared": "compare", "counted": "count", "divided": "divide", "doubled": "double",
    "forgot": "forget", "gave": "give", "left": "leave", "mixed": "mix", "multiplied": "multiply", "put": "put",
    "reckoned": "reckon", "rounded": "round", "started": "start", "stopped": "stop", "swapped": "swap",
    "took": "take", "turned": "turn", "used": "use",
}  # fmt: skip


# Every known mistake; `BY_KEY` finds one by its key.
CATALOGUE: list[Mistake] = []
BY_KEY: dict[str, Mistake] = {}


def _enter(mistake: Mistake) -> None:
    CATALOGUE.append(mistake)
    BY_KEY[mistake.key] = mistake


def in_a_part(
    key: str,
    name: str,
    advice: str,
    lesson: str,
    rank: int = USUAL,
    *,
    in_pairs: bool = False,
    across: bool = False,
    throughout: bool = False,
    looks_at_numbers: bool = False,
):
    """Enter a rule that changes one part of a step's expression.

    `across` looks at the steps before it too, as one long expression; `throughout` also makes the change in
    every part at once, as a student does who has got it wrong for good.
    """

    def enter(rule: PartRule) -> PartRule:
        def rewrites(working: Working, step: Step, flat: Expression) -> Iterator[Changed]:
            def change(part: Expression) -> Iterator[Changed]:
                return (_changed(one) for one in rule(working, part))

            for expression in dict.fromkeys(
                (step.expression, flat) if across else (step.expression,)
            ):
                yield from _changed_once(expression, change)
            if throughout:
                yield from _changed_throughout(flat, change)

        flags = {"in_pairs": in_pairs, "looks_at_numbers": looks_at_numbers}
        _enter(Mistake(key, name, advice, lesson, [rewrites], rank, **flags))
        return rule

    return enter


def in_the_step(
    key: str,
    name: str,
    advice: str,
    lesson: str,
    rank: int = USUAL,
    *,
    when_shown: bool = False,
    looks_at_numbers: bool = False,
    is_slip: bool = False,
):
    """Enter a rule that changes a step as a whole."""

    def enter(rule: StepRule) -> StepRule:
        flags = {
            "when_shown": when_shown,
            "looks_at_numbers": looks_at_numbers,
            "is_slip": is_slip,
        }
        _enter(Mistake(key, name, advice, lesson, [_in_all(rule)], rank, **flags))
        return rule

    return enter


def also(key: str):
    """Enter another rule of a mistake that is in the catalogue: the same slip, in another shape."""

    def enter(rule: StepRule) -> StepRule:
        BY_KEY[key].rules.append(_in_all(rule))
        return rule

    return enter


def _in_all(rule: StepRule) -> StepRule:
    return lambda working, step, flat: (_changed(one) for one in rule(working, step, flat))


def _changed(one: Expression | Changed) -> Changed:
    return one if isinstance(one, Changed) else Changed(one)


def _changed_once(
    expression: Expression, change: Callable[[Expression], Iterator[Changed]]
) -> Iterator[Changed]:
    """Every expression got by changing exactly one part of this one."""
    yield from change(expression)
    if isinstance(expression, Operation):
        sign, left, right = expression.symbol, expression.left, expression.right
        for one in _changed_once(left, change):
            yield one._replace(expression=Operation(sign, one.expression, right))
        for one in _changed_once(right, change):
            yield one._replace(expression=Operation(sign, left, one.expression))


def _changed_throughout(
    expression: Expression, change: Callable[[Expression], Iterator[Changed]]
) -> Iterator[Changed]:
    """The expression with every part changed that can be, where there are two or more of them."""
    count = 0

    def everywhere(part: Expression) -> Expression:
        nonlocal count
        if isinstance(part, Operation):
            part = Operation(part.symbol, everywhere(part.left), everywhere(part.right))
        new = next(change(part), None)
        if new is None:
            return part
        count += 1
        return new.expression

    changed = everywhere(expression)
    if count > 1:
        yield Changed(changed)


# What a part of an expression is to the dough.

PERCENTAGES = ("hydration", "baker's percentage", "part")
WEIGHTS = ("flour", "liquid", "ingredient")
# The contents of what rides along with a liquid's water, as far as the known mistakes speak of it.
RIDERS = ("fat content", "sugar content", "salt content", "protein content")


def given(working: Working, part: Expression, *roles: str) -> Given | None:
    """The given a part names, if it plays one of the roles."""
    if isinstance(part, Name) and part.key in working.givens:
        found = working.givens[part.key]
        return found if found.role in roles else None
    return None


def role(working: Working, part: Expression) -> str:
    """The role of a given or step that a part names, or nothing."""
    return working.part(part.key).role if isinstance(part, Name) else ""


def kind(working: Working, part: Expression) -> str:
    """The kind of a given or step that a part names, or nothing."""
    return working.part(part.key).kind if isinstance(part, Name) else ""


def is_content(working: Working, part: Expression) -> bool:
    """Whether a part is a water content: a given one, or that of a blend, found on the way."""
    return role(working, part) == "water content"


def is_percentage(working: Working, part: Expression) -> bool:
    return role(working, part) in PERCENTAGES


def is_mass(working: Working, part: Expression) -> bool:
    return working.dimension(part) == units.KINDS["mass"].dimension


def is_plain(working: Working, part: Expression) -> bool:
    """Whether a part is a number without a unit: a share, a factor, a count."""
    return not working.dimension(part)


def is_what_is_left(part: Expression) -> bool:
    """Whether a part is 1 − something: what is left of it after a loss."""
    match part:
        case Operation("−", Number(1.0), _):
            return True
    return False


def terms(expression: Expression) -> list[Expression]:
    """The parts that a sum adds up, however it is bracketed."""
    match expression:
        case Operation("+", left, right):
            return [*terms(left), *terms(right)]
    return [expression]


def put_in(expression: Expression, change: Callable[[Name], Expression | None]) -> Expression:
    """The expression with each name changed for which `change` gives something."""
    match expression:
        case Name():
            return change(expression) or expression
        case Operation(sign, left, right):
            return Operation(sign, put_in(left, change), put_in(right, change))
    return expression


def flattened(working: Working, step: Step, shown: frozenset[str] = frozenset()) -> Expression:
    """A step's expression with the steps before it put in, but for those that were shown."""

    def expression_of(name: Name) -> Expression | None:
        hidden = name.key in working.steps and name.key not in shown
        return flattened(working, working.steps[name.key], shown) if hidden else None

    return put_in(step.expression, expression_of)


def steps_before(working: Working, step: Step) -> list[Step]:
    """The steps on the way to this one, each of which it uses or a step does that it uses."""
    found: dict[str, Step] = {}

    def follow(one: Step) -> None:
        for name in names(one.expression):
            if name in working.steps and name not in found:
                follow(working.steps[name])
                found[name] = working.steps[name]

    follow(step)
    return list(found.values())


def is_number(part: Expression, value: float) -> bool:
    return isinstance(part, Number) and part.value == value


def without(part: Expression, name: Name) -> Expression | None:
    """An expression with every part that a given is in left out of its sum; None if nothing is left."""
    match part:
        case Name():
            return None if part == name else part
        case Operation("+" | "−" as sign, left, right):
            one, two = without(left, name), without(right, name)
            if one is None or two is None:
                return one if two is None else (two if sign == "+" else None)
            return Operation(sign, one, two)
        case Operation(sign, left, right):
            one, two = without(left, name), without(right, name)
            return None if one is None or two is None else Operation(sign, one, two)
    return part
