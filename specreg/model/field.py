"""How a field of the spec is described: what it means and who may read it."""

from enum import StrEnum
from typing import Any

from pydantic import BaseModel, ConfigDict, Field, GetCoreSchemaHandler
from pydantic_core import CoreSchema


class Word(StrEnum):
    """One of a closed list of words; a spec writes the word itself."""

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Let text stand for the word although the models are strict."""
        schema = handler(source)
        schema["strict"] = False  # type: ignore[index]
        return schema


class Reader(Word):
    """Who an edition is published for; each reads all that the one before it reads."""

    public = "public"
    owner = "owner"
    workshop = "workshop"

    def may_read(self, least: "Reader") -> bool:
        """Tell whether this reader may see what is meant for `least` and above."""
        ladder = list(Reader)
        return ladder.index(self) >= ladder.index(least)


class Spec(BaseModel):
    """A part of the written specification: strict, frozen, and without room for unknown keys."""

    model_config = ConfigDict(strict=True, frozen=True, extra="forbid", defer_build=True)


def told(
    description: str,
    *,
    reader: Reader = Reader.public,
    default: Any = None,
    example: str | None = None,
    factory: Any = None,
    written: str | None = None,
) -> Any:
    """Describe an optional field: its meaning in a sentence, its least reader, and an example.

    `written` is the key in the spec where it differs from the field's name.
    """
    about: dict[str, Any] = {"description": description, "json_schema_extra": {"reader": reader.value}}
    about["examples"] = [example] if example is not None else None
    if written is not None:
        about["alias"] = written
    if factory is not None:
        return Field(default_factory=factory, **about)
    return Field(default=default, **about)


def must(
    description: str,
    *,
    reader: Reader = Reader.public,
    example: str | None = None,
    written: str | None = None,
) -> Any:
    """Describe a field that a spec cannot do without; `written` as for `told`."""
    examples = [example] if example is not None else None
    return Field(
        description=description,
        json_schema_extra={"reader": reader.value},
        examples=examples,
        alias=written,
    )


def reader_of(model: type[BaseModel], field: str) -> Reader:
    """Return the least reader of a field."""
    extra = model.model_fields[field].json_schema_extra
    return Reader(str(extra["reader"])) if isinstance(extra, dict) and "reader" in extra else Reader.public
