"""No module leads back to itself by its imports, those inside functions and for type checking included."""

import ast
from collections.abc import Iterator
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import caddie

ROOT = Path(caddie.__file__).parent


def modules() -> dict[str, Path]:
    found = {}
    for path in sorted(ROOT.rglob("*.py")):
        parts = ["caddie", *path.relative_to(ROOT).with_suffix("").parts]
        found[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = path
    return found


def imported(tree: ast.Module) -> Iterator[tuple[str, str]]:
    """Modules named by import statements anywhere, each with the name taken from it."""
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom):
            assert not node.level, "relative import"
            yield from ((node.module or "", alias.name) for alias in node.names)
        elif isinstance(node, ast.Import):
            yield from ((alias.name, "") for alias in node.names)


def leads_to() -> dict[str, set[str]]:
    known = modules()
    graph = {}
    for name, path in known.items():
        pairs = imported(ast.parse(path.read_text(encoding="utf-8")))
        reached = {f"{module}.{part}" if f"{module}.{part}" in known else module for module, part in pairs}
        graph[name] = {module for module in reached if module in known and module != name}
    return graph


def test_no_import_leads_in_a_circle() -> None:
    graph = leads_to()
    assert sum(map(len, graph.values())) > len(graph)
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as error:
        raise AssertionError(" -> ".join(error.args[1])) from None
