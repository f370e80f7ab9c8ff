"""Heat and air against general libraries: psychrolib (ASHRAE), fluids (orifice), ht (conductivities)."""

import math

import psychrolib  # type: ignore[import-untyped]
import pytest
from fluids.flow_meter import flow_meter_discharge
from ht.insulation import ASHRAE_k, building_materials

from specreg.facts.heat_layers import Sheet
from specreg.facts.moist_air import dew_point, saturation_pressure, vapour_density, vapour_removed
from specreg.facts.vent_stream import DISCHARGE, GRAVITY, Opening, stack_flow
from specreg.tables.materials import material, material_names

ZERO = 273.15
SEA_LEVEL = 101_325.0
psychrolib.SetUnitSystem(psychrolib.SI)


@pytest.mark.parametrize("celsius", [0.5, 5, 10, 15, 20, 25, 30, 40])
def test_saturation_is_that_of_ashrae(celsius: float) -> None:
    """Magnus over water stays within 0.4 % of the equation of Hyland and Wexler."""
    assert saturation_pressure(celsius + ZERO) == pytest.approx(psychrolib.GetSatVapPres(celsius), rel=0.004)


@pytest.mark.parametrize("celsius", [5, 12, 18, 20, 25])
@pytest.mark.parametrize("humidity", [0.4, 0.5, 0.65, 0.8, 0.95])
def test_dew_point_is_that_of_ashrae(celsius: float, humidity: float) -> None:
    """The dew point is within 0.06 K wherever it lies above freezing; below, ours is that over liquid water."""
    expected = psychrolib.GetTDewPointFromRelHum(celsius, humidity)
    found = dew_point(humidity * saturation_pressure(celsius + ZERO)) - ZERO
    if expected > 0:
        assert found == pytest.approx(expected, abs=0.06)
    else:
        assert expected - 1.5 < found < expected, "over liquid water the dew point lies below the frost point"


@pytest.mark.parametrize(("inside", "humidity", "outside"), [(20, 0.6, 0), (18, 0.7, 5), (16, 0.8, 8)])
def test_water_carried_off_is_that_of_the_humidity_ratio(
    inside: float, humidity: float, outside: float
) -> None:
    """30 m³/h remove what the difference of humidity ratios times the mass of dry air says, within 1.5 %."""
    indoors = psychrolib.GetHumRatioFromRelHum(inside, humidity, SEA_LEVEL)
    outdoors = psychrolib.GetHumRatioFromRelHum(outside, 0.9, SEA_LEVEL)
    dry_air = 30 / psychrolib.GetMoistAirVolume(inside, indoors, SEA_LEVEL)
    expected = dry_air * (indoors - outdoors)
    held = vapour_density(humidity * saturation_pressure(inside + ZERO), inside + ZERO)
    entering = vapour_density(0.9 * saturation_pressure(outside + ZERO), inside + ZERO)
    assert vapour_removed(held, entering, 30) == pytest.approx(expected, rel=0.015)


@pytest.mark.parametrize("difference", [2.0, 10.0, 30.0])
def test_a_vent_passes_what_a_sharp_edged_orifice_does(difference: float) -> None:
    """Two equal vents: half the draught lies on each; a library's orifice gives the same flow."""
    outside, inside, height, area = 273.15, 273.15 + difference, 1.9, 0.01
    density = 353.0 / inside
    pressure = density * GRAVITY * height / 2 * difference / inside
    bore = math.sqrt(4 * area / math.pi)
    mass = flow_meter_discharge(  # type: ignore[no-untyped-call]
        D=100.0, Do=bore, P1=SEA_LEVEL + pressure, P2=SEA_LEVEL, rho=density, C=DISCHARGE
    )
    found = stack_flow((Opening(0.0, area), Opening(height, area)), inside, outside)
    assert found == pytest.approx(mass / density, rel=1e-4)


def test_every_conductivity_carries_a_source_and_is_that_of_the_library() -> None:
    """All materials of DIN EN 12524 and ASHRAE agree with the library's rows of the same name, but for one.

    The library prints 65 W/(m·K) for cork tiles, a thousand times too much; ours says that it put it right.
    """
    differing = []
    for name in material_names():
        one = material(name)
        assert one.source, name
        if one.row_as_printed in building_materials:
            printed = building_materials[one.row_as_printed][1]
        else:
            printed = ASHRAE_k(one.row_as_printed)  # type: ignore[no-untyped-call]
        if printed != pytest.approx(one.conductivity, rel=0.05):
            differing.append((name, one.basis))
    assert differing == [("cork tile", "corrected")]


@pytest.mark.parametrize(("thickness", "conductivity"), [(0.04, 0.035), (0.012, 0.13), (0.001, 50.0)])
def test_resistance_of_a_sheet_is_that_of_the_library(thickness: float, conductivity: float) -> None:
    """d/λ is what a heat-transfer library gives for a metre square of it."""
    from ht.conduction import k_to_thermal_resistivity

    assert Sheet(thickness, conductivity).resistance == pytest.approx(
        k_to_thermal_resistivity(conductivity) * thickness
    )
