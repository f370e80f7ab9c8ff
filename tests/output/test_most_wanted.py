"""At enquiry the check names the fields that would decide most, weightiest first."""

from pathlib import Path

from building import read

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.engine import Facts
from specreg.model.build import Build, Stage
from specreg.report import Report
from specreg.rules.judge import judge
from specreg.rules.pack import Pack, load_pack

ROOT = Path(__file__).parents[2]

TALK = """
stage: enquiry
use: {people: {adults: 2}, nights_off_grid: 3}
vehicle: {wheelbase: 3450 mm, permitted: {total: 3200 kg}}
components:
  battery: {kind: battery, chemistry: lithium iron phosphate, nominal_voltage: 12.8 V, capacity: 100 Ah}
  hob: {kind: hob, burns: propane, input: 3.6 kW}
  cylinder: {kind: gas-cylinder, gas: propane, content: 6 kg}
  regulator: {kind: regulator}
  bed: {kind: bed, places: 2}
runs:
  hose: {medium: gas, from: cylinder, to: regulator, form: hose}
  pipe: {medium: gas, from: regulator, to: hob, form: pipe}
"""


def report() -> Report:
    """The check of a van that has been talked about once."""
    build, problems = read(TALK)
    assert problems == [] and isinstance(build, Build)
    pack: Pack = load_pack(ROOT / "rules")[0]
    facts = Facts(build)
    return Report(build, judge(pack, facts, Stage.enquiry), facts, pack, Stage.enquiry, None)


def test_the_weightiest_fields_come_first() -> None:
    """The base vehicle's masses decide most of a van at its enquiry; what is recorded at its end comes last."""
    wanted = report().wanted()
    assert wanted[0].field == "vehicle.as_received"
    ranks = [one.rank for one in wanted if not one.field.startswith("records.")]
    assert ranks == sorted(ranks, reverse=True)
    records = [one.field.startswith("records.") for one in wanted]
    assert any(records) and records == sorted(records)
