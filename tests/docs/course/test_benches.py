"""The demonstrations fit the clock, and their weights are what the calculations give."""

import re

import pytest

from calc import units
from calc.formula import hydration
from calc.quantities import REGISTRY
from docs.course import bench_plan, lesson_clock
from docs.course.bakes import bakes
from docs.course.bench_plan import class_weights, group_weights
from docs.course.bench_sheet import AS_WATER, bowls_of
from docs.course.benches import bench_of, benches, setting, to_buy
from exercises.lessons import LESSONS

LOOKS = {20, 40}
OVEN = re.compile(r"(\d+) minutes at (\d+) °C \((\d+) °F\)")


def text_of(elements):
    return " ".join(" ".join(" ".join(each.itertext()).split()) for each in elements)


def test_each_lesson_has_a_demonstration():
    assert set(benches()) == set(LESSONS)


@pytest.mark.parametrize("key", benches())
def test_the_minutes_add_up_to_the_lesson(key):
    bench = bench_of(key)
    assert sum(stretch.minutes for stretch in bench.clock) == setting("period")
    assert sum(stretch.short for stretch in bench.clock) == setting("short")
    for lesson in bench.two:
        assert sum(minutes for minutes, _ in lesson) == setting("period")
    assert all(minutes > 0 for rows in (bench.before, *bench.two) for minutes, _ in rows)


@pytest.mark.parametrize("key", benches())
def test_a_look_comes_so_many_minutes_after_the_start(key):
    bench = bench_of(key)
    looks = {s.look: begin for begin, s in zip(bench.begins, bench.clock, strict=True) if s.look}
    assert set(looks) >= LOOKS
    assert all(begin - bench.start == minutes for minutes, begin in looks.items())
    assert set(bench.see) == {0, *looks}


@pytest.mark.parametrize("key", benches())
def test_what_is_baked_was_mixed_before_and_comes_out_in_time(key):
    """The rolls bake as long and as hot as the card of the soft rolls says."""
    bench, rolls = bench_of(key), bakes()["soft-rolls"]
    baked = [OVEN.search(stretch.what) for stretch in bench.clock if stretch.starts]
    if baked == [None]:
        return
    minutes, celsius, fahrenheit = map(int, baked[0].groups())
    assert (minutes, celsius) == (rolls.stages[-1].minutes, rolls.oven)
    assert fahrenheit == round(celsius * 9 / 5 + 32)
    assert minutes in bench.see
    assert sum(minutes for minutes, _ in bench.before) > setting("period")
    assert bench.two


@pytest.mark.parametrize("key", benches())
def test_a_bowls_liquid_is_what_the_calculation_gives(key):
    bench = bench_of(key)
    for bowl in bowls_of(bench.sheet):
        liquid = bowl.dough.items[1]
        needed = REGISTRY["water needed"].build(
            flour=bowl.dough.flour, hydration=_wet(bench.sheet["hydration"])
        )
        water = needed.values()[needed.answer.key]
        assert liquid.grams == pytest.approx(
            water if bowl.note == AS_WATER else water / liquid.ingredient.water
        )
        if bowl.note != AS_WATER:
            wet = hydration(bowl.dough)
            assert wet.values()[wet.answer.key] == pytest.approx(
                _wet(bench.sheet["hydration"]), abs=0.004
            )


def _wet(written):
    return units.read(written, "share").value


@pytest.mark.parametrize("key", benches())
def test_a_class_weighs_what_its_groups_weigh(key):
    bench = bench_of(key)
    group, whole = sum(group_weights(bench).values()), sum(class_weights(bench).values())
    assert whole == pytest.approx(bench.groups * group + sum(bench.for_class.values()))
    bowls = sum(bowl.dough.dough for bowl in bowls_of(bench.sheet))
    assert group == pytest.approx(bowls + sum(bench.for_group.values()))


def test_what_the_class_is_shown_is_the_jars_and_the_twins():
    """By hand: jars 160 + 200 g of flour and 2 × 280 g more; twins 200 g of flour × 1.5."""
    assert bench_of("preferments").for_class == {"bread-flour": 920, "water": 640}
    twins = bench_of("side-by-side-bake")
    first = {i.ingredient.key: 1.5 * i.grams for i in bowls_of(twins.sheet)[0].dough.items}
    assert twins.for_class == pytest.approx(first)


def test_packs_are_counted_up():
    cream = next(i for i in class_weights(bench_of("what-rides-along")) if i.key == "sour-cream")
    assert to_buy(cream, 200) == "1 × tub of 200 g"
    assert to_buy(cream, 201) == "2 × tub of 200 g"


def test_the_clock_and_the_plan_say_it_all():
    clock = text_of(lesson_clock.build({"lesson": "divide-by-the-water-content"}))
    assert "28 2 – Bench: press each dough" in clock
    plan = text_of(bench_plan.build({"lesson": "divide-by-the-water-content"}))
    for told in ("20 min", "A has turned smooth", "Before class", "6 groups of 4", "Half and half"):
        assert told in plan


def test_a_lesson_without_a_bench_is_told_with_those_there_are():
    with pytest.raises(ValueError, match="There are acidity-and-feel"):
        bench_plan.build({"lesson": "kneading"})
