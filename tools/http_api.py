"""Writes the lists of docs/reference/http-api.md from the program itself: `python tools/http_api.py`.

Everything above the heading of the lists is written by hand and stays.
"""

import sys
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from steelyard.bootstrap import Photographs, SystemDice, WallClock, Workshop
from steelyard.store import MemoryLedger
from steelyard.web import make_app

PAGE = Path(__file__).parent.parent / "docs" / "reference" / "http-api.md"
HEADING = "## Every address\n"
SCHEMAS = "#/components/schemas/"
OF_ALL = ("Steelyard-Person", "Steelyard-Device")
"""Headers that every request may carry; said once, above the lists."""
GROUPS = ("tools", "rigs", "checks", "records", "files", "chain", "today", "settings", "people", "reckon")


def lists() -> str:
    """The lists as they are to stand on the page."""
    shop = Workshop(Path(), MemoryLedger(), WallClock(), SystemDice(), Photographs())
    described = make_app(shop).openapi()
    lines = [HEADING, "", *_addresses(described["paths"]), "## What is sent and answered", ""]
    lines += ["A `*` marks what must be there; everything else may be left out.", ""]
    lines += ["| name | keys | what |", "|---|---|---|"]
    for name, schema in sorted(described["components"]["schemas"].items()):
        if "properties" in schema:
            lines.append(f"| {name} | {_keys(schema)} | {_plain(schema.get('description', ''))} |")
    return "\n".join(line.rstrip("\n") for line in lines) + "\n"


def _addresses(paths: Mapping[str, Mapping[str, Any]]) -> Iterator[str]:
    """A table for each group of addresses."""
    ours = {path: methods for path, methods in paths.items() if path.startswith("/api/")}
    known = {path.split("/")[2] for path in ours}
    for group in (*GROUPS, *sorted(known - set(GROUPS))):
        yield from (f"### {group}", "", "| address | what it does | sent | answer |", "|---|---|---|---|")
        for path, methods in ours.items():
            if path.split("/")[2] == group:
                yield from (_row(path, method, one) for method, one in methods.items())
        yield ""


def _row(path: str, method: str, one: Mapping[str, Any]) -> str:
    what = _plain(one.get("description", ""))
    answer = next((_shape(told) for status, told in one["responses"].items() if status < "300"), "")
    return f"| `{method.upper()} {path}` | {what} | {_sent(one)} | {answer} |"


def _sent(one: Mapping[str, Any]) -> str:
    """Parameters of the query, and the body."""
    asked = [p["name"] for p in one.get("parameters", []) if p["in"] == "query" and p["name"] not in OF_ALL]
    query = [", ".join(f"`{name}`" for name in asked)] if asked else []
    body = [_shape(one["requestBody"])] if "requestBody" in one else []
    return "; ".join([*query, *body])


def _shape(told: Mapping[str, Any]) -> str:
    """What a body is: one of our own objects by its name, else its media type."""
    content = told.get("content", {})
    if "application/json" not in content or len(content) > 1:
        return ", ".join(kind for kind in content if kind != "application/json")
    return _named(content["application/json"].get("schema", {}))


def _named(schema: Mapping[str, Any]) -> str:
    if "$ref" in schema:
        return str(schema["$ref"]).removeprefix(SCHEMAS)
    if schema.get("type") == "array":
        return f"list of {_named(schema['items'])}"
    return "an object"


def _keys(schema: Mapping[str, Any]) -> str:
    needed = set(schema.get("required", ()))
    return ", ".join(f"`{name}`{'*' if name in needed else ''}" for name in schema["properties"])


def _plain(text: str) -> str:
    """A description on one line of a table."""
    return " ".join(text.replace("|", "or").split())


def main() -> int:
    """Write them."""
    above = PAGE.read_text("utf-8").partition(HEADING)[0]
    PAGE.write_text(above + lists(), "utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
