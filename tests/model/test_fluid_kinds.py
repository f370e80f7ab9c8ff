"""The kinds of water, waste, gas, heat and air: what a spec may write, and which ports it gets."""

import json
from collections import Counter
from types import ModuleType
from typing import Any, get_args

import pytest
from pydantic import ValidationError

from specreg.model import air, cooking, coolant, fuel, gas, heat, hot_water, waste, water
from specreg.model.component import Component
from specreg.model.field import Reader
from specreg.model.kinds import kind_name
from specreg.model.port import LinkKind, Medium, Port, Way

MODULES = (water, waste, gas, heat, air)
PARTS = (cooking, coolant, fuel, hot_water)
"""Modules whose kinds those above take over."""
KINDS: dict[str, type[Component]] = {kind_name(kind): kind for module in MODULES for kind in module.KINDS}

FILLED: dict[str, dict[str, Any]] = {
    "fresh-tank": {"volume": "70 L", "delivered_fill": "50 %", "gauge": "probes"},
    "pump": {"greatest_flow": "10 L/min", "cut_off_pressure": "2.1 bar", "power": "60 W"},
    "water-filter": {"pore_size": "0.001 mm", "rated_flow": "8 L/min"},
    "tap": {"form": "mixer", "flow": "4 L/min", "minutes_per_day": "6 min"},
    "water-heater": {"energies": ["gas", "mains", "engine coolant"], "volume": "10 L"},
    "mixing-valve": {"temperature": "43 °C"},
    "valve": {"drive": "motor", "purpose": "drain", "positions": {"night": "closed"}},
    "grey-tank": {"volume": "60 L", "inlets": 2},
    "toilet": {"form": "urine-diverting", "flush_from": "none", "electric": True},
    "waste-vent": {"inlets": 2, "opens_to": "outside"},
    "gas-cylinder": {"content": "6 kg", "tare": "7.4 kg", "greatest_draw": "800 g/h"},
    "gas-locker": {"floor_area": "1200 cm²", "vent_area_low": "100 cm²", "contents": ["gas-cylinder"]},
    "regulator": {"capacity": "1.5 kg/h", "outlet_pressure": "30 mbar", "change_over": "automatic"},
    "gas-manifold": {"ways": {"1": {"label": "Hob"}, "2": {"shut_off": False}}},
    "hob": {"input": "3.4 kW", "ignition": "12 V", "gas_flow": "250 g/h"},
    "air-heater": {"burns": "diesel", "fuel_flow": "0.24 L/h", "outlets": 2, "greatest_bends": "270°"},
    "combined-heater": {"burns": "propane", "mains_power": "1.8 kW", "relief_pressure": "3.5 bar"},
    "electric-heater": {"energy": "dc", "power": "100 W"},
    "heat-exchanger": {"secondary": "water"},
    "radiator": {"fan": True},
    "insulation-layer": {"conductivity": "0.036 W/(m·K)", "burn_rate": "60 mm/min", "density": "33 kg/m³"},
    "vent": {"free_area": "20 cm²", "surface": "floor"},
    "roof-fan": {"greatest_flow": "1500 m³/h", "opening_size": ["400 mm", "400 mm"]},
    "opening-window": {"opening_area": "0.2 m²", "heat_transfer": "2.9 W/(m²·K)"},
    "duct-branch": {"outlets": 3, "flap": True},
}
"""Fields that change the ports, or show a quantity, on top of the kind alone."""

CASES: list[tuple[str, dict[str, Any]]] = [(name, {}) for name in KINDS] + list(FILLED.items())


def made(name: str, **fields: Any) -> Component:
    """Return the component that a spec with these fields describes."""
    return KINDS[name].model_validate_json(json.dumps({"kind": name, **fields}))


