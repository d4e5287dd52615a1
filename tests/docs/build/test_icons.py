"""The icons beside the mark are drawn from it."""

import pytest

from docs.build.icons import ICONS, draw


@pytest.mark.parametrize("name", ICONS)
def test_the_icons_are_what_the_script_draws(name):
    assert (ICONS[name].folder / name).read_bytes() == draw(name)
