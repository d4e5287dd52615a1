"""Change one thing in a set's text, and leave the rest as it was written, comments too.

YAML's own nodes say where each value begins and ends; only those signs are replaced. Every change is
read back: what it gives must be the old data with that change and nothing else, else it is refused.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Collection
from functools import lru_cache

import yaml

from exercises import problems, setfile
from exercises.setfile import Entry, Path, SetError
from exercises.yaml_write import Data, Written, block, inline, item, written

_FILE = "set.yml"
# Where a part that is added has its place: after those that come before it here.
_ORDER = (
    "name", "title", "version", "lesson", "about", "id", "level", "marks per step", "tries", "ask",
    "by", "story", "hint cost", "unshown steps", "text", "right", "because", "show", "problems",
    "givens", "questions", "options", "items", "from", "to", "step",
)  # fmt: skip


class EditError(ValueError):
    """A change that cannot be made in this text; the message says so to its writer."""


@lru_cache(maxsize=8)
def entries(text: str) -> Entry:
    """What a text says, with places; one change looks at it again and again.

    Raises SetError as `setfile.parse`.
    """
    return setfile.parse(text, _FILE, problems.KNOWN)


def put(text: str, path: Path, value: Data) -> str:
    """Set the value at a path, or add it. Raises EditError, SetError for a text that is no YAML.

    A list or named parts are changed piece by piece, so that comments within them stay.
    """
    text = _ended(text)
    old = entries(text).part(*path)
    if old is not None and old.plain == value:
        return text
    if (
        old is not None
        and old.value
        and value
        and isinstance(value, dict)
        and isinstance(old.value, dict)
    ):
        return _put_parts(text, path, old.plain, value)
    if (
        old is not None
        and old.value
        and value
        and isinstance(value, list)
        and isinstance(old.value, list)
    ):
        return _put_items(text, path, old.plain, value)
    return _checked(text, _put_whole(text, path, value), lambda data: _with(data, path, value))


def remove(text: str, path: Path) -> str:
    """Take out a part or an item; comments right above an item go with it. Nothing where there is none."""
    text = _ended(text)
    if entries(text).part(*path) is None:
        return text
    parent = _node(text, path[:-1])
    if len(parent.value) == 1:
        empty = {} if isinstance(parent, yaml.MappingNode) else []
        return _checked(text, _put_whole(text, path[:-1], empty), lambda data: _without(data, path))
    made = _remove_item if isinstance(parent, yaml.SequenceNode) else _remove_part
    return _checked(text, made(text, parent, path[-1]), lambda data: _without(data, path))


def insert(text: str, path: Path, value: Data) -> str:
    """Put a new item into a list, before the one at the path's number, or at its end."""
    text = _ended(text)
    *parent, number = path
    there = entries(text).part(*parent)
    if there is None or not there.value or not isinstance(there.value, list):
        return put(text, tuple(parent), [value])
    node = _node(text, tuple(parent))
    number = min(number, len(node.value))
    if node.flow_style:
        made = _insert_inline(text, node, number, inline(value))
    else:
        column = node.start_mark.column
        lines = _as_problem(value, column) if len(path) == 2 else item(value, column)
        made = _insert_lines(text, node, number, lines)
    return _checked(text, made, lambda data: _with_item(data, tuple(parent), number, value))


def move(text: str, path: Path, by: int) -> str:
    """Let an item change places with the next one (`by` 1) or the one before (-1); its comments go along."""
    text = _ended(text)
    node = _node(text, path[:-1])
    first, second = sorted((path[-1], path[-1] + by))
    if first < 0 or second >= len(node.value):
        return text
    one, other = _own(text, node, first), _own(text, node, second)
    made = (
        text[: one[0]]
        + text[other[0] : other[1]]
        + text[one[1] : other[0]]
        + text[one[0] : one[1]]
        + text[other[1] :]
    )
    return _checked(text, made, lambda data: _swapped(data, path[:-1], first, second))


