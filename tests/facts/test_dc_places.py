"""Voltage on the way, devices where they sit, solar strings, energy: worked cases."""

import pytest
from dc_van import dc_facts
from effort import calls_of
from hypothesis import given, settings
from hypothesis import strategies as st
from test_dc_laws import fan

from specreg.facts.device_place import towards_sources
from specreg.facts.missing import Missing
from specreg.graph.network import Edge
from specreg.model.port import Terminal
from specreg.tables import overcurrent

R_10, R_2_5, R_1_5 = 1.91e-3, 7.98e-3, 13.3e-3
"""Ω/m of IEC 60228 class 5, plain."""


def test_shared_conductors_add() -> None:
    """Both loads lower the voltage of the main, each its own branch only: by hand, out and back."""
    facts = dc_facts()
    main = 2 * 2 * R_10 * 10
    assert facts.subject("lamp").supply_drop == pytest.approx(main + 2 * 3 * R_1_5 * 4)
    assert facts.subject("pump").supply_drop_share == pytest.approx((main + 2 * 5 * R_2_5 * 6) / 12)
    assert facts.subject("main").run_drop == pytest.approx(main)


def test_chassis_return_is_measured_or_unknown() -> None:
    """A way over the body counts with the resistance measured at its stud, and is unknown without."""
    over = """
    components:
      stud: {kind: chassis-point%s}
    runs:
      lamp-feed: {return: chassis}
      bond: {medium: dc, from: battery/negative, to: stud, conductor: 10 mm², length: 1 m}
    """
    lamp = dc_facts(over % ", measured_resistance: 5 mΩ").subject("lamp")
    assert lamp.supply_drop == pytest.approx(2 * R_10 * 10 + 3 * R_1_5 * 4 + 4 * 5e-3)
    with pytest.raises(Missing, match=r"stud\.measured_resistance"):
        _ = dc_facts(over % "").subject("lamp").supply_drop


def test_cable_keeps_before_chassis() -> None:
    """Where cable and body lead back, the cable is taken."""
    facts = dc_facts(
        """
        components: {stud: {kind: chassis-point}}
        runs: {bond: {medium: dc, from: battery/negative, to: stud, conductor: 10 mm², length: 1 m}}
        """
    )
    assert facts.subject("lamp").supply_drop == dc_facts().subject("lamp").supply_drop


def test_fault_current_falls_along_the_cable() -> None:
    """14.4 V and 2 kA make 7.2 mΩ; four metres of 10 mm² out and back add 7.64 mΩ."""
    facts = dc_facts("runs: {main: {protection: [{fuse: 60 A, family: mega, distance: 0 m}]}}")
    assert facts.subject("box/a").prospective_current == pytest.approx(14.4 / (7.2e-3 + 4 * R_10))


def test_self_limiting_source_adds_its_limit() -> None:
    """A controller of 30 A adds 30 A where it can reach the device."""
    sun = """
    components: {sun: {kind: solar-controller, rated_current: 30 A, battery_voltage: 12 V}}
    runs: {sun-out: {medium: dc, from: sun/battery, to: box/feed, return: same cable}}
    """
    plain, with_sun = dc_facts().subject("box/a"), dc_facts(sun).subject("box/a")
    assert with_sun.prospective_current - plain.prospective_current == pytest.approx(30)


def test_unknown_battery_is_named() -> None:
    """Without a figure for the battery the fault current is not guessed."""
    with pytest.raises(Missing, match=r"battery\.short_circuit_current"):
        _ = dc_facts("components: {battery: {short_circuit_current: ~}}").subject("box/a").prospective_current


def test_unknown_cable_counts_as_none() -> None:
    """Without a length the current comes out too large, and says so."""
    facts = dc_facts("runs: {main: {length: ~}}")
    with facts.recording() as frame:
        assert facts.subject("box/a").prospective_current == pytest.approx(2000)
    assert any("without resistance" in sentence for sentence in frame.assumptions)


