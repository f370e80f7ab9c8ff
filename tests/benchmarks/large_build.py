"""A large invented build: many fused circuits on several boxes, two batteries, chargers, water and waste."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any


def large_build(boxes: int = 12, ways: int = 14) -> str:
    """Return the spec of a build with about `boxes × ways` loads and twice as many runs."""
    lines = [
        "format: 1",
        "build: large",
        "title: Large build",
        "stage: design",
        "jurisdictions: [uk]",
        "as_of: 2026-05-01",
        "defaults: {insulation: 105 °C, mains_insulation: 75 °C}",
        "vehicle:",
        "  wheelbase: 4035 mm",
        "  permitted: {total: 5000 kg, front_axle: 2500 kg, rear_axle: 3500 kg}",
        "components:",
    ]
    runs = ["runs:"]
    for side in ("left", "right"):
        lines += [
            f"  battery-{side}:",
            "    kind: battery",
            "    chemistry: lithium iron phosphate",
            "    nominal_voltage: 12.8 V",
            "    capacity: 200 Ah",
            "    highest_charge_voltage: 14.4 V",
            "    short_circuit_current: 3 kA",
            "    at: [2.0 m, 0.2 m, 0.1 m]",
            "    size: [0.3 m, 0.2 m, 0.2 m]",
            "    mass: 24 kg",
        ]
    lines += [
        f"  main-bar: {{kind: bus-bar, studs: {boxes + 8}, rated_current: 500 A}}",
        f"  ground-bar: {{kind: bus-bar, polarity: negative, studs: {boxes + 8}, rated_current: 500 A}}",
        "  solar: {kind: solar-controller, rated_current: 30 A, battery_voltage: 12 V}",
    ]
    for stud, side in enumerate(("left", "right"), 1):
        runs += [
            f"  lead-{side}: {{medium: dc, from: battery-{side}/positive, to: main-bar/{stud}, conductor: 70 mm²,"
            " length: 1 m, covering: none, protection: [{fuse: 200 A, family: mega, distance: 100 mm}]}",
            f"  minus-{side}: {{medium: dc, from: battery-{side}/negative, to: ground-bar/{stud},"
            " conductor: 70 mm², length: 1 m}",
        ]
    runs += [
        "  charge: {medium: dc, from: solar/battery, to: main-bar/3, return: charge-back, conductor: 10 mm²,"
        " length: 2 m, covering: none, protection: [{fuse: 40 A, family: midi, distance: 100 mm, end: to}]}",
        "  charge-back: {medium: dc, from: solar/battery, to: ground-bar/3, conductor: 10 mm², length: 2 m}",
    ]
    for box in range(boxes):
        lines += [f"  box-{box}:", "    kind: fuse-box", "    rated_current: 100 A", "    ways:"]
        lines += [f"      w{way}: {{fuse: 10 A, family: blade, label: Circuit {way}}}" for way in range(ways)]
        runs += [
            f"  main-{box}: {{medium: dc, from: main-bar/{box + 5}, to: box-{box}/feed, return: back-{box},"
            " conductor: 25 mm², length: 2 m, covering: none,"
            " protection: [{fuse: 80 A, family: midi, distance: 100 mm}]}",
            f"  back-{box}: {{medium: dc, from: ground-bar/{box + 5}, to: box-{box}/feed, conductor: 25 mm²,"
            " length: 2 m}",
        ]
        for way in range(ways):
            lines += [
                f"  light-{box}-{way}:",
                "    kind: ceiling-light",
                "    power: 6 W",
                "    supply_voltage: 12 V",
                "    hours_per_day: 2 h",
                f"    at: [{2 + box * 0.1:.1f} m, {-0.8 + way * 0.1:.1f} m, 1.8 m]",
                "    size: [0.1 m, 0.1 m, 0.02 m]",
                "    mass: 0.2 kg",
                f"    label: Light {box} {way}",
                f"  switch-{box}-{way}: {{kind: switch, rated_current: 10 A, mass: 30 g}}",
            ]
            runs += [
                f"  feed-{box}-{way}: {{medium: dc, from: box-{box}/w{way}, to: switch-{box}-{way}/in,"
                " return: same cable, conductor: 1.5 mm², length: 4.2 m}",
                f"  load-{box}-{way}: {{medium: dc, from: switch-{box}-{way}/out, to: light-{box}-{way},"
                " return: same cable, conductor: 1.5 mm², length: 1.2 m}",
            ]
    return "\n".join([*lines, *runs]) + "\n"


def large_van(lights: int = 155) -> str:
    """Return the demo with all its systems, complete in one file, and so many more fused circuits.

    With 155 lights it has more than 250 components and 400 runs. Each light has a way of a box, and a conductor of
    its own each way. It is written as people write: what belongs together on one line.
    """
    from specreg.model.read import data_of
    from specreg.workshop import load

    (build,) = load(Path(__file__).parents[2] / "builds" / "fieldwork").sound
    tree = _plain(data_of(build.tree))
    for key in ("include", "circuits", "renamed"):
        tree.pop(key, None)
    boxes = -(-lights // WAYS)
    tree["build"] = "large"
    tree["components"] |= dict(_further_components(lights, boxes))
    tree["runs"] |= dict(_further_runs(lights, boxes))
    return "\n".join(_lines(tree, 0)) + "\n"


WAYS = 20


def _further_components(lights: int, boxes: int) -> Iterator[tuple[str, dict[str, object]]]:
    for side, polarity in (("more-plus", "positive"), ("more-minus", "negative")):
        yield (
            side,
            {"kind": "bus-bar", "polarity": polarity, "studs": lights + boxes + 4, "rated_current": "500 A"},
        )
    for box in range(boxes):
        ways = {
            f"w{way}": {"fuse": "3 A", "family": "blade", "label": f"Light {box} {way}"}
            for way in range(WAYS)
        }
        yield f"more-box-{box}", {"kind": "fuse-box", "rated_current": "100 A", "ways": ways}
    for light in range(lights):
        yield (
            f"more-light-{light}",
            {
                "kind": "ceiling-light",
                "power": "2 W",
                "supply_voltage": "12 V",
                "hours_per_day": "1 h",
                "at": [f"{1500 + 10 * light} mm", f"{-600 + 8 * light} mm", "1880 mm"],
                "size": ["60 mm", "60 mm", "15 mm"],
                "mass": "0.1 kg",
                "fixed_to": "body",
                "label": f"Light {light}",
            },
        )


def _further_runs(lights: int, boxes: int) -> Iterator[tuple[str, dict[str, object]]]:
    main = {"fuse": "50 A", "family": "midi", "distance": "100 mm"}
    joint: dict[str, object] = {"medium": "dc", "conductor": "10 mm²", "length": "3 m", "covering": "sheath"}
    plus = {**joint, "from": "positive-bus/7", "to": "more-plus/1", "return": "more-minus-main"}
    yield "more-plus-main", {**plus, "protection": {"main": main}}
    yield "more-minus-main", {**joint, "from": "negative-bus/7", "to": "more-minus/1"}
    for box in range(boxes):
        feed = {
            **joint,
            "from": f"more-plus/{box + 2}",
            "to": f"more-box-{box}/feed",
            "return": f"more-back-{box}",
        }
        yield f"more-feed-{box}", feed
        yield f"more-back-{box}", {**joint, "from": f"more-minus/{box + 2}", "to": f"more-box-{box}/feed"}
    thin: dict[str, object] = {"medium": "dc", "conductor": "1 mm²", "length": "3.4 m", "covering": "sheath"}
    for light in range(lights):
        way = f"more-box-{light // WAYS}/w{light % WAYS}"
        to = {"to": f"more-light-{light}/supply"}
        yield f"more-{light}-plus", {**thin, "from": way, **to, "return": f"more-{light}-minus"}
        yield f"more-{light}-minus", {**thin, "from": f"more-minus/{boxes + 2 + light}", **to}


def _plain(tree: Any) -> Any:
    if isinstance(tree, dict):
        return {key: _plain(value) for key, value in tree.items()}
    return [_plain(item) for item in tree] if isinstance(tree, tuple) else tree


WIDTH = 100


def _lines(tree: Any, depth: int) -> Iterator[str]:
    """Yield a tree as YAML: an entry on one line where there is room, else a line to each of its keys."""
    for key, value in tree.items():
        short = f"{'  ' * depth}{key}: {json.dumps(value, ensure_ascii=False)}"
        if not isinstance(value, dict) or not value or (depth and len(short) <= WIDTH):
            yield short
        else:
            yield f"{'  ' * depth}{key}:"
            yield from _lines(value, depth + 1)