def duplicate(text: str, number: int) -> str:
    """A second copy of a problem, right after it, with an id of its own."""
    text = _ended(text)
    node = _node(text, ("problems",))
    taken = ids(entries(text))
    copied = entries(text).part("problems", number)
    if node.flow_style:
        made = insert(text, ("problems", number + 1), copied.plain)
    else:
        start, stop = _own(text, node, number)
        lines = text[start:stop].splitlines()
        made = _checked(
            text,
            _insert_lines(text, node, number + 1, lines),
            lambda data: _with_item(data, ("problems",), number + 1, copied.plain),
        )
    plain = copied.part("id")
    return put(made, ("problems", number + 1, "id"), unique(plain.text if plain else "", taken))


def take_in(text: str, other: str, wanted: Collection[str]) -> str:
    """Take problems of another set in, at the end, as they are written there; ids are made unique."""
    text, other = _ended(text), _ended(other)
    theirs = entries(other).part("problems")
    for number, problem in enumerate(theirs.value if theirs else ()):
        problem_id = problem.part("id")
        if problem_id and problem_id.text in wanted:
            own_id = unique(problem_id.text, ids(entries(text)))
            text = _taken(text, other, number, problem.plain)
            last = len(entries(text).part("problems").value) - 1
            text = put(text, ("problems", last, "id"), own_id)
    return text


def _taken(text: str, other: str, number: int, plain: Data) -> str:
    """One problem taken in as it is written; as its data where the text cannot be moved as it is."""
    there = entries(text).part("problems")
    count = len(there.value) if there and isinstance(there.value, list) else 0
    theirs = _node(other, ("problems",))
    if count and not theirs.flow_style:
        node = _node(text, ("problems",))
        start, stop = _own(other, theirs, number)
        by = node.start_mark.column - theirs.start_mark.column
        if not node.flow_style:
            lines = [_shifted(line, by) for line in other[start:stop].splitlines()]
            made = _insert_lines(text, node, count, lines)
            try:
                return _checked(
                    text, made, lambda data: _with_item(data, ("problems",), count, plain)
                )
            except EditError:
                pass
    return insert(text, ("problems", count), plain)


def _shifted(line: str, by: int) -> str:
    if not line.strip():
        return ""
    return " " * by + line if by >= 0 else re.sub(rf"^ {{0,{-by}}}", "", line)


def ids(root: Entry) -> set[str]:
    """The ids of a set's problems."""
    there = root.part("problems")
    found = [one.part("id") for one in there.value] if there and there.value else []
    return {each.text for each in found if each}


def unique(wanted: str, taken: Collection[str]) -> str:
    """An id that no other problem has: ``one-loaf``, else ``one-loaf-2`` …"""
    stem = wanted[:70] or "problem"
    return next(
        each
        for n in range(1, len(taken) + 2)
        if (each := stem if n == 1 else f"{stem}-{n}") not in taken
    )


def slug(words: str, otherwise: str = "problem") -> str:
    """An id made from a title: ``Müller's loaf`` gives ``mullers-loaf``."""
    plain = unicodedata.normalize("NFKD", words[:200]).encode("ascii", "ignore").decode().lower()
    return (
        re.sub(r"[^a-z0-9]+", "-", plain.replace("'", "")).strip("-")[:60].strip("-") or otherwise
    )


# What a change does to plain data


def _with(data: Data, path: Path, value: Data) -> Data:
    if not path:
        return value
    step, *rest = path
    if isinstance(step, int):
        return [_with(one, tuple(rest), value) if n == step else one for n, one in enumerate(data)]
    inside = data if isinstance(data, dict) else {}
    return inside | {step: _with(inside.get(step, {}), tuple(rest), value)}


def _at(data: Data, path: Path) -> Data:
    for step in path:
        data = data[step]
    return data


def _without(data: Data, path: Path) -> Data:
    parent = _at(data, path[:-1])
    if isinstance(parent, dict):
        left = {name: one for name, one in parent.items() if name != path[-1]}
    else:
        left = [one for n, one in enumerate(parent) if n != path[-1]]
    return _with(data, path[:-1], left)


def _with_item(data: Data, path: Path, number: int, value: Data) -> Data:
    there = _at(data, path)
    return _with(data, path, [*there[:number], value, *there[number:]])


def _swapped(data: Data, path: Path, first: int, second: int) -> Data:
    there = list(_at(data, path))
    there[first], there[second] = there[second], there[first]
    return _with(data, path, there)


