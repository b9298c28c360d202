"""The label of a batch's bars: the list of ingredients by a law, and the net mass."""

from typing import Annotated, NamedTuple

from msgspec import Meta, Struct

from service.calculations.orders.batch_content import Content
from service.calculations.orders.label_laws import LAWS, LawName
from service.calculations.orders.label_list import Listed, listed
from service.calculations.orders.label_materials import Names, as_present, as_put_in
from service.calculations.orders.net_mass import NetMass, net_mass
from service.calculations.orders.recipe import Recipe
from service.calculations.shared.notes import Notes
from service.calculations.shared.told import FractionFigure


class LabelLine(Struct, frozen=True, kw_only=True):
    """An ingredient on the label."""

    inci_name: Annotated[str, Meta(description="What it is called.", examples=["Sodium Olivate"])]
    share: Annotated[FractionFigure, Meta(description="Of the whole, by mass: of what was put in, or of the bar.")]
    in_any_order: Annotated[
        bool, Meta(description="Whether the law leaves open where among the last of the list it stands.")
    ]
    evidence: Annotated[
        str, Meta(description="How well its name was verified; as-given is the caller's.", examples=["seen-reprint"])
    ]


class Label(NamedTuple):
    """What a label says."""

    lines: list[LabelLine]
    text: str
    basis: str
    net_mass: NetMass | None


def label(
    law_name: LawName, recipe: Recipe, content: Content, sold: tuple[float | None, float | None], notes: Notes
) -> Label:
    """The label of a batch's bars; names that are not known go into the notes as faults.

    Args:
        law_name: by which law, and whether as put in or as present.
        recipe: as the request has it.
        content: what the batch consists of.
        sold: mass of all bars together, and of one bar, when they are sold [kg]; None where that is not told.
        notes: where faults and cautions go.
    """
    law = LAWS[law_name]
    names = Names(recipe, law, notes)
    together, bar = sold
    if law.as_added:
        whole, materials = content.mass, as_put_in(content.weighed, names, law)
    elif together is None:
        raise notes.refuse(
            "/moisture_when_sold",
            "contradiction",
            "how much water the bars hold when they are sold decides where water stands in a list of what is in them",
            "give moisture_when_sold, or ask for the list as put in (eu-as-added, us-as-added)",
        )
    else:
        whole, materials = together, as_present(content, names, law, together)
    lines = listed(materials, whole, law, together or content.dry_mass)  # the dry bar holds most of an allergen
    notes.caution(
        "label-needs-assessor",
        "This list orders what was given by one law. Whether the product may be sold, under which names, with which "
        "warnings and particulars, local law and a qualified assessor decide.",
        basis=law.basis,
    )
    return Label(
        [_line(one) for one in lines],
        ", ".join(one.inci_name for one in lines),
        law.basis,
        None if bar is None else net_mass(bar),
    )


def _line(one: Listed) -> LabelLine:
    return LabelLine(
        inci_name=one.inci_name,
        share=FractionFigure(min(one.share, 1.0)),
        in_any_order=one.in_any_order,
        evidence=one.evidence,
    )
