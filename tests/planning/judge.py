"""Does a week keep the rules that a coach signs by? Reads the record and the week's answer; its lists are its own, none are the planner's.

Rules have the names of the 55 rules that an expert wrote down (common practice, no source). Each yields what breaks it, in words.
Looked at elsewhere: same_answer, stays_near and small_change_small_effect, which need two weeks.
"""

import re
from collections import defaultdict
from datetime import date
from itertools import combinations, pairwise

from lengthwise.body.anatomy import muscles
from lengthwise.body.muscle_names import plain
from lengthwise.known.lifts import all_lifts
from lengthwise.training.prescription import loads_at
from lengthwise.training.record_words import joint_named

DAYS = ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"]
BIG = ["chest", "latissimus", "upper_back", "quadriceps", "hamstrings", "glutes"]
SMALL = ["triceps", "biceps", "calves", "abdominals"]
PRESSES = ("press_horizontal", "press_sloped", "press_machine", "press_vertical", "dip_push_up")
PULLS = ("row", "row_bent_over", "vertical_pull")
COMPOUND = (
    *PRESSES,
    *PULLS,
    "squat",
    "squat_front",
    "squat_leaning",
    "leg_press",
    "lunge",
    "hip_hinge",
    "hip_thrust",
    "upright_row",
)
LIGHT_ANYWAY = {"face_pull", "cable_kickback", "kneeling_kickback", "body_weight_bridge", "frog_bridge", "band_hip_thrust"}
TRUNK = ("trunk_flexion", "trunk_rotation", "trunk_extension")
HEAVY_BAR = {
    "back_squat", "front_squat", "low_bar_squat", "wide_stance_squat", "box_squat", "deadlift", "sumo_deadlift", "romanian_deadlift",
    "stiff_leg_deadlift", "good_morning", "bench_press", "close_grip_bench_press", "incline_bench_press", "overhead_press",
}  # fmt: skip
SQUAT_HINGE = HEAVY_BAR - {"bench_press", "close_grip_bench_press", "incline_bench_press", "overhead_press"}
BENT_ROWS = {"barbell_row", "underhand_barbell_row", "landmine_row"}
ON_A_BENCH = {
    "bench_press", "close_grip_bench_press", "dumbbell_bench_press", "dumbbell_fly", "incline_dumbbell_press", "incline_bench_press",
    "incline_dumbbell_curl", "seated_dumbbell_press", "lying_dumbbell_extension", "lying_cambered_bar_extension", "hip_thrust",
    "one_leg_hip_thrust", "rear_foot_raised_split_squat", "chest_supported_dumbbell_row", "chest_supported_rear_raise", "preacher_curl",
    "back_extension_45", "decline_sit_up", "dumbbell_pullover", "bench_dip",
}  # fmt: skip
IN_A_RACK = {
    "bench_press",
    "close_grip_bench_press",
    "back_squat",
    "low_bar_squat",
    "front_squat",
    "overhead_press",
    "incline_bench_press",
}
ON_A_BAR = {"pull_up", "chin_up", "neutral_pull_up", "hanging_knee_raise", "parallel_bar_dip"}
UNSTEADY = {
    "walking_lunge",
    "forward_lunge",
    "one_leg_romanian_deadlift",
    "one_leg_box_squat",
    "rear_foot_raised_split_squat",
    "one_leg_hip_thrust",
}
HURTS = {
    "shoulder": {
        "parallel_bar_dip", "bench_dip", "machine_dip", "dumbbell_fly", "incline_dumbbell_fly", "barbell_upright_row",
        "dumbbell_upright_row", "cable_upright_row", "behind_body_cable_curl", "overhead_press", "seated_barbell_press", "bench_press",
        "wide_grip_bench_press", "prone_y_raise", "lying_y_raise", "dumbbell_pullover",
    },
    "knee": {"sissy_squat", "reverse_nordic", "back_squat", "front_squat", "hack_squat", "heels_raised_squat", "leg_press_low_feet", "walking_lunge"},
    "trunk": {"good_morning", "seated_good_morning", "deadlift", "sumo_deadlift", "stiff_leg_deadlift", "curled_back_extension", "barbell_row"},
    "elbow": {"lying_barbell_extension", "body_weight_extension"},
    "hip": {"sumo_deadlift", "copenhagen_adduction"},
}  # fmt: skip
BENDS_TRUNK = {
    "floor_crunch", "cable_crunch", "machine_crunch", "decline_sit_up", "reverse_crunch", "hanging_knee_raise", "lying_leg_raise",
    "wheel_rollout", "cable_chop", "cable_rotation", "band_rotation", "machine_rotation", "cable_side_bend", "dumbbell_side_bend",
}  # fmt: skip
"""Not for a back that is sore at all: the trunk is held still (common practice, no source)."""
SORTS = {
    "press": ("press_horizontal", "press_sloped", "press_machine", "dip_push_up"),
    "row": ("row", "row_bent_over"),
    "pulldown": ("vertical_pull",),
    "knee": ("squat", "squat_front", "squat_leaning", "leg_press", "lunge"),
    "hinge": ("hip_hinge", "hip_extension", "trunk_extension"),
    "overhead": ("press_vertical",),
}
ONE_LEG = {
    "one_leg_calf_raise", "one_leg_calf_raise_free", "one_leg_press", "one_leg_extension", "one_leg_back_extension_45", "held_one_leg_romanian_deadlift",
    "reverse_lunge", "forward_lunge", "walking_lunge", "lateral_lunge", "step_up", "split_squat", "split_squat_free",
    "rear_foot_raised_split_squat",
    "one_leg_box_squat", "one_leg_hip_thrust", "one_leg_romanian_deadlift", "cable_kickback", "standing_leg_curl",
}  # fmt: skip
FROM_FLOOR = {"deadlift", "sumo_deadlift"}
BAR_SQUATS = {"back_squat", "low_bar_squat", "front_squat", "wide_stance_squat", "box_squat", "heels_raised_squat"}
ON_A_BOX = {"one_leg_box_squat", "box_squat", "step_up", "step_down", "feet_raised_bridge"}
TURNS_AWAY = (
    "choose another lift",
    "choose a push-down",
    "chest-supported row when",
    "While the back hurts",
    "not while the back hurts",
)
TWINS = (
    {"bench_press", "guided_bar_bench_press", "wide_grip_bench_press"}, {"back_squat", "guided_bar_squat", "half_squat"},
    {"romanian_deadlift", "stiff_leg_deadlift"}, {"barbell_curl", "cambered_bar_curl"}, {"cable_push_down", "rope_push_down"},
    {"goblet_squat", "kettlebell_goblet_squat"}, {"leg_press", "leg_press_low_feet"}, {"barbell_row", "landmine_row"},
)  # fmt: skip
IN_WORDS = {"trunk": "back"}
LOSES = {"shoulder": ["chest", "latissimus"], "knee": ["quadriceps", "glutes"], "trunk": ["glutes", "hamstrings"]}
RELATED = {
    "front_squat": ("back_squat", 0.9), "incline_bench_press": ("bench_press", 0.9), "overhead_press": ("bench_press", 0.75),
    "close_grip_bench_press": ("bench_press", 0.95), "dumbbell_bench_press": ("bench_press", 0.45), "goblet_squat": ("back_squat", 0.5),
    "incline_dumbbell_press": ("bench_press", 0.42), "romanian_deadlift": ("deadlift", 0.9),
}  # fmt: skip
NEAR = 0.06


