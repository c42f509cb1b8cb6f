"""Gives a description to each field of the document's shapes whose type has none.

The contract describes a type once. What a field of a plain type holds is said here, beside the
document, so that the phone does not carry these words.
"""

import tomllib
from importlib.resources import files
from typing import Any

Json = dict[str, Any]
WORDS: dict[str, dict[str, str]] = tomllib.loads(
    (files(__package__) / "field_words.toml").read_text("utf-8")
)
ANY = "any"


def describe_fields(schemas: Json, questions: dict[str, str]) -> None:
    """Describe each field that does not describe itself.

    `questions` are those of the safety facts, by their names. The tests name a field without words.
    """
    for name, schema in schemas.items():
        words = questions | WORDS[ANY] | WORDS.get(name, {})
        for field, value in _fields(schema):
            if not says_what_it_is(value) and field in words:
                value["description"] = words[field]


def says_what_it_is(schema: Json) -> bool:
    """Return whether a field's schema describes itself, or is a shape, which always does."""
    return any(
        "description" in choice or "$ref" in choice for choice in (schema, *schema.get("anyOf", []))
    )


def _fields(schema: Json) -> list[tuple[str, Json]]:
    choices = schema.get("oneOf", [schema])
    return [each for choice in choices for each in choice.get("properties", {}).items()]
