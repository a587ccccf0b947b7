"""Commands about choosing: rank, compare, weights, explain."""

from collections.abc import Sequence
from pathlib import Path
from typing import Annotated, Any

import typer
from rich.box import SIMPLE_HEAD
from rich.table import Table

from lengthwise.actions import choosing, long_halves
from lengthwise.actions import grading as actions
from lengthwise.actions.people import read_person
from lengthwise.cli.asked import FigureFile, check_picture
from lengthwise.cli.shared import Bar, Json, PaperSize, PersonFile, out, print_json, split_words
from lengthwise.errors import InputError
from lengthwise.grading.criteria import criteria, preferences
from lengthwise.grading.filters import Wishes, spared_joints
from lengthwise.grading.ranking import Ranking, turn_sentence
from lengthwise.mechanics.profile import Request
from lengthwise.populations.wording import adults_sentences

Gear = Annotated[list[str] | None, typer.Option("--gear", help="Kind of equipment; may be repeated. Default all.")]
RANGES = ("full", "long", "short")
PER = ("set", "minute", "effort")
SENTENCES = 10
"""So many lifts of an order are explained in a terminal unless all are asked for."""


def rank(
    muscle: Annotated[str, typer.Argument(help="A muscle such as triceps, or a head such as triceps_long.")],
    person: PersonFile = None,
    gear: Gear = None,
    without_joint_load: Annotated[
        list[str] | None, typer.Option(help="Joint to spare, or joint=N·m; may be repeated: --without-joint-load shoulder")
    ] = None,
    minutes: Annotated[float | None, typer.Option(help="Minutes for this muscle in one session.")] = None,
    steady: Annotated[bool, typer.Option("--steady", help="Leave out unstable surfaces.")] = False,
    part: Annotated[list[str] | None, typer.Option("--range", help="full, long or short; may be repeated.")] = None,
    weights: Annotated[str, typer.Option(help="Saved set of weights.")] = "default",
    weight: Annotated[list[str] | None, typer.Option(help="criterion=value; may be repeated.")] = None,
    draws: Annotated[int, typer.Option(help="Draws behind the shares.")] = 500,
    seed: int = 1,
    repetitions: int = 10,
    reserve: float = 2.0,
    per: Annotated[str, typer.Option(help="What growth is counted for: set, minute or effort.")] = "set",
    report: Annotated[Path | None, typer.Option(help="Also write the answer as one HTML page.")] = None,
    everything: Annotated[bool, typer.Option("--all", help="A sentence for every lift, not for the first ten alone.")] = False,
    as_json: Json = False,
) -> None:
    """Order the lifts for MUSCLE by the growth of a hard set, then by what is handy, with reasons and how sure it is."""
    ranges = tuple(split_words(part)) or ("full",)
    if not set(ranges) <= set(RANGES):
        raise InputError(f"range {', '.join(ranges)}; allowed full, long, short", asked=list(ranges), allowed=RANGES)
    if per not in PER:
        raise InputError(f"per {per!r}; allowed {', '.join(PER)}", asked=per, allowed=PER)
    wishes = Wishes(frozenset(split_words(gear)), spared_joints(split_words(without_joint_load)), minutes, steady)
    asked = actions.Asked(
        muscle, person, wishes, ranges, weights, actions.parse_weights(split_words(weight)), draws, seed,  # type: ignore[arg-type]
        Request(repetitions=repetitions, reserve=reserve), per,  # type: ignore[arg-type]
    )  # fmt: skip
    with Bar(f"lifts for {muscle}") as bar:
        found = actions.rank_lifts(asked, bar)
    halves = long_halves.long_halves_of(asked, found)
    if report is not None:
        from lengthwise.actions.grading_pictures import save_ranking_page

        save_ranking_page(found, read_person(person), report)
    if as_json:
        return print_json({**actions.rank_answer(found, minutes), "long_halves": long_halves.answers(halves)})
    _show_ranking(found, len(found.lifts) if everything else SENTENCES)
    _show_long_halves(halves)
    if report is not None:
        out.print(f"page: {report}")


def _show_ranking(found: Ranking, sentences: int) -> None:
    title = f"Lifts for {found.target.name} ({', '.join(found.target.heads)})"
    table = Table(title=title, box=SIMPLE_HEAD, padding=(0, 0, 0, 1))
    table.add_column("")
    table.add_column("lift", min_width=26, max_width=28, overflow="fold")
    for name in ("growth", "90 %", "better", "ranks", *_SHORT.values()):
        table.add_column(name)
    tier = 0
    for place, r in enumerate(found.lifts, 1):
        low, high = r.rank_interval
        cells = (f"{r.fit[n]:.2f}" for n in _SHORT)
        ranks = f"{low}-{high}" if low != high else str(low)
        if tier and r.tier != tier:
            table.add_section()
        tier = r.tier
        growth = (f"{r.growth.mean:.2f} ×", f"{r.growth.low:.1f}-{r.growth.high:.1f}", f"{r.better_than_reference:.0%}")
        table.add_row(str(place), r.facts.key, *growth, ranks, *cells)
    out.print(table)
    for place, r in enumerate(found.lifts[:sentences], 1):
        out.print(f"{place:2d}. [bold]{r.facts.name}[/]: {r.why}", highlight=False)
    if len(found.lifts) > sentences:
        out.print(
            f"The other {len(found.lifts) - sentences} have their sentence with --all and in the report.",
            style="dim",
            highlight=False,
        )
    out.print(f"\n{turn_sentence(found)}", highlight=False)
    for sentence in adults_sentences(found):
        out.print(sentence, highlight=False)
    out.print(
        f"Growth: for each {PER_WORDS[found.per]}, as a multiple of {found.reference}, estimated from trials (lengthwise trials); better: chance "
        f"to grow more than that; ranks: nine tenths of {found.n_draw} draws. Between two lines growth is too close to call, and preferences "
        f"order: {', '.join(f'{s} {criteria()[n].title}' for n, s in _SHORT.items())}; a lift that hardly shortens the target under load "
        "(act) goes down.",
        style="dim",
        highlight=False,
    )  # fmt: skip
    for left in found.excluded:
        out.print(f"left out: {left.name}: {left.reason}", style="yellow", highlight=False)
    out.print(f"{found.others} other lifts are not meant for {found.target.name} and were not asked.", style="dim", highlight=False)