class Case:
    """A week's answer beside its record."""

    def __init__(self, client, week, easy=False):
        self.client, self.week, self.easy, self.lib = client, week, easy, all_lifts()
        self.lifts, self.family, self.find = self.lib.lifts, self.lib.family, self.lib.find
        self.planned = [(d, x) for d in week["days"] for x in d["lifts"]]
        self.ids = {x["lift"] for _, x in self.planned}
        said = [
            *week["notes"],
            *(c["wish"] + c["relaxing_it_buys"] for c in week["conflicts"]),
            *(x["why"] for _, x in self.planned),
        ]
        self.text = " ".join(said).lower()
        self.known = {self.find(k.lift): k for k in client.known_lifts}
        self.minutes = {d.day: d.minutes for d in client.days}

    def compound(self, i):
        return self.family[i] in COMPOUND and i not in LIGHT_ANYWAY

    def meant(self, i, muscle):
        return bool(set(self.lifts[i].targets) & set(muscles()[muscle]))

    def sets(self, muscle):
        return self.week["muscle_sets"].get(muscle, 0.0)

    def priority(self, muscle):
        return self.client.wishes.priority.get(muscle, 1.0)

    def raised(self):
        return [m for m, p in self.client.wishes.priority.items() if p > 1]

    def told(self, *words):
        """Whether any of them is said, by its id or as people name it: trapezius_lower is the lower trapezius."""
        return any(name in self.text for w in words for name in (w.replace("_", " ").lower(), plain(w).lower()))

    def by_day(self, muscle):
        out = defaultdict(float)
        for d, x in self.planned:
            if self.meant(x["lift"], muscle):
                out[d["day"]] += x["sets"]
        return out

    def gear(self, place):
        return {*self.client.places[place].gear, "body"}

    def beginner(self):
        return self.client.training == "untrained"