@pytest.mark.parametrize(
    ("stated", "capacity"),
    [("family: blade", 1000.0), ("family: mega", 2000.0), ("family: blade, breaking_capacity: 3 kA", 3000.0)],
)
def test_breaking_capacity(stated: str, capacity: float) -> None:
    """A data sheet comes before the family."""
    facts = dc_facts(f"components: {{box: {{ways: {{a: {{{stated}}}}}}}}}")
    assert facts.subject("box/a").breaking_capacity_there == capacity


def test_family_without_a_figure_is_missing() -> None:
    """A glass fuse has no tabulated breaking capacity: the field is named."""
    facts = dc_facts("components: {box: {ways: {a: {family: glass}}}}")
    with pytest.raises(Missing, match=r"box/a\.breaking_capacity"):
        _ = facts.subject("box/a").breaking_capacity_there


@pytest.mark.parametrize(("rating", "made"), [("15 A", True), ("12 A", False)])
def test_standard_rating(rating: str, made: bool) -> None:
    """Blade fuses are made for 15 A and not for 12 A."""
    facts = dc_facts(f"components: {{box: {{ways: {{a: {{fuse: {rating}}}}}}}}}")
    assert facts.subject("box/a").standard_rating is made


STRINGS = """
components:
%s
  gather: {kind: solar-combiner, ways: {%s}}
  sun: {kind: solar-controller, rated_current: 30 A}
runs:
%s
  down: {medium: dc, from: gather/out, to: sun/panel, return: same cable}
"""


def strings(count: int, fuse: str) -> str:
    """A number of like strings of 9 A, each through a fuse."""
    numbers = range(1, count + 1)
    return STRINGS % (
        "\n".join(f"  p{n}: {{kind: solar-panel, short_circuit_current: 9 A}}" for n in numbers),
        ", ".join(f"'{n}': {{fuse: {fuse}}}" for n in numbers),
        "\n".join(
            f"  l{n}: {{medium: dc, from: p{n}/leads, to: gather/{n}, return: same cable}}" for n in numbers
        ),
    )


@pytest.mark.parametrize(
    ("count", "fuse", "reverse"),
    [(1, "50 A", 0.0), (2, "50 A", 9.0), (4, "50 A", 27.0), (4, "15 A", 15.0)],
)
def test_reverse_current(count: int, fuse: str, reverse: float) -> None:
    """(N − 1)·Isc comes back through a string, at most what its fuse lets through."""
    facts = dc_facts(base=strings(count, fuse))
    assert facts.subject("p1").reverse_current == reverse
    assert facts.subject("sun").panel_short_circuit_current == 9.0 * count


def test_hot_string() -> None:
    """45 K above 25 °C at −0.3 %/K leave 86.5 % of the voltage."""
    facts = dc_facts(
        base="components: {p: {kind: solar-panel, peak_voltage: 20 V, voltage_coefficient: -0.3 %/K}}"
    )
    assert facts.subject("p").string_hot_voltage == pytest.approx(20 * 0.865)


USE = """
components:
  battery: {capacity: 100 Ah, usable: 80 %}
  lamp: {hours_per_day: 5 h}
  pump: {hours_per_day: 1 h, duty: 50 %, standby: 1 W}
"""


def test_days_on_one_charge() -> None:
    """4 A·12 V·5 h + 6 A·12 V·0.5 h + 23 Wh of standby against 960 Wh: 3 days new, 2 worn, in halves."""
    facts = dc_facts(USE)
    whole = facts.whole
    assert whole.daily_energy_use / 3600 == pytest.approx(240 + 36 + 23)
    assert whole.usable_energy / 3600 == pytest.approx(960)
    assert (whole.least_days_without_charge, whole.most_days_without_charge) == (2.5, 3.0)


