"""Kinds of component that weigh little: a missing mass is bounded, not unknown."""

SMALL_GREATEST = 2.0
"""What a small fitting weighs at most, in kg: common practice, no source."""

SMALL_KINDS = frozenset(
    {
        "accumulator", "actuator", "air-intake", "air-outlet", "anchorage", "bonding-point", "bus-bar",
        "cabin-fan", "ceiling-light", "chassis-point", "check-valve", "co-alarm", "dc-outlet", "dimmer",
        "disconnect", "display", "drain-outlet", "drain-trap", "duct-branch", "duct-fan", "duct-silencer",
        "emergency-light", "escape-hammer", "filler", "fire-blanket", "first-aid-kit", "flue-terminal",
        "frost-valve", "fuel-pump", "fuel-takeoff", "fuel-valve", "fuse-box", "fuse-holder", "gas-alarm",
        "gas-drop-out", "gas-filler", "gas-manifold", "gas-outlet", "gas-valve", "low-voltage-disconnect",
        "mains-breaker", "mains-isolator", "mixing-valve", "notice", "outside-light", "quick-coupling",
        "reading-light", "regulator", "relay", "remote-control", "residual-current-device", "sensor",
        "shore-inlet", "shower", "shunt", "smoke-alarm", "socket", "solar-combiner", "solar-disconnect",
        "split-relay", "stick-on-light", "strainer", "strip-light", "switch", "switch-panel", "tank-gauge",
        "tank-vent", "tap", "thermostat", "timer", "usb-outlet", "valve", "vent", "warning-triangle",
        "warning-vest",
        "waste-tee", "waste-valve", "waste-vent", "water-filter", "water-manifold",
    }
)  # fmt: skip
"""Kinds whose missing mass is bounded by that of a small fitting; of all others it stays unknown."""