def priority_sets(c):
    for m in c.raised():
        low = 6 if c.client.training in ("untrained", "recreational") else 8
        low = min(low, c.client.wishes.weekly_sets.get(m, (99, 0))[0])
        if c.sets(m) < low - NEAR and not c.told(m):
            yield f"{m}: {c.sets(m):.1f} of {low}"


def priority_twice(c):
    for m in c.raised():
        days = defaultdict(float)
        for d, x in c.planned:
            days[d["day"]] += x["sets"] * (
                1.0 if c.meant(x["lift"], m) else 0.5 if set(c.lifts[x["lift"]].movers) & set(muscles()[m]) else 0
            )
        if len(c.client.days) > 1 and sum(n >= 2 for n in days.values()) < 2:
            yield m


def priority_first(c):
    for m in c.raised():
        same = [
            o
            for o in c.week["muscle_sets"]
            if c.priority(o) == 1 and o not in c.client.wishes.weekly_sets and m not in c.client.wishes.weekly_sets
        ]
        yield from (
            f"{m} {c.sets(m):.1f}, {o} {c.sets(o):.1f}"
            for o in same
            if c.sets(o) - 1 > c.sets(m) + NEAR and not c.told(f"as for {o}", m)
        )


def no_big_muscle_starved(c):
    if sum(d.minutes >= 45 for d in c.client.days) >= 3:
        yield from (f"{m}: {c.sets(m):.1f}" for m in BIG if c.priority(m) > 0 and c.sets(m) < 4 - NEAR and not c.told(m))


def no_small_muscle_zero(c):
    for m, least in dict.fromkeys(SMALL, 2).items() if len(c.client.days) >= 3 else {"calves": 1, "abdominals": 1}.items():
        if c.priority(m) > 0 and c.sets(m) < least - NEAR and not c.told(f"a week for {m}"):
            yield f"{m}: {c.sets(m):.1f}"


def sets_ceiling(c):
    for m in c.week["muscle_sets"]:
        most = max(20, c.client.wishes.weekly_sets.get(m, (0, 0))[1])
        if c.sets(m) > most + NEAR:
            yield f"{m}: {c.sets(m):.1f}"


def day_ceiling(c):
    yield from (f"{m}: {n:g} on {d}" for m in c.week["muscle_sets"] for d, n in c.by_day(m).items() if n > 10)


def own_band_kept(c):
    for m, (low, high) in c.client.wishes.weekly_sets.items():
        if not low - NEAR <= c.sets(m) <= high + NEAR and not c.told(m):
            yield f"{m}: {c.sets(m):.1f}"


def priority_zero_left_out(c):
    for m, p in c.client.wishes.priority.items():
        yield from (i for i in c.ids if p == 0 and c.lifts[i].targets[0] in muscles()[m])


def liked_kept(c):
    yield from (i for i in map(c.find, c.client.wishes.liked) if i not in c.ids and not c.told(i, c.lifts[i].name))


def known_kept(c):
    refused = set(map(c.find, c.client.wishes.refused))
    for i in c.known:
        if c.compound(i) and i not in refused and i not in c.ids and not c.told(i, c.lifts[i].name):
            yield i


def refused_out(c):
    yield from (i for i in map(c.find, c.client.wishes.refused) if i in c.ids)


def heavy_before_single(c):
    for d in c.week["days"]:
        for a, b in combinations([x["lift"] for x in d["lifts"]], 2):
            same = [m for m in c.week["muscle_sets"] if c.meant(a, m) and c.meant(b, m)]
            if same and not c.compound(a) and c.compound(b) and not any(c.priority(m) > 1 for m in same):
                yield f"{d['day']}: {a} before {b}"


