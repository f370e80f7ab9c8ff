"""Results and facts as text, JSON, SARIF, JUnit XML, Markdown and CSV."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from specreg.output.style import Style
    from specreg.report import Inspection


def inspection_text(inspection: Inspection, form: str, style: Style, *, everything: bool = False) -> str:
    """Return an inspection in one of its forms: text, json, sarif, junit or markdown.

    Raises ValueError for any other word.
    """
    from specreg.output import as_json, junit, markdown, sarif, text  # noqa: PLC0415 - each is needed alone

    match form:
        case "text":
            return text.text(inspection, style, everything=everything)
        case "json":
            return as_json.dumps(as_json.inspection_data(inspection))
        case "sarif":
            return as_json.dumps(sarif.sarif(inspection, everything=everything))
        case "junit":
            return junit.junit(inspection, everything=everything)
        case "markdown":
            return markdown.markdown(inspection, everything=everything)
    raise ValueError(f"an inspection has no form {form}")
