"""How a field of the spec is described: what it means and who may read it."""

from enum import StrEnum
from functools import cache
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
        return self.rank >= least.rank

    @property
    def rank(self) -> int:
        """Return the place on the ladder: each reader reads all that those of lower rank read."""
        return _RANKS[self]


_RANKS = {reader: rank for rank, reader in enumerate(Reader)}


class Spec(BaseModel):
    """A part of the written specification: strict, frozen, and without room for unknown keys."""

    model_config = ConfigDict(strict=True, frozen=True, extra="forbid", defer_build=True)

    @classmethod
    def __pydantic_init_subclass__(cls, **_: Any) -> None:
        """Share the inherited fields with the classes that they come from.

        Pydantic copies every inherited field into every class, which for all kinds together took a fifth of
        an inspection. Here a class hands on its fields itself, and hides the annotations that they came from.
        """
        inherited: dict[str, FieldInfo] = {}
        for base in reversed(cls.__mro__[1:]):
            if issubclass(base, BaseModel) and base is not BaseModel:
                inherited.update(base.__pydantic_fields__)
        cls.__pydantic_fields__ = {**inherited, **cls.__pydantic_fields__}
        cls.__annotations__ = {}

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Let pydantic make the schemas of those fields only that no other class has had made already."""
        whole = cls.__pydantic_fields__
        fresh = {name: about for name, about in whole.items() if id(about) not in _SCHEMAS}
        cls.__pydantic_fields__ = fresh
        try:
            schema = handler(source)
        finally:
            cls.__pydantic_fields__ = whole
        made = _fields_in(handler.resolve_ref_schema(schema))
        for name, about in fresh.items():
            if _is_told(about):
                _bound(made[name]["schema"])
            if not _refers(made[name]):
                _SCHEMAS[id(about)] = about, made[name]
        everything = {name: made.get(name) or _SCHEMAS[id(about)][1] for name, about in whole.items()}
        made.clear()
        made.update(everything)
        return schema


_SCHEMAS: dict[int, tuple[FieldInfo, Any]] = {}
"""The schema of each field that was made, by the identity of the field, which is held so that it keeps it."""


MOST = 1_000
"""The greatest whole number in a spec: things are counted with them, and ports are made from them."""


def _bound(schema: Any) -> None:
    """Let a whole number be a count of something: from none to more than any van has."""
    while schema["type"] in ("default", "nullable"):
        schema = schema["schema"]
    if schema["type"] == "int":
        schema |= {"ge": 0, "le": MOST}


def _fields_in(schema: Any) -> dict[str, Any]:
    """Return the schemas of the fields of a model, below whatever checks the whole of it."""
    while schema["type"] != "model-fields":
        schema = schema["schema"]
    found: dict[str, Any] = schema["fields"]
    return found


def _refers(part: Any) -> bool:
    """Tell whether a schema refers to other models: such a one belongs to one class alone."""
    if isinstance(part, dict):
        return "schema_ref" in part or "ref" in part or any(map(_refers, part.values()))
    return isinstance(part, list | tuple) and any(map(_refers, part))


def _is_told(about: FieldInfo) -> bool:
    return isinstance(about.json_schema_extra, dict) and "reader" in about.json_schema_extra


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


@cache
def reader_of(model: type[BaseModel], field: str) -> Reader:
    """Return the least reader of a field."""
    extra = model.model_fields[field].json_schema_extra
    return Reader(str(extra["reader"])) if isinstance(extra, dict) and "reader" in extra else Reader.public
