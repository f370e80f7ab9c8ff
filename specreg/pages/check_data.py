"""The whole check as data, beside its pages."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

from specreg.pages.content import Figure
from specreg.pages.van import Van
from specreg.rules.result import Result


def as_data(van: Van) -> str:
    """Return the whole check as JSON, as far as the reader may see it."""
    data = {
        "format": 1,
        "title": van.texts("page.check"),
        "build": van.build.name,
        "revision": van.build.header.revision,
        "as_of": van.on.isoformat() if van.on else None,
        "stage": van.build.header.stage.value,
        "jurisdictions": [word.value for word in van.build.header.jurisdictions],
        "rules": {
            "count": len(van.report.pack.rules),
            "mark": van.report.pack.mark,
            "documents": van.report.pack.codes,
        },
        "not_looked_at": van.report.not_looked_at(),
        "record": van.texts("frame.record"),
        "results": [_data(van, result) for result in van.results],
    }
    return json.dumps(data, ensure_ascii=False) + "\n"


def _data(van: Van, result: Result) -> dict[str, Any]:
    return {
        "rule": result.rule,
        "title": result.title,
        "system": result.system,
        "level": result.level.value,
        "answer": result.answer.value,
        "subject": result.subject,
        "name": result.subject_name,
        "case": result.case,
        "jurisdiction": result.jurisdiction,
        "message": result.message,
        "remedy": result.remedy,
        "evidence": list(_figures(van, result)),
        "assumptions": result.assumptions,
        "missing": result.missing,
        "reason": result.reason,
        "decided_by": result.decides,
        "conceded": result.concession is not None,
        "answered": result.sign_off is not None,
    }


def _figures(van: Van, result: Result) -> Iterable[dict[str, str]]:
    for item in result.evidence:
        if not isinstance(item.value, tuple | dict):
            (shown,) = van.input(item)
            assert isinstance(shown, Figure)
            yield {"name": item.name, "value": shown.value, "known": shown.known.value}
