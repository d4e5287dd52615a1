"""How well the diagnosis names mistakes: ``python -m tests.bench.diagnosis [draws] [all]``.

For every problem of every set, with many students' draws, a student writes the last answer alone (the table's
cell, where a table is filled in), rounded to the scale:

- wrong methods: each of `tests.bench.wrong_methods`, a list made apart from the catalogue (`fresh` and `third`
  measure with two later ones). Named: the marking names what was done, alone or as one of two; another: it names
  something else; none: it names nothing.
- typing slips: the right answer with one digit changed, two digits swapped or one dropped. Blamed: a mistake is
  named, the decimal point not counted.

`all` prints every pair of method and quantity that is not named in nine draws of ten, and what was said instead.
"""

from __future__ import annotations

import random
import sys
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from itertools import pairwise

from calc import units
from calc.working import Step
from exercises.draws import Problem, Variant, draw
from exercises.marking import StepMark, Verdict, mark
from exercises.problems import load, set_keys
from tests.bench.wrong_methods import FRESH, LISTED, THIRD, Wrong, about_every_number, wrong

# Which keys of the catalogue say what was done. A family that is not here is named by nobody.
SAYS = {
    "the part that stays": "rest-of-percentage stopped-early",
    "left one out": "left-one-out forgot-loss mean-of-some one-flour-only",
    "on the final flour only": "left-one-out wrong-weight forgot-preferment",
    "hydration of the final flour only": "wrong-weight one-flour-only",
    "on the whole dough": "whole-dough whole-preferment",
    "divided too soon": "divided-one-part other-liquid",
    "heat of the flour as it is": "left-one-out",
    "doubled": "doubled-or-halved forgot-to-halve half-and-half",
    "gave the water before": "gave-a-given stopped-early all-of-the-water",
    "multiplied for divided": "multiplied-by-water-content multiplied-by-percentage multiplied-by-fat-content multiplied-for-divided loss-taken-off whole-dough other-number",
    "mean of the hydrations": "plain-average",
    "hydrations added": "added-percentages",
    "left out the temperature": "left-one-out",
    "solids for water": "solids-for-water solids-for-fat",
    "one too many": "wrong-number-of-temperatures",
    "mean of the times": "",
    "added the salt twice, no butter": "other-percentage",
    "taken away once only": "left-one-out",
    "gave the weight lost": "stopped-early only-the-extra",
    "took the friction off": "taken-away-for-added",
    "gave the weight": "stopped-early",
    "kept the whole flour": "left-one-out forgot-percentage",
    "took the missing share off the hydration": "subtracted-for-multiplied",
    "each part swapped by itself": "other-liquid",
    "ratio upside down": "upside-down contents-upside-down divided-by-the-rest",
    "kept the whole preferment": "whole-preferment",
    "gave the sum": "stopped-early added-for-taken-away",
    "forgot to divide": "stopped-early",
    "forgot the part": "forgot-percentage left-one-out other-number gave-a-given gram-for-gram",
    "contents swapped": "other-liquid other-number",
    "plain mean": "plain-average averaged-temperatures other-liquid no-weights",
    "gave the preferment's water": "stopped-early flour-for-water",
    "added the part itself": "forgot-percentage",
    "part of the flour": "forgot-percentage",
    "all of it counted as sour": "forgot-percentage",
    "added to the wanted": "left-one-out",
    "forgot what is there": "left-one-out",
    "took the percentages from each other": "wrong-weight",
    "content of the flour": "wrong-weight",
    "gave what the liquid brings": "stopped-early",
    "others counted as liquid": "counted-other-ingredients counted-too-much",
    "milligrams for grams": "sodium-for-salt",
    "heat capacities swapped": "swapped-numbers other-number",
    "no weights": "no-weights",
    "one piece only": "left-one-out",
    "fat of the whole": "forgot-percentage",
    "stopped at the mix": "stopped-early left-one-out",
    "gave the difference": "stopped-early left-one-out",
    "fat taken for the softener": "forgot-fat-content",
    "gave the softener": "stopped-early liquid-for-water",
    "gave the raise": "stopped-early left-one-out",
    "gave all the water": "all-of-the-water",
    "only the wanted degrees": "left-one-out",
    "only the tap's degrees": "left-one-out",
    "divided by the difference too": "other-temperature",
    "the wanted for the tap": "other-temperature",
    "of the liquid, not of the flour": "forgot-percentage wrong-weight",
    "water taken as what rides along": "water-for-fat stopped-early",
    "took one flour from the other": "taken-away-for-added",
    "how sour alone": "left-one-out",
    "the plain water only": "left-one-out",
    "the sour liquid only": "left-one-out",
    "one weight for the whole": "left-one-out",
    "on the mean": "divided-by-both",
    "on both weights": "divided-by-both",
    "contents added": "added-percentages",
    "added percentages": "added-percentages",
    "divided by the hydration": "another-part forgot-the-flour",
    "gave what is not flour": "another-part percentage-on-top",
    "gave the water": "another-part all-of-the-water",
    "flour counted twice": "counted-twice counted-too-much percentage-on-top",
    "took the percentages off": "whole-dough",
    "took one percentage off": "whole-dough",
    "the water content alone": "forgot-percentage gave-a-given",
    "as planned": "liquid-for-water gave-a-given",
    "gram for gram": "gram-for-gram",
    "divided for multiplied": "divided-by-water-content divided-by-percentage divided-by-fat-content divided-for-multiplied other-number",
    "added the missing share": "added-missing-percentage",
    "added the difference of contents": "added-missing-percentage",
    "liquid as water": "liquid-for-water",
    "old liquid as water": "liquid-for-water",
    "one liquid as water": "liquid-for-water",
    "first liquid as water": "liquid-for-water",
    "stopped at the water": "stopped-early gram-for-gram",
    "upside down": "upside-down contents-upside-down",
    "on flour and liquid": "whole-dough",
    "on flour and water": "whole-dough",
    "percentage of flour and liquid": "whole-dough",
    "on flour and itself": "whole-dough",
    "on flour and others": "whole-dough",
    "of flour and itself": "whole-dough",
    "others in the flour": "whole-dough",
    "on the other ingredients": "wrong-weight",
    "on all but the flour": "wrong-weight whole-dough",
    "percentage of the liquid": "wrong-weight",
    "the part that is not water": "rest-of-percentage",
    "the part that is not sour": "rest-of-percentage",
    "what is left of the flour": "rest-of-percentage",
    "the rest of the flour": "rest-of-percentage",
    "the part that is left": "rest-of-percentage",
    "divided by what is left": "rest-of-percentage whole-dough",
    "the other flour's share": "rest-of-percentage stopped-early",
    "gave the rest": "rest-of-percentage solids-for-water only-the-extra",
    "what is left": "rest-of-percentage",
    "not sour for sour": "rest-of-percentage",
    "flour and water together": "percentage-on-top",
    "added to the flour": "percentage-on-top",
    "weight times one and the percentage": "percentage-on-top",
    "forgot the hydration": "forgot-percentage",
    "forgot the share": "forgot-percentage forgot-density",
    "kept the whole blend": "left-one-out forgot-percentage",
    "another percentage": "other-percentage other-number",
    "halved": "doubled-or-halved other-number",
    "a quarter step": "doubled-or-halved",
    "decimal point": "decimal-point",
    "only the difference": "only-the-extra rest-of-percentage",
    "growth for factor": "only-the-extra",
    "the difference": "subtracted-for-divided",
    "added for divided": "subtracted-for-divided",
    "the content alone": "gave-a-given wrong-weight",
    "forgot the friction": "left-one-out",
    "forgot the minerals": "left-one-out",
    "forgot the other fat": "left-one-out",
    "forgot the fat of the old liquid": "left-one-out",
    "forgot the melting": "left-one-out",
    "forgot what the liquid brings": "left-one-out",
    "forgot the first liquid": "left-one-out stopped-early",
    "forgot a percentage": "left-one-out",
    "forgot the fat that is there": "left-one-out",
    "forgot the flour's water": "left-one-out counted-too-much",
    "forgot the flour's 100 %": "forgot-the-flour flour-for-water",
    "divided by the hydration alone": "forgot-the-flour",
    "divided for multiplied by the hydration": "forgot-the-flour",
    "forgot the preferment": "left-one-out forgot-preferment stopped-early whole-preferment",
    "forgot the preferment's water": "left-one-out forgot-preferment whole-preferment",
    "only the preferment's flour": "left-one-out",
    "gave the preferment's flour": "stopped-early left-one-out",
    "counted one twice": "counted-twice counted-too-much both-liquids",
    "both liquids counted": "counted-too-much both-liquids",
    "counted one too many": "counted-too-much",
    "the weight of the fat too": "counted-too-much",
    "another meaning": "counted-too-much counted-only-water left-one-out liquid-for-water",
    "water for weight": "counted-only-water",
    "added for taken away": "added-for-taken-away",
    "taken away for added": "taken-away-for-added wrong-way-round",
    "added the friction": "added-for-taken-away taken-away-for-added",
    "taken the wrong way round": "wrong-way-round added-missing-percentage",
    "half and half": "half-and-half",
    "hydration of the whole": "hydration-of-the-whole",
    "flour for water": "flour-for-water",
    "whole preferment as flour": "whole-preferment",
    "whole preferment as water": "whole-preferment",
    "whole preferment over the final flour": "whole-preferment part-to-rest",
    "one content for both": "other-liquid gram-for-gram",
    "divided by the old content": "other-liquid",
    "one flour only": "left-one-out one-flour-only",
    "on the first flour only": "one-flour-only",
    "on the second flour only": "one-flour-only",
    "forgot a loss": "forgot-loss left-one-out",
    "both losses forgotten": "forgot-loss stopped-early",
    "loss on top": "loss-on-top",
    "losses on top": "loss-on-top",
    "loss taken off": "loss-taken-off",
    "losses taken off": "loss-taken-off",
    "losses added": "losses-added",
    "loss for what is left": "loss-for-what-is-left",
    "loss of the baked pieces": "loss-for-what-is-left",
    "divided by one and the loss": "added-for-taken-away",
    "millilitres for grams": "forgot-density",
    "whole step": "forgot-to-halve",
    "one too few": "wrong-number-of-temperatures",
    "not multiplied": "wrong-number-of-temperatures",
    "twice only": "wrong-number-of-temperatures",
    "divided at the end": "averaged-temperatures",
    "against the mean": "averaged-temperatures",
    "ice by 80 alone": "ice-by-80",
    "no heat capacities": "no-heat-capacity",
    "temperatures swapped": "swapped-numbers other-number",
    "on the dry weight": "on-the-dry-weight",
    "on the weight after": "divided-by-the-rest on-the-dry-weight",
    "dish not taken off": "dish-not-taken-off",
    "dish taken off one only": "dish-not-taken-off",
    "solids with the dish": "dish-not-taken-off",
    "dish added": "dish-not-taken-off added-for-taken-away",
    "serving as 100 g": "hundred-for-serving",
    "sodium for salt": "sodium-for-salt",
    "on dry flour": "on-the-dry-weight",
    "of the water": "percent-for-points",
    "as per cent of the hydration": "percent-for-points",
    "forgot the butter's fat content": "stopped-early forgot-fat-content",
    "water for fat": "water-for-fat",
    "divided only one": "forgot-brackets divided-one-part",
    "gave the fat": "stopped-early",
    "gave the time used": "stopped-early",
    "gave the first liquid's water": "stopped-early",
    "added on top": "percentage-on-top loss-on-top",
    "of the whole dough": "whole-dough",
    "the whole rise of the hydration": "forgot-percentage other-percentage",
    "wrong side": "other-temperature",
    "gave the share": "left-one-out",
    "gave the spread": "left-one-out",
    "limit of the liquid": "wrong-weight",
    "added for multiplied": "added-for-multiplied",
    "multiplied for added": "multiplied-for-added",
    "part of the new liquid taken again": "percentage-twice",
    "fat only": "left-one-out",
    "part of the water": "other-number",
    "taken off": "percentage-on-top",
    "first and last only": "mean-of-some",
    "divided by one percentage": "taken-away-for-added",
    "forgot the flour's part": "forgot-percentage",
    "gave what is left": "rest-of-percentage stopped-early solids-for-water",
    "forgot the flour": "left-one-out forgot-the-flour",
    "divided by one and the percentage": "percentage-on-top added-for-taken-away",
    "only the tap": "left-one-out other-temperature",
    "divided by the difference": "other-temperature counted-too-much",
    "latent heat in joules": "joules-for-degrees joules-for-degrees",
    "gave the flour alone": "stopped-early whole-preferment",
    "after as before": "other-number wrong-weight",
    "stopped at the rise": "stopped-early left-one-out",
    "of the liquid": "gave-a-given wrong-weight",
    "kept the whole": "left-one-out forgot-percentage counted-too-much both-liquids",
    "gave what is lost": "stopped-early rest-of-percentage only-the-extra loss-for-what-is-left",
    "divided by two": "wrong-count doubled-or-halved",
    "divided by four": "wrong-count",
}


