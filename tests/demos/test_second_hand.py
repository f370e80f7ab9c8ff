"""The intake survey of a second-hand van: each defect that stands in its spec is found, by name."""

from functools import cache

import pytest
from opening import answers, source

from specreg.rules.result import Answer, Result

DEFECTS = [
    # what is wrong, the rule that says so, where
    ("a battery lead without a fuse", "dc/positive-run-protected", "right-lead"),
    ("a link between two sources fused at one end", "dc/positive-run-protected", "house-link"),
    ("a fuse larger than its cable allows", "dc/device-within-ampacity", "fridge-feed"),
    (
        "a fuse that cannot break the battery's fault current",
        "dc/device-breaks-the-fault-current",
        "left-lead/1",
    ),
    ("too much voltage lost on the way to the fridge", "dc/voltage-at-loads", "fridge"),
    ("a conductor thinner than any table has", "dc/least-conductor", "lights-feed"),
    ("a return thinner than its positive", "dc/return-as-large", "box-feed"),
    ("a battery that nothing disconnects", "dc/battery-disconnect", "house-battery-left"),
    ("a battery that nothing holds", "dc/battery-fastened", "house-battery-left"),
    ("bare live terminals", "dc/battery-terminals-covered", "house-battery-right"),
    ("a lithium battery charged in frost", "dc/lithium-not-charged-cold", "house-battery-left"),
    ("a lithium battery on the bare alternator", "dc/alternator-to-lithium-limited", "house-battery-left"),
    ("two unlike batteries side by side", "dc/parallel-batteries-alike", "house-battery-right"),
    ("a relay that carries more than it is rated for", "dc/contact-rating", "split-relay"),
    (
        "panels too strong for their controller in the cold",
        "solar/cold-voltage-within-controller",
        "solar-controller",
    ),
    ("a socket without residual-current protection", "mains/residual-current-in-every-mode", "galley-socket"),
    ("breakers that leave the neutral joined", "mains/double-pole", "mains-board/main"),
    ("neutral and earth joined on shore", "mains/neutral-earth-bond", ""),
    ("a body that is not bonded", "mains/body-bonded", "shore-inlet"),
    ("house cable with solid cores", "mains/cable-stranded", "socket-cable"),
    ("an inlet too high up", "mains/inlet-height", "shore-inlet"),
    ("mains and extra-low voltage in one duct", "mains/apart-from-low-voltage", "socket-cable"),
    ("more appliances than the site supplies", "mains/demand-within-supply", ""),
    ("a gas locker that opens to the inside", "gas/locker-opens-outside", "gas-locker"),
    ("a locker vent that is too small", "gas/locker-vent", "gas-locker"),
    ("a battery in the gas locker", "gas/locker-no-ignition", "gas-locker"),
    ("a cylinder that nothing holds", "gas/cylinder-held", "gas-cylinder"),
    ("a gas hose past its age", "gas/hose-age", "hob-pipe"),
    ("a gas hose through a wall", "gas/hose-not-through-wall", "hob-pipe"),
    ("a hob without its own shut-off", "gas/shut-off-per-appliance", "hob"),
    ("a hob without flame-failure device", "gas/flame-failure-device", "hob"),
    ("gas used on the road without a crash sensor", "gas/crash-sensor-under-way", "regulator"),
    ("a camping stove used inside", "gas/portable-stove-outside", "spare-stove"),
    ("a gas hose of two metres", "gas/hose-length", "hob-pipe"),
    ("hose clips on a gas hose", "gas/joints-hold", "hob-pipe"),
    ("a floor on which gas would lie", "gas/low-places-drain", ""),
    ("a stove used inside without air", "gas/stove-has-what-its-use-needs", "spare-stove"),
    ("an exhaust below a window", "heat/exhaust-away-from-openings", "flue-outlet"),
    ("a heater that breathes the room's air", "heat/combustion-air-from-outside", "air-heater"),
    ("a heater too near to wood", "heat/clearance", "air-heater"),
    ("no fixed vent low down", "air/fixed-vents-low", ""),
    ("no fixed vent that stays open high up", "air/fixed-vents-high", ""),
    ("a bench bolted to sheet metal", "seating/not-on-sheet-alone", "side-bench"),
    ("a sideways seat used on the road", "seating/sideways-not-under-way", "side-bench"),
    ("a place under way without a belt", "seating/every-travel-place-has-a-belt", "side-bench"),
    ("a seat without any proof", "seating/retrofitted-seat-has-its-papers", "side-bench"),
    ("a rear axle that is overloaded", "mass/rear-axle", ""),
    ("too much on the roof", "mass/roof-load", ""),
    ("heavy things at head height", "mass/heavy-things-low", "overhead-locker"),
    ("a hose not made for drinking water", "water/pipes-are-potable", "suction"),
    ("a pipe that cannot be drained", "water/low-points-drain", "cold-pipe"),
    ("water that stays to freeze", "water/nothing-left-to-freeze", ""),
    ("a fresh tank that breathes indoors", "water/fresh-tank-overflows-outside", "fresh-tank"),
    ("water that scalds", "water/hot-water-does-not-scald", "galley-tap"),
    ("a waste valve open under way", "water/waste-valve-closed-under-way", "waste-tap"),
    ("a bed with no way out", "fire/two-ways-out-of-each-bed", "rear-bed"),
    ("a galley whose doors run into the bed", "space/doors-open-freely", "galley"),
    ("a locker too deep for the leaning wall", "space/inside-the-room", "overhead-locker"),
    ("a wardrobe measured into the galley", "space/one-thing-in-one-place", "rear-wardrobe"),
    ("a bunk that comes down onto the seats", "space/lift-bed-way-down", "cab-bunk"),
    ("a bunk without a guard", "space/guard-at-a-high-bed", "cab-bunk"),
    ("a bunk that only friction holds", "space/bed-locks", "cab-bunk"),
    ("a full locker above the heads", "seating/nothing-heavy-overhead", "side-bench"),
    ("an extinguisher far from the door", "fire/extinguisher-by-an-exit", "extinguisher"),
    ("cupboards that fly open", "space/storage-latches", "galley"),
    ("an alarm past its date", "fire/alarm-in-date", "house-smoke-alarm"),
    ("a carbon-monoxide alarm for houses", "fire/alarm-made-for-vehicles", "house-co-alarm"),
    ("an extinguisher past its date", "fire/extinguisher-in-date", "extinguisher"),
    ("five lugs on one stud", "dc/lugs-on-a-stud", "positive-bar"),
    ("a controller set for another battery", "dc/charging-profile", "house-battery-left"),
    ("a bond thinner than 8 AWG", "dc/chassis-bond-size", "ground-strap"),
    ("a battery that gasses into the room", "dc/vented-battery-ventilated", "house-battery-right"),
    ("a fuse without a label", "records/devices-are-labelled", "fuse-box/2"),
    ("crossed line and neutral", "mains/polarity-tested", ""),
    ("an earth that is none", "mains/earth-continuity-measured", ""),
    ("a live body", "mains/body-voltage-measured", ""),
    ("poor insulation", "mains/insulation-measured", ""),
    ("an inlet without a plate", "mains/inlet-plate", "shore-inlet"),
    ("no notice at the isolator", "mains/notice-at-the-isolator", ""),
    ("a gas system that leaks", "gas/tightness-measured", ""),
    ("a leak test cut short", "gas/tightness-tested-as-asked", ""),
    ("a regulator that creeps", "gas/lock-up-measured", ""),
    ("a hob for another pressure", "gas/pressure-matches-appliance", "hob"),
    ("a locker vent above its floor", "gas/locker-vent-at-floor", "gas-locker"),
    ("a filler without the words for refuelling", "heat/off-when-refuelling", "air-heater"),
    ("a warm-air duct that is too long", "heat/warm-air-duct-length", "air-heater"),
    ("a heater whose only outlet can be shut", "heat/warm-air-always-open", "air-heater"),
    ("carbon monoxide in the room", "heat/carbon-monoxide-measured", ""),
    ("a hob far from all that opens", "air/hob-near-an-opening", "hob"),
    ("fewer belted places than people", "seating/a-belted-place-for-everybody", ""),
    ("a child's place that nothing holds", "seating/child-place-is-held", "side-bench"),
    ("a child's place on a sideways seat", "seating/child-faces-with-the-seat", "side-bench"),
    ("a swivel base without papers", "seating/swivel-base-has-its-papers", "passenger-swivel"),
    ("a swivel base that friction holds", "seating/swivel-base-locks", "passenger-swivel"),
    ("a van too heavy for its plate", "mass/permitted-total", ""),
    ("too little payload for the seats", "mass/payload-for-people-eu", ""),
    ("tyres too weak for the plate", "mass/tyres-carry-the-axles", ""),
    ("a ticket that the spec does not explain", "mass/weighbridge-agrees", ""),
    ("a carrier with more than it bears", "mass/load-within-limit-of-its-carrier", "rear-carrier"),
    ("water that does not hold", "water/hold-test-recorded", ""),
    ("a relief valve below the pump's pressure", "water/relief-opens-above-the-pump", "water-heater"),
    ("a relief valve that spits inside", "water/relief-discharges-outside", "water-heater"),
    ("a wardrobe screwed to sheet metal", "space/heavy-furniture-held-by-structure", "rear-wardrobe"),
    ("sharp edges", "space/edges-rounded", "galley"),
    ("a pane without a mark", "space/panes-are-marked", "side-window"),
    ("upholstery that burns fast", "fire/burn-rate-of-materials", "side-bench"),
    ("gas without a gas alarm", "fire/gas-alarm-where-gas-is", "gas-cylinder"),
    ("a count unlike the spec", "records/walk-round-agrees", ""),
    ("a concession past its day", "records/concessions-hold", ""),
]


@cache
def failed() -> dict[tuple[str, str], Result]:
    """What fails for what is written, not for what is missing."""
    tree = source("second-hand").tree
    assert tree is not None
    results = [r for r in answers(tree) if r.answer is Answer.fails and r.reason != "missing"]
    return {(result.rule, result.subject): result for result in results}


@pytest.mark.parametrize(("defect", "rule", "subject"), DEFECTS, ids=[line[0] for line in DEFECTS])
def test_a_defect_is_found(defect: str, rule: str, subject: str) -> None:
    """The rule fails on the very thing, at its line of the survey."""
    result = failed().get((rule, subject))
    assert result is not None, f"{defect}: {rule} does not fail on {subject or 'the build'}"
    assert result.place.file == "builds/second-hand/spec.yaml"
    assert result.message
    assert result.level.value in ("error", "warning")


def test_the_defects_are_of_many_kinds() -> None:
    """No two lines of the table rest on the same rule but for the two kinds of bare lead."""
    rules = [rule for _, rule, _ in DEFECTS]
    assert len(set(rules)) == len(rules) - 1
    assert len(rules) >= 100
