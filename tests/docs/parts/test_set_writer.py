"""A set as a form and as text: two views of one thing, changed in either."""

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import composition
from calc.own_ingredient import from_record
from calc.quantities import REGISTRY
from docs.parts import set_writer
from docs.parts.set_writer import FILE, STARTER, look, respond
from exercises import problems
from exercises.problems import read_set
from exercises.publish.html import write
from exercises.set_edit import entries
from exercises.setfile import SetError
from tests.exercises.set_texts import EVERY_KIND, GOOD, POOL
from tests.hostile import any_text


def asked(action, text=STARTER, **more):
    return respond({"action": action, "text": text, "file": FILE, "open": "0", **more})


def edited(*edits, text=STARTER, **more):
    return asked("edit", text, edits=json.dumps([list(edit) for edit in edits]), **more)


def fields(form):
    """Every field of a form with what is in it, as the page would send it."""
    for top in form:
        for control in top.iter():
            name = control.get("name")
            if name and control.tag == "textarea":
                yield name, control.text or ""
            elif name and control.tag == "select":
                yield (
                    name,
                    next(o.get("value") for o in control.iter("option") if "selected" in o.attrib),
                )
            elif name and control.tag == "input" and control.get("type") == "text":
                yield name, control.get("value")


@pytest.mark.parametrize(
    "text", [STARTER, GOOD, EVERY_KIND, POOL], ids=["starter", "good", "every", "pool"]
)
def test_a_form_sent_back_as_it_came_changes_no_sign(text):
    """So the form shows all that the text says, and says nothing else."""
    named = edited(text=text)["text"]
    for number in range(len(entries(text).part("problems").value)):
        sent = list(fields(look(named, FILE, number, "").form))
        assert len(sent) > 10
        assert edited(*sent, text=named)["text"] == named


def test_what_is_typed_into_a_field_is_in_the_text_and_the_notes_stay():
    answer = edited(
        ("title", "Friday: rolls"),
        ("problems/0/title", "A tray"),
        ("problems/0/story", "One line of {flour}, {hydration}.\nAnother of {liquid}.\n"),
        ("problems/0/givens/flour/to", "1000 g"),
        ("problems/0/givens/liquid/list", "buttermilk\n\nkefir\n"),
        ("problems/0/hint cost/3", "1"),
        ("problems/0/level", "2"),
        ("problems/1/items/list", "milk\nwater\negg"),
    )
    assert answer["good"], answer["beside"]
    assert answer["text"].startswith("# Everything after a # is a note to yourself.\n")
    read = entries(answer["text"]).plain
    problem = read["problems"][0]
    assert read["title"] == "Friday: rolls"
    assert problem["story"] == "One line of {flour}, {hydration}.\nAnother of {liquid}.\n"
    assert problem["givens"]["flour"] == {"from": "400 g", "to": "1000 g", "step": "50 g"}
    assert problem["givens"]["liquid"] == ["buttermilk", "kefir"]
    assert (problem["hint cost"], problem["level"]) == (["0", "0", "0", "1"], "2")
    assert read["problems"][1]["items"] == ["milk", "water", "egg"]


def test_a_field_that_is_emptied_takes_its_part_out():
    filled = edited(
        ("problems/0/level", "2"), ("problems/0/tries", "5"), ("lesson", "preferments")
    )["text"]
    emptied = edited(
        ("problems/0/level", ""), ("problems/0/tries", ""), ("lesson", ""), text=filled
    )
    assert emptied["text"] == STARTER


def titled(answer, title, problem):
    """The set and its third problem with whole titles."""
    at = "problems/2/title"
    typed = (("title", title), ("do:named", "title"), (at, problem), ("do:named", at))
    return edited(*typed, text=answer["text"])


def test_a_name_and_an_id_follow_the_first_title_and_then_stay():
    # Half a title names nothing: the page says when it is whole.
    half = edited(("title", "Rolls"), ("do:add", "hydration"), ("problems/2/title", "Mü"))
    assert half["name"] == "my-set"
    assert read_set(half["text"], FILE).problems[2].id == "new-problem"
    once = titled(half, "Rolls & loaves", "Müller's loaf")
    for answer in (once, titled(once, "Other", "Other")):
        assert answer["name"] == "rolls-loaves"
        assert read_set(answer["text"], FILE).problems[2].id == "mullers-loaf"


