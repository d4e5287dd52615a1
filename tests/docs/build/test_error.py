"""What goes wrong in a build ends the command with words, not with a traceback."""

import pytest

import docs.__main__ as command
from docs.build.error import BuildError


@pytest.mark.parametrize("asked", [["build"], ["serve", "--offline"]])
def test_the_command_tells_it_and_ends(monkeypatch, capsys, asked):
    def fails(*_, **__):
        raise BuildError("lesson.md:3: nothing is called <loaf>")

    monkeypatch.setattr(command, "build_site", fails)
    monkeypatch.setattr("sys.argv", ["docs", *asked])
    assert command.main() == 1
    assert capsys.readouterr().err == "lesson.md:3: nothing is called <loaf>\n"