def test_fridge_energy_is_never_invented() -> None:
    """A fridge without daily energy or duty leaves the sum open."""
    fridge = "components: {lamp: {kind: fridge, current: 4 A, load: ~%s}}"
    with pytest.raises(Missing, match=r"lamp\.daily_energy"):
        _ = dc_facts(USE.replace("  lamp: {hours_per_day: 5 h}\n", ""), fridge % "").whole.daily_energy_use
    stated = dc_facts(fridge % ", daily_energy: 450 Wh").subject("lamp")
    assert stated.energy_per_day == pytest.approx(450 * 3600)


def test_reserve_limits_what_is_used() -> None:
    """A reserve of 40 % leaves 60 %, whatever the battery's own window."""
    assert dc_facts(USE, "use: {reserve: 40 %}").whole.usable_energy / 3600 == pytest.approx(720)


def test_edge_has_a_device() -> None:
    """The device of a way is found on the graph under the name that findings use."""
    edge: Edge = dc_facts().net.devices["box/a"]
    assert edge.device is not None and edge.device.rating == 20.0


@pytest.mark.parametrize(
    ("distance", "end", "metres"),
    [("0 m", "from", 0.0), ("0.5 m", "from", 0.5), ("0.5 m", "to", 1.5), ("2 m", "from", 2.0)],
)
def test_fault_current_at_a_device_on_the_cable(distance: str, end: str, metres: float) -> None:
    """Only the cable between battery and device limits a short directly behind the device, out and back."""
    protection = f"[{{fuse: 60 A, family: mega, distance: {distance}, end: {end}}}]"
    facts = dc_facts(f"runs: {{main: {{protection: {protection}}}}}")
    current = 14.4 / (7.2e-3 + 2 * metres * R_10)
    assert facts.subject("main/1").prospective_current == pytest.approx(current)
    assert facts.subject("box/a").prospective_current == pytest.approx(14.4 / (7.2e-3 + 4 * R_10))


def test_a_device_without_a_place_counts_at_the_battery() -> None:
    """Where it sits is not stated: the current comes out too large, never too small, and that is said."""
    facts = dc_facts("runs: {main: {protection: [{fuse: 60 A, family: mega}]}}")
    with facts.recording() as frame:
        assert facts.subject("main/1").prospective_current == pytest.approx(2000)
    assert any("where its device sits is not stated" in sentence for sentence in frame.assumptions)


def test_a_cable_without_length_has_no_resistance_and_leaves_nothing_open() -> None:
    """0 m between battery and box: the battery's own 2 kA, and no device whose place would have to be known."""
    facts = dc_facts("runs: {main: {length: 0 m}, ground: {length: 0 m}}")
    with facts.recording() as frame:
        assert facts.subject("box/a").prospective_current == pytest.approx(2000)
    assert not frame.assumptions


@pytest.mark.parametrize(
    ("over", "thing", "studs", "lugs"),
    [
        ("components: {}", "battery", True, 1),
        ("runs: {main-2: {medium: dc, from: battery/positive, to: box/feed, return: ground}}", "battery", True, 2),
        ("components: {bar: {kind: bus-bar}}", "bar", True, 0),
        ("components: {bar: {kind: bus-bar}}\nruns: {one: {medium: dc, from: bar/1, to: box/feed, return: ground}, "
         "two: {medium: dc, from: bar/1, to: box/feed, return: ground}, main: {to: bar/2}}", "bar", True, 2),
        ("components: {monitor: {kind: display}}\nruns: {sense: {medium: control, from: battery, to: monitor/signal}, "
         "sense-2: {medium: control, from: battery, to: monitor/signal}}", "battery", True, 1),
        ("components: {off: {kind: disconnect}}", "off", True, 0),
        ("components: {it: {kind: shunt}}", "it", True, 0),
        ("components: {}", "lamp", False, 1),
    ],
)  # fmt: skip
def test_lugs_on_the_stud_that_has_most(over: str, thing: str, studs: bool, lugs: int) -> None:
    """One for each direct-current cable that ends there; a thin lead for control has a plug of its own."""
    it = dc_facts(over).subject(thing)
    assert (it.has_studs, it.lugs_on_fullest_stud) == (studs, lugs)


