"""The shipped tables, each a JSON file with its sources: facts from outside the project, as data."""

import os

Row = dict[str, str]


def rows(table: str, key: str) -> tuple[Row, ...]:
    """The rows under `key` of the table called `table`, in the order of the file."""
    import json  # only a card with an envelope pays for it

    path = os.path.join(os.path.dirname(__file__), f"{table}.json")
    with open(path, encoding="utf-8") as file:
        return tuple(json.load(file)[key])


def date_of(table: str) -> str:
    """When the facts of a table were gathered."""
    import json

    path = os.path.join(os.path.dirname(__file__), f"{table}.json")
    with open(path, encoding="utf-8") as file:
        return str(json.load(file)["date"])