def _checked(old: str, new: str, change: Callable[[Data], Data]) -> str:
    """The new text, if it says what the old one said with the change, and nothing else."""
    try:
        if entries(new).plain == change(entries(old).plain):
            return new
    except SetError as error:
        larger = next((c.message for c in error.complaints if "larger" in c.message), "")
        if larger:
            raise EditError(larger) from None
    raise EditError("This cannot be changed here, as it is written. Change it in the text.")


# Pieces of a value


def _put_parts(text: str, path: Path, old: dict[str, Data], new: dict[str, Data]) -> str:
    for name, value in new.items():
        text = put(text, (*path, name), value)
    for name in old:
        if name not in new:
            text = remove(text, (*path, name))
    return text


def _put_items(text: str, path: Path, old: list[Data], new: list[Data]) -> str:
    """Items at the start and the end that stay as they are keep their place and their comments."""
    start = 0
    while start < min(len(old), len(new)) and old[start] == new[start]:
        start += 1
    end = 0
    while end < min(len(old), len(new)) - start and old[-1 - end] == new[-1 - end]:
        end += 1
    before, after = len(old) - end, len(new) - end
    both = min(before, after)
    for number in range(start, both):
        text = put(text, (*path, number), new[number])
    for number in range(both, after):
        text = insert(text, (*path, number), new[number])
    for number in reversed(range(both, before)):
        text = remove(text, (*path, number))
    return text


# Signs in the text


def _ended(text: str) -> str:
    return text if text.endswith("\n") or not text else text + "\n"


def _node(text: str, path: Path) -> yaml.Node:
    found = setfile.composed(text, _FILE, problems.KNOWN)
    for step in path:
        if isinstance(found, yaml.MappingNode):
            found = next((value for key, value in found.value if key.value == step), None)
        elif isinstance(found, yaml.SequenceNode) and isinstance(step, int):
            found = found.value[step] if step < len(found.value) else None
        else:
            found = None
        if found is None:
            raise EditError("That is no longer in the set. Look at its text.")
    return found


def _end(text: str, node: yaml.Node) -> int:
    """Where a value's own signs end: YAML counts what follows a block to it, up to the next sign."""
    if isinstance(node, yaml.ScalarNode):
        stop = node.end_mark.index
        if node.style in ("|", ">"):
            stop = max(len(text[:stop].rstrip()), _header_end(text, node))
        return stop
    if node.flow_style or not node.value:
        return node.end_mark.index
    last = node.value[-1]
    return max(_end(text, each) for each in (last if isinstance(last, tuple) else (last,)))


def _header_end(text: str, node: yaml.Node) -> int:
    """The end of the sign that begins lines of text: | or >-."""
    return re.compile(r"[|>][\d+-]*").match(text, node.start_mark.index).end()


def _line_start(text: str, place: int) -> int:
    return text.rfind("\n", 0, place) + 1


def _line_end(text: str, place: int) -> int:
    """The place after the line's end."""
    found = text.find("\n", place)
    return len(text) if found < 0 else found + 1


def _joined(text: str, lines: Collection[str]) -> str:
    end = "\r\n" if "\r\n" in text else "\n"
    return "".join(line + end for line in lines)


def _put_whole(text: str, path: Path, value: Data) -> str:
    """Replace or add a value as a whole."""
    if not path:
        raise EditError("A whole set is not changed at once.")
    parent = _parent(text, path)
    if parent is None:
        return _put_whole(text, path[:-1], _nested(path[-1], value))
    if isinstance(parent, yaml.SequenceNode):
        if path[-1] >= len(parent.value):
            raise EditError("That is no longer in the set. Look at its text.")
        return _replaced(text, parent, parent.value[path[-1]], None, value)
    pair = next((pair for pair in parent.value if pair[0].value == path[-1]), None)
    if pair is None:
        return _added(text, parent, path[-1], value)
    return _replaced(text, parent, pair[1], pair[0], value)


def _parent(text: str, path: Path) -> yaml.CollectionNode | None:
    """What holds the value; None where it has to be made."""
    try:
        parent = _node(text, path[:-1])
    except EditError:
        if isinstance(path[-1], int):
            raise
        return None
    fits = isinstance(parent, yaml.SequenceNode if isinstance(path[-1], int) else yaml.MappingNode)
    return parent if fits and (parent.value or parent.flow_style is False) else None


