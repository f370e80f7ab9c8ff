"""Results and facts as text, JSON, SARIF, JUnit XML, Markdown and CSV."""

from __future__ import annotations

from io import StringIO
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from specreg.output.by_van import Form
    from specreg.output.style import Style
    from specreg.report import Inspection


def inspection_text(inspection: Inspection, form: str, style: Style, *, everything: bool = False) -> str:
    """Return an inspection in one of its forms: text, json, sarif, junit or markdown.

    Raises ValueError for any other word.
    """
    from specreg.output import by_van, text  # noqa: PLC0415 - each is needed alone

    if form == "text":
        return text.text(inspection, style, everything=everything)
    told = by_van.Told(form_of(form, everything=everything), StringIO())
    for report in inspection.reports:
        told.add(report)
    ended = by_van.Ended(inspection.unread, inspection.problems, inspection.exit_code)
    return "".join(told.text(ended))


def form_of(form: str, *, everything: bool = False) -> Form:
    """Return a form that is told van by van: json, sarif, junit or markdown; ValueError for any other."""
    from specreg.output import as_json, junit, markdown, sarif  # noqa: PLC0415 - each is needed alone

    match form:
        case "json":
            return as_json.InJson()
        case "sarif":
            return sarif.InSarif(everything=everything)
        case "junit":
            return junit.InJunit(everything=everything)
        case "markdown":
            return markdown.InMarkdown(everything=everything)
    raise ValueError(f"an inspection has no form {form}")