def test_an_empty_holder_is_no_device() -> None:
    """Only the fuse at 0.5 m parts the cable: half a metre out and back lies before it."""
    facts = dc_facts(
        "runs: {main: {protection: {near: {holder: empty}, main: {fuse: 60 A, family: mega, distance: 0.5 m}}}}"
    )
    (device,) = [name for name in facts.devices if name.startswith("main/")]
    assert facts.subject(device).prospective_current == pytest.approx(14.4 / (7.2e-3 + 2 * 0.5 * R_10))


def test_a_device_of_the_mains_breaks_no_direct_current() -> None:
    """Its fault current and voltage are not those of a battery: nothing is said, and why."""
    facts = dc_facts("components: {board: {kind: mains-board, main: {breaker: 16 A, poles: 2}}}")
    (name,) = [device for device in facts.devices if device.startswith("board")]
    for fact in ("prospective_current", "highest_voltage", "carried_current"):
        with pytest.raises(Missing) as absent:
            getattr(facts.subject(name), fact)
        assert absent.value.reason.endswith("stands in no direct-current circuit")


def test_a_stated_short_circuit_current_comes_before_a_resistance() -> None:
    """The maker's 2 kA, not 14.4 V / 5 mΩ = 2880 A; without it the resistance."""
    none = "runs: {main: {length: 0 m}, ground: {length: 0 m}}"
    both = dc_facts("components: {battery: {internal_resistance: 5 mΩ}}", none)
    assert both.subject("box/a").prospective_current == pytest.approx(2000)
    only = dc_facts("components: {battery: {internal_resistance: 5 mΩ, short_circuit_current: ~}}", none)
    assert only.subject("box/a").prospective_current == pytest.approx(2880)


def test_the_higher_of_two_strings_stands_across_a_device() -> None:
    """Panels of 20 V and 30 V behind one combiner, at -0.3 %/K: the device sees the higher one, when cold."""
    unlike = "components: {p1: {open_circuit_voltage: 20 V, voltage_coefficient: -0.3 %/K}, p2: {open_circuit_voltage: 30 V, voltage_coefficient: -0.3 %/K}}"
    facts = dc_facts(
        "use: {places: [{name: north, latitude: 60°, night_temperature: -10 °C}]}",
        unlike,
        base=strings(2, "15 A"),
    )
    assert facts.subject("gather/1").highest_voltage == facts.subject("p2").string_cold_voltage
    assert facts.subject("p2").string_cold_voltage > facts.subject("p1").string_cold_voltage
    assert facts.subject("sun").panel_cold_voltage == facts.subject("p2").string_cold_voltage


@pytest.mark.parametrize(("stated", "volts", "said"), [("", 32, True), (", rated_voltage: 58 V", 58, False)])
def test_a_voltage_rating_of_the_family_is_an_assumption(stated: str, volts: float, said: bool) -> None:
    """ISO 8820-3: blade fuses are for 32 V; a data sheet comes first, and then nothing is assumed."""
    facts = dc_facts(f"components: {{box: {{ways: {{a: {{fuse: 20 A, family: blade{stated}}}}}}}}}")
    with facts.recording() as frame:
        assert facts.subject("box/a").voltage_rating == volts
    assert any("taken as that of its family" in sentence for sentence in frame.assumptions) is said


@pytest.mark.parametrize(
    ("main", "ohms"),
    [
        ("return: same cable", 4 * R_10),
        ("return: same cable, return_conductor: 16 mm²", 2 * R_10 + 2 * 1.21e-3),
        ("return: chassis", 2 * R_10),
        ("return: ground", 4 * R_10),
    ],
)
def test_the_way_back_of_a_short(main: str, ohms: float) -> None:
    """By its own core, a thicker one (1.21 mΩ/m of 16 mm²), the body (taken as nothing) or another run."""
    facts = dc_facts(f"runs: {{main: {{{main}}}}}")
    assert facts.subject("box/a").prospective_current == pytest.approx(14.4 / (7.2e-3 + ohms))


