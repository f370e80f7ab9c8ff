"""The life of a van by the command line, from the first page to its second owner. It reads like a story."""

import re
from hashlib import sha256
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from git_repository import commit

from specreg.cli.commands import cli

VAN = "first-van"
SPEC = Path(VAN, "spec.yaml")
HANDED_OVER = "2026-11-20"
LATER = "2029-12-01"


def run(*words: str) -> Result:
    return CliRunner().invoke(cli, words)


def says(*words: str, code: int = 0) -> str:
    """Run a command that ends as expected, and return what it prints."""
    done = run(*words)
    assert done.exit_code == code, done.output
    return done.stdout


def write(file: Path, *pairs: tuple[str, str]) -> None:
    """Replace pieces of a file's text; each must be there."""
    text = file.read_text(encoding="utf-8")
    for old, new in pairs:
        assert old in text, old
        text = text.replace(old, new, 1)
    file.write_text(text, encoding="utf-8")


def add(file: Path, text: str) -> None:
    with file.open("a", encoding="utf-8") as opened:
        opened.write(text)


def published(*more: str) -> str:
    """Publish the owner's pages and return all that stands in them."""
    says("publish", VAN, "--reader", "owner", "--into", "../site", *more)
    return "\n".join(page.read_text(encoding="utf-8") for page in sorted(Path("../site").rglob("*.html")))


@pytest.fixture
def workshop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A register that was begun with `start`, in git, and the workshop stands in it."""
    register = tmp_path / "vans"
    assert run("start", str(register)).exit_code == 0
    monkeypatch.chdir(register)
    Path(".gitignore").write_text("private.yaml\n", encoding="utf-8")
    commit(register, "begun")
    return register


def test_life_of_a_van(workshop: Path) -> None:
    """Each chapter stands on the one before."""
    the_van_is_designed(workshop)
    the_client_changes_his_mind(workshop)
    the_panels_close(workshop)
    it_is_handed_over(workshop)
    the_catalogue_goes_on_and_the_van_stays(workshop)
    a_pump_is_recalled_and_replaced(workshop)
    it_is_sold(workshop)


def the_van_is_designed(register: Path) -> None:
    """What one page leaves open is stated; then nothing fails at the stage of design."""
    write(
        SPEC,
        ("stage: enquiry", "stage: design\nrevision: A"),
        (
            "  wheelbase: 3450 mm\n",
            "  wheelbase: 3450 mm\n  overall_length: 5400 mm\n  overall_width: 2050 mm\n"
            "  overall_height: 2600 mm\n"
            "  tyres: {size: 225/75 R16C 121/120R, front: 4.5 bar, rear: 5.0 bar}\n",
        ),
        ("rear_axle: 2000 kg}", "rear_axle: 2000 kg, roof: 100 kg}"),
        (
            "components:\n",
            "components:\n  house-battery: {fixed_to: body, fastening: tray with four M8 bolts and plates}\n"
            "  switch-panel: {ways: {1: {rated_current: 10 A}, 2: {rated_current: 10 A}}}\n",
        ),
        (
            "form: sliding door, where: side,",
            "form: sliding door, where: side, opens_from_inside: true, opening_width: 1000 mm, opening_height: 1600 mm,",
        ),
        (
            "form: hinged door, where: rear,",
            "form: hinged door, where: rear, opens_from_inside: true, opening_width: 1500 mm, opening_height: 1700 mm,",
        ),
        ("smoke-alarm-own-battery,", "smoke-alarm-own-battery, serial: S-204, expires_on: 2036-03-31,"),
    )
    assert "fails (error" not in says("inspect", VAN, "--on", "2026-02-01")
    says("schedule", VAN, "--assign")
    commit(register, "designed")


def the_client_changes_his_mind(register: Path) -> None:
    """Two changes: one is asked about first, both are written down, one as an order to be signed."""
    asked = says("compare", VAN, "--with", "components.water-pump.power=80 W")
    assert "power: 60 W → 80 W" in asked
    write(SPEC, ("nights_off_grid: 2", "nights_off_grid: 1"))
    write(SPEC, ("ceiling-spot, count: 4", "ceiling-spot, count: 6"))
    assert "count: 4 → 6" in says("compare", VAN)
    order = says(
        *("compare", VAN, "--from", "designed", "--format", "change-order"),
        *("--number", "1", "--on", "2026-03-04"),
    )
    assert "count" in order
    commit(register, "changed")


def the_panels_close(register: Path) -> None:
    """What was laid comes back on a sheet, the fastening is signed; then the panels may close."""
    sheet = says("schedule", VAN, "--at", "panels-close", "--format", "csv").splitlines()
    photo = Path(VAN, "roof.jpg")
    photo.write_bytes(b"a photograph of the roof void")
    filled = [f"{line}roof.jpg" for line in sheet[1:]]
    (register.parent / "filled.csv").write_text("\n".join([sheet[0], *filled]) + "\n", encoding="utf-8")
    before = "Every run that panels will cover is on a photograph"
    asked = ("inspect", VAN, "--for", "panels-close", "--on", "2026-05-01")
    assert before in says(*asked, code=1)
    refused = says("hand-over", VAN, "--on", "2026-05-01", code=1)
    assert "not signed: house battery is held by tray" in refused
    assert not Path(VAN, "as-built.yaml").exists()
    said = says("record", VAN, "../filled.csv", "--write")
    assert sha256(photo.read_bytes()).hexdigest() in said
    (register.parent / "laid.csv").write_text(
        "on,length,serial,fitted_on\nfridge-feed,3.4 m,,\nwater-pump,,LP-3307,2026-06-02\n", encoding="utf-8"
    )
    said = says("record", VAN, "../laid.csv", "--write")
    assert "runs.fridge-feed.length: 3.4 m" in said
    (mark,) = set(re.findall(r"is held by tray[^\0]*?`covers: ([0-9a-f]{8})`", says(*asked, code=1)))
    add(
        Path(VAN, "records.yaml"),
        "  sign_offs:\n    - {matter: dc/battery-fastened, target: house-battery, by: vehicle examiner, "
        f"name: An Examiner, date: 2026-04-30, covers: {mark}}}\n",
    )
    text = says(*asked)
    assert before not in text
    assert "May the panels close? By what is written, yes" in text
    commit(register, "panels")


def it_is_handed_over(register: Path) -> None:
    """Frozen without what is private, and read from there; the owner gets the pages."""
    Path(VAN, "private.yaml").write_text(
        "vehicle: {identity: {owner: First Owner, contact: first@example.invalid, plate: AB12 CDE}}\n",
        encoding="utf-8",
    )
    assert "May it be handed over? By what is written, yes" in says("hand-over", VAN, "--on", HANDED_OVER)
    write(SPEC, ("stage: design", "stage: in-service"))
    add(SPEC, f"\nas_of: {HANDED_OVER}\n")
    frozen = Path(VAN, "as-built.yaml").read_text(encoding="utf-8")
    assert "First Owner" not in frozen
    assert "3.4 m  # first-van/fitted.yaml" in frozen
    assert "First Owner" in published()
    commit(register, "handed-over")


def the_catalogue_goes_on_and_the_van_stays(register: Path) -> None:
    """Part, package and standards change for the next van; this one's pages and findings stay, byte for byte."""
    before = published(), says("inspect", VAN), says("figures", VAN, "--format", "json")
    write(Path("parts", "water-and-heat.yaml"), ("power: 60 W", "power: 90 W"))
    write(Path("assemblies", "small-12v.yaml"), ("length: 1.6 m", "length: 2.6 m"))
    assert (published(), says("inspect", VAN), says("figures", VAN, "--format", "json")) == before
    commit(register, "catalogue")


