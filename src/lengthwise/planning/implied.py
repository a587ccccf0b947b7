"""What follows from the rules of a week for whole lifts alone, and tells the search sooner what is possible.

A day's job (a press, a pull, a squat) that is done by thirds of three lifts leaves a third of "something for the chest stands there", so that the
linear programme pays nothing where two such days follow each other. Each row here holds in every week.
"""

from lengthwise.planning.integer_programme import Programme, Row
from lengthwise.planning.week_model import Model


def add_implied(model: Model) -> None:
    """Where a job is done, by a lift that makes a column say so or by another, the column says so; and lifts of which a day holds one, or a price
    is paid, make it say so in parts as well.
    """
    p, used = model.programme, {model.used(i, d) for i, d in model.slots}
    rows, signs = [r for r in p.rows if r.wish is None and r.factors.keys() & used], _signs(model, used)
    for row in rows:
        job, one = _is_job(p, row, used), _is_one(row, used)
        for sign, lifts in signs.items() if job or one else ():
            both = row.factors.keys() & lifts
            if len(both) > 1:
                others = {k: n for k, n in row.factors.items() if k not in lifts and (job or k not in used)}
                p.keep({**others, sign: 1.0}, lower=row.lower) if job else p.keep(
                    {**others, **dict.fromkeys(both, -1.0), sign: 1.0}, lower=0.0
                )


def _is_job(programme: Programme, row: Row, used: set[int]) -> bool:
    """Whether a row asks for one whole lift of some at most, unless a price is paid or a column says that none is there."""
    columns = programme.columns
    asked = row.lower - sum(n * columns[k].upper for k, n in row.factors.items() if k not in used and n < 0)
    return asked == 1 and all(n == 1 for k, n in row.factors.items() if k in used)


def _is_one(row: Row, used: set[int]) -> bool:
    """Whether a row allows one lift of some, or more at a price."""
    return row.lower == -1 and all(n == (-1 if k in used else 1) for k, n in row.factors.items())


def _signs(model: Model, used: set[int]) -> dict[int, set[int]]:
    """Columns up to 1 that are 1 where any of some lifts stands on a day."""
    out = dict[int, set[int]]()
    named = {
        c
        for name, c in model.programme.place.items()
        if isinstance(name, tuple) and name[0] in ("there", "knee apart", "spine apart")
    }
    for row in model.programme.rows:
        for sign in row.factors.keys() & named:
            lifts = {k for k, n in row.factors.items() if n == -1 and k in used}
            if row.lower == 0 and row.factors[sign] == 1 and len(lifts) == len(row.factors) - 1:
                out.setdefault(sign, set()).update(lifts)
    return out
