"""The names that a JSON Schema knows for each mapping inside it, and how long its lists must be."""

from collections.abc import Iterator
from typing import Any

from benchapp.files.locations import Key

Schema = dict[str, Any]


def known_names(schema: Schema, key: Key, branch: tuple[str, ...]) -> Iterator[str]:
    """Names that the schema knows for the mapping under `key`, with union members narrowed by `branch` labels."""
    for member in _members_at(schema, key, branch):
        yield from member.get("properties", {})


def entries_needed(schema: Schema, key: Key, branch: tuple[str, ...]) -> int:
    """How many entries the list under `key` needs at least; 0 where the schema does not say."""
    return max((int(member.get("minItems", 0)) for member in _members_at(schema, key, branch)), default=0)


def _members_at(schema: Schema, key: Key, branch: tuple[str, ...]) -> list[Schema]:
    nodes = [schema]
    for part in key:
        nodes = [below for node in nodes for below in _below(schema, node, part, branch)]
    return [member for node in nodes for member in _members(schema, node, branch)]


def _below(root: Schema, node: Schema, part: str | int, branch: tuple[str, ...]) -> Iterator[Schema]:
    for member in _members(root, node, branch):
        if isinstance(part, int):
            yield from (member[name] for name in ("items",) if isinstance(member.get(name), dict))
            yield from member.get("prefixItems", [])[part : part + 1]
        elif part in member.get("properties", {}):
            yield member["properties"][part]
        elif isinstance(member.get("additionalProperties"), dict):
            yield member["additionalProperties"]


def _members(root: Schema, node: Schema, branch: tuple[str, ...]) -> list[Schema]:
    """The node with references followed and unions opened; where branch labels name a member, that one alone."""
    if "$ref" in node:
        return _members(root, root["$defs"][node["$ref"].rsplit("/", 1)[-1]], branch)
    mapping = node.get("discriminator", {}).get("mapping", {})
    for label in branch:
        if label in mapping:
            return _members(root, {"$ref": mapping[label]}, branch)
    choices = [*node.get("anyOf", []), *node.get("oneOf", []), *node.get("allOf", [])]
    named = [choice for choice in choices if choice.get("$ref", "").rsplit("/", 1)[-1] in branch]
    opened = [member for choice in (named or choices) for member in _members(root, choice, branch)]
    return [node, *opened]
