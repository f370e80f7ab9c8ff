"""Water as it gets warmer: its density."""

LEAST, GREATEST = 273.15, 373.15


def density(kelvin: float) -> float:
    """Density of air-free water at 101 kPa in kg/m³, from 0 to 100 °C (Kell 1975; coefficients from memory).

    Raises ValueError outside that range.
    """
    if not LEAST <= kelvin <= GREATEST:
        raise ValueError(f"water is liquid from 0 to 100 °C; read {kelvin - 273.15:g} °C")
    t = kelvin - 273.15
    above = (
        999.83952
        + 16.945176 * t
        - 7.9870401e-3 * t**2
        - 46.170461e-6 * t**3
        + 105.56302e-9 * t**4
        - 280.54253e-12 * t**5
    )
    return above / (1 + 16.879850e-3 * t)