@pytest.mark.parametrize(("name", "fields"), CASES)
def test_links_join_ports_with_a_common_core(name: str, fields: dict[str, Any]) -> None:
    """Every kind validates bare and filled, and its links join ports that it has."""
    component = made(name, **fields)
    ports = {port.key: port for port in component.ports()}
    assert len(ports) == len(component.ports())
    for link in component.links():
        a, b = ports[link.a], ports[link.b]
        assert link.a != link.b
        assert set(a.cores) & set(b.cores)
        assert a.medium is b.medium or link.kind is LinkKind.conversion


@pytest.mark.parametrize(("name", "fields"), CASES)
def test_a_bare_component_id_means_one_port_at_most(name: str, fields: dict[str, Any]) -> None:
    """For each medium and way at most one port is the main one."""
    ports = made(name, **fields).ports()
    mains = Counter((port.medium, way) for port in ports if port.main for way in _ways(port))
    assert all(count == 1 for count in mains.values()), mains


def _ways(port: Port) -> tuple[Way, ...]:
    return (Way.into, Way.out) if port.way is Way.either else (port.way,)


@pytest.mark.parametrize("name", KINDS)
def test_every_field_says_what_it_is_and_who_may_read_it(name: str) -> None:
    """Every field but `kind` has a description and a reader."""
    for field, info in KINDS[name].model_fields.items():
        if field == "kind":
            continue
        assert info.description and info.description.count(" ") >= 1, field
        assert isinstance(info.json_schema_extra, dict), field
        assert info.json_schema_extra["reader"] in set(Reader), field


@pytest.mark.parametrize("name", KINDS)
def test_every_example_is_read_by_its_own_field(name: str) -> None:
    """What the reference shows as an example of a quantity is accepted by the field."""
    from specreg.model.quantity import dimension_of

    for field, info in KINDS[name].model_fields.items():
        args = getattr(info.annotation, "__args__", ())
        dimension = dimension_of([m for arg in args for m in getattr(arg, "__metadata__", ())])
        if dimension is not None and info.examples:
            assert getattr(made(name, **{field: info.examples[0]}), field) is not None


@pytest.mark.parametrize("name", KINDS)
def test_no_field_states_a_verdict(name: str) -> None:
    """A spec says what is fitted; answers are computed."""
    verdicts = ("vented", "adequate", "protected", "exempt", "approved", "safe", "compliant", "sufficient")
    assert not [f for f in KINDS[name].model_fields if f in verdicts]


@pytest.mark.parametrize("module", MODULES + PARTS, ids=lambda m: m.__name__.rpartition(".")[2])
def test_module_lists_its_kinds(module: ModuleType) -> None:
    """Every class of a module that names a kind is in its list, once."""
    own = [
        c
        for c in vars(module).values()
        if isinstance(c, type) and issubclass(c, Component) and c.__module__ == module.__name__
    ]
    named = [c for c in own if get_args(c.model_fields["kind"].annotation)]
    assert len(set(module.KINDS)) == len(module.KINDS)
    assert set(named) <= set(module.KINDS)
    assert set(named) == {kind for kind in module.KINDS if kind.__module__ == module.__name__}


def test_an_unknown_field_is_refused() -> None:
    """No kind has room for free-form keys."""
    with pytest.raises(ValidationError, match="extra_forbidden"):
        made("fresh-tank", vented=True)


def _names(component: Component, medium: Medium) -> list[str]:
    return [port.name for port in component.ports() if port.medium is medium]


def test_quantities_are_read_to_si() -> None:
    """70 L are 0.07 m³, 10 L/min are 1/6000 m³/s, 30 mbar are 3 kPa, 1200 cm² are 0.12 m²."""
    assert made("fresh-tank", volume="70 L").volume == pytest.approx(0.07)  # type: ignore[attr-defined]
    assert made("pump", greatest_flow="10 L/min").greatest_flow == pytest.approx(  # type: ignore[attr-defined]
        1 / 6000
    )
    regulator = made("regulator", outlet_pressure="30 mbar")
    assert regulator.outlet_pressure == pytest.approx(3000)  # type: ignore[attr-defined]
    assert made("gas-locker", floor_area="1200 cm²").floor_area == pytest.approx(  # type: ignore[attr-defined]
        0.12
    )


