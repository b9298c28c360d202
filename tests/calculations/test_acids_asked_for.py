"""The acid that a soap is to be neutralised with: one of the catalogue, asked for with a batch."""

from tests.calculations.asking import ask, fault
from tests.calculations.caution_cases_of_titrations import A, soap


def test_an_acid_that_nobody_knows_is_refused_with_one_that_is_known() -> None:
    found = fault(A, soap(acid="no-acid", batch_mass="1 kg"), 422)
    assert (found.pointer, found.code) == ("/acid", "unknown-identifier")
    known = found.mend.removeprefix("use one of ").partition(",")[0]
    assert "acid_to_neutralise" in ask(A, soap(acid=known, batch_mass="1 kg"))
