"""Questions about strength in a single set."""

from typing import Any

from lengthwise.errors import InputError
from lengthwise.training.one_rm import DEFAULT, EQUATIONS, WHY_DEFAULT, estimate, percent_table, published, repetitions_error


def one_rm_answer(load_kg: float, repetitions: int, reserve: float) -> dict[str, Any]:
    """The 1RM of a set by every equation, with the spread and a table of loads for other repetitions.

    Raises:
        InputError: load, repetitions or reserve out of bounds.
    """
    if not 0 < load_kg <= 1000:
        raise InputError(f"load {load_kg:g}; allowed above 0 to 1000", asked=load_kg, allowed=[0, 1000])
    if not 1 <= repetitions <= 50 or not 0 <= reserve <= 10:
        raise InputError(
            f"{repetitions} repetitions with {reserve:g} left; allowed 1 to 50 with 0 to 10", asked=[repetitions, reserve]
        )
    found = estimate(load_kg, repetitions, reserve)
    low, high = published()["one_rm_error"]["predicted_percent"]
    test = published()["one_rm_error"]["test_to_test_percent"]
    notes = [
        f"{DEFAULT}: {WHY_DEFAULT}.",
        f"Published total error of a 1RM predicted from repetitions: {low:g} to {high:g} %; a tested 1RM itself varies by {test:g} % from day to day.",
        f"Repetitions at a load vary from day to day by about {repetitions_error(100 * load_kg / found.one_rm):.1f} (standard error, bench press).",
    ]
    if not found.trusted:
        notes.append("More than ten possible repetitions: the equations part here and were not tested; take it as a rough guide.")
    return {
        "equation": DEFAULT,
        "one_rm": found.one_rm,
        "low": found.low,
        "high": found.high,
        "by": dict(found.by),
        "sources": {name: EQUATIONS[name].source for name in found.by},
        "notes": notes,
        "table": [
            {
                "repetitions": r,
                "percent": percent,
                "load": found.one_rm * percent / 100,
                "printed_percent": printed,
                "other_percent": other,
            }
            for r, printed, other, percent in percent_table()
        ],
    }
