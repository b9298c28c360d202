"""The table of the README: our figures beside the published ones, made from the rows the tests assert on.

`python -m tests.reference_cases.table` writes it anew between its marks.
"""

from itertools import chain
from pathlib import Path

from tests.reference_cases import batch_validation, caustic_validation, saponification_validation

README = Path(__file__).parents[2] / "README.md"
BEGIN, END = "<!-- validation table: begin -->\n", "<!-- validation table: end -->\n"


def markdown() -> str:
    """The table."""
    lines = ["| quantity | ours | published | deviation | source |", "|---|---|---|---|---|"]
    for row in chain(
        caustic_validation.validation_rows(),
        saponification_validation.validation_rows(),
        batch_validation.fat_rows(),
        batch_validation.milk_rows(),
    ):
        deviation = _deviation(row.deviation, row.reference)
        figures = f"{row.ours:.5g} {row.unit} | {row.reference:.5g} | {deviation}"
        lines.append(f"| {row.quantity} | {figures} | {row.source} |")
    return "\n".join(lines) + "\n"


def _deviation(deviation: float, reference: float) -> str:
    """To two digits; what is less than a millionth of the figure is rounding."""
    return "0" if abs(deviation) < 1e-6 * abs(reference) else f"{deviation:+.2g}"


def inserted(text: str) -> str:
    """A README with the table between its marks."""
    head, _, rest = text.partition(BEGIN)
    _, _, tail = rest.partition(END)
    return f"{head}{BEGIN}{markdown()}{END}{tail}"


if __name__ == "__main__":
    README.write_text(inserted(README.read_text(encoding="utf-8")), encoding="utf-8")