def test_a_return_of_unknown_length_counts_as_none() -> None:
    """The current comes out too large, never too small."""
    facts = dc_facts("runs: {ground: {length: ~}}")
    assert facts.subject("box/a").prospective_current == pytest.approx(14.4 / (7.2e-3 + 2 * R_10))


@pytest.mark.parametrize(("silent", "named"), [("battery", ("battery.highest_charge_voltage",)), ("", ())])
def test_a_device_without_a_known_voltage_says_what_is_wanted(silent: str, named: tuple[str, ...]) -> None:
    """The battery's field; where no battery is joined, that no source states its voltage."""
    over = (
        "components: {battery: {highest_charge_voltage: ~}}"
        if silent
        else "runs: {main: {from: lone/out}}\ncomponents: {lone: {kind: disconnect}}"
    )
    with pytest.raises(Missing) as absent:
        _ = dc_facts(over).subject("box/a").highest_voltage
    assert absent.value.fields == named
    assert absent.value.reason == (
        "" if named else f"no source of {dc_facts().subject('box/a').name} states its voltage"
    )


@pytest.mark.parametrize(
    "more",
    [
        "pump-feed: {from: battery/positive}",
        "stub: {medium: dc, from: battery/positive, to: bar/1, conductor: 10 mm², length: 1 m}",
    ],
)
def test_a_branch_at_the_battery_takes_no_fault_current_away(more: str) -> None:
    """A load, or a bar with nothing on it, at the battery's own pole: a short behind the box is fed as before."""
    facts = dc_facts(f"components: {{bar: {{kind: bus-bar, studs: 3}}}}\nruns: {{{more}}}")
    assert facts.subject("box/a").prospective_current == pytest.approx(14.4 / (7.2e-3 + 4 * R_10))


@pytest.mark.parametrize(("count", "current"), [(1, 9.0), (2, 9.0), (4, 27.0)])
def test_a_fuse_of_a_string_breaks_what_the_other_strings_give(count: int, current: float) -> None:
    """Panels of 9 A each and no battery: from one side its own 9 A, from the other those of the others."""
    device = dc_facts(base=strings(count, "15 A")).subject("gather/1")
    assert device.prospective_current == pytest.approx(current)


FUSED = "main: {length: 0 m, protection: [{fuse: 60 A, distance: 0 m}]}, ground: {length: 0 m}"


@pytest.mark.parametrize(
    ("more", "current"),
    [
        ("sun: {kind: solar-controller, rated_current: 30 A}", 2000.0),
        ("sun: {kind: battery, nominal_voltage: 12 V, short_circuit_current: 3 kA}", 3000.0),
        ("sun: {kind: battery, nominal_voltage: 12 V, short_circuit_current: 1 kA}", 2000.0),
    ],
)
def test_a_device_between_two_sources_breaks_the_greater_alone(more: str, current: float) -> None:
    """A short lies on one side of it: what the sources of the other side give passes it, not the sum of both."""
    port = "battery" if "controller" in more else "positive"
    facts = dc_facts(
        f"components: {{{more}}}",
        f"runs: {{{FUSED}, out: {{medium: dc, from: sun/{port}, to: box/feed, return: chassis, length: 0 m, conductor: 10 mm²}}}}",
    )
    assert facts.subject("main/1").prospective_current == pytest.approx(current)


