"""Trials against the growth estimate as tables, and what it expects of those to come."""

from datetime import date
from pathlib import Path
from typing import Annotated

import typer

from lengthwise.body.muscle_names import plain
from lengthwise.cli.shared import new_table, out
from lengthwise.files.whole_files import read_text
from lengthwise.grading.beside_trials import PREDICTORS, ComparisonBeside, Difference, OnRecordToday, TrialsBeside
from lengthwise.grading.trial_file import read_trials
from lengthwise.growth.beside import SURE, Concordance
from lengthwise.growth.upcoming import OnRecord, known_upcoming, read_upcoming
from lengthwise.known.trial_answers import expected_of
from lengthwise.questions.ask import Tell
from lengthwise.questions.trials import TrialsAsk, run


def act(
    asked: TrialsAsk,
    tell: Tell,
    *,
    file: Annotated[
        Path | None, typer.Option(help="TOML file of your own comparisons (with --upcoming: of registered trials).")
    ] = None,
    upcoming: Annotated[
        bool, typer.Option("--upcoming", help="Predictions for registered trials whose results are not out yet.")
    ] = False,
) -> TrialsBeside | OnRecordToday | None:
    """Comparisons of a file, or what is expected of trials to come, where one of them is asked for."""
    if upcoming:
        return expected_of(read_upcoming(file.name, read_text(file)) if file else known_upcoming(), date.today(), tell)
    own = read_trials(file.name, read_text(file)) if file else None
    return run(asked.model_copy(update={"own": own}), tell) if own else None


def show(found: TrialsBeside | OnRecordToday) -> None:
    """Every comparison with how often they agree, and how the simplest rules do; or each trial to come."""
    if isinstance(found, OnRecordToday):
        _show_upcoming(found)
    else:
        _show_trials(found)
    for lost in found.not_solved:
        out.print(f"not solved: {lost.arm}: {lost.why}", style="yellow")


def _show_upcoming(found: OnRecordToday) -> None:
    for t in found.trials:
        u = t.trial
        said = f"[bold]{u.registry}[/] {u.title} ({u.measure}; {u.obtained} {u.read_on}, {u.status})"
        out.print(said)
        if t.predicted is None:
            out.print(f"  not predicted: {t.why_not}", style="yellow")
            continue
        heads = ", ".join(map(plain, u.heads))
        out.print(
            f"  {heads}: {u.a.name} minus {u.b.name} {_interval(t.predicted)} percentage points as the trial would report it; "
            f"{u.a.name} grows more: {t.a_grows_more:.0%}. {u.note}"
        )
        for r in u.on_record:
            out.print(f"  on record since {r.dated}: {_interval(r)}, {r.a_grows_more:.0%}", style="dim")
    out.print(f"Predicted on {found.dated}. The estimate will be judged by what is on record.", style="dim")


def _show_trials(found: TrialsBeside) -> None:
    table = new_table("trial", "heads", "a", "b", "expected", "seen", "side", "in 90%", title=TRIALS_TITLE)
    for c in found.comparisons:
        heads = ", ".join(map(plain, c.head.split("+")))
        table.add_row(c.cited, heads, c.a.arm, c.b.arm, _interval(c.predicted), _seen(c), _SIDE[c.side_right], _INSIDE[c.inside])
    out.print(table)
    for words, told in _counts(found):
        low, high = told.interval
        out.print(f"{words}: {told.agree} of {told.of}, 95% interval {low:.0%} to {high:.0%} (exact)")
    out.print(
        "Comparisons within one trial are not independent, so these intervals are too narrow; in the table of predictors, pairs of "
        "one outcome count as one.",
        style="dim",
    )
    if found.scores:
        _show_scores(found)
    elif found.comparisons:
        out.print(FROM_ALL, style="dim")
    for other in found.not_buildable:
        out.print(f"not used as a test: {other.cited or other.trial}, {other.contrast}: {other.why}", style="dim")


def _seen(c: ComparisonBeside) -> str:
    return _interval(c.observed) if c.observed else f"more in {c.ahead}"


_SIDE = {True: "right", False: "[red]wrong[/]", None: "not clear"}
_INSIDE = {True: "yes", False: "[red]no[/]", None: ""}


def _counts(found: TrialsBeside) -> tuple[tuple[str, Concordance], ...]:
    """What is counted, in words that say what counts."""
    return (
        ("Right direction, where the trial is clear about which arm grew more", found.sides),
        ("The same, by at least half a point", found.where_trials_differ),
        (f"The same, where the estimate is at least {SURE:.0%} sure of it", found.where_sure),
        ("Inside the 90% interval, where the trial reports a size", found.sizes),
        ("The trial's own 95% interval contains the prediction, where it is not clear", found.where_trials_find_none),
    )


def _interval(value: Difference | OnRecord) -> str:
    return f"{value.mean:+.1f} ({value.low:+.1f} to {value.high:+.1f})"


def _show_scores(found: TrialsBeside) -> None:
    best = found.most_telling
    columns = ("predictor", "log score", "rmse", "right side", "in 50%", "in 90%", "the estimate is ahead by")
    table = new_table(*columns, f"without {best}")
    for name, s in found.scores.items():
        own = found.gains.get(name)
        ahead = [_gain(own), _gain(own["without_most_telling"])] if own else ["", ""]
        sides = f"{s.sign[0]} of {s.sign[1]}"
        table.add_row(
            PREDICTORS[name], f"{s.log_score:.1f}", f"{s.rmse:.2f}", sides, f"{s.coverage50:.0%}", f"{s.coverage90:.0%}", *ahead
        )
    out.print(table)
    out.print(
        f"{found.gains['trials']} trials, each left out of the fit that predicts it; {best} is the one where the estimate "
        "gains most. Intervals: 90%, trials resampled."
    )
    out.print(found.held_to)


def _gain(told: dict[str, float]) -> str:
    return _interval(Difference(told["mean"], told["low"], told["high"]))


FROM_ALL = (
    "Predicted from all trials in the library: a comparison that is one of them taught the fit and does not test it. Nothing is "
    "scored here. For predictions before results are out, use --upcoming."
)
TRIALS_TITLE = "Difference in growth, a minus b, in percentage points with 90% intervals"
