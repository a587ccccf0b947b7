"""What a lift that was never done is guessed from beside the body, and what a guess does not exceed."""

from collections.abc import Sequence
from math import exp, inf, log

from lengthwise.known.lifts import all_lifts
from lengthwise.lifts.definition import FreeWeight, Lift
from lengthwise.practice.known_strength import calibration_of
from lengthwise.practice.week_lifts import practice
from lengthwise.practice.written_repetitions import practice_of_sets
from lengthwise.training.ability import ability
from lengthwise.training.calibration import Calibration
from lengthwise.training.client import Client, KnownLift, RelatedLift
from lengthwise.training.defaults import begin_at
from lengthwise.training.joint_use import works_joint
from lengthwise.training.known import kept, known_of, possible

TWO = frozenset({"dumbbell", "kettlebell"})
LEGS = ("hip", "knee", "ankle")
LEAST_KG = 1.0
"""Nobody pulls up less than this, the body with it, so that sums have a sense [kg]."""
EASY_SHARE = 2.0
"""In an easy start a guess for hips and legs stays within so many times the whole load of what was done with them (common practice, no source)."""


def two_held(lift: Lift) -> bool:
    """Whether a lift is done with two dumbbells or kettlebells, so that its load is that of each."""
    way = lift.resistance
    return lift.gear in TWO and isinstance(way, FreeWeight) and way.each and (lift.sides == "both" or len(way.at) > 1)


def with_related(client: Client, lift_id: str) -> Client:
    """The client with a set drawn from a near relative, for a lift that was never done (data/sets.toml: related)."""
    lifts = all_lifts().lifts
    if known_of(client.known_lifts, lift_id, lifts[lift_id]) is not None:
        return client
    near = ((r, known_of(client.known_lifts, r["of"], lifts[r["of"]])) for r in practice_of_sets()["related"].get(lift_id, ()))
    loads = ((r["share"] * kept(k) * (k.load_kg + r.get("body_masses", 0.0) * client.mass_kg), k) for r, k in near if k is not None)
    drawn = next((_drawn(lift_id, kg, k) for kg, k in loads if kg > 0), None)
    return client if drawn is None else client.model_copy(update={"known_lifts": (*client.known_lifts, drawn)})


def _drawn(lift_id: str, load_kg: float, known: KnownLift) -> RelatedLift:
    return RelatedLift(**{**known.model_dump(include=set(KnownLift.model_fields)), "lift": lift_id, "load_kg": load_kg})


def cautious_kg(client: Client, lift_id: str, can_do: float, easy: bool = False) -> float:
    """What a guess does not exceed [kg]: so many body masses, and a share of the first related lift that is known, for as many possible repetitions.

    Args:
        easy: whether a screening says to start easy: then not far beyond what hips and knees have done, either.
    """
    table, lifts = practice_of_sets(), all_lifts()
    lift = lifts.lifts[lift_id]
    caps = [table["most_body_masses"].get(lift.gear, 9.0) * client.mass_kg / (1 if lift.sides == "both" else 2)]
    held = table["held"].get(lifts.family[lift_id]) if lift.gear in ("dumbbell", "kettlebell") else None
    for row in held or table["cautious"].get(lift_id, ()):
        known = known_of(client.known_lifts, row["of"], lifts.lifts[row["of"]]) if "of" in row else None
        if known is not None:
            caps.append(row["share"] * kept(known) * known.load_kg * (1 + possible(known) / 30) / (1 + can_do / 30))
            break
        if row.get("guessed") and (single := _guessed_kg(client, row["of"])):
            caps.append(row["share"] * single / (1 + can_do / 30))
            break
        if "body_masses" in row:
            caps.append(row["body_masses"] * client.mass_kg)
    if easy and (done := _done_with_legs(client, lift)):
        caps.append(EASY_SHARE * done / (1 + can_do / 30) / (1 + two_held(lift)))
    return float(min(caps))