@pytest.mark.parametrize(
    ("kind", "current"),
    [
        ("dc-converter, output_current: 20 A, input_voltage: 12 V", 20.0),
        ("dc-charger, output_current: 25 A, input_voltage: 12 V", 25.0),
    ],
)
@pytest.mark.parametrize(
    "more", ["", "up: {medium: dc, from: engine/positive, to: it/input, return: chassis}"]
)
def test_a_converter_hands_on_no_fault_current(kind: str, current: float, more: str) -> None:
    """2 kA of a battery, and an alternator, before it: behind it flows what it limits itself to, and nothing of theirs."""
    facts = dc_facts(
        f"""
        components: {{it: {{kind: {kind}}}, engine: {{kind: alternator, short_circuit_current: 300 A}}}}
        runs:
          {more}
          main: {{to: it/input}}
          ground: {{to: it/input}}
          out: {{medium: dc, from: it/output, to: box/feed, return: same cable, conductor: 6 mm², length: 1 m}}
        """
    )
    assert facts.subject("box/a").prospective_current == pytest.approx(current)


def test_a_charger_that_also_inverts_adds_what_it_charges_with() -> None:
    """2 kA of the battery and 70 A; what its mains output gives into a short is not asked for."""
    facts = dc_facts(
        """
        components: {combi: {kind: inverter-charger, charge_current: 70 A}}
        runs:
          main: {length: 0 m}
          ground: {length: 0 m}
          out: {medium: dc, from: battery/positive, to: combi/positive, return: chassis, length: 0 m, conductor: 25 mm²}
        """
    )
    assert facts.subject("box/a").prospective_current == pytest.approx(2070)


@pytest.mark.parametrize(
    ("written", "field"),
    [
        ("battery: {short_circuit_current: 0 A}", "battery.short_circuit_current"),
        ("sun: {rated_current: 0 A}", "sun.rated_current"),
    ],
)
def test_a_source_of_nothing_is_a_slip_of_the_pen(written: str, field: str) -> None:
    """Nothing that gives 0 A into a short is fitted: the figure is asked for, as where none is written."""
    facts = dc_facts(
        "components: {sun: {kind: solar-controller, rated_current: 30 A}}",
        "runs: {out: {medium: dc, from: sun/battery, to: box/feed, return: same cable}}",
        f"components: {{{written}}}",
    )
    with pytest.raises(Missing) as absent:
        _ = facts.subject("box/a").prospective_current
    assert absent.value.fields == (field,)


BATTERIES = st.lists(
    st.tuples(st.integers(2, 40), st.integers(120, 148), st.integers(0, 40)), min_size=1, max_size=4
)


@settings(max_examples=25, deadline=None)
@given(BATTERIES, st.integers(0, 40))
def test_fault_current_against_kirchhoff(batteries: list[tuple[int, int, int]], onward: int) -> None:
    """Unlike batteries with leads of their own on a box, and on to a second one: by Millman's theorem.

    Never less than what a short behind the last fuse would draw, and, where all hold one voltage, exactly that;
    never more than if all held the highest.
    """
    parts = "".join(
        f"  b{n}: {{kind: battery, nominal_voltage: 12 V, internal_resistance: {milliohm} mΩ, "
        f"highest_charge_voltage: {tenths / 10} V}}\n"
        for n, (milliohm, tenths, _) in enumerate(batteries)
    )
    leads = "".join(
        f"  m{n}: {{medium: dc, from: b{n}/positive, to: bar/{n + 1}, return: same cable, conductor: 10 mm², "
        f"length: {length / 10} m}}\n"
        for n, (_, _, length) in enumerate(batteries)
    )
    facts = dc_facts(
        base=f"""
components:
{parts}  bar: {{kind: bus-bar, studs: 9}}
  box: {{kind: fuse-box, ways: {{a: {{fuse: 20 A}}}}}}
runs:
{leads}  on: {{medium: dc, from: bar/9, to: box/feed, return: same cable, conductor: 10 mm², length: {onward / 10} m}}
"""
    )
    conductances = [1 / (milliohm / 1000 + 2 * length / 10 * R_10) for milliohm, _, length in batteries]
    ohms = 1 / sum(conductances) + 2 * onward / 10 * R_10
    volts = [tenths / 10 for _, tenths, _ in batteries]
    open_circuit = sum(v * g for v, g in zip(volts, conductances, strict=True)) / sum(conductances)
    found = facts.subject("box/a").prospective_current
    assert open_circuit / ohms * (1 - 1e-9) <= found
    assert found == pytest.approx(max(volts) / ohms)


