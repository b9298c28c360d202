"""Names for lists of ingredients: what fats, liquids, acids and alkalis are called as put in, and their salts."""

from typing import Final, NamedTuple

from service.reference.tables import read

FILE: Final = "label_names.csv"


class LabelName(NamedTuple):
    """Names of one entry of the catalogue; empty where none is known."""

    inci_name: str
    """As put in; from memory of the nomenclature."""
    us_name: str
    """The same as it is told in the United States, where that differs; from memory."""
    sodium_salt: str
    potassium_salt: str
    salt_evidence: str
    """How well the names of the salts were verified."""


def _read() -> dict[str, LabelName]:
    rows = read(FILE).rows
    return {row["id"]: LabelName(*(row[name] for name in LabelName._fields)) for row in rows}


LABEL_NAMES: Final = _read()
"""By identifier of the catalogue; alkalis by their formula, and glycerol."""
