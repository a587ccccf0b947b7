"""What rows of a week's programme change: its best worth and its bound, with them and without."""

from lengthwise.planning import whole
from lengthwise.planning.highs import Work, maximise
from lengthwise.planning.week_model import forgiving

WORK = Work(nodes=20000, idle=20000)


def bests(question, rows, monkeypatch):
    """The best worth and the bound of the linear programme, with rows that whole.py adds by this name and without."""
    out = []
    for add in (getattr(whole, rows), lambda model: None):
        with monkeypatch.context() as patch:
            patch.setattr(whole, rows, add)
            programme = forgiving(whole.model_of(question))
        found = maximise(programme, WORK)
        assert found.outcome == "optimal"
        out.append((found.worth, maximise(programme, Work(whole=False)).worth))
    return out
