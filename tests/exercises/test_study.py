"""The log of attempts, and what to practise next."""

import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.mistakes import BY_KEY, CATALOGUE
from exercises import study
from exercises.draws import draw
from exercises.marking import mark, right_answers
from exercises.skills import SKILLS, exercises, trained
from exercises.study import DAY, TOP, WAITS, Attempt, LogError, Standing, plan, progress

PAGES = Path(__file__).parents[2] / "docs" / "pages"
ADA = "Ada Invented"
NOW = 1_000 * DAY

KEYS = [skill.key for skill in SKILLS]


@st.composite
def attempts(draw_from, most_when=2 * NOW):
    out_of = draw_from(st.integers(1, 6))
    return Attempt(
        draw_from(st.text("abcdef0123456789", min_size=1, max_size=6)),
        draw_from(st.sampled_from(["first-swaps/yogurt-loaf", "first-swaps/salt-check", "gone"])),
        draw_from(st.sampled_from([*KEYS, "of-another-version"])),
        draw_from(st.integers(0, most_when)),
        draw_from(st.sampled_from([0, 0.5, out_of])),
        out_of,
        tuple(draw_from(st.lists(st.sampled_from([*BY_KEY, "unknown"]), max_size=3))),
    )


logs = st.lists(attempts(), max_size=40)


def tries(*outcomes: tuple[float, bool]) -> list[Attempt]:
    """Attempts at swaps on given days, right or wrong."""
    return [
        Attempt(f"a{n:03}", "first-swaps/yogurt-loaf", "swap", int(day * DAY), int(right), 1)
        for n, (day, right) in enumerate(outcomes)
    ]


SWAP = next(skill for skill in SKILLS if skill.key == "swap")


def test_the_lesson_of_every_known_mistake_is_what_to_read_first():
    for mistake in CATALOGUE:
        log = [Attempt("a", "x", "swap", 0, 0, 1, (mistake.key,))]
        page, _, anchor = progress(SWAP, log, DAY).page.partition("#")
        text = (PAGES / page.rstrip("/")).with_suffix(".md").read_text("utf-8")
        assert f"#{anchor}" in text, mistake.key


# The rule.


