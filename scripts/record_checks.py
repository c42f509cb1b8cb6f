"""Writes the contract's types of record fields as data that the page checks values by.

`web/src/records/typed.ts` reads it. A type is its name, or a list of its name and its bounds:

- `n` and `i`: a number and a whole one, from and to, and whether either bound itself is outside;
- `s`: text with the fewest and most of its letters, and its pattern;
- `e`: one of these words; `u`: one of these types; `t`: one value of each, in this order;
- `l`: a list with its item and the fewest and most of them; `d`: an object with keys of its own;
- `o`: a shape by its name; `id`: text that names a record or a photo;
- `b`: yes or no; `z`: null; `a`: anything.
"""

from typing import Any

import msgspec
from msgspec import inspect

from basinside.contract.records import RECORD_FIELDS
from basinside.contract.sync import SHA256_PATTERN, UUID_PATTERN

_PLAIN = {inspect.NoneType: "z", inspect.BoolType: "b", inspect.AnyType: "a"}


def record_checks() -> dict[str, Any]:
    """Return the type of each kind's fields, each shape in them by its name, and the patterns."""
    writer = _Writer()
    kinds = {kind: writer.fields(shape) for kind, shape in RECORD_FIELDS.items()}
    shapes: dict[str, Any] = {}
    while left := [name for name in writer.named if name not in shapes]:
        for name in left:
            shape = writer.named[name]
            (node,) = inspect.multi_type_info([shape])
            needed = [each.encode_name for each in getattr(node, "fields", ()) if each.required]
            closed = shape.__struct_config__.forbid_unknown_fields
            shapes[name] = [writer.fields(shape), needed, closed]
    # Python's patterns need the last part; in a page `$` is the very end.
    patterns = [pattern.removesuffix(r"(?!\n)") for pattern in writer.patterns]
    return {"patterns": patterns, "shapes": shapes, "kinds": kinds}


class _Writer:
    """Writes types, and notes each shape and pattern that they name."""

    def __init__(self) -> None:
        self.named: dict[str, type[msgspec.Struct]] = {}
        self.patterns: list[str] = []

    def fields(self, shape: type[msgspec.Struct]) -> dict[str, Any]:
        """Return the type of each field of a shape."""
        (node,) = inspect.multi_type_info([shape])
        return {each.encode_name: self._of(each.type) for each in getattr(node, "fields", ())}

    def _of(self, node: inspect.Type) -> Any:
        match node:
            case inspect.Metadata():
                return self._of(node.type)
            case inspect.LiteralType():
                return ["e", *node.values]
            case inspect.FloatType() | inspect.IntType():
                return self._number(node)
            case inspect.StrType():
                return self._text(node)
            case inspect.StructType():
                self.named[node.cls.__name__] = node.cls
                return ["o", node.cls.__name__]
        return self._of_several(node) or _PLAIN[type(node)]

    def _of_several(self, node: inspect.Type) -> list[Any] | None:
        match node:
            case inspect.UnionType():
                return ["u", *map(self._of, node.types)]
            case inspect.TupleType():
                return ["t", *map(self._of, node.item_types)]
            case inspect.ListType():
                return ["l", self._of(node.item_type), node.min_length or 0, node.max_length]
            case inspect.DictType():
                return ["d", self._of(node.key_type), self._of(node.value_type)]
        return None

    def _number(self, node: inspect.FloatType | inspect.IntType) -> list[Any]:
        name = "n" if isinstance(node, inspect.FloatType) else "i"
        low = node.ge if node.gt is None else node.gt
        high = node.le if node.lt is None else node.lt
        outside = [node.gt is not None, node.lt is not None]
        return [name, low, high, *(outside if any(outside) else [])]

    def _text(self, node: inspect.StrType) -> Any:
        if node.pattern in (UUID_PATTERN, SHA256_PATTERN):
            return "id"
        if node.pattern is None:
            return ["s", node.min_length or 0, node.max_length]
        if node.pattern not in self.patterns:
            self.patterns.append(node.pattern)
        return ["s", node.min_length or 0, node.max_length, self.patterns.index(node.pattern)]
