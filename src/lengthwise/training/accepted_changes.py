"""What accepted proposals change in a client's record and in a week; the planner then moves the rest as little as it can."""

from collections.abc import Iterable, Mapping

from lengthwise.training.client import Client
from lengthwise.training.proposal import Change

SPARED_NM = 0.0
"""Moment that a painful joint may carry in a set until a clinician has looked at it [N·m]."""


def changed_client(client: Client, changes: Iterable[Change], now: Mapping[str, float]) -> Client:
    """The record with lasting changes: bands of weekly sets, lifts swapped, joints spared. A lighter week is none of them, nor is a lift that rests.

    Args:
        now: counted sets a week of each muscle, from which bands move.
    """
    wishes, sore = client.wishes, dict(client.sore_joints)
    bands, refused, liked = dict(wishes.weekly_sets), dict.fromkeys(wishes.refused), dict.fromkeys(wishes.liked)
    for change in changes:
        if change.muscle:
            wanted = max(now.get(change.muscle, 0.0) + change.sets, 0.0)
            bands[change.muscle] = (max(wanted - 1, 0.0), wanted + 1)
        if change.to is not None and change.lift is not None and change.to[0] != change.lift[0] and not change.rests:
            refused[change.lift[0]] = None
            liked.pop(change.lift[0], None)
            liked[change.to[0]] = None
        if change.joint:
            sore[change.joint] = SPARED_NM  # type: ignore[index]
    updated = wishes.model_copy(update={"weekly_sets": bands, "refused": tuple(refused), "liked": tuple(liked)})
    return client.model_copy(update={"wishes": updated, "sore_joints": sore})
