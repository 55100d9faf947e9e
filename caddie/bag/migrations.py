"""Bag files of older versions, brought up to the present one step at a time.

``MIGRATIONS[k]`` turns a file of schema ``k + 1`` into one of schema ``k + 2`` in place, on plain tables as
well as on a document that keeps its comments. To change the file's form, append one function here: a file
of its own, because it grows by that and by nothing else.
"""

from collections.abc import Callable, MutableMapping, Sequence
from typing import Any

Content = MutableMapping[str, Any]
Migration = Callable[[Content], None]

MIGRATIONS: tuple[Migration, ...] = ()
SCHEMA = len(MIGRATIONS) + 1


def migrate(content: Content, migrations: Sequence[Migration] = MIGRATIONS) -> int:
    """Bring ``content`` to the newest schema in place; the schema it had.

    Raises:
        ValueError: if the schema is missing, no number, or newer than this program.
    """
    newest = len(migrations) + 1
    schema = content.get("schema")
    if schema is None:
        raise ValueError(f"schema: is missing; write 'schema = {newest}' on the first line")
    if isinstance(schema, bool) or not isinstance(schema, int) or schema < 1:
        raise ValueError(f"schema: must be {newest}, found {schema!r}")
    if schema > newest:
        raise ValueError(f"schema: must be at most {newest}, found {schema}: install a newer caddie")
    for step in range(schema - 1, newest - 1):
        migrations[step](content)
    if schema != newest:
        content["schema"] = newest
    return int(schema)
