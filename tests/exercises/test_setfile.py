"""YAML to entries that remember their place; what would flood the reader is refused."""

import pytest
import yaml

from exercises import setfile
from exercises.problems import read_set
from exercises.setfile import SetError

BOMBS = {
    "aliases": "a: &a [x,x,x,x]\nb: &b [*a,*a,*a,*a]\nc: &c [*b,*b,*b,*b]\n",
    "merge keys": "a: &a {x: 1}\nb: {<<: *a}",
    "an object": "!!python/object/apply:os.system ['true']",
    "a binary": "title: !!binary R0lGODlhDAAMAIQAAP",
    "open lists": "[" * 190_000,
    "open maps": "{a: " * 40_000,
    "dashes": "- " * 90_000,
    "questions": "? " * 90_000,
    "stairs": "".join(" " * n + "a:\n" for n in range(600)),
    "many keys": "\n".join(f"k{n}: 1" for n in range(17_000)),
    "many problems": "title: a\nversion: 1\nproblems:\n" + "- id: a\n" * 20_000,
    "many documents": "---\na: 1\n" * 20_000,
    "a huge number": "title: a\nversion: " + "9" * 150_000 + "\nproblems: []",
    "a huge title": "title: " + "9" * 150_000 + "\nversion: 1\nproblems: [a]",
    "10 MB": "9" * 10_000_000,
    "no letter": 'title: "\\UFFFFFFFF"',
    "half a letter": 'title: "\\ud800"',
    "nothing": "",
    "a null byte": "title: \0",
    "unknown quotes": "'" * 190_001,
}


@pytest.mark.parametrize("bomb", BOMBS.values(), ids=BOMBS)
def test_a_bomb_of_yaml_is_refused_with_its_place(bomb, monkeypatch):
    read = 0
    plain = yaml.parse

    def counted(*arguments, **more):
        nonlocal read
        for event in plain(*arguments, **more):
            read += 1
            yield event

    monkeypatch.setattr(setfile.yaml, "parse", counted)
    with pytest.raises(SetError) as refused:
        read_set(bomb, "bomb.yml")
    assert read <= setfile.MOST_PARTS + 2
    assert len(refused.value.complaints) <= setfile.MOST_COMPLAINTS
    assert all(each.file == "bomb.yml" and each.line >= 1 for each in refused.value.complaints)
    assert len(str(refused.value)) < 30_000