def called(inward: dict[Terminal, tuple[tuple[Terminal, Edge], ...]]) -> dict[str, list[str]]:
    """The steps towards sources from terminals, each as `component/port`."""
    return {
        f"{terminal.component}/{terminal.port}": [f"{other.component}/{other.port}" for other, _ in steps]
        for terminal, steps in inward.items()
    }


INWARD = {
    "box/a": ["box/feed"],
    "lamp/supply": ["box/a"],
    "box/b": ["box/feed"],
    "pump/supply": ["box/b"],
}
SUN = """
components: {sun: {kind: solar-controller, rated_current: 30 A}}
runs: {out: {medium: dc, from: sun/battery, to: box/feed, return: same cable}}
"""


@pytest.mark.parametrize(
    ("over", "inward"),
    [
        (
            SUN,
            {
                **INWARD,
                "sun/panel": [],
                "battery/positive": ["box/feed"],
                "box/feed": ["battery/positive", "sun/battery"],
                "sun/battery": ["box/feed"],
            },
        ),
        ("runs: {}", {**INWARD, "box/feed": ["battery/positive"], "battery/positive": []}),
        (
            "runs: {main-2: {medium: dc, from: battery/positive, to: box/feed, return: ground}}",
            {**INWARD, "box/feed": ["battery/positive"] * 2, "battery/positive": ["box/feed"] * 2},
        ),
        (
            "runs: {pump-feed: {from: battery/positive}}",
            {
                "pump/supply": ["battery/positive"],
                "box/feed": ["battery/positive"],
                "box/a": ["box/feed"],
                "box/b": ["box/feed"],
                "lamp/supply": ["box/a"],
                "battery/positive": [],
            },
        ),
    ],
    ids=["between two sources", "one source", "ring", "branches at a source"],
)
def test_the_way_inward(over: str, inward: dict[str, list[str]]) -> None:
    """From loads to what they hang on, up to the sources; all ways between two sources and in a ring."""
    assert called(towards_sources(dc_facts(over))) == inward


def test_a_part_without_a_source_leads_nowhere() -> None:
    """Each end leads on to the next, and the last one nowhere: no fault current is looked for there."""
    facts = dc_facts("runs: {main: {from: lone/out}}\ncomponents: {lone: {kind: disconnect}}")
    found = called(towards_sources(facts))
    assert found.pop("battery/positive") == []
    assert set(found) == {*INWARD, "box/feed", "lone/in", "lone/out"}
    assert sorted(len(steps) for steps in found.values()) == [0, 1, 1, 1, 1, 1, 1]


def chain(links: int) -> str:
    """So many switches one behind the other on the lamp's way, and a fuse at the head of the main."""
    numbers = range(links)
    parts = ", ".join(f"d{n}: {{kind: disconnect}}" for n in numbers)
    runs = "".join(f", c{n}: {{medium: dc, from: d{n}/out, to: d{n + 1}/in}}" for n in numbers[:-1])
    return (
        f"components: {{{parts}}}\nruns: {{lamp-feed: {{from: box/a, to: d0/in}}{runs}, "
        "main: {protection: [{fuse: 60 A, distance: 0 m}]}}"
    )


