"""A tiny register with a pack of rules of its own, written anew for each test."""

from pathlib import Path

HERON = """\
format: 1
build: heron
title: Two-berth van
stage: design
jurisdictions: [uk]
as_of: 2026-05-01
components:
  house-battery:
    kind: battery
    capacity: 100 Ah
    nominal_voltage: 12.8 V
    short_circuit_current: 1.5 kA
    serial: canary-serial
  fuse-box:
    kind: fuse-box
    ways: {pump: {fuse: 10 A, family: blade}}
  water-pump:
    kind: pump
    power: 60 W
    supply_voltage: 12 V
runs:
  battery-main:
    {medium: dc, from: house-battery/positive, to: fuse-box/feed, return: battery-return, conductor: 25 mm², length: 1 m}
  battery-return: {medium: dc, from: house-battery/negative, to: fuse-box/feed, conductor: 25 mm², length: 1 m}
  pump-feed: {medium: dc, from: fuse-box/pump, to: water-pump, conductor: 1.5 mm², length: 3 m, return: same cable}
"""

RULES = {
    "dc/battery-large-enough": """\
---
title: The battery holds enough
system: dc
level: error
judges: battery
passes: battery.capacity >= limits.least
finding: "{{ battery }} holds {{ battery.capacity }}, less than {{ limits.least }}"
remedy: Fit a larger battery.
limits: {least: {any: 90 Ah, us: 120 Ah}}
sources: [{document: Made-up code, clause: "1.2", edition: "2020", how: memory}]
---
A van with a small battery sits in the dark.
""",
    "dc/battery-warm-enough": """\
---
title: The battery is not charged when cold
system: dc
level: warning
judges: battery
passes: battery.heated
finding: "{{ battery }} has no heating"
sources: [{how: common practice}]
---
Cold charging ages a battery.
""",
    "water/pump-looked-at": """\
---
title: The pump is quiet
system: water
level: warning
judges: pump
decides: pump fitter
finding: nobody has listened to the pump
asks: Listen to {{ pump }}.
sources: [{how: common practice}]
---
Only ears can tell.
""",
    "gas/cylinder-upright": """\
---
title: The cylinder stands upright
system: gas
level: error
judges: gas-cylinder
decides: registered gas engineer
finding: the cylinder does not stand
sources: [{how: physics}]
---
Liquid must not enter the regulator.
""",
}
"""One rule for each sort of answer: with a limit, with a missing field, with a person, without a target."""


def write_rules(folder: Path, rules: dict[str, str] | None = None) -> Path:
    """Write a pack and return its folder."""
    for identity, text in (RULES if rules is None else rules).items():
        path = folder / f"{identity}.md"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return folder


def write_build(register: Path, name: str = "heron", text: str = HERON) -> Path:
    """Write a build into a register and return its folder."""
    folder = register / name
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "spec.yaml").write_text(text.replace("build: heron", f"build: {name}"), encoding="utf-8")
    return folder


def changed(*pairs: tuple[str, str]) -> str:
    """The heron's spec with pieces of its text replaced; each must be there."""
    text = HERON
    for old, new in pairs:
        assert old in text, old
        text = text.replace(old, new)
    return text
