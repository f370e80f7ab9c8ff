"""Recalls against what is fitted: the same comparison by which a register finds whom a recall reaches."""

from __future__ import annotations

from specreg.facts.engine import Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.value_type import TRUTH, list_of, text
from specreg.model.component import Component
from specreg.model.recall import Affected as Stated
from specreg.model.recall import Recall
from specreg.source.recall import Affected, doubt, named_alike, serial_range

DEALT_WITH = ("done", "ruled_out")
DECIDING = {"day made": "made_on", "day fitted": "fitted_on", "serial": "serial"}
"""The field that would end a doubt, by what is said of it."""


def _affected(stated: Stated) -> Affected:
    given = [stated.serials] if isinstance(stated.serials, str) else list(stated.serials)
    days = {key: serial_range(said) for key in ("made", "fitted") if (said := getattr(stated, key))}
    return Affected({}, tuple(serial_range(one) for one in given), days)


def _named(component: Subject, stated: Stated) -> bool:
    """Tell whether a recall names this part, or this maker's model; what it does not name does not count."""
    said = {name: getattr(stated, name) for name in ("part", "maker", "maker_model", "kind")}
    return all(named_alike(word, str(component.get(name) or "")) for name, word in said.items() if word)


def _words(component: Subject) -> dict[str, str]:
    days = {"made": "made_on", "fitted": "fitted_on"}
    found = {word: component.get(field) for word, field in days.items()}
    return {
        "serial": component.get("serial") or "",
        **{k: v.isoformat() if v else "" for k, v in found.items()},
    }


def _naming(component: Subject) -> list[tuple[Recall, Stated]]:
    recalls = component.van.build.header.recalls.values()
    return [(one, stated) for one in recalls for stated in one.affects if _named(component, stated)]


def _dealt_with(component: Subject, recall: Recall) -> bool:
    steps = recall.builds.get(component.van.build.name)
    return steps is not None and any(getattr(steps, step) for step in DEALT_WITH)


@fact(Component, TRUTH, formula="a recall names its part, or its maker and model", source="the register")
def named_by_a_recall(component: Subject) -> bool:
    """Whether a recall names its part or model."""
    return bool(_naming(component))


@fact(
    Component,
    list_of(text()),
    formula="recalls whose serial numbers and days hold it, those done or ruled out left aside",
    source="the register's recalls",
)
def open_recalls(component: Subject) -> tuple[str, ...]:
    """Recalls that reach it and are not dealt with."""
    found: dict[str, None] = {}
    doubts: list[Missing] = []
    for recall, stated in _naming(component):
        if _dealt_with(component, recall):
            continue
        why = doubt(_words(component), _affected(stated))
        if why == "":
            found[f"{recall.title}: {recall.do}"] = None
        elif why:
            lacking = [f"{component.id}.{field}" for word, field in DECIDING.items() if word in why]
            doubts.append(Missing(*lacking, reason=f"{recall.title} may affect it: {why}"))
    if doubts and not found:
        raise doubts[0]
    return tuple(found)
