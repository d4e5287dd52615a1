"""What comes from npm is installed where something that the lock file names is not there as named."""

import json
from types import SimpleNamespace

import pytest

from docs.build.error import BuildError
from docs.engine import npm

LOCKED = {"": {}, "node_modules/a": {"version": "1.0.0"}, "node_modules/b": {"version": "2.0.0"}}
MAY_LACK = {"node_modules/c": {"version": "3.0.0", "optional": True}}


@pytest.fixture
def asked(tmp_path, monkeypatch):
    """What npm was asked to do; it finds no registry."""
    calls = []

    def call(command, **how):
        calls.append(command[0])
        return SimpleNamespace(returncode=1)

    monkeypatch.setattr(npm, "npm", call)
    (tmp_path / "node_modules").mkdir()
    write(tmp_path / "package-lock.json", LOCKED | MAY_LACK)
    return calls


def write(file, packages):
    file.write_text(json.dumps({"packages": packages}), "utf-8")


@pytest.mark.parametrize(
    "there",
    [
        {},
        {"node_modules/a": LOCKED["node_modules/a"]},
        LOCKED | {"node_modules/b": {"version": "1.9.0"}},
    ],
)
def test_what_is_missing_or_older_is_asked_for_whichever_package_is_wanted(tmp_path, asked, there):
    write(tmp_path / "node_modules/.package-lock.json", there)
    with pytest.raises(BuildError, match="could not install a"):
        npm.installed(tmp_path, "a")
    assert asked == ["ci"]


def test_what_was_broken_off_is_asked_for(tmp_path, asked):
    with pytest.raises(BuildError):
        npm.installed(tmp_path, "a")
    assert asked == ["ci"]


def test_what_is_there_is_left_alone(tmp_path, asked):
    write(tmp_path / "node_modules/.package-lock.json", LOCKED)
    assert npm.installed(tmp_path, "a") == tmp_path / "node_modules" / "a"
    assert asked == []