@pytest.mark.parametrize("over", ["runs: {}", SUN], ids=["one source", "two sources"])
def test_branches_without_a_source_are_not_walked(over: str) -> None:
    """The work for the main's device is the same with three switches on a load's way and with thirty."""

    def work(links: int) -> int:
        facts = dc_facts(over, chain(links))
        _ = facts.subject("box/b").prospective_current
        device = facts.subject("main/1")
        return calls_of(lambda: device.prospective_current)

    _, few, many = (work(links) for links in (3, 3, 30))  # the first fills what tables keep
    assert few == many


def test_a_further_way_of_a_box_costs_nothing() -> None:
    """Between two sources no way of a box that leads to none is looked at."""

    def work(ways: int) -> int:
        fuse = "runs: {main: {protection: [{fuse: 60 A, distance: 0 m}]}}"
        facts = dc_facts(SUN, fuse, base=fan([1.0] * ways, 1))
        _ = facts.subject("box/w0").prospective_current
        device = facts.subject("main/1")
        return calls_of(lambda: device.prospective_current)

    _, few, many = (work(ways) for ways in (3, 3, 30))  # the first fills what tables keep
    assert many == few


@pytest.mark.parametrize("wanted", ["breaking_capacity", "rated_voltage"])
def test_a_device_of_no_family_states_its_own_limits(wanted: str) -> None:
    """What is asked for is the figure of the device, not a family that would stand for it."""
    fact = {"breaking_capacity": "breaking_capacity_there", "rated_voltage": "voltage_rating"}[wanted]
    facts = dc_facts("components: {box: {ways: {a: {family: ~}}}}")
    with pytest.raises(Missing) as absent:
        getattr(facts.subject("box/a"), fact)
    assert absent.value.fields == (f"box/a.{wanted}",)


@pytest.mark.parametrize(("stated", "said"), [("", True), (", breaking_capacity: 3 kA", False)])
def test_a_breaking_capacity_of_the_family_is_an_assumption(stated: str, said: bool) -> None:
    """ISO 8820-3 says it of blade fuses in general; a data sheet is no assumption."""
    facts = dc_facts(f"components: {{box: {{ways: {{a: {{family: blade{stated}}}}}}}}}")
    with facts.recording() as frame:
        _ = facts.subject("box/a").breaking_capacity_there
    assert any("taken as that of its family, blade: 1000 A" in one for one in frame.assumptions) is said


def test_only_a_battery_is_asked_for_the_voltage_that_it_is_charged_to() -> None:
    """A controller that does not say its setting is no battery without a highest voltage."""
    silent = "components: {battery: {highest_charge_voltage: ~}}"
    with pytest.raises(Missing) as absent:
        _ = dc_facts(silent, SUN).subject("box/a").highest_voltage
    assert absent.value.fields == ("battery.highest_charge_voltage",)


def test_a_family_without_a_series_is_not_judged_by_it() -> None:
    """Of glass fuses no series of ratings is on file."""
    with pytest.raises(Missing) as absent:
        _ = dc_facts("components: {box: {ways: {a: {family: glass}}}}").subject("box/a").standard_rating
    assert absent.value.reason == "no series of ratings for the family `glass` is on file"


@pytest.mark.parametrize(("basis", "said"), [("memory", True), ("read", False)])
def test_a_series_from_memory_is_said(monkeypatch: pytest.MonkeyPatch, basis: str, said: bool) -> None:
    """A series that was read is no assumption."""
    monkeypatch.setattr(overcurrent, "ratings_basis", {"blade": basis}.__getitem__)
    facts = dc_facts()
    with facts.recording() as frame:
        assert facts.subject("box/a").standard_rating
    assert any("from memory" in sentence for sentence in frame.assumptions) is said


def test_what_is_in_a_ring_counts_as_without_resistance() -> None:
    """Two unlike cables side by side: how a short divides between them is open, so neither holds it back."""
    facts = dc_facts(
        "runs: {second: {medium: dc, from: battery/positive, to: box/feed, return: ground, conductor: 10 mm², length: 9 m}}"
    )
    assert facts.subject("box/a").prospective_current == pytest.approx(2000)