@dataclass
class Tally:
    """Counts of one family, or of all."""

    made: int = 0
    named: int = 0
    other: int = 0
    said: Counter = field(default_factory=Counter)

    @property
    def none(self) -> int:
        return self.made - self.named - self.other

    def add(self, other: Tally) -> None:
        for name in vars(self):
            setattr(self, name, getattr(self, name) + getattr(other, name))

    def share(self, count: int) -> float:
        return count / self.made if self.made else 0.0


Tallies = dict[tuple[str, ...], Tally]


def written(value: float, step: Step) -> str:
    """A number as a student writes it: rounded to the scale of the step."""
    return units.write(value, step.kind, step=step.to)


def problems() -> Iterator[tuple[str, Problem, Callable[[int], Variant]]]:
    """Every problem that asks for numbers, with a draw of it for each student's number."""
    for key in set_keys():
        problem_set = load(key)
        for problem in filter(lambda each: each.quantity, problem_set.problems):
            yield (
                f"{key}/{problem.id}",
                problem,
                lambda n, s=problem_set, p=problem: draw(s, p, f"student {n}"),
            )


def keys_named(variant: Variant, step: Step, text: str) -> set[str] | None:
    """The mistakes named for an answer alone; None where it is not marked wrong."""
    result = mark(variant, {step.key: text})
    one: StepMark = next(each for each in result.steps if each.step.key == step.key)
    found = {finding.mistake.key for each in result.steps for finding in each.findings}
    if one.verdict in (Verdict.RIGHT, Verdict.UNREAD):
        return None
    if one.verdict is not Verdict.WRONG and not found:
        return None
    return found


