"""The component kinds of electricity: minimal specs, ports, links, feeds and field descriptions."""

from typing import Any

import pytest
from pydantic import BaseModel, ValidationError

from specreg.model import charging, dc, loads, mains, solar
from specreg.model.component import Component
from specreg.model.conversion import SOURCE_MODES
from specreg.model.field import Reader
from specreg.model.mains_device import ResidualCurrentSwitch
from specreg.model.port import Link, LinkKind, Role
from specreg.model.quantity import dimension_of

KINDS = [kind for module in (dc, charging, solar, mains, loads) for kind in module.KINDS]


def kind_word(kind: type[Component]) -> str:
    """The word that a spec writes for a kind."""
    (word,) = kind.model_fields["kind"].annotation.__args__  # type: ignore[union-attr]
    return str(word)


NEEDED: dict[str, dict[str, Any]] = {}
BREAKER = {"breaker": "10 A", "poles": 2}
RESIDUAL = {"rated_current": "40 A", "residual_current": "30 mA", "residual_type": "A", "poles": 2}

FULLER: list[tuple[str, dict[str, Any]]] = [
    ("fuse-box", {"ways": {"1": {"fuse": "10 A"}, "2": None}}),
    ("switch-panel", {"ways": {"1": {"label": "Pump"}, "2": {"form": "always on"}}}),
    ("alternator", {"rated_current": "180 A", "self_limiting": True}),
    ("dc-charger", {"output_current": "30 A", "return_charge_current": "2 A"}),
    ("dc-charger", {"output_current": "30 A", "isolated": True}),
    ("dc-converter", {"input_voltage": "24 V", "output_voltage": "12 V", "output_current": "20 A"}),
    ("split-relay", {"senses": "both"}),
    ("shore-charger", {"charge_current": "30 A", "output_voltage": "12 V", "stops_below": "3 °C"}),
    ("inverter", {"surge_power": "2300 W", "output_voltage": "230 V", "neutral_bond": "fixed"}),
    ("inverter-charger", {"charge_current": "50 A", "switched_cores": "line"}),
    ("solar-panel", {"count": 4, "in_series": 2, "short_circuit_current": "9 A", "peak_voltage": "20 V"}),
    ("solar-combiner", {"ways": {"1": {"fuse": "15 A"}, "2": None}}),
    ("solar-disconnect", {"poles": 2}),
    ("solar-controller", {"rated_current": "30 A", "load_current": "20 A"}),
    ("mains-board", {"ways": {"1": BREAKER}}),
    ("mains-board", {"main": {"breaker": "16 A"}, "ways": {"1": BREAKER, "2": None}}),
    ("mains-board", {"residual": RESIDUAL, "ways": {"1": BREAKER}}),
    ("mains-board", {"residual": RESIDUAL, "main": BREAKER, "ways": {"1": BREAKER}}),
    ("residual-current-device", {"residual": RESIDUAL}),
    ("mains-breaker", {"device": BREAKER}),
    ("transfer-switch", {"sources": {"shore": "shore", "set": "generator"}, "switched_cores": "line"}),
    ("socket", {"residual": RESIDUAL}),
    ("socket", {"switched_poles": 1}),
    ("generator", {"built_in": True, "burns": "lpg"}),
    ("mains-appliance", {"mains_power": "1.8 kW", "start_power": "2 kW"}),
    ("fridge", {"power": "45 W", "daily_energy": "450 Wh", "rated_ambient": "25 °C", "volume": "85 l"}),
    ("dimmer", {"pole": "negative"}),
]

BY_WORD = {kind_word(kind): kind for kind in KINDS}
CASES = [(word, NEEDED.get(word, {})) for word in BY_WORD] + FULLER
IDS = [f"{word}-{n}" for n, (word, _) in enumerate(CASES)]


def made(word: str, fields: dict[str, Any]) -> Component:
    """A component as a spec would state it."""
    component: Component = BY_WORD[word].model_validate({"kind": word, **fields})
    return component


def cores(component: Component, link: Link) -> set[str]:
    """The cores that a link joins."""
    ports = {port.key: set(port.cores) for port in component.ports()}
    return (ports[link.a] & ports[link.b]) & (set(link.cores) or ports[link.a])


def test_every_kind_has_its_own_word() -> None:
    """No two kinds of electricity share a word."""
    assert len(BY_WORD) == len(KINDS)


@pytest.mark.parametrize(("word", "fields"), CASES, ids=IDS)
def test_ports_are_distinct(word: str, fields: dict[str, Any]) -> None:
    """Ports have keys of their own, and at most one is meant by the component's bare name."""
    ports = made(word, fields).ports()
    assert len({port.key for port in ports}) == len(ports)
    assert sum(port.main for port in ports) <= 1


@pytest.mark.parametrize(("word", "fields"), CASES, ids=IDS)
def test_links_join_ports_that_exist_by_cores_that_both_have(word: str, fields: dict[str, Any]) -> None:
    """Every link joins two ports of one medium by common cores; only a conversion changes the medium."""
    component = made(word, fields)
    ports = {port.key: port for port in component.ports()}
    for link in component.links():
        a, b = ports[link.a], ports[link.b]
        if a.medium is b.medium:
            assert cores(component, link), link
            assert set(link.cores) <= cores(component, link), link
        else:
            assert link.kind is LinkKind.conversion, link
        assert (link.kind is LinkKind.device) == (link.device is not None)
        assert link.modes <= set(SOURCE_MODES)


