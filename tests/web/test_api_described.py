"""The description of the interface for programs: complete, of one piece, naming no other address."""

import json
from collections.abc import Iterator
from typing import Any

import pytest

from web.shop import shop

REFUSED = ("400", "403", "404", "409", "413", "422", "503", "507")
REFUSAL = {"$ref": "#/components/schemas/Refusal"}


@pytest.fixture(scope="module")
def described() -> dict[str, Any]:
    """As it is served."""
    with shop() as opened:
        found: dict[str, Any] = opened.client.get("/api/openapi.json").json()
    return found


def operations(described: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    """Every operation by its name."""
    for path, methods in described["paths"].items():
        for method, operation in methods.items():
            yield f"{method} {path}", operation


def test_it_describes_the_interface_for_programs_alone(described: dict[str, Any]) -> None:
    assert all(path.startswith("/api/") for path in described["paths"])
    assert "Steelyard-Person" in described["info"]["description"]


def test_every_operation_says_what_it_does(described: dict[str, Any]) -> None:
    silent = [name for name, operation in operations(described) if not operation.get("description")]
    assert silent == []


def test_every_operation_stands_in_a_group(described: dict[str, Any]) -> None:
    assert [name for name, operation in operations(described) if not operation.get("tags")] == []


def test_every_refusal_has_one_form(described: dict[str, Any]) -> None:
    for name, operation in operations(described):
        for status in REFUSED:
            content = operation["responses"][status]["content"]["application/json"]
            assert (name, status, content["schema"]) == (name, status, REFUSAL)


def test_every_answer_and_every_body_is_described(described: dict[str, Any]) -> None:
    for name, operation in operations(described):
        told = [answer for status, answer in operation["responses"].items() if status.startswith("2")]
        assert len(told) == 1, name
        schemas = [content["schema"] for content in told[0]["content"].values()]
        assert all({"$ref", "type"} & set(schema) for schema in schemas), name
        method = name.partition(" ")[0]
        has_none = name in ("post /api/chain/verify", "post /api/key/sheet")
        assert ("requestBody" in operation) is (method in ("post", "put") and not has_none), name
        for content in operation.get("requestBody", {}).get("content", {}).values():
            assert content["schema"], name


def test_every_parameter_has_a_type(described: dict[str, Any]) -> None:
    for name, operation in operations(described):
        for parameter in operation.get("parameters", []):
            schema = parameter["schema"]
            assert {"type", "anyOf", "enum"} & set(schema), (name, parameter["name"])


def test_every_described_table_says_what_it_is(described: dict[str, Any]) -> None:
    tables = described["components"]["schemas"]
    bare = [name for name, table in tables.items() if not table.get("description")]
    assert bare == []


def test_it_names_no_other_address(described: dict[str, Any]) -> None:
    assert "://" not in json.dumps(described)