def test_a_new_name_is_no_other_sets():
    edits = json.dumps([("title", "Rolls"), ("do:named", "title")])
    assert asked("edit", edits=edits, taken="rolls.yml")["name"] == "rolls-2"
    edits = json.dumps([("title", "First swaps"), ("do:named", "title")])
    assert asked("edit", edits=edits)["name"] == "first-swaps-2"


def test_a_set_without_a_name_gets_the_one_that_picked_its_numbers():
    text = STARTER.replace("name: my-set\n", "")
    answer = respond(
        {"action": "edit", "text": text, "file": "Tuesday (1).yml", "open": "0", "edits": "[]"}
    )
    assert answer["name"] == "tuesday"
    assert answer["text"] == STARTER.replace("name: my-set", "name: tuesday")


@pytest.mark.slow
@pytest.mark.parametrize("asked_for", [*REGISTRY, "choice", "order"])
def test_a_new_problem_of_any_kind_is_good_as_it_comes(asked_for):
    answer = edited(
        ("do:add", asked_for), text="name: a-set\ntitle: A set\nversion: 1\nproblems: []\n"
    )
    assert answer["good"], answer["beside"]
    assert answer["open"] == "0"
    assert read_set(answer["text"], "a.yml").problems[0].id == "new-problem"


@pytest.mark.parametrize("to", ["liquid for liquid", "part swap", "choice", "order", "hydration"])
def test_another_thing_to_ask_for_keeps_what_both_take(to):
    answer = edited(("problems/0/ask", to))
    before, after = (
        entries(STARTER).plain["problems"][0],
        entries(answer["text"]).plain["problems"][0],
    )
    assert after["ask"] == to
    assert after["story"] == before["story"]
    assert set(answer["beside"]) <= {"problems/0/story"}
    both = set(before["givens"]) & set(after.get("givens", {}))
    assert all(after["givens"][name] == before["givens"][name] for name in both)
    assert ("liquid" in both) == (to in REGISTRY)


@pytest.mark.parametrize(
    ("way", "given"),
    [
        ("fixed", "400 g"),
        ("list", ["400 g", "900 g"]),
        ("range", {"from": "400 g", "to": "900 g", "step": "50 g"}),
    ],
)
def test_a_number_is_one_value_a_list_or_a_range(way, given):
    fixed = edited(("problems/0/givens/flour/how", way))
    assert fixed["good"], fixed["beside"]
    assert entries(fixed["text"]).plain["problems"][0]["givens"]["flour"] == given
    ranged = edited(("problems/0/givens/hydration/how", "range"))
    assert ranged["good"], ranged["beside"]


def test_a_given_that_may_be_left_out_goes_and_comes_back():
    text = edited(("do:add", "hydration"))["text"]
    gone = edited(("problems/2/givens/other ingredients/how", "out"), text=text)["text"]
    assert "other ingredients" not in entries(gone).plain["problems"][2]["givens"]
    back = edited(("problems/2/givens/other ingredients/how", "fixed"), text=gone)["text"]
    assert entries(back).plain["problems"][2]["givens"]["other ingredients"]


def test_problems_are_moved_copied_and_deleted():
    titles = lambda answer: [each["title"] for each in entries(answer["text"]).plain["problems"]]  # noqa: E731
    down = edited(("do:down", "0"))
    assert titles(down) == ["The wettest first", "A loaf for the morning"]
    assert down["open"] == "1"
    assert edited(("do:up", "1"), text=down["text"])["text"] == STARTER
    copied = edited(("do:copy", "0"))
    assert titles(copied) == [
        "A loaf for the morning",
        "A loaf for the morning",
        "The wettest first",
    ]
    assert copied["good"]
    assert edited(("do:delete", "1"), text=copied["text"])["text"] == STARTER


