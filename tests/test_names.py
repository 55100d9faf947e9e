"""A public class or constant stands for one thing: its name is defined in one module alone."""

import ast
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

import caddie

ROOT = Path(caddie.__file__).parent

ON_PURPOSE = {
    "app": "each group of commands is a typer app, named by its module",
    "T": "a type variable stands for nothing in particular",
    "MIGRATIONS": "the bag's and the log's, each read within its own module of that name",
    "HandsFree": "the option, and what it switches on",
    "Loudspeaker": "the option, and what it names",
    "Microphone": "the option, and what it names",
    "Answer": "of the conversation, and the stock form of one in `talk/stock.py`",
    "Entry": "of the grammar, and of the log",
    "Heard": "by the ears; on the range, as read",
    "MOST_WORDS": "of a reply, and of a question",
    "NEAR_M": "of a green's slope, and of a finish",
    "Said": "to the conversation; on the range",
    "Scene": "of a situation as the ball meets it; of a sentence as its readers mark it",
}


def public_names(tree: ast.Module) -> Iterator[str]:
    """Classes, constants and types that a module defines at its top."""
    for node in tree.body:
        if isinstance(node, ast.ClassDef):
            yield node.name
        targets = node.targets if isinstance(node, ast.Assign) else [getattr(node, "target", None)]
        for target in targets:
            for part in ast.walk(target) if target is not None else ():
                if isinstance(part, ast.Name) and isinstance(part.ctx, ast.Store):
                    yield part.id


def duplicates() -> dict[str, list[str]]:
    places = defaultdict(set)
    for path in ROOT.rglob("*.py"):
        for name in public_names(ast.parse(path.read_text(encoding="utf-8"))):
            if not name.startswith("_"):
                places[name].add(path.relative_to(ROOT).as_posix())
    return {name: sorted(found) for name, found in sorted(places.items()) if len(found) > 1}


def test_a_name_means_one_thing() -> None:
    unknown = {name: places for name, places in duplicates().items() if name not in ON_PURPOSE}
    assert not unknown, f"defined twice: give each its own name, or import the one: {unknown}"