@given(st.lists(st.booleans(), max_size=30))
def test_boxes_move_as_the_books_cards_do(answers):
    """So lernt man lernen, 1972, as encyclopedias summarise it (from summaries, not
    the book): a card known goes to the next box, a card not known back to the first; the last box
    keeps its cards. Here a pile of real cards is moved, each on the day it is due.
    """
    boxes = [["card"]] + [[] for _ in range(5)]
    day, log = 0, []
    for known in answers:
        place = next(n for n, box in enumerate(boxes) if box)
        boxes[place].remove("card")
        boxes[min(place + 1, 5) if known else 0].append("card")
        log.append((day, known))
        found = progress(SWAP, tries(*log), day * DAY)
        assert boxes[found.box] == ["card"]
        day = max(day, found.due // DAY)
    assert WAITS == (0, 1, 2, 4, 8, 16)


def test_practice_before_its_day_moves_nothing_up():
    """Spaced practice holds longer than the same practice massed: “Distributed practice in verbal recall
    tasks”, 2006 (its summary read), so answers in one hour must not count as answers on many days.
    """
    crammed = progress(SWAP, tries((0, True), (0.01, True), (0.02, True)), DAY // 2)
    spread = progress(SWAP, tries((0, True), (1, True), (3, True)), 3 * DAY)
    assert (crammed.box, crammed.due) == (1, DAY)
    assert (spread.box, spread.due) == (3, 7 * DAY)


def test_the_order_wrong_due_new_resting():
    def at(skill, day, right):
        return Attempt(f"{skill}{day}", "x", skill, day * DAY, int(right), 1)

    log = [at("swap", 7, False), at("fat", 5, False), at("feel", 1, True), at("scaling", 9, True)]
    order = plan(SKILLS, [*log, at("fat", 8, False)], 9 * DAY)
    assert [each.skill.key for each in order[:3]] == ["fat", "swap", "feel"]
    assert {each.standing for each in order[3:-1]} == {Standing.NEW}
    assert order[-1].skill.key == "scaling"


def test_it_says_why():
    wrong = [Attempt("a", "x", "swap", 0, 1, 2, ("gram-for-gram", "unknown"))]
    assert (
        progress(SWAP, wrong, 3 * DAY).reason == "last wrong 3 days ago: you swapped gram for gram"
    )
    assert progress(SWAP, wrong, DAY - 1).reason == (
        "wrong in the last 24 hours: you swapped gram for gram"
    )
    right = tries((0, True))
    assert progress(SWAP, right, DAY).reason == "right 1 day ago, and due again"
    assert progress(SWAP, right, 1).reason == "right in the last 24 hours, due again in 1 day"


@given(logs, st.sampled_from(SKILLS), st.integers(0, NOW))
def test_a_wrong_answer_never_moves_a_skill_further_away(log, skill, now):
    def place(having):
        return [each.skill for each in plan(SKILLS, having, now)].index(skill)

    latest = max((each.when for each in log), default=0)
    wrong = Attempt("new-one", "x", skill.key, max(now, latest), 0, 1)
    assert place([*log, wrong]) <= place(log)
    assert progress(skill, [*log, wrong], now).box == 0


@given(logs, st.integers(0, NOW))
def test_never_tried_comes_before_what_rests(log, now):
    order = plan(SKILLS, log, now)
    assert sorted(each.skill.key for each in order) == sorted(KEYS)
    standings = [each.standing for each in order]
    assert standings == sorted(standings)
    tried = {each.skill for each in study.union(log)}
    assert {each.skill.key for each in order if each.standing is Standing.NEW} == {*KEYS} - tried


@given(logs, st.integers(0, NOW), st.randoms())
def test_no_log_breaks_it_and_its_order_does_not_matter(log, now, chance):
    mixed = [*log, *log]
    chance.shuffle(mixed)
    order = plan(SKILLS, mixed, now)
    assert order == plan(SKILLS, log, now)
    for each in order:
        assert 0 <= each.box <= TOP
        assert each.last <= now
        assert each.due <= now + WAITS[TOP] * DAY
        assert 0 <= each.right <= each.tries
        assert each.reason


@given(logs)
def test_the_next_problem_is_one_not_tried_or_longest_ago(log):
    among = trained()[SWAP]
    chosen = study.next_exercise(among, log)
    last = {each.problem: each.when for each in sorted(log, key=lambda a: a.when)}
    never = [each.key for each in among if each.key not in last]
    assert chosen in among
    assert (chosen.key in never) or not never
    if never:
        levels = [each.problem.level for each in among if each.key in never]
        assert chosen.problem.level == min(levels)


# Fresh numbers.


def test_every_attempt_has_new_numbers_and_the_handin_keeps_its_own():
    exercise = exercises()["first-swaps/yogurt-loaf"]
    handed_in = draw(exercise.problem_set, exercise.problem, ADA).shown
    used, before, seen = set(), "", []
    for _ in range(12):
        name = study.fresh(exercise, ADA, len(used) + 1, used, before)
        assert name.startswith(f"{ADA}#")
        result = mark(study.variant(exercise, name), right_answers(study.variant(exercise, name)))
        made = study.attempt(exercise, name, result, 0)
        assert made.right
        assert made.id not in used
        assert ADA.split()[0].lower() not in study.write_log([made]).lower()
        used.add(made.id)
        seen.append(study.variant(exercise, name).shown)
        assert before == "" or seen[-1] != seen[-2]
        before = name
    assert draw(exercise.problem_set, exercise.problem, ADA).shown == handed_in


@pytest.mark.parametrize("key", sorted(exercises()))
def test_every_problem_can_be_practised_logged_and_read_again(key):
    exercise = exercises()[key]
    name = study.fresh(exercise, "", 1, set())
    drawn = study.variant(exercise, name)
    answers = right_answers(drawn)
    made = study.attempt(exercise, name, mark(drawn, answers), NOW)
    assert made.right
    assert study.read_log(study.write_log([made])) == [made]
    assert study.attempt(exercise, name, mark(drawn, {}), NOW) is None


def test_only_a_finished_or_a_wrong_answer_is_logged():
    exercise = exercises()["first-swaps/yogurt-loaf"]
    drawn = study.variant(exercise, "#1")

    def logged(**answers):
        return study.attempt(exercise, "#1", mark(drawn, answers), 0)

    assert logged(water=drawn.working.weighed("water")) is None
    assert logged(liquid="128 ml") is None
    gram_for_gram = logged(liquid=f"{drawn.working.values()['water']:.0f} g")
    assert not gram_for_gram.right
    assert gram_for_gram.mistakes == ("gram-for-gram",)
    assert logged(liquid=drawn.working.weighed("liquid")).id == gram_for_gram.id


def test_of_two_tries_at_the_same_numbers_the_first_counts():
    first, second = (Attempt("same", "x", "swap", when, when, 1) for when in (0, 1))
    assert study.union([second, first]) == [first]


# The log: hostile until checked.

json_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=20),
    lambda inner: (
        st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=8), inner, max_size=4)
    ),
    max_leaves=12,
)
FIELDS = ("id", "problem", "skill", "when", "marks", "out_of", "mistakes")
GOOD = {
    "id": "a1", "problem": "first-swaps/salt-check", "skill": "percentages", "when": 5, "marks": 1,
    "out_of": 2, "mistakes": [],
}  # fmt: skip