def test_answers_and_questions_are_added_ticked_and_taken_out():
    text = edited(("do:add", "choice"))["text"]
    here = "problems/2/questions"
    more = edited(
        ("do:add-option", f"{here}/0/options"), (f"{here}/0/right", "2"), ("do:add-question", here),
        (f"{here}/0/options/2/text", "milk, all of it"), text=text,
    )  # fmt: skip
    assert more["good"], more["beside"]
    first, second = entries(more["text"]).plain["problems"][2]["questions"]
    assert [option.get("right") for option in first["options"]] == [None, None, "yes"]
    assert first["options"][2]["text"] == "milk, all of it"
    less = edited(
        ("do:remove", f"{here}/1"), ("do:remove", f"{here}/0/options/0"), text=more["text"]
    )
    assert len(entries(less["text"]).plain["problems"][2]["questions"][0]["options"]) == 2
    assert second["options"]


def test_problems_of_ours_are_taken_in_with_ids_of_their_own():
    keys = "first-swaps/small-batch preferments/no-such first-swaps/yogurt-loaf no-set/x"
    once = edited(("do:take", keys))
    twice = edited(("do:take", keys), text=once["text"])
    ids = [each.id for each in read_set(twice["text"], FILE).problems][2:]
    assert ids == ["small-batch", "yogurt-loaf", "small-batch-2", "yogurt-loaf-2"]


def test_complaints_stand_beside_their_fields():
    text = STARTER.replace("step: 50 g", "step: 40 g").replace("buttermilk", "butermilk")
    text = text.replace("title: My set", "titel: My set").replace(
        "by: water content", "by: water contents"
    )
    said = asked("show", text)["beside"]
    assert "Did you mean buttermilk" in said["problems/0/givens/liquid"]
    assert "never reaches 900 g" in said["problems/0/givens/flour/step"]
    assert "Did you mean “water content”?" in said["problems/1"]
    assert "Did you mean “title”?" in asked("show", text)["unplaced"]
    assert "line 3, column 1" in asked("show", text)["slips"]


def test_a_part_that_is_not_there_is_told_beside_its_field():
    text = STARTER.replace("    title: A loaf for the morning\n", "")
    assert "lacks “title”" in asked("show", text)["beside"]["problems/0/title"]


def test_a_text_that_is_no_yaml_has_no_form_and_keeps_every_sign():
    text = STARTER.replace("title: My set", "title: 'My mother's set'")
    answer = edited(("title", "x"), text=text)
    assert answer["text"] == text
    assert "The apostrophe ends the quotes" in answer["form"]
    assert not answer["good"]


def test_beside_the_form_is_what_a_student_sees_the_key_and_the_draws():
    seen = write(*look(STARTER, FILE, 0, "Ada Sample").preview)
    assert "The key to these numbers" in seen
    assert "66 draws, answers from" in seen
    mine = read_set(STARTER, FILE)
    shown = set_writer.draw(mine, mine.problems[0], "Ada Sample").shown
    assert all(
        number.replace(" ", "\u00a0") in seen for number in (shown["flour"], shown["hydration"])
    )
    whole = write(*(each for each in look(STARTER, FILE, -1, "").preview if each is not None))
    assert "The wettest first" in whole


def test_a_good_problem_is_shown_while_another_one_is_wrong():
    text = STARTER.replace("by: water content", "by: watter")
    assert "A loaf has" in write(*look(text, FILE, 0, "").preview)


def test_an_answer_is_marked_in_the_preview():
    answer = asked("mark", problem="morning-loaf", student="Ada", answers='{"liquid": "1 g"}')
    assert "0 of 2 marks" in write(*answer["elements"])


def test_the_bank_has_every_problem_of_ours_with_what_one_filters_by():
    rows = [each for top in asked("bank")["elements"] for each in top.iter("li")]
    assert len(rows) == sum(len(problems.load(key).problems) for key in problems.set_keys())
    for row in rows:
        assert row.get("data-skill")
        assert row.get("data-level") in "123"
        assert "mark" in row.get("data-words")


