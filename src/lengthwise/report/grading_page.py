"""A ranking as one page that needs no network: order, reasons, how sure, what would change it, what was left out, what it rests on."""

from collections.abc import Iterable, Sequence
from html import escape
from importlib.resources import files
from string import Template

from lengthwise.body.muscle_names import plain
from lengthwise.evidence.assessment import Assessment
from lengthwise.grading.criteria import criteria, preferences
from lengthwise.grading.growth_value import GATE
from lengthwise.grading.long_half import LONG_HALVES
from lengthwise.grading.ranking import RankedLift, Ranking, turn_sentence
from lengthwise.grading.sentences import REFERENCE
from lengthwise.populations.order_words import adults_sentences
from lengthwise.report.grading_figures import curves_picture, order_picture, sureness_picture
from lengthwise.report.picture import Picture

TURNS = 4


def ranking_page(found: Ranking, person: str, evidence: Sequence[Assessment]) -> str:
    """The page.

    Args:
        person: whom it is for, in words. evidence: the claims that the criteria name.
    """
    title = f"Lifts for {plain(found.target.name)}"
    parts = [
        f"<p>For {escape(person)}. {escape(found.target.taken)} Heads: {escape(', '.join(plain(h) for h in found.target.heads))}. "
        f"Weights: {escape(found.weights.name)}.</p>",
        _lifts(found.lifts),
        halves_list(found),
        shown(order_picture(found)),
        "<h2>How sure the ranking is</h2>",
        f"<p>Shares and ranks come from {found.n_draw} draws. They vary what trials teach about growth, what any comparison may "
        "miss, the body's strength, fibre lengths and moment arms, and the joint angles of the technique.</p>",
        shown(sureness_picture(found)),
        f"<h2>What would change it</h2><p>{escape(' '.join([turn_sentence(found), *adults_sentences(found)]))}</p>{_turns(found)}",
        "<h2>Left out</h2>",
        _left_out(found),
        "<h2>The numbers</h2>",
        _numbers(found),
        "<h2>What the preferences are based on</h2>",
        _criteria(found, {a.claim.id: a for a in evidence}),
        shown(curves_picture()),
        "<p class='caution'>Values compare lifts on one modelled body. For pain, injury or illness, see a licensed professional; "
        "a page cannot examine anyone.</p>",
    ]
    return page(title, "".join(parts))


def page(title: str, body: str) -> str:
    """A self-contained HTML page."""
    template = files("lengthwise.report").joinpath("templates", "ranking.html").read_text(encoding="utf-8")
    return Template(template).substitute(title=escape(title), body=body)


def shown(picture: Picture, close: bool = False) -> str:
    """A picture inside a page; its sentence, which stands in it too so that it travels with it, is what a screen reader says."""
    return f'<figure role="img" aria-label="{escape(picture.sentence)}">{picture.close_svg if close else picture.svg()}</figure>'


def table(head: Sequence[str], rows: Iterable[Sequence[str]], caption: str) -> str:
    """A table; cells that start with a digit or a sign are set right."""

    def cell(text: str) -> str:
        right = ' class="n"' if text[:1].isdigit() else ""
        return f"<td{right}>{escape(text)}</td>"

    body = "".join("<tr>" + "".join(cell(c) for c in row) + "</tr>" for row in rows)
    top = "".join(f"<th>{escape(h)}</th>" for h in head)
    return f"<table><caption>{escape(caption)}</caption><thead><tr>{top}</tr></thead><tbody>{body}</tbody></table>"


def _lifts(some: Sequence[RankedLift]) -> str:
    rows = "".join(
        f"<li><b>{escape(r.facts.name)}</b>{'' if r.facts.range == 'full' else f' ({r.facts.range} half)'} — "
        f"{escape(r.says or REFERENCE)} First in {r.first_share:.0%}, top three in {r.top3_share:.0%} of the draws."
        f"<br><span class='why'>{escape(r.why)}</span></li>"
        for r in some
    )
    return f"<ol class='lifts'>{rows}</ol>"


def halves_list(found: Ranking) -> str:
    """The long halves that the estimate favours, each with where it ends and what makes it safe; nothing where there are none."""
    if not found.long_halves:
        return ""
    rows = "".join(f"<li>{escape(half.sentence)}</li>" for half in found.long_halves)
    return f"<h2>Long halves</h2><p>{escape(LONG_HALVES)}</p><ul>{rows}</ul>"


def _turns(found: Ranking) -> str:
    rows = [(criteria()[t.criterion].title, f"{t.weight:.2f}", f"{t.needed:.2f}") for t in found.turns[:TURNS]]
    return table(("criterion", "weight", "first two equal at"), rows, "Single weights that swap the first two") if rows else ""


def _left_out(found: Ranking) -> str:
    rows = [(r.name, r.reason) for r in found.excluded]
    rest = (
        f"<p>{found.others} other lifts in the library are not meant for {escape(plain(found.target.name))} and were left out.</p>"
    )
    return (table(("lift", "why"), rows, "Considered, and left out") if rows else "<p>Nothing was left out.</p>") + rest


def _numbers(found: Ranking) -> str:
    head = ("lift", "load [kg]", "a hard set [s]", "ranks", "growth", *(criteria()[n].title for n in (GATE, *preferences())))
    rows = [
        (
            r.facts.key,
            f"{r.facts.working_kg:.1f}",
            f"{r.facts.seconds_per_set:.0f}",
            f"{r.rank_interval[0]}–{r.rank_interval[1]}",
            f"{r.growth.mean:.2f}",
            *(f"{r.fit[n]:.2f}" for n in (GATE, *preferences())),
        )
        for r in found.lifts
    ]
    return table(head, rows, "Growth as a multiple of the reference; how far the target moves under load and the preferences, 0-1")


def _criteria(found: Ranking, claims: dict[str, Assessment]) -> str:
    def basis(claim: str) -> str:
        if claim not in claims:
            return claim
        a = claims[claim]
        return f"{a.claim.statement} ({a.verdict.word}, {a.certainty.grade} certainty)"

    rows = [
        (c.title, f"{found.weights.value[n]:g}", found.weights.reason[n], c.why, basis(c.claim), c.reason)
        for n, c in criteria().items()
        if n in preferences()
    ]
    return table(
        ("criterion", "weight", "why this weight", "why it counts", "evidence", "why this curve"), rows, "Preferences and weights"
    )