@given(logs)
def test_a_log_file_is_read_as_it_was_written(log):
    if log:
        assert study.read_log(study.write_log(log)) == study.union(log)
    assert study.kept_log(json.dumps([])).attempts == []


@given(st.text() | json_values.map(json.dumps))
def test_any_text_in_the_store_gives_a_log_or_a_line(text):
    found = study.kept_log(text)
    assert found.attempts == []
    assert found.trouble or text in ("", "[]")
    assert "\n" not in found.trouble


@given(st.sampled_from(FIELDS), json_values)
def test_a_record_changed_at_will_is_read_whole_or_left_out(name, value):
    found = study.kept_log(json.dumps([GOOD, GOOD | {"id": "a2"} | {name: value}]))
    assert 1 <= len(found.attempts) <= 2
    assert len(found.attempts) == 2 or found.trouble or name == "id"
    plan(SKILLS, found.attempts, NOW)


@pytest.mark.parametrize(
    ("changed", "reason"),
    [
        ({"when": -1}, "seconds"),
        ({"when": 1e300}, "seconds"),
        ({"when": 0.5}, "seconds"),
        ({"marks": 3}, "out_of"),
        ({"marks": float("nan")}, "out_of"),
        ({"out_of": 0}, "out_of"),
        ({"marks": True}, "out_of"),
        ({"id": "<script>alert(1)</script>"}, "short name"),
        ({"skill": "x" * 1000}, "short name"),
        ({"problem": None}, "short name"),
        ({"mistakes": ["a"] * 1000}, "mistakes"),
    ],
)
def test_a_file_with_one_bad_attempt_adds_nothing_and_says_why(changed, reason):
    text = json.dumps({"format": study.FORMAT, "attempts": [GOOD, GOOD | {"id": "b"} | changed]})
    with pytest.raises(LogError, match=f"Attempt 2 in the file: .*{reason}.* Nothing was added"):
        study.read_log(text)


@pytest.mark.parametrize(
    "text",
    [
        "", "{", "[" * 100_000, "[]", "null", "9" * 5000, " " * (study.LARGEST_LOG + 1),
        json.dumps({"format": "another", "attempts": [GOOD]}),
        json.dumps({"format": study.FORMAT, "attempts": []}),
        json.dumps({"format": study.FORMAT, "attempts": [GOOD] * (study.MOST_ATTEMPTS + 1)}),
    ],
)  # fmt: skip
def test_what_is_no_log_file_is_refused_in_words(text):
    with pytest.raises(LogError, match=r"log|JSON"):
        study.read_log(text)


def test_the_newest_attempts_are_kept_and_the_largest_log_can_be_read():
    word = "x" * 100
    log = [
        Attempt(f"{n:0>100}", word, word, study.LATEST - n, 1.123456789, 2.123456789, (word,) * 6)
        for n in range(study.MOST_ATTEMPTS + 5)
    ]
    kept = study.union(log)
    assert len(kept) == study.MOST_ATTEMPTS
    assert min(each.when for each in kept) == study.LATEST - study.MOST_ATTEMPTS + 1
    assert study.read_log(study.write_log(log)) == kept