def wrong_answers(variant: Variant, listed: Mapping = LISTED) -> Iterator[Wrong]:
    working = variant.working
    givens = {given.key: given.value for given in working.givens.values()}
    yield from wrong(variant.problem.quantity.name, givens, listed)
    if listed is LISTED:
        yield from about_every_number(working.values()[working.answer.key])


def tally_methods(variant: Variant, into: Tallies, listed: Mapping = LISTED) -> None:
    """Every wrong method once, under (family, quantity, step)."""
    working = variant.working
    for one in wrong_answers(variant, listed):
        step = working.steps[one.step or working.answer.key]
        found = keys_named(variant, step, written(one.value, step))
        if found is None:
            continue
        tally = into[one.family, variant.problem.quantity.name, step.key]
        tally.made += 1
        if found & set(SAYS.get(one.family, "").split()):
            tally.named += 1
        elif found:
            tally.other += 1
            tally.said.update([" + ".join(sorted(found))])


def slips(text: str, chance: random.Random) -> Iterator[tuple[str, str]]:
    """The typing slips of a number: (what slipped, what is written then)."""
    number = text.partition(" ")[0]
    places = [n for n, sign in enumerate(number) if sign.isdigit()]
    one = chance.choice(places)
    digit = chance.choice([d for d in "0123456789" if d != number[one]])
    yield "one digit changed", number[:one] + digit + number[one + 1 :]
    pairs = [(a, b) for a, b in pairwise(places) if number[a] != number[b]]
    if pairs:
        a, b = chance.choice(pairs)
        signs = list(number)
        signs[a], signs[b] = signs[b], signs[a]
        yield "two digits swapped", "".join(signs)
    if len(places) > 1:
        yield "a digit dropped", (number[:one] + number[one + 1 :]).strip(".")