def test_each_thing_to_ask_for_has_an_example_sentence():
    listed = write(*asked("asks")["elements"])
    assert "A dough of" in listed
    assert listed.count("Add a problem that asks for") == len(REGISTRY) + 2
    for name in REGISTRY:
        assert "{" not in set_writer.set_bank.question_of(name)


@pytest.mark.parametrize("key", problems.set_keys())
def test_a_copy_of_one_of_ours_is_a_set_of_ones_own(key):
    answer = asked("ours", set=key, taken=f"my-{key}.yml\nother.yml")
    assert answer["file"] == f"my-{key}-2.yml"
    assert read_set(answer["text"], answer["file"], 0).key == f"my-{key}-2"


def test_a_new_set_takes_no_other_ones_name():
    assert asked("new", taken="my-set.yml")["file"] == "my-set-2.yml"


@pytest.mark.parametrize(
    ("raw", "says"),
    [
        (
            "title: Müllers Übung\n".encode("cp1252"),
            "It was read as Windows-1252: look at its accents.",
        ),
        ("title: Müllers Übung\r\n".encode("utf-16"), "It was read as UTF-16"),
        ("title: Müllers Übung\n".encode(), "week 1.yml is open."),
    ],
)
def test_a_file_is_read_in_its_encoding_and_that_is_said(raw, says, tmp_path):
    (tmp_path / "in").mkdir()
    (tmp_path / "in" / "week 1.yml").write_bytes(raw)
    answer = asked("open", folder=str(tmp_path))
    assert answer["text"] == "name: week-1\ntitle: Müllers Übung\n"
    assert says in answer["says"]


def test_a_document_is_refused_with_advice(tmp_path):
    (tmp_path / "in").mkdir()
    (tmp_path / "in" / "homework.docx").write_bytes(b"PK\x03\x04\x14\0")
    answer = asked("open", folder=str(tmp_path))
    assert answer["refused"]
    assert "copy the set, and paste it here" in answer["says"]


names = st.sampled_from(
    [name for n in range(2) for name, _ in fields(look(STARTER, FILE, n, "").form)]
)
acts = st.sampled_from(
    ["do:up", "do:copy", "do:delete", "do:remove", "do:add", "do:take", "do:add-option"]
)


@settings(max_examples=60)
@given(
    st.lists(
        st.tuples(names | acts | any_text, any_text | st.sampled_from(["0", "1", "list", "out"])),
        max_size=3,
    )
)
def test_whatever_is_typed_the_text_is_read_and_keeps_its_notes(edits):
    """Hostile words stay words; what cannot be done leaves the text as it was."""
    try:
        answer = edited(*edits)
    except (ValueError, LookupError):
        return
    assert answer["text"].startswith("# Everything after a # is a note to yourself.\n")
    entries(answer["text"])
    assert "<script>" not in answer["form"]


def test_no_edit_list_harms():
    for edits in ("", "[", "{}", "[1]", '[["title"]]', '[["title", 1]]', "[" * 5000):
        assert asked("edit", edits=edits)["text"] == STARTER


def test_a_set_that_is_too_large_is_refused_in_time():
    with pytest.raises(SetError):
        entries("#" * 300_000)
    assert not asked("show", "#" * 300_000)["good"]


def test_the_ingredients_of_this_device_are_brought_into_the_set_and_taken_out():
    own = [
        from_record({"name": "school kefir", "water": 88, "allergens": ["milk"], "density": 1.03}),
        from_record({"name": "my drink", "water": 90, "no_allergens": True}),
    ]
    with composition.known(own):
        brought = edited(("do:add-own", ""))
        again = edited(("do:add-own", ""), text=brought["text"])
    assert brought["good"]
    assert again["text"] == brought["text"]
    assert read_set(brought["text"], FILE).ingredients == tuple(own)
    used = brought["text"].replace("buttermilk]", "school kefir]")
    assert edited(text=used)["good"]
    one = edited(("do:remove", "ingredients/0"), text=brought["text"])
    assert [each.name for each in read_set(one["text"], FILE).ingredients] == ["my drink"]
    none = edited(("do:remove", "ingredients/0"), text=one["text"])
    assert none["good"]
    assert "ingredients:" not in none["text"]
