"""Works that several models are compared with."""

from typing import Final

from tests.proof.report.records import Evidence, Source

INTERVAL: Final = "the 95 % interval that the service tells (the source states none)"
PROGRAM: Final = "one part in 1e9: the same formula, programmed by others"
HALF_DIGIT: Final = "half a unit of the last printed digit"

CRC: Final = Source(
    "CRC 2021",
    "J. R. Rumble (ed.)",
    "CRC Handbook of Chemistry and Physics, 102nd ed.",
    "2021",
    "Concentrative Properties of Aqueous Solutions: density and viscosity at 20 °C, depression of the freezing point",
    Evidence.SEEN,
    INTERVAL,
    "as typed in a public data file; a selection of its rows",
)
PARKER: Final = Source(
    "Parker 1965",
    "V. B. Parker",
    "Thermal Properties of Aqueous Uni-univalent Electrolytes, NSRDS-NBS 2",
    "1965",
    "heats of solution to infinite dilution, 25 °C",
    Evidence.SEEN,
    HALF_DIGIT,
    "as the CRC Handbook prints it; the model is made of it",
    is_made_of=True,
)
OLSSON: Final = Source(
    "Olsson 1997 (program)",
    "H. Olsson, A. Jernqvist, G. Aly",
    "Thermophysical Properties of Aqueous NaOH-H2O Solutions at High Concentrations, Int. J. Thermophys. 18, 779-793",
    "1997",
    "the equations",
    Evidence.SEEN,
    PROGRAM,
    "as programmed in the package absorptionlib 1.1.0, not in the paper",
    is_same_formula=True,
)
LALIBERTE: Final = Source(
    "Laliberté 2009 (program)",
    "M. Laliberté",
    "A Model for Calculating the Heat Capacity of Aqueous Solutions, with Updated Density and Viscosity Data, "
    "J. Chem. Eng. Data 54, 1725-1760",
    "2009",
    "the equations",
    Evidence.SEEN,
    PROGRAM,
    "as programmed in the package thermo 0.6.1, not in the paper",
    is_same_formula=True,
)
BALEJ: Final = Source(
    "Balej 1985",
    "J. Balej",
    "Water vapour partial pressures and water activities in potassium and sodium hydroxide solutions over wide "
    "concentration and temperature ranges, Int. J. Hydrogen Energy 10, 233-243",
    "1985",
    "the equations",
    Evidence.SEEN,
    INTERVAL,
    "as coded in a public program, evaluated apart from the service; not read in the paper",
)
DOW: Final = Source(
    "Dow",
    "Dow Chemical",
    "Caustic soda, product page and billing page",
    "undated",
    "50 % solution: boiling point, vapour pressure at 20 °C, freezing point, all 'about'; NaOH as Na2O",
    Evidence.SEEN,
    INTERVAL,
)
PICKERING: Final = Source(
    "Pickering 1893",
    "S. U. Pickering",
    "J. Chem. Soc. 63, 890-909",
    "1893",
    "melting points and transitions of the hydrates",
    Evidence.SEEN,
    HALF_DIGIT,
    "as summarised in an encyclopedia; points of the interpolation, so that only its way through them is held",
    is_made_of=True,
)
SOVIET: Final = Source(
    "Soviet encyclopedia",
    "Great Soviet Encyclopedia",
    "articles on sodium hydroxide and potassium hydroxide",
    "1969-1978",
    "solubilities",
    Evidence.SEEN,
    INTERVAL,
)
SIMMONS: Final = Source(
    "Simmons & Appleton 1908",
    "W. H. Simmons, H. A. Appleton",
    "The Handbook of Soap Manufacture, London",
    "1908",
    "Appendix C (after G. H. Hurst): caustic soda by degrees Twaddell",
    Evidence.SEEN,
    "what the 95 % interval of our density makes of the strength (the source states none)",
    "5 rows whose Na2O and NaOH disagree by more than 0.5 % of each other are left out as misprints",
)
IF97: Final = Source(
    "IAPWS-IF97 (program)",
    "International Association for the Properties of Water and Steam",
    "R7-97(2012), Industrial Formulation 1997",
    "2012",
    "regions 1 and 2",
    Evidence.SEEN,
    "what the model claims of itself, told with the model",
    "as programmed in the package iapws 1.5.5",
)