def a_pump_is_recalled_and_replaced(register: Path) -> None:
    """Three years later: who has it, what the inspection says, and the pump that took its place."""
    Path("recalls").mkdir(exist_ok=True)
    recall = Path("recalls", "pump.yaml")
    recall.write_text(
        "title: Pump, switch may stick\nsource: the maker's letter 4 of 2029\ndate: 2029-10-01\n"
        "affects:\n  - {part: diaphragm-pump-10l, serials: LP-3300..LP-3399}\ndo: Fit another pump.\n",
        encoding="utf-8",
    )
    assert "first-van" in says("find", ".", "--recall", "pump")
    assert "this part is recalled: Pump, switch may stick" in says("inspect", VAN, "--on", LATER)
    add(recall, "builds:\n  first-van: {told: 2029-10-05, booked: 2029-11-30}\n")
    add(
        Path("parts", "water-and-heat.yaml"),
        "\npump-quiet-9l: {kind: pump, power: 48 W, supply_voltage: 12 V, load: motor, mass: 1.7 kg}\n",
    )
    (register.parent / "service.csv").write_text(
        "on,part,serial,fitted_on\nwater-pump,pump-quiet-9l,QP-1,2029-11-30\n", encoding="utf-8"
    )
    says("record", VAN, "../service.csv", "--write")
    add(
        Path(VAN, "records.yaml"),
        "  services: [{date: 2029-11-30, what: recalled pump replaced, on: water-pump, by: workshop}]\n",
    )
    changed = says("compare", VAN)
    assert "part: diaphragm-pump-10l → pump-quiet-9l" in changed
    assert "power: 60 W → 48 W" in changed
    after = run("inspect", VAN, "--on", LATER).stdout
    assert "this part is recalled" not in after
    says("hand-over", VAN, "--on", LATER, code=2)
    commit(register, "serviced")


def it_is_sold(register: Path) -> None:
    """The second owner's book says nothing of the first."""
    Path(VAN, "private.yaml").write_text(
        "vehicle: {identity: {owner: Second Owner, contact: second@example.invalid, plate: AB12 CDE}}\n",
        encoding="utf-8",
    )
    book = published("--for-next-owner")
    assert "First Owner" not in book
    assert "first@example.invalid" not in book
    assert "pump" in book
    assert "First Owner" not in "".join(path.read_text(encoding="utf-8") for path in register.rglob("*.yaml"))
