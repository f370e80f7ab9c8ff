"""How a field of the spec is described: what it means and who may read it."""

from enum import StrEnum
from typing import Any

from pydantic import BaseModel, ConfigDict, Field, GetCoreSchemaHandler
from pydantic.fields import FieldInfo
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

    @classmethod
    def __pydantic_init_subclass__(cls, **_: Any) -> None:
        """Share the inherited fields with the classes that they come from.

        Pydantic copies every inherited field into every class, which for all kinds together took a fifth of an
        inspection. Here a class hands on its fields itself, and hides the annotations from which they were made.
        """
        inherited: dict[str, FieldInfo] = {}
        for base in reversed(cls.__mro__[1:]):
            if issubclass(base, BaseModel) and base is not BaseModel:
                inherited.update(base.__pydantic_fields__)
        cls.__pydantic_fields__ = {**inherited, **cls.__pydantic_fields__}
        cls.__annotations__ = {}


class Shared:
    """Metadata of a field that lets the kinds that inherit it share one schema instead of making it anew."""

    def __init__(self) -> None:
        self._made: tuple[Any, CoreSchema] | None = None

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Return the field's schema, made once; one that refers to other models belongs to one alone."""
        if self._made is not None and self._made[0] == source:
            return self._made[1]
        schema = handler(source)
        _bound(schema)
        if not _refers(schema):
            self._made = (source, schema)
        return schema


MOST = 10_000
"""The greatest whole number in a spec: things are counted with them, and ports are made from them."""


def _bound(schema: Any) -> None:
    """Let a whole number be a count of something: from none to more than any van has."""
    inner = schema["schema"] if schema["type"] == "nullable" else schema
    if inner["type"] == "int":
        inner |= {"ge": 0, "le": MOST}


def _refers(part: Any) -> bool:
    if isinstance(part, dict):
        return "schema_ref" in part or "ref" in part or any(map(_refers, part.values()))
    return isinstance(part, list | tuple) and any(map(_refers, part))


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
        return _field(default_factory=factory, **about)
    return _field(default=default, **about)


def must(
    description: str,
    *,
    reader: Reader = Reader.public,
    example: str | None = None,
    written: str | None = None,
) -> Any:
    """Describe a field that a spec cannot do without; `written` as for `told`."""
    examples = [example] if example is not None else None
    return _field(
        description=description,
        json_schema_extra={"reader": reader.value},
        examples=examples,
        alias=written,
    )


def _field(**about: Any) -> FieldInfo:
    found: FieldInfo = Field(**about)
    found.metadata.append(Shared())
    return found


def reader_of(model: type[BaseModel], field: str) -> Reader:
    """Return the least reader of a field."""
    extra = model.model_fields[field].json_schema_extra
    return Reader(str(extra["reader"])) if isinstance(extra, dict) and "reader" in extra else Reader.public
