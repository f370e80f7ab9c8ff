"""What of the things that matter in an emergency this van has, each named with its place."""

from __future__ import annotations

from specreg.model.charging import DcCharger, SplitRelay
from specreg.model.component import CombustionAppliance, Component
from specreg.model.dc import Battery, DisconnectSwitch
from specreg.model.gas import GasCylinder, GasStore
from specreg.model.port import Medium
from specreg.model.structure import Exit
from specreg.pages.content import Cell, Words, cell
from specreg.pages.texts import joined
from specreg.pages.van import Van
from specreg.pages.where import place_of

FANS = ("roof-fan", "duct-fan", "extractor-hood", "cabin-fan")
MAINS_SOURCES = ("shore-inlet", "inverter", "inverter-charger", "generator")


def placed(van: Van, thing: str) -> Cell:
    """Return a thing's name with its place, or with the plain word that its place is not written."""
    place = place_of(van, thing) or van.texts("where.not_written")
    return (*van.thing(thing), Words(f" – {place}"))


def all_placed(van: Van, things: dict[str, Component] | list[str], last: str = " and ") -> Cell:
    """Return several things with their places."""
    return joined([placed(van, thing) for thing in things], last)


def gas_stores(van: Van) -> dict[str, Component]:
    """Return what holds gas and is joined to the van's pipes, or a stove with its own."""
    joined_up = {
        name: store
        for name, store in van.of(GasStore).items()
        if not (isinstance(store, GasCylinder) and store.spare)
    }
    return joined_up or van.kinds("portable-stove")


def burners(van: Van) -> dict[str, Component]:
    """Return what burns a fuel."""
    return van.of(CombustionAppliance)


def lithium(van: Van) -> dict[str, Component]:
    """Return the lithium batteries."""
    return {n: b for n, b in van.of(Battery).items() if "lithium" in (getattr(b, "chemistry", None) or "")}


def disconnects(van: Van) -> dict[str, Component]:
    """Return the switches that part a battery from the rest."""
    return van.of(DisconnectSwitch)


def has_mains(van: Van) -> bool:
    """Tell whether there is mains in the van, from shore or made by itself."""
    return bool(van.kinds(*MAINS_SOURCES)) or any(r.medium is Medium.ac for r in van.build.runs.values())


def exits(van: Van) -> Cell:
    """Return the ways out with how each opens; the plain word where none is written."""
    found = van.of(Exit)
    if not found:
        return cell(van.texts("emergency.exits_not_written"))
    return joined([_exit(van, name) for name in found], " or ")


def _exit(van: Van, name: str) -> Cell:
    opens = getattr(van.build.components[name], "opens_with", None)
    return (*placed(van, name), *((Words(f" ({opens})"),) if opens else ()))


def shut_from_outside(van: Van, store: str) -> bool:
    """Tell whether a hand outside the van reaches the valve of a gas store."""
    component = van.build.components[store]
    locker = van.build.components.get(getattr(component, "locker", None) or "")
    if locker is not None:
        return getattr(locker, "opens_to", None) == "outside"
    if component.kind == "gas-tank":
        below = getattr(component, "mounted", None) == "below the floor"
        return below and getattr(component, "shut_off", None) in ("hand", "both")
    return False


def helps_to_start(van: Van) -> dict[str, Component]:
    """Return what can bring current from the house battery to the starter battery."""
    return {
        name: one
        for name, one in van.of(SplitRelay, DcCharger).items()
        if getattr(one, "manual_override", None) or getattr(one, "return_charge_current", None)
    }
