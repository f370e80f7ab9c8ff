"""A large invented build: many fused circuits on several boxes, two batteries, chargers, water and waste."""


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
