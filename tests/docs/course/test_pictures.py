"""The drawings: each lesson and tool has one, in its box, in colours that the style sheet knows, hidden from no eye."""

import re

import pytest

from docs.build.site import PAGES
from docs.course import kitchen_picture, look_gallery
from docs.course.pictures.scenes import SCENES, hands_in_dough
from docs.course.pictures.shapes import holes, limbs, smooth
from exercises.lessons import LESSONS
from exercises.publish.html import element

STYLE = "".join(
    (PAGES / "assets" / name).read_text("utf-8") for name in ("pictures.css", "style.css")
)


def classes(mark):
    return {name for each in mark.iter() for name in (each.get("class") or "").split()}


def test_each_lesson_has_its_own_picture():
    drawn = [SCENES[key] for key in LESSONS]
    assert len(set(drawn)) == len(LESSONS)


@pytest.mark.parametrize("draw", [*dict.fromkeys(SCENES.values()), hands_in_dough])
def test_a_picture_is_the_same_each_time_and_the_style_knows_its_colours(draw):
    first, second = (element("g", *draw()) for _ in range(2))
    assert [each.attrib for each in first.iter()] == [each.attrib for each in second.iter()]
    for name in classes(first) - {"dw-ink", "dw-of-none"}:
        assert re.search(rf"\.{name}\b", STYLE), name
    for each in first.iter("path"):
        assert re.fullmatch(r"(?:[MLHVCQAZhvclaqmz]|-?\d*\.?\d+|[\s,])*", each.get("d", "")), each.get("d")  # fmt: skip


def test_every_colour_of_a_drawing_has_a_light_and_a_dark_form():
    light, dark = STYLE.split('[data-md-color-scheme="slate"]', 1)
    for name in re.findall(r"var\((--dw-art-[a-z]+)\)", STYLE):
        assert f"{name}:" in light, name
        assert f"{name}:" in dark, name


def test_a_picture_says_nothing_to_a_screen_reader():
    (made,) = kitchen_picture.build({"of": "preferments"})
    assert made.find("svg").get("aria-hidden") == "true"
    assert "".join(made.itertext()) == ""


def test_a_name_that_no_picture_has_is_told_with_the_likely_one():
    with pytest.raises(ValueError, match="preferments"):
        kitchen_picture.build({"of": "preferment"})
    with pytest.raises(ValueError, match="elements or pictures"):
        look_gallery.build({"of": "colours"})


@pytest.mark.parametrize("of", ["elements", "pictures"])
def test_the_gallery_shows_both_schemes_with_no_id_twice(of):
    made = look_gallery.build({"of": of})
    assert [each.get("data-md-color-scheme") for each in made] == ["default", "slate"]
    ids = [each.get("id") for part in made for each in part.iter() if each.get("id")]
    assert len(ids) == len(set(ids))


def test_holes_of_a_crumb_are_inside_and_apart():
    square = [(0, 0), (100, 0), (100, 100), (0, 100)]
    made = holes(square, 40, 8, seed=5)
    assert 20 < len(made) <= 40
    for each in made:
        numbers = [float(one) for one in re.findall(r"-?\d+\.\d+", each.get("d"))[:2]]
        assert all(0 < one < 100 for one in numbers)


def test_edges_of_limbs_are_all_behind_their_fillings():
    made = limbs([("M0 0L0 9", 4), ("M0 0L9 9", 6)])
    assert ["edge" in each.get("class") for each in made] == [True, True, False, False]


def test_a_curve_goes_through_its_points():
    path = smooth([(0, 0), (10, 5), (20, 0)], closed=False)
    assert path.startswith("M0.0 0.0C")
    assert "10.0 5.0" in path
    assert path.endswith("20.0 0.0")
