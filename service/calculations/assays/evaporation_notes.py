"""What a stock that has stood says beside its numbers: what the change does to a batch, its age, and the steps."""

from typing import Final

from service.calculations.shared.given import Duration
from service.calculations.shared.messages import AlkaliName
from service.calculations.shared.notes import Notes, percent, weight
from service.calculations.shared.standing_cautions import CHILDREN, LOCAL_CODES, STORE, of_solution
from service.calculations.stock.stock_age import caution_age

WORTH_A_WORD: Final = 0.005
"""Change of the strength, over the strength, that is worth mending: half a point of superfat."""


def caution_change(
    alkali: AlkaliName,
    strengths: tuple[float, float],
    change: float,
    age: Duration | None,
    notes: Notes,
    *,
    contradicted: str | None = None,
) -> None:
    """Everything the person who draws from it should know.

    Args:
        alkali: the hydroxide.
        strengths: as it was filled, and now.
        change: of the water [kg].
        age: how long it has stood, where that is told.
        notes: where the cautions go.
        contradicted: why the air can hardly have brought the change about, where that is so.
    """
    before, now = strengths
    notes.tell(*of_solution(alkali, now), LOCAL_CODES, CHILDREN, STORE)
    more = now / before - 1
    if contradicted is not None and abs(more) > WORTH_A_WORD:
        notes.caution("change-contradicts-air", contradicted)
    if more > WORTH_A_WORD:
        lost = f"The stock has lost {weight(-change)} of water and is"
        mend = "Put the water back and stir, or draw by the strength told here."
        if contradicted is not None:
            lost = f"If {weight(-change)} of water are gone, the stock is"
            mend = "Then put the water back and stir, or draw by the strength told here."
        notes.caution(
            "stock-got-stronger",
            f"{lost} {percent(more)} stronger: drawn as before, it brings as much more alkali into every batch. {mend}",
            "danger" if more > 5 * WORTH_A_WORD else None,
        )
    elif more < -WORTH_A_WORD:
        taken = f"The stock has taken up {weight(change)} and is"
        closing = ", and close it: the air that brought water brought carbon dioxide too."
        if contradicted is not None:
            taken, closing = f"If {weight(change)} of water came in, the stock is", " once it is assayed."
        notes.caution(
            "stock-got-weaker",
            f"{taken} {percent(-more)} weaker: drawn as before, it leaves as much more of the fats as they are. Draw "
            f"by the strength told here{closing}",
        )
    caution_age(age, "The balance does not see what carbon dioxide took: titrate it.", notes)


def explain_change(masses: tuple[float, float, float], strengths: tuple[float, float, float], notes: Notes) -> None:
    """The steps, so that a person can redo them by hand.

    Args:
        masses: filled, drawn, and now [kg].
        strengths: as filled, now, and now if the change came before all draws.
        notes: where the steps go.
    """
    (filled, drawn, now), (before, after, early) = masses, strengths
    inputs = {"filled": (filled * 1000, "g"), "drawn": (drawn * 1000, "g"), "now": (now * 1000, "g")}
    notes.step(
        "water lost or taken up",
        "now - (filled - drawn)",
        inputs,
        ((now - filled + drawn) * 1000, "g"),
        "conservation of mass; all of it taken to be water",
    )
    notes.step(
        "strength now, drawn before the change",
        "strength * (filled - drawn) / now",
        inputs | {"strength": (before, "1")},
        (after, "1"),
        "conservation of the hydroxide",
    )
    notes.step(
        "strength now, drawn after the change",
        "strength * filled / (now + drawn)",
        inputs | {"strength": (before, "1")},
        (early, "1"),
        "conservation of the hydroxide",
    )
