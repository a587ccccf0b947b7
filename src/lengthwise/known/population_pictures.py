"""Pictures of what was asked of a population."""

from lengthwise.body.muscle_names import plain
from lengthwise.known.lifts import all_lifts
from lengthwise.known.population_answers import NOTE, ForWhom, Places, ask_sentences
from lengthwise.report.picture import Picture
from lengthwise.report.population_figure import lifts_in_people, order_in_people


def order_picture_of(found: ForWhom) -> Picture:
    """An order over the people: how far ahead, and what that depends on."""
    names = {i: all_lifts().lifts[i].name for i in found.held.order.lifts}
    return order_in_people(found.held, found.effects, names, f"{ask_sentences(found)[0]} {NOTE}")


def places_picture_of(found: Places) -> Picture:
    """The lifts over the people."""
    names = all_lifts().lifts
    rows = [(names[p.lift].name, p.first, p.among_three) for p in found.lifts]
    title = f"Best lifts for the {plain(found.target.name)} in {found.people} people"
    top = found.lifts[0]
    return lifts_in_people(
        title, rows, f"{names[top.lift].name} is among the best three in {top.among_three.value:.0%} of people. {NOTE}"
    )
