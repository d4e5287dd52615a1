"""What is public in `calc`, read from its source: names, signatures, docstrings.

A name is public when its module defines it and it does not begin with an underscore. A module's
``__all__`` adds names that it hands on from another module.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from itertools import dropwhile, takewhile

PACKAGE = "calc"
# A constant's value is shown up to this many characters.
LONGEST_VALUE = 60
# A signature longer than this is written with a line for each parameter.
LONGEST_LINE = 72


@dataclass(frozen=True)
class Entry:
    """A public name: how it is written, what its docstring (or the comment above it) says."""

    name: str
    kind: str
    signature: str
    doc: str
    members: tuple[Entry, ...] = ()


@dataclass(frozen=True)
class Module:
    """A public module. `knows` gives the full name of each of its own and imported names."""

    name: str
    doc: str
    entries: tuple[Entry, ...]
    knows: dict[str, str] = field(default_factory=dict)

    @property
    def summary(self) -> str:
        """The first sentence of its docstring's first paragraph."""
        first = " ".join(self.doc.split("\n\n")[0].split())
        return first.split(". ")[0].rstrip(".") + "."


@cache
def modules() -> tuple[Module, ...]:
    """The package itself, then its public modules by name."""
    return tuple(map(module_of, _sources()))


@cache
def module_of(name: str) -> Module:
    """The module of that full name, such as ``calc.units``. Raises KeyError."""
    return _module(name, _sources()[name].read_text("utf-8"))


@cache
def _sources() -> dict[str, Traversable]:
    return dict(_package(PACKAGE, files(PACKAGE)))


def _package(name: str, folder: Traversable) -> Iterator[tuple[str, Traversable]]:
    """The file of a package, then those of its public modules and packages by name."""
    yield name, folder / "__init__.py"
    for path in sorted(folder.iterdir(), key=lambda path: path.name):
        inner = f"{name}.{path.name.removesuffix('.py')}"
        if path.name.startswith("_"):
            continue
        if path.name.endswith(".py"):
            yield inner, path
        elif (path / "__init__.py").is_file():
            yield from _package(inner, path)


def _module(name: str, source: str) -> Module:
    tree = ast.parse(source)
    lines = source.splitlines()
    imported = dict(_imported(tree))
    handed_on = [
        Entry(each, "handed on", each, f"See `{each}`.") for each in _all(tree) if each in imported
    ]
    entries = [entry for node in tree.body for entry in _entries(node, lines)]
    own = {entry.name: f"{name}.{entry.name}" for entry in entries}
    return Module(name, ast.get_docstring(tree) or "", (*entries, *handed_on), imported | own)


def _imported(tree: ast.Module) -> Iterator[tuple[str, str]]:
    for node in tree.body:
        if isinstance(node, ast.ImportFrom) and (node.module or "").split(".")[0] == PACKAGE:
            for each in node.names:
                yield each.asname or each.name, f"{node.module}.{each.name}"


def _all(tree: ast.Module) -> list[str]:
    for node in tree.body:
        if isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "__all__":
            return ast.literal_eval(node.value)
    return []


def _entries(node: ast.stmt, lines: list[str]) -> Iterator[Entry]:
    """The public names that one statement of a module defines."""
    if isinstance(node, ast.FunctionDef):
        if not node.name.startswith("_"):
            yield _function(node)
    elif isinstance(node, ast.ClassDef):
        if not node.name.startswith("_"):
            yield _class(node)
    elif isinstance(node, ast.Assign | ast.AnnAssign):
        targets = node.targets if isinstance(node, ast.Assign) else [node.target]
        for target in targets:
            for name in target.elts if isinstance(target, ast.Tuple) else [target]:
                if isinstance(name, ast.Name) and not name.id.startswith("_"):
                    yield Entry(name.id, "value", _assigned(name.id, node), _comment(node, lines))


