"""Writes the contract's types of record fields as TypeScript."""

import inspect as python
from collections.abc import Iterator

import msgspec
from msgspec import inspect

from basinside.contract.records import RECORD_FIELDS
from basinside.service.http.document.openapi import openapi_document

_HEAD = """\
// Written by scripts/record_fields.py from the contract's types of records; never by hand.
import type { Schemas } from "../api/shapes";

"""


def record_types() -> str:
    """Return the module that holds the fields of each kind, and the shapes inside them."""
    known = set(openapi_document()["components"]["schemas"])
    writer = _Writer(known)
    kinds = []
    for kind, shape in RECORD_FIELDS.items():
        kinds.append(f"  {_comment(shape, '  ')}{kind}: {writer.fields(shape, '  ')};\n")
    records = (
        "/** The fields of each kind; every one may be missing. */\n"
        "export interface RecordFields {\n" + "".join(kinds) + "}\n"
    )
    return _HEAD + "".join(writer.shapes()) + records


_PLAIN = {
    inspect.NoneType: "null",
    inspect.StrType: "string",
    inspect.IntType: "number",
    inspect.FloatType: "number",
    inspect.BoolType: "boolean",
}
# The shapes that no call has; every other is one of the API's own.
_OF_RECORDS = {
    f"basinside.contract.{name}" for name in ("records", "visit_records", "record_parts", "entered")
}


class _Writer:
    """Writes types, and notes each shape they name that the API's own types do not have."""

    def __init__(self, known: set[str]) -> None:
        self._known = known
        self._named: dict[str, type[msgspec.Struct]] = {}

    def shapes(self) -> Iterator[str]:
        """Yield each shape that was named, those inside it too."""
        done: set[str] = set()
        while left := [name for name in self._named if name not in done]:
            for name in left:
                done.add(name)
                shape = self._named[name]
                yield f"{_comment(shape, '')}export interface {name} {self.fields(shape, '')}\n\n"

    def fields(self, shape: type[msgspec.Struct], indent: str) -> str:
        """Return a shape's fields between braces."""
        (node,) = inspect.multi_type_info([shape])
        lines = []
        for field in getattr(node, "fields", ()):
            note = _note(field.type)
            comment = f"{indent}  /** {note} */\n" if note else ""
            mark = "" if field.required else "?"
            lines.append(f"{comment}{indent}  {field.encode_name}{mark}: {self._of(field.type)};\n")
        if not shape.__struct_config__.forbid_unknown_fields:
            lines.append(f"{indent}  [more: string]: unknown;\n")
        return "{\n" + "".join(lines) + indent + "}"

    def _of(self, node: inspect.Type) -> str:
        match node:
            case inspect.Metadata():
                return self._of(node.type)
            case inspect.UnionType():
                return " | ".join(map(self._of, node.types))
            case inspect.LiteralType():
                return " | ".join(f'"{value}"' for value in node.values)
            case inspect.ListType() | inspect.TupleType() | inspect.DictType():
                return self._collection(node)
            case inspect.StructType():
                return self._named_shape(node.cls)
        return _PLAIN.get(type(node), "unknown")

    def _collection(self, node: inspect.ListType | inspect.TupleType | inspect.DictType) -> str:
        if isinstance(node, inspect.TupleType):
            return f"[{', '.join(map(self._of, node.item_types))}]"
        if isinstance(node, inspect.DictType):
            return f"Record<string, {self._of(node.value_type)}>"
        item = self._of(node.item_type)
        return f"({item})[]" if "|" in item else f"{item}[]"

    def _named_shape(self, shape: type[msgspec.Struct]) -> str:
        name = shape.__name__
        if name in self._known and shape.__module__ not in _OF_RECORDS:
            return f'Schemas["{name}"]'
        self._named[name] = shape
        return name


def _note(node: inspect.Type) -> str:
    """Return what the contract says of a field, but for a colour, which it says everywhere."""
    match node:
        case inspect.Metadata(type=inspect.TupleType()):
            return ""
        case inspect.Metadata():
            return (node.extra_json_schema or {}).get("description", "") or _note(node.type)
        case inspect.UnionType():
            return next(filter(None, map(_note, node.types)), "")
    return ""


def _comment(shape: type[msgspec.Struct], indent: str) -> str:
    first = python.cleandoc(shape.__doc__ or "").split("\n\n")[0].replace("\n", " ")
    return f"/** {first} */\n{indent}" if first else ""
