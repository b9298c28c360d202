"""What each code of a fault means, in a line; for the pages of the problems and for the contract."""

from typing import Final

from service.calculations.shared.faults import FaultCode

MEANINGS: Final[dict[FaultCode, str]] = {
    "malformed-json": "The body is not JSON in UTF-8.",
    "wrong-type": "A text, number, list or object stands where another of them is due.",
    "missing-member": "A member that is due is not given.",
    "unknown-member": "There is no such member here.",
    "repeated-member": "A member is given more than once.",
    "choose-one": "Members are given that exclude each other, or none of them where one is due.",
    "not-one-of": "A word stands where only certain others are known.",
    "too-few": "A list or text is shorter than allowed.",
    "too-many": "A list or object holds more than allowed.",
    "too-long": "A text is longer than allowed.",
    "not-text": "Something else stands where a text is due.",
    "bare-number": "A number stands without the unit it needs.",
    "unreadable-quantity": "A text cannot be read as a number and its unit.",
    "decimal-comma": "A number is written with a comma instead of a decimal point.",
    "unknown-unit": "There is no such unit of this kind.",
    "wrong-kind-of-unit": "The unit measures something else than what is due.",
    "volume-for-mass": "A volume stands where a mass is due.",
    "percent-missing": "A number above 1, or one in quotes, does not say whether it is per cent.",
    "out-of-range": "A number is larger or smaller than can be meant.",
    "unknown-parameter": "There is no such parameter in the query of this address.",
    "repeated-parameter": "A parameter of the query is given more than once.",
    "invalid-parameter": "A parameter of the query has a value that is not known.",
    "unknown-identifier": "The catalogue has no such entry.",
    "does-not-add-up": "Shares or masses do not add up to the whole.",
    "contradiction": "Two things in the request cannot both be true.",
    "stock-too-weak": "The stock brings more water than the whole liquid may hold.",
    "too-little-water": "There is less water than the alkali needs to dissolve.",
    "beyond-solubility": "So strong a solution would not stay liquid.",
    "beyond-data": "No published data reach so far, and nothing is guessed.",
    "impossible-temperature": "The substance is not in the stated form at that temperature.",
    "purity-needed": "The purity of a solid alkali must be given here.",
    "not-into-stock": "This liquid must not go into the stock.",
    "heater-too-weak": "The vessel loses more than the heater gives before the temperature is reached.",
    "temperature-needed": "A temperature must be given here, or what it follows from.",
    "readings-too-close": "Readings differ by no more than what their thermometer leaves uncertain.",
    "too-hot-for-vessel": "The vessel does not stand the temperature that is asked for.",
}