def _nested(step: str | int, value: Data) -> Data:
    return [value] if isinstance(step, int) else {step: value}


def _replaced(
    text: str, parent: yaml.Node, node: yaml.Node, key: yaml.Node | None, value: Data
) -> str:
    """A value in place of another; a comment behind its first line stays."""
    start, stop = node.start_mark.index, _end(text, node)
    if parent.flow_style:
        quotes = node.style if isinstance(node, yaml.ScalarNode) else None
        new = written(value, 0, quotes or "").head if _fits_inline(value, quotes) else inline(value)
        return text[:start] + _spaced(text, start, new) + text[stop:]
    column = key.start_mark.column if key else parent.start_mark.column
    quotes = (node.style or "") if isinstance(node, yaml.ScalarNode) else ""
    new = written(value, column, quotes if quotes in ("'", '"') else "")
    head_end = stop
    if isinstance(node, yaml.ScalarNode) and quotes in ("|", ">") and quotes:
        head_end = _header_end(text, node)
    elif not isinstance(node, yaml.ScalarNode) and not node.flow_style and key:
        start = head_end = text.index(":", key.end_mark.index) + 1
    if not key and not isinstance(node, yaml.ScalarNode) and not node.flow_style:
        first, *more = item(value, column)
        new = Written(first[column + 2 :], tuple(more))
    line_end = _line_end(text, head_end)
    after = text[head_end:line_end]
    rest = text[max(line_end, _line_end(text, stop)) :] if head_end < stop else text[line_end:]
    if head_end == stop and "\n" in text[start:stop] and not new.body:
        return text[:start] + _spaced(text, start, new.head) + text[stop:]
    before = text[:start] if new.head else text[:start].rstrip(" ")
    return before + _spaced(text, start, new.head) + after + _joined(text, new.body) + rest


def _fits_inline(value: Data, quotes: str | None) -> bool:
    return isinstance(value, str) and quotes in ("'", '"') and "\n" not in value


def _spaced(text: str, place: int, new: str) -> str:
    """A value right after a colon or a hyphen needs a space."""
    return f" {new}" if new and text[place - 1 : place] in (":", "-", ",") else new


def _added(text: str, parent: yaml.MappingNode, name: str, value: Data) -> str:
    """A part that was not there, in its usual place."""
    rank = {each: n for n, each in enumerate(_ORDER)}
    mine = rank.get(name, len(rank))
    before = [n for n, (key, _) in enumerate(parent.value) if rank.get(key.value, 0) < mine]
    number = before[-1] + 1 if before else 0
    if parent.flow_style:
        return _insert_inline(text, parent, number, inline({name: value})[1:-1])
    column = parent.value[0][0].start_mark.column
    lines = block({name: value}, column)
    if number:
        place = _line_end(text, _end(text, _value(parent, number - 1)))
        return text[:place] + _joined(text, lines) + text[place:]
    place = parent.value[0][0].start_mark.index
    return text[:place] + _joined(text, lines).lstrip(" ") + " " * column + text[place:]


def _value(parent: yaml.MappingNode, number: int) -> yaml.Node:
    key, value = parent.value[number]
    return value if value.end_mark.index >= key.end_mark.index else key


def _edges(text: str, parent: yaml.CollectionNode, number: int) -> tuple[int, int]:
    """Where an item, or a part with its name, begins and ends."""
    each = parent.value[number]
    if isinstance(each, tuple):
        return each[0].start_mark.index, max(_end(text, one) for one in each)
    return each.start_mark.index, _end(text, each)


def _insert_inline(text: str, parent: yaml.CollectionNode, number: int, new: str) -> str:
    if not parent.value:
        place = parent.start_mark.index + 1
        return text[:place] + new + text[place:]
    if number:
        place = _edges(text, parent, number - 1)[1]
        return f"{text[:place]}, {new}{text[place:]}"
    place = _edges(text, parent, 0)[0]
    return f"{text[:place]}{new}, {text[place:]}"


