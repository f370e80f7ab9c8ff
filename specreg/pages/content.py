"""What a page is made of: typed pieces that a template turns into markup."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING, ClassVar, NamedTuple

from markupsafe import Markup

if TYPE_CHECKING:
    from specreg.pages.charts import Drawn
    from specreg.pages.oneline import OneLine
    from specreg.pages.plan import Plan
    from specreg.pages.qr import Code


class Known(StrEnum):
    """How a figure came to be known; it is said beside the figure."""

    declared = "declared"
    computed = "computed"
    measured = "measured"
    seen = "seen by"


class Signal(StrEnum):
    """Signal words by the harm that is to be avoided (ANSI Z535, ISO 3864)."""

    danger = "DANGER"
    warning = "WARNING"
    caution = "CAUTION"
    notice = "NOTICE"


@dataclass(frozen=True, slots=True)
class Words:
    """A piece of text, a link where `href` is given; `strong` for the names of things."""

    form: ClassVar[str] = "words"
    text: str
    href: str = ""
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure with how it came to be known, and what must be said beside it."""

    form: ClassVar[str] = "figure"
    value: str
    known: Known
    beside: str = ""


@dataclass(frozen=True, slots=True)
class Unknown:
    """A figure that is not known, with what would tell it."""

    form: ClassVar[str] = "unknown"
    text: str


@dataclass(frozen=True, slots=True)
class Break:
    """The end of a line within a cell."""

    form: ClassVar[str] = "break"


@dataclass(frozen=True, slots=True)
class Picture:
    """A photograph in the site's folder; `width` and `height` in pixels, `alt` for who does not see it."""

    form: ClassVar[str] = "picture"
    file: str
    alt: str
    width: int
    height: int


Inline = Words | Figure | Unknown | Break | Picture
Cell = tuple[Inline, ...]


def cell(text: str, href: str = "", *, strong: bool = False) -> Cell:
    """Return a cell of one piece of text."""
    return (Words(text, href, strong),)


@dataclass(frozen=True, slots=True)
class Paragraph:
    """A paragraph."""

    form: ClassVar[str] = "paragraph"
    text: Cell
    small: bool = False


@dataclass(frozen=True, slots=True)
class Listing:
    """A list; numbered where the order matters."""

    form: ClassVar[str] = "listing"
    items: tuple[Cell, ...]
    numbered: bool = False
    first: int = 1


@dataclass(frozen=True, slots=True)
class Checklist:
    """Lines to tick off; the browser keeps the ticks under `name`, paper has boxes."""

    form: ClassVar[str] = "checklist"
    name: str
    items: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class Finder:
    """A field that finds places in the whole book; `none` is said when nothing fits."""

    form: ClassVar[str] = "finder"
    label: str
    none: str
    script: str


@dataclass(frozen=True, slots=True)
class Caution:
    """A safety message: signal word, hazard, and how to avoid it."""

    form: ClassVar[str] = "caution"
    signal: Signal
    text: Cell


class Row(NamedTuple):
    """A row of a table; `anchor` is where links to it point, `formerly` where older ones do."""

    cells: tuple[Cell, ...]
    anchor: str = ""
    formerly: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Table:
    """A table with a caption; on a narrow screen each row becomes an entry with the columns' names.

    A `tight` one has so few short words in a row that it stays a table on any screen.
    """

    form: ClassVar[str] = "table"
    caption: str
    columns: tuple[str, ...]
    rows: tuple[Row, ...]
    findable: bool = False
    tight: bool = False


class Entry(NamedTuple):
    """A label, its figure or text, and a remark."""

    label: str
    value: Cell
    remark: str = ""


@dataclass(frozen=True, slots=True)
class Entries:
    """Labels with their values; `large` where a reader needs the one number."""

    form: ClassVar[str] = "entries"
    items: tuple[Entry, ...]
    large: bool = False


@dataclass(frozen=True, slots=True)
class Drawing:
    """A drawing; the table with the same content stands beside it."""

    form: ClassVar[str] = "drawing"
    anchor: str
    title: str
    description: str
    plan: Plan
    scale: str = ""
    table: str = ""


@dataclass(frozen=True, slots=True)
class Diagram:
    """A one-line diagram; a table elsewhere says the same."""

    form: ClassVar[str] = "diagram"
    anchor: str
    title: str
    description: str
    lines: OneLine


@dataclass(frozen=True, slots=True)
class Chart:
    """A chart of figures, with how they came to be known and what must be said beside it.

    A table folded below it says the same.
    """

    form: ClassVar[str] = "chart"
    anchor: str
    title: str
    description: str
    drawn: Drawn
    known: Known
    beside: str


class Label(NamedTuple):
    """One label to stick on: mark, words, what else it says, and where in the book its thing is."""

    mark: str
    words: str
    more: str = ""
    page: str = ""
    href: str = ""
    code: Code | None = None


@dataclass(frozen=True, slots=True)
class Labels:
    """Labels of one size, to be printed at that size; `width` and `height` in millimetres."""

    form: ClassVar[str] = "labels"
    width: float
    height: float
    items: tuple[Label, ...]


@dataclass(frozen=True, slots=True)
class Prose:
    """Markup made from a procedure's text, without any raw markup of its author."""

    form: ClassVar[str] = "prose"
    markup: Markup


@dataclass(frozen=True, slots=True)
class Fold:
    """Something that need not be read at once."""

    form: ClassVar[str] = "fold"
    summary: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class Section:
    """A numbered part of a page. `media` names what its pipes or cables carry."""

    form: ClassVar[str] = "section"
    anchor: str
    title: str
    blocks: tuple[Block, ...]
    media: tuple[str, ...] = ()


Block = (
    Paragraph
    | Listing
    | Checklist
    | Finder
    | Caution
    | Table
    | Entries
    | Drawing
    | Diagram
    | Chart
    | Labels
    | Prose
    | Fold
    | Section
)


class Page(NamedTuple):
    """One page of the book: `name` is its file without the ending, `within` the page that lists it."""

    name: str
    title: str
    lead: str
    blocks: tuple[Block, ...]
    within: str = ""

    @property
    def file(self) -> str:
        """Return the file that it becomes."""
        return f"{self.name}.html"
