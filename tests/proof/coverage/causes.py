"""Why an interval holds more or less often than it says, where that is known."""

from typing import Final

_SOLID: Final = (
    "the limits of a freezing point hold for every strength within its interval, so both count in full; a guard"
)
_PEAK: Final = (
    "the upper end counts data, purity and strength at their worst at once, and the lower one the most heat that can "
    "be lost: bounds for safety. In a single request the peak may lie between two parts of which by their values the "
    "one is the hottest: short by 0.1 K"
)
_CAUSES: Final = (
    ("", "/first_solid_temperature", _SOLID),
    ("", "peak_temperature", _PEAK),
    ("stock-mixing/ice", "/lowest_peak", _PEAK),
    ("stock-mixing", "/adiabatic_temperature", "data, purity, moisture and strength at their worst at once: a bound"),
    (
        "stock-dilution",
        "/volume_change",
        "the model of densities is taken to err apart at each strength, the wide side; the draws let it err alike",
    ),
    (
        "superfat-check",
        "/free_alkali",
        "where none is free at either end it is 0 in every draw, and the interval, 0 to 0, always holds it",
    ),
    (
        "stock-assay/hydrometer",
        "/density_at_20",
        "the model of densities counts once more on the way from the temperature of the reading to 20 °C; the draws "
        "let it err alike there",
    ),
    (
        "stock-assay/titration",
        "/density",
        "it has room for the carbonate, which is counted as hydroxide; the draws have none",
    ),
    (
        "stock-assay/evaporation",
        "/water_to_add",
        "the interval spans that the water went before the first draw; the draws let it go after the last",
    ),
    (
        "batch-temperature",
        "/temperature",
        "the lower end counts none of the heat of dilution: a bound, and the draws let any share of it have come",
    ),
    (
        "stock-warming",
        "/steady_temperature",
        "few requests have one, and so few scatter by half a per cent of the mean",
    ),
    ("batch-temperature", "/fats_temperature_needed", "the same bound at the upper end"),
    (
        "batch-sheet",
        "/temperatures/",
        "as batch-temperature: one end counts none of the heat of dilution, which is a bound",
    ),
    (
        "paste-dilution",
        "/free_alkali_share",
        "where little alkali is over, its interval ends at nothing, and holds all draws without any",
    ),
)


def cause(calculation: str, member: str) -> str:
    """Why a member is held more or less often; empty where no cause is known.

    Args:
        calculation: its calculation.
        member: its pointer.
    """
    for name, part, why in _CAUSES:
        if part in member and name in {"", calculation}:
            return why
    return ""
