"""Cold-weather voltage factors of crystalline silicon modules (NEC Table 690.7(A))."""

from specreg.tables.constant import Constant, NotTabulatedError, citation, rows

SOURCE_CURRENT = Constant(1.25, "plain", "NEC 690.8(A)(1)", "read", "of the short-circuit current")
CONDUCTOR_CURRENT = Constant(1.25, "plain", "NEC 690.8(B)", "read", "of the maximum current: 1.5625 in all")
DEVICE_CURRENT = Constant(
    1.25, "plain", "NEC 690.9(B)(1)", "memory", "least device rating, of the maximum current"
)


def cold_voltage_factor(lowest_celsius: float) -> Constant:
    """Factor on the open-circuit voltage at the lowest expected ambient; 1 from 25 °C upward.

    A temperature between two printed rows takes the colder one. Raises NotTabulatedError below -40 °C. From a
    data-sheet coefficient the voltage is computed instead; this table is the check.
    """
    source = "NEC Table 690.7(A)"
    if lowest_celsius >= 25:
        return Constant(1.0, "plain", source, "read", "the table begins below 25 °C")
    fitting = [
        row for row in rows("photovoltaic-cold-factor") if float(row["lowest_celsius"]) <= lowest_celsius
    ]
    if not fitting:
        raise NotTabulatedError(f"{source} ends at -40 °C; read {lowest_celsius:g} °C")
    row = max(fitting, key=lambda r: float(r["lowest_celsius"]))
    return Constant(float(row["value"]), "plain", citation(row), row["basis"], row["note"])
