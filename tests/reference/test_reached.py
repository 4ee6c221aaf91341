"""Every function that is checked against published values is used: a walk over the calls of the source, from the services.

The walk reads the source alone. A name is followed through imports; an attribute of something unknown may be any method of that
name; a class stands for its methods; a module that is used has run its own statements.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

pytestmark = pytest.mark.reference

ROOT = Path(__file__).parents[2]
CHECKED_ROOMS = ("tuner.physics", "tuner.safety", "tuner.learning")


def _module_of(path: Path) -> str:
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


class _Source:
    """The package as functions, classes and what their bodies name."""

    def __init__(self) -> None:
        self.trees = {_module_of(path): ast.parse(path.read_text("utf-8")) for path in sorted((ROOT / "tuner").rglob("*.py"))}
        self.names = {module: self._names(module, tree) for module, tree in self.trees.items()}
        self.bodies: dict[str, list[ast.AST]] = {}
        self.homes: dict[str, str] = {}
        self.methods: dict[str, list[str]] = {}
        for module, tree in self.trees.items():
            self._collect(module, tree)

    def _names(self, module: str, tree: ast.Module) -> dict[str, str]:
        found: dict[str, str] = {}
        for node in ast.walk(tree):
            if isinstance(node, ast.ImportFrom) and node.module and node.level == 0:
                found |= {alias.asname or alias.name: f"{node.module}.{alias.name}" for alias in node.names}
            elif isinstance(node, ast.Import):
                found |= {alias.asname or alias.name.partition(".")[0]: alias.name for alias in node.names}
        for top in tree.body:
            if isinstance(top, ast.FunctionDef | ast.ClassDef):
                found[top.name] = f"{module}.{top.name}"
        return found

    def _collect(self, module: str, tree: ast.Module) -> None:
        loose: list[ast.AST] = []
        for top in tree.body:
            if isinstance(top, ast.FunctionDef | ast.AsyncFunctionDef):
                self._add(f"{module}.{top.name}", module, [top])
            elif isinstance(top, ast.ClassDef):
                self._add(f"{module}.{top.name}", module, [top])
                for part in top.body:
                    if isinstance(part, ast.FunctionDef | ast.AsyncFunctionDef):
                        self.methods.setdefault(part.name, []).append(f"{module}.{top.name}")
            elif not isinstance(top, ast.Import | ast.ImportFrom):
                loose.append(top)
        self._add(module, module, loose)

    def _add(self, name: str, module: str, bodies: list[ast.AST]) -> None:
        self.bodies[name], self.homes[name] = bodies, module

    def resolved(self, name: str) -> str | None:
        """A function, class or module of the package behind a dotted name, through re-exports."""
        for _ in range(8):
            if name in self.bodies:
                return name
            module, _, last = name.rpartition(".")
            onward = self.names.get(module, {}).get(last)
            if onward is None or onward == name:
                return module if module in self.trees else None  # a constant: its module ran to make it
            name = onward
        return None

    def called_by(self, name: str) -> Iterator[str]:
        """Everything of the package that a function, class or module names."""
        module = self.homes[name]
        if name != module:
            yield module
        for body in self.bodies[name]:
            for node in ast.walk(body):
                if isinstance(node, ast.Name):
                    yield from self._found(self.names[module].get(node.id))
                elif isinstance(node, ast.Attribute):
                    yield from self._attribute(module, node)
                elif isinstance(node, ast.ImportFrom) and node.module:
                    for alias in node.names:
                        yield from self._found(f"{node.module}.{alias.name}")

    def _attribute(self, module: str, node: ast.Attribute) -> Iterator[str]:
        base = self.names[module].get(node.value.id) if isinstance(node.value, ast.Name) else None
        if base is not None and (resolved := self.resolved(f"{base}.{node.attr}")):
            yield resolved
        elif base is None:
            yield from self.methods.get(node.attr, [])

    def _found(self, name: str | None) -> Iterator[str]:
        if name and (resolved := self.resolved(name)):
            yield resolved


@cache
def _source() -> _Source:
    return _Source()


@cache
def reached() -> frozenset[str]:
    """Functions, classes and modules that a service reaches."""
    source = _source()
    waiting = [name for name in source.bodies if name.startswith("tuner.services.")]
    seen = set(waiting)
    while waiting:
        for name in source.called_by(waiting.pop()):
            if name not in seen:
                seen.add(name)
                waiting.append(name)
    return frozenset(seen)


def _checked() -> list[str]:
    """Functions and classes of the package that the checks in this folder call."""
    source, found = _source(), set()
    for path in sorted(Path(__file__).parent.glob("test_*.py")):
        tree = ast.parse(path.read_text("utf-8"))
        names: dict[str, str] = {}
        for node in ast.walk(tree):
            if isinstance(node, ast.ImportFrom) and node.module:
                names |= {alias.asname or alias.name: f"{node.module}.{alias.name}" for alias in node.names}
        for node in ast.walk(tree):
            if isinstance(node, ast.Name) and node.id in names:
                found.add(source.resolved(names[node.id]))
            elif isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and node.value.id in names:
                found.add(source.resolved(f"{names[node.value.id]}.{node.attr}"))
    return sorted(name for name in found if name and name.startswith(CHECKED_ROOMS) and name not in source.trees)


@pytest.mark.parametrize("name", _checked())
def test_a_checked_function_is_reached_from_a_service(name: str) -> None:
    assert name in reached()


def test_the_walk_tells_used_from_unused() -> None:
    assert "tuner.safety.lethality.lethality_min" in reached()
    assert "tuner.physics.conduction.FreezingCells" in reached()
    assert "tuner.rehearsal.construction.no_such_function" not in reached()
    assert len(reached()) < len(_source().bodies)


@pytest.mark.parametrize("room", ["tuner.physics", "tuner.safety"])
def test_no_function_of_these_rooms_is_there_for_tests_alone(room: str) -> None:
    source = _source()
    unused = [
        name for name in source.bodies if name.startswith(f"{room}.") and name not in source.trees and name not in reached()
    ]
    assert unused == []
