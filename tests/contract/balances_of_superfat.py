"""What must add up when a batch is checked."""

from typing import Any

from service.chemistry import molar_masses

Request = dict[str, Any]
Answer = dict[str, Any]


def superfat_check(request: Request, answer: Answer) -> None:
    superfat, free = answer["superfat"], answer["free_alkali"]
    assert (superfat["value"] < 0) == (free["value"] > 0)
    assert superfat.get("low", superfat["value"]) < 0 or free.get("high", 0.0) <= 1e-9
    assert 0 <= answer["free_alkali_probability"]["value"] <= 1
    amount = sum(one["mass"]["value"] / 1000 / molar_masses.ALKALI[one["alkali"]] for one in answer["alkali_weighed"])
    assert amount > 0
    wanted, more = answer["wanted_superfat"]["value"], 1e-6
    above, below = superfat["value"] > wanted + more, superfat["value"] < wanted - more
    adds = "stock_to_add" in answer or "solid_to_add" in answer
    free_likely = answer["free_alkali_probability"]["value"] >= 0.5  # then more alkali is no mending
    # what is known so badly that no superfat could be told of the mended batch is not mended, and a caution says so
    told = {one["code"] for one in answer["cautions"]}
    assert (
        adds == (above and not free_likely) or not (above or below) or (not adds and "superfat-within-spread" in told)
    )
    assert not above or "fat_to_add" not in answer
    assert "stock_to_add" not in answer or len(answer["stock_to_add"]) == len(request["stock_draws"])
    assert "solid_to_add" not in answer or request.get("stock_draws") is None
    mean = sum(one["mass"]["value"] for one in answer["alkali_weighed"]) / 1000 / amount
    if free["value"]:  # what is free is what is over the need, and the need follows from it
        taken = answer["acid_demand"]["value"] / 1000 / mean
        need = (amount - taken) / (1 - superfat["value"])
        assert abs(free["value"] / 1000 / mean - (amount - taken - need)) <= 1e-9 * amount
