"""Command `trials`: the estimate of growth held against published trials, and what it expects of those to come."""

from datetime import date
from pathlib import Path
from typing import Annotated, Any

import typer
from rich.box import SIMPLE_HEAD
from rich.table import Table

from lengthwise.actions.trials import compare_trials, upcoming_answer
from lengthwise.cli.asked import FigureFile, check_picture
from lengthwise.cli.grading import say_picture
from lengthwise.cli.shared import Bar, Json, PersonFile, out, print_json


def trials(
    file: Annotated[
        Path | None, typer.Option(help="TOML file of comparisons (with --upcoming: of registered trials) of your own.")
    ] = None,
    person: PersonFile = None,
    upcoming: Annotated[
        bool, typer.Option("--upcoming", help="What is expected of registered trials whose results are not out.")
    ] = False,
    figure: FigureFile = None,
    as_json: Json = False,
) -> None:
    """Check the growth estimate against published trials, each left out in turn, beside the simplest rules."""
    check_picture(figure)
    if upcoming:
        return _upcoming(file, as_json)
    with Bar("arms of trials") as bar:
        answer = compare_trials(file, person, bar)
    if figure is not None:
        from lengthwise.actions.grading_pictures import save_trials

        save_trials(answer, figure)
    if as_json:
        return print_json(answer)
    _show_trials(answer)
    say_picture(figure)


def _upcoming(file: Path | None, as_json: bool) -> None:
    with Bar("arms of registered trials") as bar:
        answer = upcoming_answer(file, date.today(), bar)
    if as_json:
        return print_json(answer)
    for t in answer["trials"]:
        out.print(
            f"[bold]{t['registry']}[/] {t['title']} ({t['measure']}; {t['obtained']} {t['read_on']}, {t['status']})",
            highlight=False,
        )
        if t["predicted"] is None:
            out.print(f"  not predicted: {t['why_not']}", style="yellow", highlight=False)
            continue
        heads = ", ".join(h.replace("_", " ") for h in t["heads"])
        out.print(
            f"  {heads}: {t['a']['name']} less {t['b']['name']} {_interval(t['predicted'])} percentage points as the trial would print it; "
            f"{t['a']['name']} grows more: {t['a_grows_more']:.0%}. {t['note']}",
            highlight=False,
        )
        for r in t["on_record"]:
            out.print(f"  on record since {r['dated']}: {_interval(r)}, {r['a_grows_more']:.0%}", style="dim", highlight=False)
    for lost in answer["not_solved"]:
        out.print(f"not solved: {lost['arm']}: {lost['why']}", style="yellow", highlight=False)
    out.print(
        f"Predicted on {answer['dated']}. What stands on record is what the estimate is held to.", style="dim", highlight=False
    )


def _show_trials(answer: dict[str, Any]) -> None:
    table = Table("trial", "heads", "a", "b", "expected", "seen", "agree", box=SIMPLE_HEAD, title=TRIALS_TITLE)
    for c in answer["comparisons"]:
        agree = ("yes" if c["agree"] else "[red]no[/]") if c["clear"] else ("open" if c["agree"] else "[red]no[/]")
        seen = ("more in a" if c["observed"]["mean"] > 0 else "more in b") if c["direction_only"] else _interval(c["observed"])
        heads = c["head"].replace("_", " ").replace("+", ", ")
        table.add_row(c["trial"], heads, c["a"]["arm"], c["b"]["arm"], _interval(c["predicted"]), seen, agree)
    out.print(table)
    for name, key in _CONCORDANCE.items():
        c = answer[key]
        out.print(
            f"{name}: {c['agree']} of {c['of']} agree, 95 % interval {c['interval'][0]:.2f} to {c['interval'][1]:.2f} (exact)",
            highlight=False,
        )
    out.print("Comparisons of one trial are not independent, so these intervals are too narrow.", style="dim")
    if answer["scores"]:
        _show_scores(answer)
    for lost in answer["not_solved"]:
        out.print(f"not solved: {lost['arm']}: {lost['why']}", style="yellow", highlight=False)
    for other in answer["not_buildable"]:
        out.print(f"not held against it: {other['trial']} {other['contrast']}: {other['why']}", style="dim", highlight=False)


def _interval(value: dict[str, float]) -> str:
    return f"{value['mean']:+.1f} ({value['low']:+.1f} to {value['high']:+.1f})"


def _show_scores(answer: dict[str, Any]) -> None:
    gains = answer["gains"]
    table = Table(
        "predictor",
        "log score",
        "rmse",
        "sides right",
        "in 50 %",
        "in 90 %",
        "the estimate is ahead by",
        f"without {gains['most_telling']}",
        box=SIMPLE_HEAD,
    )
    for name, s in answer["scores"].items():
        ahead, rest = (_interval(g) for g in (gains[name], gains[name]["without_most_telling"])) if name in gains else ("", "")
        sides = f"{s['sign']['right']} of {s['sign']['of']}"
        table.add_row(
            PREDICTORS[name],
            f"{s['log_score']:.1f}",
            f"{s['rmse']:.2f}",
            sides,
            f"{s['coverage50']:.0%}",
            f"{s['coverage90']:.0%}",
            ahead,
            rest,
        )
    out.print(table)
    out.print(
        f"{gains['trials']} trials, each left out of the fit that predicts it; {gains['most_telling']} is the one on which the estimate "
        "gains most. Intervals: 90 %, trials drawn again.",
        highlight=False,
    )  # fmt: skip


TRIALS_TITLE = "Difference of growth, a less b, in percentage points with 90 % intervals"
PREDICTORS = {
    "model": "the estimate of growth", "no_difference": "no difference", "longer_wins": "the longer arm wins",
    "length": "length alone", "tension": "tension alone", "old_grade": "the old grade",
}  # fmt: skip
_CONCORDANCE = {
    "All": "concordance",
    "Where the trial is clear": "where_trials_differ",
    "Where it is not": "where_trials_find_none",
}


def add_to(app: typer.Typer) -> None:
    """Give a command line the command about trials."""
    app.command()(trials)