@pytest.mark.parametrize(
    ("name", "fields", "medium", "ports"),
    [
        ("valve", {}, Medium.dc, []),
        ("valve", {"drive": "motor"}, Medium.dc, ["supply"]),
        ("pump", {"form": "foot"}, Medium.dc, []),
        ("pump", {}, Medium.dc, ["supply"]),
        ("tap", {"form": "mixer"}, Medium.water, ["cold", "hot"]),
        ("tap", {"form": "hot"}, Medium.water, ["hot"]),
        ("water-heater", {"energies": ["gas"]}, Medium.gas, ["fuel"]),
        ("water-heater", {"energies": ["gas"]}, Medium.dc, ["supply"]),
        ("water-heater", {"energies": ["gas"], "gas_electronics": False}, Medium.dc, []),
        ("water-heater", {"energies": ["diesel"]}, Medium.fuel, ["fuel"]),
        ("water-heater", {"energies": ["mains"]}, Medium.exhaust, []),
        ("water-heater", {"energies": ["mains"]}, Medium.ac, ["mains"]),
        ("water-heater", {"energies": ["engine coolant"]}, Medium.dc, []),
        ("toilet", {"form": "composting"}, Medium.waste, ["urine", "solids"]),
        ("toilet", {"form": "cassette"}, Medium.waste, ["soil"]),
        ("toilet", {"form": "cassette", "flush_from": "fresh water"}, Medium.water, ["flush"]),
        ("grey-tank", {"inlets": 2}, Medium.waste, ["inlet-1", "inlet-2", "drain", "vent"]),
        ("gas-cylinder", {"spare": True}, Medium.gas, []),
        ("regulator", {"change_over": "automatic"}, Medium.gas, ["in-1", "in-2", "out"]),
        ("hob", {}, Medium.exhaust, []),
        ("hob", {"burns": "methylated spirit"}, Medium.gas, []),
        ("air-heater", {}, Medium.fuel, ["fuel"]),
        ("air-heater", {"burns": "propane"}, Medium.gas, ["fuel"]),
        (
            "air-heater",
            {"outlets": 2},
            Medium.air,
            ["combustion-air", "room-air", "warm-air-1", "warm-air-2"],
        ),
        ("air-heater", {}, Medium.air, ["combustion-air", "room-air", "warm-air"]),
        ("air-heater", {"flue_type": "open-flued"}, Medium.air, ["room-air", "warm-air"]),
        ("electric-heater", {}, Medium.dc, []),
        ("extractor-hood", {"ducted": False}, Medium.air, []),
    ],
)
def test_ports_follow_from_what_is_stated(
    name: str, fields: dict[str, Any], medium: Medium, ports: list[str]
) -> None:
    """The fields decide which media a component is joined to."""
    assert _names(made(name, **fields), medium) == ports


def test_a_heater_with_several_energies_needs_none_of_them_alone() -> None:
    """Losing the mains leaves a gas-and-mains water heater alive; losing its only energy does not."""
    both = made("water-heater", energies=["gas", "mains"]).ports()
    gas_only = made("water-heater", energies=["gas"]).ports()
    assert {p.name for p in both if p.needed} == {"cold"}
    assert {p.name for p in gas_only if p.needed} == {"cold", "fuel", "supply"}


@pytest.mark.parametrize(
    "fields",
    [
        {"energies": ["gas", "diesel"]},
        {"energies": ["gas"], "burns": "diesel"},
        {"energies": ["mains"], "burns": "propane"},
    ],
)
def test_a_water_heater_burns_one_fuel(fields: dict[str, Any]) -> None:
    """`energies` decides the ports, so `burns` may only say which gas or oil it is."""
    with pytest.raises(ValidationError, match="one and the same fuel"):
        made("water-heater", **fields)
    assert made("water-heater", energies=["gas", "mains"], burns="propane")