def tally_slips(variant: Variant, into: Tallies, chance: random.Random) -> None:
    step = variant.working.answer
    right = written(variant.working.values()[step.key], step)
    unit = right.partition(" ")[2]
    for kind, number in slips(right, chance):
        found = keys_named(variant, step, f"{number} {unit}".strip())
        if found is None:
            continue
        tally = into[(kind,)]
        tally.made += 1
        if found - {"decimal-point"}:
            tally.named += 1
            tally.said.update([" + ".join(sorted(found))])


def measured(draws: int, listed: Mapping = LISTED) -> tuple[Tallies, Tallies]:
    """The tallies of the wrong methods and of the typing slips."""
    methods: Tallies = defaultdict(Tally)
    typing: Tallies = defaultdict(Tally)
    for name, _, drawn in problems():
        chance = random.Random(name)
        for number in range(draws):
            tally_methods(drawn(number), methods, listed)
            tally_slips(drawn(number), typing, chance)
    return methods, typing


def added_up(tallies: Tallies, place: int | None = None) -> dict[str, Tally]:
    """One tally for each name in a place of the keys, or one of all."""
    sums: dict[str, Tally] = defaultdict(Tally)
    for key, tally in tallies.items():
        sums["all" if place is None else key[place]].add(tally)
    return sums