def costly_early(c):
    for d in c.week["days"]:
        ids = [x["lift"] for x in d["lifts"]]
        heavy = [k for k, i in enumerate(ids) if i in HEAVY_BAR]
        yield from (f"{d['day']}: {ids[k]}" for k in heavy if k >= -(-len(ids) // 2) and not (k == 2 and len(heavy) > 1))


def no_grip_ruin(c):
    for d in c.week["days"]:
        for a, b in combinations([x["lift"] for x in d["lifts"]], 2):
            if c.family[a] == "forearm" and c.family[b] in ("hip_hinge", *PULLS):
                yield f"{d['day']}: {a} before {b}"


def trunk_after_load(c):
    for d in c.week["days"]:
        for a, b in combinations([x["lift"] for x in d["lifts"]], 2):
            if c.family[a] in TRUNK and b in SQUAT_HINGE:
                yield f"{d['day']}: {a} before {b}"


def two_hinges_a_day(c):
    for d in c.week["days"]:
        if sum(x["lift"] in SQUAT_HINGE | BENT_ROWS for x in d["lifts"]) > 2:
            yield d["day"]


def deadlift_once(c):
    days = sorted(DAYS.index(d["day"]) for d, x in c.planned if x["lift"] in ("deadlift", "sumo_deadlift"))
    if len(days) > 2 or any(b - a == 1 for a, b in pairwise(days)):
        yield str(days)


def recovery_48h(c):
    for m in c.week["muscle_sets"]:
        by = c.by_day(m)
        for d, n in by.items():
            if m not in ("calves", "forearms", "abdominals") and n > 4 and by.get(DAYS[(DAYS.index(d) + 1) % 7], 0) > 4:
                yield f"{m}: {d}"


def _pairs(c):
    for d in c.week["days"]:
        groups = defaultdict(list)
        for x in d["lifts"]:
            if x["pair"] is not None:
                groups[x["pair"]].append(x["lift"])
        yield from ((d, ids) for ids in groups.values())


def stations_held(c):
    for d, ids in _pairs(c):
        gym = bool(c.gear(d["place"]) & {"lever", "sled"})
        gear = [c.lifts[i].gear for i in ids]
        if len(ids) > 2 or (gym and len(set(gear)) == 1 and gear[0] in ("cable", "sled", "guided_bar")):
            yield f"{d['day']}: {ids}"


def pair_apart(c):
    for d, ids in _pairs(c):
        for a, b in combinations(ids, 2):
            if set(c.lifts[a].targets) & set(c.lifts[b].targets) or {a, b} & SQUAT_HINGE or {a, b} <= ON_A_BAR:
                yield f"{d['day']}: {a} and {b}"


def gear_owned(c):
    for d, x in c.planned:
        i, there = x["lift"], c.client.places[d["place"]]
        full = bool(c.gear(d["place"]) & {"lever", "sled"}) if there.stations is None else None
        has = (
            {s for s in there.stations or ()} if full is None else ({"flat_bench", "rack", "bar_to_hang", "box"} if full else set())
        )
        bench = has & {"flat_bench", "incline_bench", "decline_bench", "preacher_pad", "back_extension_bench"}
        if c.lifts[i].gear not in c.gear(d["place"]):
            yield f"{i}: no {c.lifts[i].gear}"
        if (
            (i in ON_A_BENCH and not bench)
            or (i in IN_A_RACK and "rack" not in has)
            or (i in ON_A_BOX and "box" not in has)
            or (i in ON_A_BAR and not has & {"bar_to_hang", "dip_bars"})
        ):
            yield f"{i}: no station for it at {d['place']}"


def spotter_safe(c):
    for _, x in c.planned:
        if x["lift"] in IN_A_RACK and x["reserve"] < 1:
            yield x["lift"]


def load_exists(c):
    for d, x in c.planned:
        kind = c.lifts[x["lift"]].gear
        if x["load_kg"] is None or kind not in c.client.places[d["place"]].gear:
            continue
        exist = loads_at(c.client, d["place"], kind).exist
        if exist and min(abs(kg - x["load_kg"]) for kg in exist) > 0.01:
            yield f"{x['lift']}: {x['load_kg']}"


def load_plausible_known(c):
    for d, x in c.planned:
        k, kind = c.known.get(x["lift"]), c.lifts[x["lift"]].gear
        if k is None or x["load_kg"] is None or kind == "body":
            continue
        if (
            "for the sake of the" in x["find"]
        ):  # a sore joint: 60 to 90 % of what was done, half where it hurt (common practice, no source)
            if not 0.45 * k.load_kg - 2.5 <= x["load_kg"] <= 0.9 * k.load_kg:
                yield f"{x['lift']}: {x['load_kg']:g} for a sore joint, {k.load_kg:g} was done"
            continue
        one = k.load_kg * (1 + (k.repetitions + k.reserve) / 30)
        want = _left(k.day) * one / (1 + (x["repetitions"][0] + x["reserve"]) / 30)
        exist = loads_at(c.client, d["place"], kind).exist
        step = (
            min([b - a for a, b in pairwise(exist) if a <= x["load_kg"] <= b] or [2.5])
            if kind in c.client.places[d["place"]].gear
            else 2.5
        )
        topped = exist and x["load_kg"] == exist[-1]
        if not (abs(x["load_kg"] - want) <= max(0.05 * want, step) + 0.01 or topped) or x["load_kg"] > 0.9 * one:
            yield f"{x['lift']}: {x['load_kg']:g}, known gives {want:.1f}"


def _left(day):
    """What an old set with no log since still says, by an outside coach's rule of thumb: 0.95 after a month or two, 0.85 after three, then 0.72."""
    weeks = 0 if day is None else (date.today() - day).days / 7
    return 1.0 if weeks <= 4 else 0.95 if weeks < 10 else 0.85 if weeks < 20 else 0.72


HELD = ("side_plank", "side_plank_knees", "plank")
"""Held for seconds, with the body alone: no load to find and no repetitions to count."""


def load_transfer_cautious(c):
    for _, x in c.planned:
        if x["load_kg"] is None or x["lift"] in c.known or x["lift"] in HELD:
            continue
        if not x["guess"]:
            yield f"{x['lift']}: not marked"
        of, most = RELATED.get(x["lift"], ("", 0))
        if of in c.known:
            k = c.known[of]
            share = (
                x["load_kg"]
                * (1 + (x["repetitions"][0] + x["reserve"]) / 30)
                / (k.load_kg * (1 + (k.repetitions + k.reserve) / 30))
            )
            if share > most * 1.02:
                yield f"{x['lift']}: {share:.2f} of {of}"
        if x["load_kg"] > 3 * c.client.mass_kg:
            yield f"{x['lift']}: {x['load_kg']:g}"


def reps_compound(c):
    for d, x in c.planned:
        low, high = x["repetitions"]
        free = c.lifts[x["lift"]].gear in ("barbell", "dumbbell", "kettlebell", "chains")
        lax = c.easy or x["gentle"] or c.beginner() or not free
        most = 30 if _tops_out(c, d, x) else 15 if lax else 12
        if c.compound(x["lift"]) and not (low >= 5 and high <= most):
            yield f"{x['lift']}: {low}-{high}"


def _tops_out(c, d, x):
    """Where the gear tops out 20 to 30 repetitions beat 12 to 15 with many left (claim load: about 5 to 35 grow alike near failure)."""
    exist = loads_at(c.client, d["place"], c.lifts[x["lift"]].gear).exist
    return bool(exist) and x["load_kg"] == exist[-1]


def reps_isolation(c):
    for d, x in c.planned:
        low, high = x["repetitions"]
        if x["lift"] in HELD:
            if not 10 <= low <= high <= 60:
                yield f"{x['lift']}: {low}-{high} s"
            continue
        most = (
            30
            if _tops_out(c, d, x)
            else 25
            if c.family[x["lift"]] in ("calf", "shoulder_raise", "shoulder_raise_cable", "trunk_flexion")
            else 20
        )
        if not c.compound(x["lift"]) and not (low >= 8 and high <= most):
            yield f"{x['lift']}: {low}-{high}"


def reserve_fits(c):
    low, high = (4, 6) if c.easy else (2, 4) if c.beginner() else (1, 4)
    yield from (f"{x['lift']}: {x['reserve']}" for _, x in c.planned if not low <= x["reserve"] <= high)


def _whole_kg(x):
    """A load with both hands' dumbbells."""
    return (x["load_kg"] or 0) * (2 if x["load_manner"].startswith("each of two") else 1)


def warm_up_first(c):
    for d in c.week["days"]:
        first = next((x for x in d["lifts"] if c.compound(x["lift"]) and _whole_kg(x) > min(40, c.client.mass_kg / 2)), None)
        if first is not None and c.lifts[first["lift"]].gear != "body":
            rising = [w["load_kg"] for w in first["warm_up"]]
            if len(rising) < 2 or rising != sorted(rising):
                yield f"{d['day']}: {first['lift']}"


def rest_enough(c):
    for _, x in c.planned:
        least = 120 if x["lift"] in SQUAT_HINGE else 90 if c.compound(x["lift"]) else 45
        if x["pair"] is None and x["rest_s"] < least:
            yield f"{x['lift']}: {x['rest_s']}"


def minutes_kept(c):
    if c.told("first week back"):  # half of the sets, whatever the minutes (common practice)
        return
    for d in c.week["days"]:
        if d["minutes"] > c.minutes[d["day"]] + NEAR or d["minutes"] < 0.75 * c.minutes[d["day"]]:
            yield f"{d['day']}: {d['minutes']:.0f} of {c.minutes[d['day']]:g}"


def sets_per_lift(c):
    yield from (f"{x['lift']}: {x['sets']}" for _, x in c.planned if not 2 <= x["sets"] <= 5)


def lifts_per_day(c):
    yield from (f"{d['day']}: {len(d['lifts'])}" for d in c.week["days"] if not 3 <= len(d["lifts"]) <= (6 if c.beginner() else 8))


def lifts_per_week_novice(c):
    if c.beginner() and len(c.ids) > 12:
        yield str(len(c.ids))


def no_near_twins(c):
    for d in c.week["days"]:
        for a, b in combinations([x["lift"] for x in d["lifts"]], 2):
            if (
                c.family[a] == c.family[b]
                and c.lifts[a].targets[0] == c.lifts[b].targets[0]
                and c.lifts[a].posture == c.lifts[b].posture
            ):
                yield f"{d['day']}: {a} and {b}"


def hamstrings_both_jobs(c):
    if c.sets("hamstrings") >= 6 and c.client.places and not c.told("lift for the hamstrings"):
        bend = any(c.family[i] in ("knee_flexion", "hamstrings_outer") for i in c.ids)
        extend = any(c.family[i] in ("hip_hinge", "hip_extension", "hamstrings_outer") for i in c.ids)
        if not (bend and extend):
            yield f"bend {bend}, extend {extend}"


def push_pull_balance(c):
    upper = {"chest", "latissimus", "upper_back", "triceps", "biceps", "deltoids", "deltoid_anterior"}
    if any(c.priority(m) != 1 for m in upper) or c.client.sore_joints:
        return
    press, pull = (
        sum(x["sets"] for _, x in c.planned if c.compound(x["lift"]) and c.family[x["lift"]] in f) for f in (PRESSES, PULLS)
    )
    if press + pull >= 4 and not 0.7 <= pull / max(press, 0.1) <= 1.5 and not c.told("enough press sets", "enough pull sets"):
        yield f"pull {pull}, press {press}"


def knee_hip_balance(c):
    if any(c.priority(m) != 1 for m in ("quadriceps", "hamstrings", "glutes")) or "knee" in c.client.sore_joints:
        return
    knee, hip = c.sets("quadriceps"), (c.sets("hamstrings") + c.sets("glutes")) / 2
    if knee + hip >= 4 and not 0.5 <= knee / max(hip, 0.1) <= 2 and not c.told("enough knee work", "enough hip work"):
        yield f"knee {knee:.1f}, hip {hip:.1f}"


def all_heads(c):
    small = {"teres_minor", "infraspinatus"}
    for m, n in c.week["muscle_sets"].items():
        own = {h: c.week["weekly_sets"].get(h, 0.0) for h in muscles()[m] if h not in small}
        if n >= 8:
            yield from (
                f"{h}: {v:.1f} of {max(own.values()):.1f}"
                for h, v in own.items()
                if v < 0.25 * max(own.values()) - NEAR and not c.told(h)
            )


def sore_joint_range(c):
    yield from (f"{joint}: {i}" for joint in c.client.sore_joints for i in sorted(c.ids & HURTS.get(joint, set())))


def sore_joint_replaced(c):
    for joint in c.client.sore_joints:
        yield from (f"{joint}: {m} {c.sets(m):.1f}" for m in LOSES.get(joint, []) if c.sets(m) < 4 - NEAR and not c.told(m))


def sore_joint_text(c):
    yield from (j for j in c.client.sore_joints if not (c.told(IN_WORDS.get(j, j)) and c.told("clinician")))


def start_easy_respected(c):
    for _, x in c.planned:
        if c.easy and not (x["reserve"] >= 4 and x["repetitions"][0] >= 12 and 2 <= x["sets"] <= 3):
            yield f"{x['lift']}: {x['sets']} x {x['repetitions']}"


def older_or_deconditioned(c):
    if c.client.age_y >= 65 or (c.beginner() and c.client.age_y > 45):
        yield from sorted((c.ids - set(c.known)) & (UNSTEADY | HEAVY_BAR))


LESS_OFTEN = BENT_ROWS | {"deadlift", "sumo_deadlift"}
# Nine rules that follow an outside coach's reading of ten weeks (common practice, no source).


def own_before_guess(c):
    """A known or liked lift over several joints comes twice before guessed ones of its sort do; a bent row keeps off the day before a hinge."""
    mine = {*c.known, *map(c.find, c.client.wishes.liked)}
    floor = c.ids & {"deadlift", "sumo_deadlift"}  # which takes a leg day from the squat
    for name, families in SORTS.items():
        if name == "knee" and floor:
            continue
        sort = [(d["day"], x) for d, x in c.planned if c.family[x["lift"]] in families and not x["gentle"]]
        own = [x["lift"] for _, x in sort if x["lift"] in mine and c.compound(x["lift"])]
        guessed = [x["lift"] for _, x in sort if x["lift"] not in mine and x["guess"]]
        if len(own) == 1 and len(guessed) > 1 and own[0] not in LESS_OFTEN and not c.beginner():
            yield f"{name}: {own[0]} once, {guessed}"


def raised_not_behind(c):
    """A raised muscle has clearly fewer sets than two of the muscles that nobody raised at most."""
    for m in c.raised():
        above = [o for o in c.week["muscle_sets"] if c.priority(o) <= 1 and c.sets(o) > c.sets(m) + 1]
        if len(above) > 2 and m not in c.client.wishes.weekly_sets and not c.client.sore_joints:
            yield f"{m} {c.sets(m):.1f} below {above}"


def _single(c, muscle):
    return {
        (d["day"], x["lift"])
        for d, x in c.planned
        if c.meant(x["lift"], muscle) and c.family[x["lift"]].startswith("elbow") and not c.compound(x["lift"])
    }


def basics_before_extras(c):
    """No raise for the rear deltoid while the week lacks a curl or a lift for the triceps, and on no more days than either."""
    if c.priority("deltoid_posterior") > 1 or c.client.sore_joints or c.beginner():
        return
    rear = {(d["day"], x["lift"]) for d, x in c.planned if c.family[x["lift"]] == "shoulder_raise_rear" or x["lift"] == "face_pull"}
    for m in ("biceps", "triceps"):
        if c.priority(m) >= 1 and len(rear) > len(_single(c, m)):
            yield f"{len(rear)} raises for the rear deltoid, {len(_single(c, m))} lifts for {m}"


def row_apart_from_hinge(c):
    """No guessed row bent over without support on the day before a hinge."""
    for d, x in c.planned:
        after = DAYS[(DAYS.index(d["day"]) + 1) % 7]
        hinges = [y["lift"] for e, y in c.planned if e["day"] == after and c.family[y["lift"]] == "hip_hinge"]
        if x["lift"] in BENT_ROWS and x["guess"] and hinges:
            yield f"{d['day']}: {x['lift']} before {hinges}"


def old_on_two_legs(c):
    """Nobody old, and no older beginner, stands on one leg in a gym, where a machine does it."""
    gym = all(c.gear(d["place"]) & {"lever", "sled"} for d in c.week["days"])
    if gym and (c.client.age_y >= 65 or (c.beginner() and c.client.age_y > 45)):
        yield from sorted((c.ids - set(c.known)) & ONE_LEG)


def refused_twins_out(c):
    """What is refused does not come back as its near twin."""
    refused, own = set(map(c.find, c.client.wishes.refused)), {*c.known, *map(c.find, c.client.wishes.liked)}
    yield from sorted(i for twins in TWINS for i in twins & c.ids - own if twins & refused)


def sore_back_held_still(c):
    if "trunk" in c.client.sore_joints:
        yield from sorted((c.ids - set(c.known)) & BENDS_TRUNK)


def calves_not_running(c):
    """Calves, which any day may hold, do not stand on two days running where there are enough others and no sore joint empties them."""
    by = c.by_day("calves")
    if not c.client.sore_joints and len(c.client.days) > 3 and c.priority("calves") <= 1:
        yield from (d for d in by if by.get(DAYS[(DAYS.index(d) + 1) % 7], 0))


def lying_curl_after_seated(c):
    """No guessed lying leg curl where one could sit."""
    there = any("lever" in c.gear(d["place"]) and c.client.places[d["place"]].stations is None for d in c.week["days"])
    if there and "lying_leg_curl" in c.ids - set(c.known) and "seated_leg_curl" not in c.ids:
        yield "lying_leg_curl"


def chest_press_beside_flies(c):
    """Presses before flies: a week with a fly has a press for the chest, unless a joint hurts that presses load."""
    presses = {"press_horizontal", "press_sloped", "press_machine", "dip_push_up"}
    families = {c.family[i] for i in c.ids}
    if "fly" in families and not families & presses and not c.client.sore_joints.keys() & {"shoulder", "elbow", "wrist"}:
        yield "flies alone"


def deadlift_opens(c):
    """A deadlift from the floor is the first lift of its day, but for one with a barbell squat."""
    for d in c.week["days"]:
        ids = [x["lift"] for x in d["lifts"]]
        if set(ids) & FROM_FLOOR and ids[0] not in FROM_FLOOR and not set(ids) & BAR_SQUATS:
            yield f"{d['day']}: {ids[0]} before the deadlift"


def squat_not_running(c):
    """No barbell squat on the day after itself."""
    there = {(d["day"], x["lift"]) for d, x in c.planned if x["lift"] in BAR_SQUATS}
    yield from sorted(f"{i} on {d} and the day after" for d, i in there if (DAYS[(DAYS.index(d) + 1) % 7], i) in there)


def own_caution_kept(c):
    """No new lift whose own caution turns to another one while a joint is sore that is."""
    for i in sorted(c.ids - set(c.known)):
        for told in c.lifts[i].cautions:
            if joint_named(told.joint) in c.client.sore_joints and any(words in told.text for words in TURNS_AWAY):
                yield f"{i}: {told.text}"


def day_names(c):
    offered = {d.day: d.place for d in c.client.days}
    yield from (d["day"] for d in c.week["days"] if offered.get(d["day"]) != d["place"])


def counts_true(c):
    for m, said in c.week["muscle_sets"].items():
        hard = [
            x for _, x in c.planned if not x["gentle"]
        ]  # easy sets for a sore joint are no sets of the muscle (common practice)
        least = sum(x["sets"] for x in hard if set(muscles()[m]) <= set(c.lifts[x["lift"]].targets))
        heads = set(muscles()[m])
        most = sum(x["sets"] * (1 if c.meant(x["lift"], m) else 0.7) for _, x in c.planned if _touches(c, x["lift"], heads))
        if not 0.75 * least - 0.5 <= said <= 1.25 * most + 0.5:
            yield f"{m}: {said:.1f}, between {least:g} and {most:.1f}"


def _touches(c, i, heads):
    return bool(heads & {*c.lifts[i].targets, *c.lifts[i].movers}) or c.compound(i)


def why_told(c):
    for _, x in c.planned:
        own = [m for m in muscles() if set(muscles()[m]) & {*c.lifts[x["lift"]].targets, *c.lifts[x["lift"]].movers}]
        if not any(m.replace("_", " ") in x["why"].lower() for m in own):
            yield f"{x['lift']}: {x['why']}"


def reasons_true(c):
    """What is said of lifts holds in the plan: which went, what does their work, whether there is room, and which is the only one."""
    names, free = defaultdict(int), max((c.minutes[d["day"]] - d["minutes"] for d in c.week["days"]), default=0.0)
    for _, x in c.planned:
        names[x["name"]] += x["sets"]
    for note in c.week["notes"]:
        if not (found := re.match(r"(.+) is one of your lifts, and not in this week: (.+)\.$", note)):
            continue
        work = re.findall(r"(\d+) sets? of (.+?)(?= and \d+ sets? of | do its work)", found[2])
        if found[1] in names or any(names[name] != int(n) for n, name in work) or ("no room" in found[2] and free > 10):
            yield note
    for d, x in c.planned:
        if kind := re.search(r"the only lift(?: of (several joints|one joint))? for it here", x["why"]):
            several = {"several joints": {True}, "one joint": {False}, None: {True, False}}[kind[1]]
            same = {y["lift"] for _, y in c.planned if y["muscle"] == x["muscle"] and c.compound(y["lift"]) in several}
            yield from (f"{d['day']}: {x['name']} beside {i}" for i in sorted(same - {x["lift"]}))
    for conflict in c.week["conflicts"]:
        if left := re.search(r"of the lifts meant for it (.+) is left beside", conflict["relaxing_it_buys"]):
            for m in (m for m in muscles() if conflict["wish"].endswith(f"for {m.replace('_', ' ')}")):
                yield from (f"{m}: {x['name']}" for _, x in c.planned if c.meant(x["lift"], m) and x["name"] != left[1])
    for change in c.week["changes"]:
        if came := re.match(r"(.+) comes in with (\d+) sets?$", change["what"]):
            yield from [change["what"]] if names[came[1]] != int(came[2]) else []
        if room := re.match(r"it (?:makes room for|takes the place of) (.+?)(?::|$)", change["why"]):
            known = {own.name for own in c.lifts.values()}
            yield from [change["why"]] if room[1] not in known else []


def units_right(c):
    yield from (x["lift"] for _, x in c.planned if x["load_kg"] is not None and not x["load_manner"])


RULES = [f for n, f in list(globals().items()) if callable(f) and not n.startswith("_") and getattr(f, "__code__", None) and f.__code__.co_varnames[:1] == ("c",)]  # fmt: skip


def broken(client, week, easy=False):
    """Broken rules with what breaks them; empty when a coach would sign."""
    case = Case(client, week, easy)
    found = {rule.__name__: list(rule(case)) for rule in RULES}
    return {name: said for name, said in found.items() if said}