def _insert_lines(text: str, node: yaml.SequenceNode, number: int, lines: list[str]) -> str:
    """New lines before an item of a block list; blank lines part them as the others are."""
    gap = [""] * _parted(text, node)
    if number:
        place = _own(text, node, number - 1)[1]
        return text[:place] + _joined(text, [*gap, *lines]) + text[place:]
    place = _own(text, node, 0)[0]
    return text[:place] + _joined(text, [*lines, *gap]) + text[place:]


def _parted(text: str, node: yaml.SequenceNode) -> bool:
    """Whether blank lines part the items of a list; long items that are alone are parted."""
    if len(node.value) == 1:
        start, stop = _own(text, node, 0)
        return text.count("\n", start, stop) > 4
    one, other = _own(text, node, 0)[1], _own(text, node, 1)[0]
    return any(not line.strip() for line in text[one:other].splitlines())


def _as_problem(value: Data, column: int) -> list[str]:
    """A problem on lines of its own, however short."""
    if not isinstance(value, dict) or not value:
        return item(value, column)
    first, *more = block(value, column + 2)
    return [f"{' ' * column}- {first.lstrip()}", *more]


def _own(text: str, node: yaml.SequenceNode, number: int) -> tuple[int, int]:
    """The lines of an item, from the comments right above it; within brackets its signs only."""
    start, stop = _edges(text, node, number)
    if node.flow_style:
        return start, stop
    start = _line_start(text, _hyphen(text, node, start))
    column = node.start_mark.column
    # A comment that is less deep is about more than this item.
    while start:
        above = text[_line_start(text, start - 1) : start]
        deep = len(above) - len(above.lstrip(" "))
        if not above.lstrip(" ").startswith("#") or deep < column:
            break
        start = _line_start(text, start - 1)
    return start, _line_end(text, stop)


def _hyphen(text: str, node: yaml.SequenceNode, place: int) -> int:
    """The hyphen of the item whose value begins at a place."""
    column = node.start_mark.column
    while place > 0:
        place = text.rfind("-", 0, place)
        start = _line_start(text, place)
        if place - start == column and not text[start:place].strip(" -"):
            return place
    raise EditError("This cannot be changed here, as it is written. Change it in the text.")


def _remove_item(text: str, node: yaml.SequenceNode, number: int) -> str:
    start, stop = _own(text, node, number)
    if node.flow_style:
        return _remove_inline(text, node, number)
    if number:
        # The blank lines before it parted it from the one above.
        start = len(text[:start].rstrip(" \r\n"))
        start = _line_end(text, start)
    else:
        while text[stop : _line_end(text, stop)].strip(" \r\n") == "" and stop < len(text):
            stop = _line_end(text, stop)
    return text[:start] + text[stop:]


def _remove_part(text: str, node: yaml.MappingNode, name: str) -> str:
    number = next(n for n, (key, _) in enumerate(node.value) if key.value == name)
    if node.flow_style:
        return _remove_inline(text, node, number)
    start, stop = _edges(text, node, number)
    before = text[_line_start(text, start) : start]
    if before.strip():
        # It is behind a hyphen: the next part takes its place.
        following = node.value[number + 1][0].start_mark.index
        between = text[_line_end(text, stop) : following]
        return text[:start] + (
            text[following:] if not between.strip() else text[_line_end(text, stop) - 1 :]
        )
    return text[: _line_start(text, start)] + text[_line_end(text, stop) :]


def _remove_inline(text: str, node: yaml.CollectionNode, number: int) -> str:
    start, stop = _edges(text, node, number)
    if number + 1 < len(node.value):
        comma = _comma(text, stop)
        following = _edges(text, node, number + 1)[0]
        plain = not text[comma + 1 : following].strip(" ")
        return text[:start] + text[stop:comma] + text[following if plain else comma + 1 :]
    before = _edges(text, node, number - 1)[1]
    comma = _comma(text, before)
    between = text[comma + 1 : start]
    return text[:before] + text[before:comma] + (between if between.strip() else "") + text[stop:]


def _comma(text: str, place: int) -> int:
    """The next comma that is not in a comment."""
    while text[place] != ",":
        place = text.index("\n", place) if text[place] == "#" else place + 1
    return place
