"""What a review proposes in place of lifts that hurt: the first of what `swap` lists for pain, which the next week may hold."""

from collections.abc import Iterable

from lengthwise.errors import InputError, NoSolutionError
from lengthwise.known.lifts import all_lifts
from lengthwise.known.studies import Progress, no_progress
from lengthwise.practice.week_lifts import sort_of
from lengthwise.records.past import Past
from lengthwise.training.client import Client
from lengthwise.training.findings import Alternative
from lengthwise.weeks.swapping import swap_lift


def instead_of_hurt(
    client: Client, past: Past, hurt: Iterable[tuple[str, str]], progress: Progress = no_progress
) -> dict[tuple[str, str], Alternative | None]:
    """What comes in place of each lift for the joint that it hurt; nothing where no lift does its work and spares the joint.

    Args:
        hurt: lifts, each with a joint.
    """
    return {(lift, joint): _instead(client, past, lift, joint, progress) for lift, joint in hurt if lift in all_lifts().lifts}


def _instead(client: Client, past: Past, lift: str, joint: str, progress: Progress) -> Alternative | None:
    try:
        found = swap_lift(client, lift, "pain", past, progress, joint)
    except (InputError, NoSolutionError):
        return None
    best = found.candidates[0]
    return Alternative(best.lift, "full", best.name, best.growth, sort_of(best.lift))
