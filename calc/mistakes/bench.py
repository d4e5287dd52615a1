"""Mistakes at the bench and in the laboratory: losses, scales, packs, drying, temperatures, ice."""

from __future__ import annotations

from collections.abc import Iterator

from calc.expression import Expression, Name, Number, Operation, names
from calc.mistakes.rule import (
    COMMON,
    RARE,
    USUAL,
    Changed,
    also,
    given,
    in_a_part,
    in_the_step,
    is_number,
    kind,
    put_in,
    role,
    without,
)
from calc.working import Step, Working

# Losses: what is left is 1 − loss.


def _loss(part: Expression) -> Expression | None:
    """The loss in “1 − loss”."""
    match part:
        case Operation("−", Number(1.0), loss):
            return loss
    return None


def _two_losses(part: Expression) -> tuple[Expression, Expression, Expression] | None:
    match part:
        case Operation("÷", Operation("÷", whole, one), two):
            first, second = _loss(one), _loss(two)
            if first is not None and second is not None:
                return whole, first, second
    return None


@in_a_part(
    "loss-on-top",
    "added the loss on top",
    "That comes out too low, because the extra loses some too. Divide by what is left after the loss.",
    "scaling-and-rounding",
    COMMON,
    across=True,
    throughout=True,
)
def _loss_on_top(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", left, right):
            loss = _loss(right)
            if loss is not None:
                yield left * (1 + loss)
    both = _two_losses(part)
    if both:
        whole, one, two = both
        yield whole * (1 + (one + two))


@in_a_part(
    "loss-taken-off",
    "took the loss off",
    "You need more before than after, so divide by what is left after the loss.",
    "scaling-and-rounding",
    throughout=True,
)
def _loss_taken_off(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", left, rest) if _loss(rest) is not None:
            yield left * rest


@in_a_part(
    "forgot-loss",
    "forgot the loss",
    "What is lost on the way must be there at the start.",
    "scaling-and-rounding",
    COMMON,
    throughout=True,
)
def _forgot_loss(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", left, rest) if _loss(rest) is not None:
            yield left


@in_a_part(
    "losses-added",
    "added the two losses",
    "The second takes its share of what the first has left, so they do not add up: divide by what is left after "
    "the one, then by what is left after the other.",
    "scaling-and-rounding",
    COMMON,
    across=True,
)
def _losses_added(working: Working, part: Expression) -> Iterator[Expression]:
    both = _two_losses(part)
    if both:
        whole, one, two = both
        yield whole / (1 - (one + two))


@in_a_part(
    "loss-for-what-is-left",
    "took the loss for what is left",
    "What is left is 100 % less the loss: divide by that.",
    "scaling-and-rounding",
    throughout=True,
)
def _loss_for_what_is_left(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", left, rest):
            loss = _loss(rest)
            if loss is not None:
                yield left / loss
                yield left * loss
                yield Changed(left / rest * loss, rank=RARE)


@in_a_part(
    "divided-by-the-rest",
    "divided by the weight after",
    "A loss is a share of what was there before, so divide by that.",
    "side-by-side-bake",
    COMMON,
)
def _divided_by_the_rest(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", left, right) if given(working, right, "before"):
            for after in working.with_role("after"):
                yield left / Name(after.key)
                yield right / Name(after.key)


@in_a_part(
    "divided-by-both",
    "divided by the two weights together",
    "A loss is a share of what was there before, so divide by that alone.",
    "side-by-side-bake",
    RARE,
)
def _divided_by_both(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", left, right) if given(working, right, "before"):
            for after in working.with_role("after"):
                yield left / (right + Name(after.key))
                yield left / ((right + Name(after.key)) / 2)


@also("divided-by-both")
def _compared_with_both(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    match flat:
        case Operation("−", Number(1.0), Operation("÷", after, before)):
            yield (before - after) / (before + after)


# The scale.


@in_a_part(
    "forgot-to-halve",
    "took the whole step of the scale",
    "The scale shows the nearest step, so it is off by half a step at most: halve it.",
    "scaling-and-rounding",
    COMMON,
)
def _forgot_to_halve(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", left, Number(2.0)):
            yield left
            yield left * 2


# Packs and drying.

# What a panel that is not per serving is for.
_PANEL = 100.0


@in_a_part(
    "hundred-for-serving",
    "took 100 g for the serving",
    "This pack prints its figures for one serving: divide by the weight of the serving.",
    "finding-the-water",
    COMMON,
)
def _hundred_for_serving(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", left, right) if given(working, right, "serving"):
            yield left / Number(_PANEL)


@in_a_part(
    "sodium-for-salt",
    "took the sodium for the salt",
    "Sodium is only a part of salt: the law's factor is 2.5.",
    "finding-the-water",
)
def _sodium_for_salt(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("×", left, Number(2.5)) if given(working, left, "sodium"):
            yield left
            yield left * 1000 * 2.5


@in_the_step(
    "on-the-dry-weight",
    "compared with the dry weight",
    "The water content is a share of the fresh sample, water and all.",
    "finding-the-water",
)
def _on_the_dry_weight(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    match flat:
        case Operation("−", Number(1.0), Operation("÷", dry, fresh)) if (
            kind(working, next(_names(dry))) == "mass"
        ):
            yield fresh / dry - 1
    match step.expression:
        case Operation("÷", water, flour) if role(working, flour) == "flour":
            for content in working.with_role("water content"):
                weights = working.with_role("flour", content.of)
                if any(flour == Name(one.key) for one in weights):
                    yield water / (flour * (1 - Name(content.key)))


def _names(part: Expression) -> Iterator[Name]:
    return (Name(key) for key in names(part))


@in_the_step(
    "dish-not-taken-off",
    "left the dish on the scale",
    "Take its weight off both weighings, fresh and dry.",
    "finding-the-water",
    COMMON,
)
def _dish_not_taken_off(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    for dish in working.with_role("dish"):
        bare = _dishes_off(flat, Name(dish.key))
        for one in bare:
            yield one
            if isinstance(step.expression, Operation) and is_number(step.expression.left, 1.0):
                yield 1 - one


def _dishes_off(part: Expression, dish: Name) -> list[Expression]:
    """The expression with the dish left on in one weighing, or in all of them."""
    found: list[Expression] = []

    def one_place(expression: Expression) -> Iterator[Expression]:
        match expression:
            case Operation("−", whole, right) if right == dish:
                yield whole
            case Operation(sign, left, right):
                yield from (Operation(sign, one, right) for one in one_place(left))
                yield from (Operation(sign, left, one) for one in one_place(right))

    def everywhere(expression: Expression, sign: str = "") -> Expression:
        match expression:
            case Operation("−", whole, right) if right == dish:
                return whole + dish if sign else whole
            case Operation(own, left, right):
                return Operation(own, everywhere(left, sign), everywhere(right, sign))
        return expression

    found += one_place(part)
    if found:
        found += [everywhere(part), everywhere(part, "+")]
    return found


# Temperatures.


@in_a_part(
    "wrong-number-of-temperatures",
    "multiplied by the wrong number of temperatures, or not at all",
    "Count them: flour, room and water make three, and a preferment makes four.",
    "dough-temperature",
    COMMON,
)
def _wrong_number_of_temperatures(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("×", left, Number(count)) if given(working, left, "wanted"):
            yield left * (count - 1)
            yield left * (count + 1)
            yield left
            if count > 3:
                yield left * 2


@also("wrong-number-of-temperatures")
def _one_temperature_less(working: Working, step: Step, flat: Expression) -> Iterator[Changed]:
    """One of them forgotten both times, in the count and in what is taken away; or all but one."""
    match step.expression:
        case Operation("−", Operation("×", left, Number(count)), known) if given(
            working, left, "wanted"
        ):
            for name in _names(known):
                rest = without(known, name)
                if rest is not None:
                    yield Changed(left * (count - 1) - rest, rank=USUAL)
                yield Changed(left - name, rank=RARE)


@in_the_step(
    "averaged-temperatures",
    "divided by the number of temperatures at the end",
    "The short rule multiplies the wanted temperature and takes the others away; nothing is divided after that.",
    "dough-temperature",
    when_shown=True,
)
def _averaged_temperatures(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    match step.expression:
        case Operation("−", Operation("×", left, Number(count)), known) if given(
            working, left, "wanted"
        ):
            yield step.expression / count
            yield (left + known) / (count + 1)


@in_the_step(
    "no-heat-capacity",
    "left the heat capacities out",
    "A gram of liquid takes about twice the heat of a gram of flour: multiply each weight by its heat capacity.",
    "dough-temperature",
    COMMON,
)
def _no_heat_capacity(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    def is_capacity(name: Name) -> bool:
        return kind(working, name) == "heat capacity"

    for expression in dict.fromkeys((step.expression, flat)):
        capacities = {name for name in _names(expression) if is_capacity(name)}
        if capacities:
            yield put_in(expression, lambda name: Number(1.0) if is_capacity(name) else None)
        for one in capacities if len(capacities) > 1 else ():
            yield put_in(expression, lambda name, o=one: Number(1.0) if name == o else None)
    match flat:
        case Operation("÷" | "+", Operation("÷", above, below), rest):
            pass
        case _:
            return
    bare = [
        put_in(each, lambda name: Number(1.0) if is_capacity(name) else None)
        for each in (above, below)
    ]
    yield Operation(flat.symbol, bare[0] / below, rest)
    yield Operation(flat.symbol, above / bare[1], rest)


@in_the_step(
    "no-weights",
    "left the weights out",
    "More flour pulls the mix further: each part counts by its weight and its heat capacity.",
    "dough-temperature",
    RARE,
)
def _no_weights(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    if any(kind(working, name) == "heat capacity" for name in _names(flat)):
        yield put_in(flat, lambda name: Number(1.0) if kind(working, name) == "mass" else None)
        yield put_in(
            flat,
            lambda name: Number(1.0) if kind(working, name) in ("mass", "heat capacity") else None,
        )


@in_the_step(
    "swapped-numbers",
    "gave the flour's number to the liquid, and the other way round",
    "Write beside each number what it belongs to.",
    "dough-temperature",
)
def _swapped_numbers(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    if not any(kind(working, name) == "heat capacity" for name in _names(flat)):
        return
    every: dict[Name, Name] = {}
    for wanted in ("heat capacity", "temperature", "mass"):
        two = [name for name in dict.fromkeys(_names(flat)) if kind(working, name) == wanted]
        if len(two) == 2:
            other = dict(zip(two, reversed(two), strict=True))
            every |= other
            yield put_in(flat, other.get)
    if every:
        yield put_in(flat, every.get)


# Ice.


@in_the_step(
    "ice-by-80",
    "reckoned with the melting alone",
    "Ice also warms up, as water, from 0 °C: add the degrees from melting to those of the tap.",
    "dough-temperature",
    COMMON,
)
def _ice_by_80(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    for melting in working.with_role("melting"):
        for name in names(step.expression):
            power = working.steps.get(name)
            if power and Name(melting.key) in _terms(power.expression):
                yield put_in(
                    step.expression,
                    lambda one, k=name, m=melting.key: Name(m) if one.key == k else None,
                )


# What melting takes, in joules for a gram; a degree of water takes 4.2 of them.
_JOULES_TO_MELT = 334.0


@in_the_step(
    "joules-for-degrees",
    "put joules where degrees belong",
    "Melting takes 334 J for a gram, and a degree of water 4.2 J: so melting counts as 80 degrees.",
    "dough-temperature",
)
def _joules_for_degrees(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    for melting in working.with_role("melting"):
        joules = {Name(melting.key): Number(_JOULES_TO_MELT)}
        if put_in(flat, joules.get) != flat:
            yield put_in(flat, joules.get)
            for name in names(step.expression):
                power = working.steps.get(name)
                if power and Name(melting.key) in _terms(power.expression):
                    alone = {Name(name): Number(_JOULES_TO_MELT)}
                    yield put_in(step.expression, alone.get)


def _terms(part: Expression) -> list[Expression]:
    match part:
        case Operation("+" | "−", left, right):
            return [*_terms(left), *_terms(right)]
    return [part]


@in_the_step(
    "other-temperature",
    "took another temperature of the story",
    "Say in words what each temperature is, then put it in.",
    "dough-temperature",
    RARE,
)
def _other_temperature(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    if not working.with_role("melting"):
        return
    celsius = [Name(one.key) for one in working.givens.values() if one.kind == "temperature"]
    for place in (step.expression, flat):
        for name in dict.fromkeys(_names(place)):
            if name in celsius and not is_number(name, 0.0):
                for other in celsius:
                    if other != name:
                        yield put_in(place, lambda one, n=name, o=other: o if one == n else None)