def _assigned(name: str, node: ast.Assign | ast.AnnAssign) -> str:
    kind = f": {ast.unparse(node.annotation)}" if isinstance(node, ast.AnnAssign) else ""
    target = node.targets[0] if isinstance(node, ast.Assign) else node.target
    value = node.value
    if isinstance(target, ast.Tuple) and isinstance(value, ast.Tuple):
        value = value.elts[[each.id for each in target.elts].index(name)]
    shown = ast.unparse(value)
    return f"{name}{kind} = {shown}" if len(shown) <= LONGEST_VALUE else f"{name}{kind}"


def _comment(node: ast.stmt, lines: list[str]) -> str:
    """The nearest comment above a statement, with no empty line between: it may be for several."""
    above = lines[: node.lineno - 1]
    block = list(takewhile(str.strip, reversed(above)))
    said = list(takewhile(_is_comment, dropwhile(lambda line: not _is_comment(line), block)))
    return "\n".join(line.removeprefix("#").strip() for line in reversed(said))


def _is_comment(line: str) -> bool:
    return line.startswith("#")


def _function(node: ast.FunctionDef, prefix: str = "") -> Entry:
    marks = {ast.unparse(each) for each in node.decorator_list}
    doc = ast.get_docstring(node) or ""
    result = ast.unparse(node.returns) if node.returns else ""
    if marks & {"property", "cached_property"}:
        return Entry(node.name, "property", f"{node.name}: {result}", doc)
    drop_first = bool(prefix) and "staticmethod" not in marks
    parameters = _parameters(node.args)[1 if drop_first else 0 :]
    name = f"{prefix}.{node.name}" if "classmethod" in marks else node.name
    end = f" -> {result}" if result else ""
    return Entry(node.name, "function", _call(name, parameters, end), doc)


def _class(node: ast.ClassDef) -> Entry:
    bases = ", ".join(ast.unparse(each) for each in node.bases)
    # A method without a docstring has its base's: Python's own rule.
    members = [
        _function(each, node.name)
        for each in node.body
        if isinstance(each, ast.FunctionDef) and not each.name.startswith("_")
    ]
    members = [
        each if each.doc or not bases else replace(each, doc=f"As `{bases}.{each.name}`.")
        for each in members
    ]
    fields = [ast.unparse(each) for each in node.body if isinstance(each, ast.AnnAssign)]
    makes = next(
        (
            each
            for each in node.body
            if isinstance(each, ast.FunctionDef) and each.name == "__init__"
        ),
        None,
    )
    parameters = _parameters(makes.args)[1:] if makes else fields
    end = f", a kind of {bases}" if bases else ""
    return Entry(
        node.name,
        "class",
        _call(node.name, parameters, end),
        ast.get_docstring(node) or "",
        tuple(members),
    )


def _parameters(arguments: ast.arguments) -> list[str]:
    """Each parameter as it is written, with its default."""
    plain = [*arguments.posonlyargs, *arguments.args]
    defaults = [None] * (len(plain) - len(arguments.defaults)) + arguments.defaults
    written = [_parameter(each, default) for each, default in zip(plain, defaults, strict=True)]
    if arguments.vararg:
        written.append(f"*{ast.unparse(arguments.vararg)}")
    elif arguments.kwonlyargs:
        written.append("*")
    written += [
        _parameter(each, default)
        for each, default in zip(arguments.kwonlyargs, arguments.kw_defaults, strict=True)
    ]
    if arguments.kwarg:
        written.append(f"**{ast.unparse(arguments.kwarg)}")
    return written


def _parameter(argument: ast.arg, default: ast.expr | None) -> str:
    text = ast.unparse(argument)
    return text if default is None else f"{text} = {ast.unparse(default)}"


def _call(name: str, parameters: list[str], end: str) -> str:
    one_line = f"{name}({', '.join(parameters)}){end}"
    if len(one_line) <= LONGEST_LINE:
        return one_line
    return "\n".join((f"{name}(", *(f"    {each}," for each in parameters), f"){end}"))
