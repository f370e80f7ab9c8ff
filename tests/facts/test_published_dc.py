"""Facts of whole small systems against worked checks (tests/published/dc-facts.csv).

The kinds of the rows are counted apart: `published` (a value printed elsewhere) and `derived` (arithmetic on
a published formula, run here through reader, graph and facts).
"""

import csv
import json
import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from dc_van import dc_facts
from test_batteries_in_series import bank

from specreg.facts.engine import Subject
from specreg.rules.pack import load_pack
from specreg.tables import conductors
from specreg.units import parse_conductor

ROOT = Path(__file__).parents[2]
FOOT, INCH = 0.3048, 0.0254
with (ROOT / "tests/published/dc-facts.csv").open(encoding="utf-8", newline="") as file:
    ROWS = list(csv.DictReader(file))

Inputs = dict[str, Any]


def k_method(i: Inputs) -> float:
    """Drop out and back at the 75 °C that K = 12.9 stands for."""
    size = parse_conductor(f"{i['awg']} AWG")
    return float(
        2 * i["ft"] * FOOT * i["A"] * conductors.resistance_per_metre(size, temperature_kelvin=348.15)
    )


def drop(i: Inputs) -> float:
    """Drop of a twin cable whose load takes a stated current."""
    facts = dc_facts(
        f"components: {{lamp: {{current: {i['A']} A}}}}",
        f"runs: {{lamp-feed: {{conductor: {i['mm2']} mm², length: {i['m']} m}}}}",
    )
    return float(facts.subject("lamp-feed").run_drop)


def cold(i: Inputs) -> float:
    """Cold voltage of a string of panels."""
    count = f"count: {i['n']}, in_series: {i['n']}"
    coefficient = f", voltage_coefficient: {i['beta']} %/K" if "beta" in i else ""
    facts = dc_facts(
        base=f"""
        use: {{places: [{{latitude: 56 deg, night_temperature: {i["t"]} °C}}]}}
        components:
          panel: {{kind: solar-panel, open_circuit_voltage: {i["Voc"]} V, {count}{coefficient}}}
        """
    )
    return float(facts.subject("panel").string_cold_voltage)


def panel_cable(i: Inputs) -> float:
    """What the rule on panel cables asks of a conductor in the US."""
    facts = dc_facts(
        base=f"""
        components:
          panel: {{kind: solar-panel, short_circuit_current: {i["Isc"]} A}}
          controller: {{kind: solar-controller}}
        runs:
          leads: {{medium: dc, from: panel/leads, to: controller/panel, return: same cable}}
        """
    )
    pack, _ = load_pack(ROOT / "rules")
    factor = pack.by_identity()["solar/panel-cable"].limits_in("us")["factor"]
    return float(facts.subject("leads").design_current * factor)


def main_device(i: Inputs) -> Subject:
    """The only device, a blade fuse at a bar on which parallel batteries meet."""
    bank = range(1, i.get("p", 1) + 1)
    cable = f"conductor: {i.get('mm2', 35)} mm², length: {i.get('m', 0)} m"
    battery = f"kind: battery, nominal_voltage: {i['E0']} V, internal_resistance: {i['R']} Ω"
    batteries = "\n".join(f"          b{n}: {{{battery}, highest_charge_voltage: {i['E0']} V}}" for n in bank)
    leads = "\n".join(
        f"          plus-{n}: {{medium: dc, from: b{n}/positive, to: plus/{n}, return: minus-{n}, {cable}}}\n"
        f"          minus-{n}: {{medium: dc, from: b{n}/negative, to: minus/{n}, {cable}}}"
        for n in bank
    )
    facts = dc_facts(
        base=f"""
        components:
{batteries}
          plus: {{kind: bus-bar, studs: 9}}
          minus: {{kind: bus-bar, polarity: negative, studs: 9}}
          fuse: {{kind: fuse-box, negative_bar: false, ways: {{only: {{fuse: 10 A, family: blade}}}}}}
        runs:
{leads}
          feed: {{medium: dc, from: plus/9, to: fuse/feed, length: 0 m, conductor: 35 mm²}}
        """
    )
    return facts.subject("fuse/only")


def short(i: Inputs) -> float:
    """Prospective current at the device."""
    return float(main_device(i).prospective_current)


def breaks(i: Inputs) -> bool:
    """Whether the device breaks it."""
    device = main_device(i)
    return bool(device.prospective_current <= device.breaking_capacity_there)


CASES: dict[str, Callable[[Inputs], Any]] = {
    "C1-01": lambda i: math.sqrt(4 * parse_conductor(f"{i['awg']} AWG").area / math.pi) / INCH,
    "C1-09": k_method,
    "C1-14": drop,
    "C2-09": cold,
    "C2-10": cold,
    "C2-11": cold,
    "C2-13": panel_cable,
    "C3-02": short,
    "C3-05": short,
    "C3-06": short,
    "E11-P": short,
    "E11-2S3P": lambda i: bank(i["s"], i["p"]).subject("feed/1").prospective_current,
    "C3-05S": lambda i: bank(i["s"], i["p"]).subject("feed/1").prospective_current,
    "C3-09": breaks,
}


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['id']}-{row['kind']}")
def test_worked_check(row: dict[str, str]) -> None:
    """The fact gives the expected figure within the stated tolerance."""
    found = CASES[row["id"]](json.loads(row["inputs"]))
    if isinstance(found, bool):
        assert str(found) == row["expected"]
    else:
        assert found == pytest.approx(float(row["expected"]), abs=float(row["tolerance"]) + 1e-9, rel=0)


def test_every_case_is_in_the_file() -> None:
    """No case lacks its row."""
    assert set(CASES) == {row["id"] for row in ROWS}