def _show_long_halves(halves: Sequence[long_halves.LongHalf]) -> None:
    if not halves:
        return
    out.print(
        "\nLong halves, instead of some full sets; that they grow more is not settled (lengthwise pool long_half):", highlight=False
    )
    for half in halves:
        out.print(f"  {half.sentence}", highlight=False)


PER_WORDS = {"set": "hard set", "minute": "minute", "effort": "unit of effort"}
_SHORT = {"joint_action": "act", "balance": "bal", "time": "time", "load_step": "step", "joint_caution": "jnt"}


def weights(
    name: Annotated[str, typer.Argument(help="Set of weights to show or to start from.")] = "default",
    change: Annotated[list[str] | None, typer.Option("--set", help="criterion=value; may be repeated.")] = None,
    save: Annotated[str | None, typer.Option(help="Save the changed set under this name.")] = None,
    as_json: Json = False,
) -> None:
    """Show how much each preference counts and why, change it, and save it by name."""
    changed = actions.parse_weights(split_words(change))
    found = actions.changed_weights(name, changed) if save is None else actions.save_weights(save, name, changed)
    if as_json:
        return print_json(actions.weights_answer(found))
    table = Table("criterion", "weight", "claim", "why", title=f"weights: {found.name}", box=SIMPLE_HEAD)
    for n, c in criteria().items():
        if n in preferences():
            table.add_row(n, f"{found.value[n]:g}", c.claim, found.reason[n] or c.why)
    out.print(table)
    out.print("Growth comes first; these order lifts whose growth is too close to call.", highlight=False)
    out.print(f"Saved sets: {', '.join(actions.saved_weights())}", highlight=False)


def compare(
    lifts: Annotated[list[str], typer.Argument(help="Two or three lifts by id, name or alias.")],
    person: PersonFile = None,
    repetitions: int = 10,
    reserve: float = 2.0,
    figure: FigureFile = None,
    as_json: Json = False,
) -> None:
    """Put lifts side by side, curve by curve, and say which head gains from which."""
    check_picture(figure)
    found = choosing.compare_lifts(lifts, person, Request(repetitions=repetitions, reserve=reserve))
    answer = choosing.compare_answer(found)
    if figure is not None:
        from lengthwise.actions.grading_pictures import save_comparison

        save_comparison(found, figure)
    if as_json:
        return print_json(answer)
    table = Table(
        "head",
        *(f"{x['name']}\n{x['load_kg']:.0f} kg, {x['seconds_per_set']:.0f} s a set" for x in answer["lifts"]),
        box=SIMPLE_HEAD,
    )
    for head, each in answer["heads"].items():
        table.add_row(
            head,
            *(
                f"growth {g['mean']:.2f} ({g['low']:.1f}-{g['high']:.1f}), span to {f['span_longest']:.2f}, peak {f['peak_activation']:.0%}"
                for f, g in zip(each, answer["growth"][head], strict=True)
            ),
        )
    out.print(table)
    for head, sentence in answer["gains"].items():
        out.print(sentence, highlight=False)
        if said := answer["in_adults"].get(head):
            out.print(f"  {said}", style="dim", highlight=False)
    say_picture(figure)


def explain(
    muscle: Annotated[str, typer.Argument(help="A muscle or head.")],
    folder: Annotated[Path | None, typer.Option("--out", help="Folder for the page and the pictures.")] = None,
    slides: Annotated[Path | None, typer.Option("--slides", help="A deck of slides to write (.pptx), its text editable.")] = None,
    person: PersonFile = None,
    gear: Gear = None,
    paper: PaperSize = "a4",
    as_json: Json = False,
) -> None:
    """Write an explainer of MUSCLE: a page, the same as PDF, and pictures as SVG and PNG in 16:9 and 4:5; or slides."""
    from lengthwise.actions.grading_pictures import explain as explain_muscle
    from lengthwise.actions.grading_pictures import write_slides

    if folder is None and slides is None:
        raise InputError(
            "explain: found nowhere to write; give --out FOLDER, --slides FILE.pptx or both", allowed=["--out", "--slides"]
        )
    asked = actions.Asked(muscle, person, Wishes(frozenset(split_words(gear))))
    made: list[Path] = []
    with Bar(f"lifts for {muscle}") as bar:
        if folder is not None:
            made += explain_muscle(asked, folder, checked_paper(paper), bar)
        if slides is not None:
            made.append(write_slides(asked, slides, bar))
    if as_json:
        return print_json({"muscle": muscle, "files": [str(f) for f in made]})
    for file in made:
        out.print(str(file), highlight=False)


def checked_paper(paper: str) -> Any:
    """A paper size that is offered.

    Raises:
        InputError: it is not.
    """
    if paper not in ("a4", "letter"):
        raise InputError(f"paper {paper!r}; allowed a4, letter", asked=paper, allowed=["a4", "letter"])
    return paper


def say_picture(file: Path | None) -> None:
    """Say where a picture was written, if one was."""
    if file is not None:
        out.print(f"picture: {file}")


def add_to(app: typer.Typer) -> None:
    """Give a command line the commands about choosing."""
    for command in (rank, compare, explain, weights):
        app.command()(command)