@pytest.mark.parametrize(("word", "fields"), CASES, ids=IDS)
def test_no_core_is_joined_twice_in_one_mode(word: str, fields: dict[str, Any]) -> None:
    """Between two ports a core has one joint, so that no plain link goes around a device."""
    component = made(word, fields)
    seen: set[tuple[str, str, str]] = set()
    for link in component.links():
        for core in cores(component, link):
            assert (link.a, link.b, core) not in seen
            seen.add((link.a, link.b, core))


@pytest.mark.parametrize(("word", "fields"), CASES, ids=IDS)
def test_feeds_name_ports_and_what_is_missing(word: str, fields: dict[str, Any]) -> None:
    """Feeds stand at live ports, in known modes, and a missing figure is a field of the kind."""
    component = made(word, fields)
    live = {port.key for port in component.ports() if port.role not in (Role.negative, Role.earth)}
    for feed in component.feeds():
        assert feed.port in live
        assert feed.modes <= set(SOURCE_MODES)
        assert set(feed.missing) <= set(type(component).model_fields)
        assert feed.missing or feed.fault_current is not None


@pytest.mark.parametrize("model", [*KINDS, ResidualCurrentSwitch], ids=lambda model: model.__name__)
def test_every_field_is_described(model: type[BaseModel]) -> None:
    """Each field but the kind's own word has a description and a least reader."""
    for name, field in model.model_fields.items():
        if name == "kind":
            continue
        assert field.description and field.description.endswith((".", "…")), name
        extra = field.json_schema_extra
        assert isinstance(extra, dict) and extra["reader"] in set(Reader), name


def measured(kind: type[Component]) -> list[tuple[str, str]]:
    """The fields of a kind that carry one quantity and show an example."""
    return [
        (name, str(field.examples[0]))
        for name, field in kind.model_fields.items()
        if field.examples
        and any(
            dimension_of(list(getattr(part, "__metadata__", ())))
            for part in getattr(field.annotation, "__args__", ())
        )
    ]


EXAMPLES = [(kind_word(kind), *pair) for kind in KINDS for pair in measured(kind)]


@pytest.mark.parametrize(("word", "field", "example"), EXAMPLES)
def test_example_beside_a_quantity_reads(word: str, field: str, example: str) -> None:
    """The example beside a field with a unit is one that the field takes."""
    assert getattr(made(word, NEEDED.get(word, {}) | {field: example}), field) is not None


LIMITS = [
    ("alternator", {"rated_current": "180 A"}, "positive", None, None),
    ("alternator", {"rated_current": "180 A", "self_limiting": True}, "positive", 180.0, 180.0),
    ("dc-charger", {"output_current": "30 A"}, "output", 30.0, 30.0),
    ("solar-panel", {"short_circuit_current": "9 A", "count": 4, "in_series": 2}, "leads", 18.0, 18.0),
    ("solar-controller", {"rated_current": "30 A"}, "battery", 30.0, 30.0),
    ("inverter", {"surge_power": "2300 W", "output_voltage": "230 V"}, "ac-out", 10.0, 10.0),
    ("inverter-charger", {"charge_current": "50 A"}, "positive", 50.0, 50.0),
    ("shore-inlet", {"fault_current": "1 kA"}, "out", None, 1000.0),
]


@pytest.mark.parametrize(("word", "fields", "port", "limit", "greatest"), LIMITS)
def test_limit_of_a_source(
    word: str, fields: dict[str, Any], port: str, limit: float | None, greatest: float | None
) -> None:
    """What a source limits itself to follows from the figures in the spec and nothing else."""
    (feed,) = (feed for feed in made(word, fields).feeds() if feed.port == port)
    assert feed.limit == (pytest.approx(limit) if limit is not None else None)
    assert feed.fault_current == (pytest.approx(greatest) if greatest is not None else None)


POLES = [(None, {"line"}), (1, {"line"}), (2, {"line", "neutral"})]


@pytest.mark.parametrize(("poles", "opened"), POLES)
def test_poles_of_a_breaker(poles: int | None, opened: set[str]) -> None:
    """A breaker opens its poles and leaves the rest, the earth always, through-connected."""
    device = {"breaker": "10 A"} | ({"poles": poles} if poles else {})
    links = made("mains-breaker", {"device": device}).links()
    by_kind = {link.kind: set(link.cores) for link in links}
    assert by_kind[LinkKind.device] == opened
    assert by_kind[LinkKind.plain] == {"line", "neutral", "earth"} - opened


def test_panels_make_whole_strings() -> None:
    """Five panels cannot be strings of two."""
    with pytest.raises(ValidationError, match="whole strings"):
        made("solar-panel", {"count": 5, "in_series": 2})


def test_negatives_of_a_charger_are_one_unless_isolated() -> None:
    """A charger that is not stated to be isolated carries its negative through."""
    joined = [link for link in made("dc-charger", {}).links() if link.kind is LinkKind.plain]
    apart = [link for link in made("dc-charger", {"isolated": True}).links() if link.kind is LinkKind.plain]
    assert [link.cores for link in joined] == [("negative",)]
    assert apart == []