def _guessed_kg(client: Client, lift_id: str) -> float:
    """The largest single of a lift never done [kg], by the body fitted to the others; 0 where none can be told."""
    able = ability(client, lift_id, all_lifts().lifts[lift_id], "full", calibration_of(client))
    return max((able.one_rm_kg or 0.0) - able.moved_kg, 0.0)


def _done_with_legs(client: Client, lift: Lift) -> float:
    """The largest whole load [kg], as a single, of known lifts of several joints that work hip and knee, or hip alone, for a lift of the legs; else 0."""
    if not any(works_joint(lift, j) for j in LEGS):
        return 0.0
    lifts = all_lifts()
    done = ((known, lifts.lifts[lifts.find(known.lift)]) for known in client.known_lifts)
    return max(
        (
            kept(k) * k.load_kg * (1 + two_held(did)) * (1 + possible(k) / 30)
            for k, did in done
            if works_joint(did, "hip") and practice(lifts.find(k.lift)).multi
        ),
        default=0.0,
    )


def tied(client: Client, lift_id: str) -> float:
    """What the body or a set says of near relatives, as the lift itself by their shares, beside what the body says of it: their geometric mean.

    Guesses then keep the proportion that people have, and no single position of one of them decides. What counts only where it was done (a hinge
    beside a leg curl) makes a guess heavier, never lighter: it does not show how weak the muscle is.
    """
    lifts, body = all_lifts().lifts, calibration_of(client)
    own = ability(client, lift_id, lifts[lift_id], "full", body)
    if own.source != "model" or own.one_rm_kg is None:
        return 1.0
    table = practice_of_sets()
    others = (*table["related"].get(lift_id, ()), *table["beside"].get(lift_id, ()))
    found = ((r, ability(with_related(client, r["of"]), r["of"], lifts[r["of"]], "full", body)) for r in others)
    near = [(r, a) for r, a in found if (a.source == "known" or not r.get("done")) and (a.one_rm_kg or 0) > a.moved_kg]
    logs = [(log(r["share"] * ((a.one_rm_kg or 0) - a.moved_kg) / own.one_rm_kg), bool(r.get("done"))) for r, a in near]
    always = _mean([x for x, done in logs if not done])
    fits = max(exp(max(always, _mean([x for x, _ in logs]))), _carried(client, lift_id, body) / own.one_rm_kg)
    return min(fits, _hung_kg(client, lift_id, own.moved_kg, body) / own.one_rm_kg)


def _mean(logs: Sequence[float]) -> float:
    """The mean of some lifts' logarithms beside a lift's own, which is 0."""
    return sum(logs) / (1 + len(logs))


def _hung_kg(client: Client, lift_id: str, moved_kg: float, body: Calibration) -> float:
    """What somebody pulls up at most, the moved body with it, beside what is pulled down (data/sets.toml: hangs) [kg]; no bound for other lifts."""
    table, lifts = practice_of_sets()["hangs"], all_lifts().lifts
    beside = ability(client, table["beside"], lifts[table["beside"]], "full", body) if lift_id in table["lifts"] else None
    if beside is None or beside.one_rm_kg is None:
        return inf
    low = 1.0 if beside.source == "known" else exp(begin_at(client, lifts[table["beside"]]) * beside.sd)
    share = float(table["share"])
    return max(low * beside.one_rm_kg / share - client.mass_kg + moved_kg, LEAST_KG)


def _carried(client: Client, lift_id: str, body: Calibration) -> float:
    """What legs carry in a lift that loads them as one of the body alone does, the body with it [kg]; 0 where none is named (data/sets.toml: carries)."""
    lifts = all_lifts().lifts
    of = practice_of_sets()["carries"].get(lift_id)
    loaded = ability(client, of, lifts[of], "full", body) if of else None
    if loaded is None or loaded.one_rm_kg is None:
        return 0.0
    return loaded.one_rm_kg - loaded.moved_kg + ability(client, lift_id, lifts[lift_id], "full", body).moved_kg
