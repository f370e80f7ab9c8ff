"""Trades' sheets as plain data."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from specreg import __version__
from specreg.facts.engine import Facts
from specreg.facts.field_type import type_of_field
from specreg.output.shape import FORMAT
from specreg.output.trade_sheet import DECIDES, place_words
from specreg.output.value import machine, unit_name
from specreg.rules.document import RuleSource
from specreg.trade.fitted import Fitted
from specreg.trade.limits import Limit
from specreg.trade.sheet import Line, Matter, TradeSheet
from specreg.trade.weighing import Weighed


def sheets_data(sheets: Iterable[TradeSheet]) -> dict[str, Any]:
    """Return sheets as plain data; limits in SI."""
    return {"format": FORMAT, "specreg": __version__, "sheets": [_data(sheet) for sheet in sheets]}


def _data(sheet: TradeSheet) -> dict[str, Any]:
    build = sheet.facts.build
    return {
        "build": build.name,
        "trade": sheet.trade.value,
        "decides": DECIDES,
        "fitted": [_fitted_data(sheet.facts, one) for one in sheet.fitted],
        "matters": [_matter_data(one) for one in sheet.matters],
        "tests": [_line_data(sheet.facts, one) for one in sheet.lines],
        "weighing": [_weighed_data(one) for one in sheet.weighings],
    }


def _fitted_data(facts: Facts, one: Fitted) -> dict[str, Any]:
    figures = {
        field: machine(getattr(one.model, field), type_of_field(type(one.model), field))
        for field in one.fields
    }
    return {**_thing_data(facts, one.id), "figures": figures}


def _thing_data(facts: Facts, thing: str) -> dict[str, Any]:
    known = thing.partition("/")[0] in (*facts.build.components, *facts.build.runs)
    return {
        "on": thing,
        "designation": facts.build.designations.get(thing),
        "name": facts.name_of(thing) if known else thing,
        "place": place_words(facts, thing) or None,
    }


def _limit_data(limit: Limit) -> dict[str, Any]:
    return {
        "rule": limit.rule,
        "name": limit.name,
        "bound": limit.bound,
        "value": machine(limit.value),
        "unit": unit_name(limit.dimension),
        "jurisdiction": limit.jurisdiction,
    }


def _sources_data(sources: Iterable[RuleSource]) -> list[dict[str, Any]]:
    return [machine(source) for source in sources]


def _matter_data(matter: Matter) -> dict[str, Any]:
    result = matter.result
    return {
        "rule": result.rule,
        "title": result.title,
        "target": result.subject or None,
        "designation": matter.designation or None,
        "case": result.case,
        "answer": result.answer.value,
        "asks": result.message or None,
        "state": matter.state.value if matter.state else None,
        "decides": result.decides or None,
        "covers": result.fingerprint or None,
        "signed": machine(result.sign_off) if result.sign_off else None,
        "figures": [
            {"name": one.name, "value": machine(one.value), "unit": unit_name(one.dimension)}
            for one in matter.figures
        ],
        "limits": [_limit_data(limit) for limit in matter.limits],
        "sources": _sources_data(matter.sources),
    }


def _line_data(facts: Facts, line: Line) -> dict[str, Any]:
    return {
        "test": line.test,
        **_thing_data(facts, line.thing.id),
        "figure": line.thing.detail or None,
        "method": line.how,
        "expected": line.expects or None,
        "limit": _limit_data(line.limit) if line.limit else None,
        "stated": {column: _limit_data(limit) for column, limit in line.stated},
        "rule": line.rule or None,
        "sources": _sources_data(line.sources),
        "state": line.state.value,
        "record": machine(line.record) if line.record else None,
        "covers": line.mark or None,
    }


def _weighed_data(one: Weighed) -> dict[str, Any]:
    before = getattr(one.record, one.field, None) if one.record else None
    return {
        "field": one.field,
        "unit": unit_name(one.dimension),
        "permitted": machine(one.permitted),
        "last": machine(before),
    }