def report(draws: int, everything: bool = False, listed: Mapping = LISTED) -> None:
    methods, typing = measured(draws, listed)
    print(f"{'wrong methods, by family':40} {'made':>7} {'named':>7} {'another':>8} {'none':>7}")
    families = added_up(methods, 0)
    for family, tally in sorted(families.items(), key=lambda each: -each[1].made):
        print(_line(family, tally))
    print(_line(f"all ({len(methods)} pairs)", added_up(methods)["all"]))
    print(f"\n{'typing slips':40} {'made':>7} {'blamed':>7}")
    for kind, tally in [*added_up(typing, 0).items(), *added_up(typing).items()]:
        print(f"{kind:40} {tally.made:7} {tally.share(tally.named):7.1%}")
    if everything:
        print("\nnot named in nine draws of ten")
        for key, tally in sorted(methods.items()):
            if tally.share(tally.named) < 0.9:
                said = "; ".join(f"{n} × {keys}" for keys, n in tally.said.most_common(3))
                print(f"{_line(' | '.join(key), tally)}   {said}")
        print("\nblamed for typing:", added_up(typing)["all"].said.most_common(25))


def _line(name: str, tally: Tally) -> str:
    named, other, none = map(tally.share, (tally.named, tally.other, tally.none))
    return f"{name:40} {tally.made:7} {named:7.1%} {other:8.1%} {none:7.1%}"


if __name__ == "__main__":
    counts = [int(word) for word in sys.argv[1:] if word.isdigit()]
    report(
        counts[0] if counts else 20,
        "all" in sys.argv,
        FRESH if "fresh" in sys.argv else THIRD if "third" in sys.argv else LISTED,
    )
