"""How strength depends on sex, training and muscle group: one hierarchical fit to what people lift and to women's torques.

python validation/fit_people.py [--write]      (about a minute; rerun after every change of the body or of a lift)

ln strength of a group, over that of an untrained man of the same mass:   woman·w_g + r_level·t_g
    w_g ~ N(w_family, 0.06²),  w_family ~ N(w, 0.10²),  w ~ N(ln 0.75, 0.15²)           t_g ~ N(t_family, 0.10²), t_family ~ N(t, 0.12²), t ~ N(ln 1.4, 0.3²)
    r: untrained 0, trained 1, recreational ~ N(0.45, 0.1²), advanced ~ N(1.5, 0.2²)
What is lifted is a share of what the muscles could do (skill of lifting), the mean over the families of a lift's prime movers of
    ln s = s_level + u_level·d_family,   s ~ N(-0.15, 0.08²) untrained, N(-0.07, 0.05²) recreational, 0 above;   d ~ N(0, 0.20²);   u 1, 0.5, 0 and 0
    where one's own body is the load no family has to learn it, and d is 0
One share for all lifts put whatever the base body errs in a family into its `trained`, so that beginners' squats stood under their presses.
Widths are estimates. Observed: every row of tests/reference/load_norms.toml and level_norms.toml (its band is taken for 90 % of people; the model of a lift errs
by MODEL_SD, that of a ratio of two lifts by RATIO_SD, since part of the error is common) and TORQUES. Errors have Student's t with 4 degrees of freedom, so that a lift that the model gets wrong bends nothing (Lange 1989,
from memory). Gauss-Newton on the posterior; the slope of a load in strength is the dual of its linear programme. Expert rows are not used.
"""

import sys
import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.body.scaling import OWN_BODY, lifting_skill, moving_groups, strength_factor, strength_table
from lengthwise.errors import NoSolutionError
from lengthwise.lifts.catalogue import built_in
from lengthwise.training.lift_strength import groups, pose, strength_of

HERE = Path(__file__).parent
REFERENCE = HERE.parent / "tests" / "reference"
NORMS = [n for f in ("load", "level") for n in tomllib.loads((REFERENCE / f"{f}_norms.toml").read_text(encoding="utf-8"))["norm"]]
OUT = HERE.parent / "src" / "lengthwise" / "body" / "data" / "strength_groups.toml"
SIZE = {"man": (1.78, 80.0), "woman": (1.66, 63.0)}
LEVELS = ("untrained", "recreational", "trained", "advanced")
FAMILIES = {
    "press": ["pectoralis", "deltoid_front", "arm_front", "triceps"],
    "pull": ["back", "elbow_flexors", "deltoid"],
    "shoulder blade and cuff": ["girdle", "cuff", "subscapularis"],
    "forearm": ["forearm", "wrist"],
    "trunk extensors": ["erector_spinae", "quadratus_lumborum", "neck_extensors"],
    "trunk flexors": ["rectus_abdominis", "obliques", "neck_flexors"],
    "hip extensors": ["gluteus_maximus", "adductor_magnus_ischial", "hamstrings"],
    "hip sides": ["hip_abductors", "adductors", "deep_rotators"],
    "hip flexors": ["iliopsoas", "hip_flexors"],
    "knee extensors": ["vasti", "rectus_femoris"],
    "plantarflexors": ["triceps_surae", "deep_plantarflexors"],
    "dorsiflexors": ["dorsiflexors"],
}
CALVES = ("triceps_surae", "deep_plantarflexors")
HIP_EXTENSORS = ("gluteus_maximus", "adductor_magnus_ischial", "hamstrings")
KNEE_EXTENSORS = ("vasti", "rectus_femoris")
BACK, TRUNK_FLEXORS = ("erector_spinae", "quadratus_lumborum"), ("rectus_abdominis", "obliques")
SIZE_RATIO, STATURE_RATIO = 0.73, 1.07  # women's mass x stature over men's; men's stature over women's (estimates)
TORQUES = [  # women's over men's force at equal mass: torque over mass x stature; groups, ratio, SD of its logarithm, source
    # Anderson tested 34 adults in six groups of sex and age: SD from the printed spreads for six people each. Others: sampling error, 0.08 at least.
    (("hamstrings",), 0.080 / 0.087, 0.11, "Anderson 2007 C1 knee flexion, 18-25 years (T3-090, T3-087)"),
    (("hamstrings",), 0.060 / 0.069, 0.14, "Anderson 2007 C1 knee flexion, over 65 years (T3-096, T3-095)"),
    (("hamstrings",), 0.635 / 0.79 * STATURE_RATIO, 0.16, "knee flexion per kg, older people, mid-range (T3-052, T3-051)"),
    (("dorsiflexors",), 0.027 / 0.033, 0.11, "Anderson 2007 C1 ankle flexion, 18-25 years (T3-110, T3-107)"),
    (("dorsiflexors",), 0.66 / SIZE_RATIO, 0.10, "20 women had 62 to 70 % of 20 men's strength in all four groups of the ankle (1986, Am J Phys Med 65:75-84, abstract read)"),
    (KNEE_EXTENSORS, 2.41 / 3.185 * STATURE_RATIO, 0.08, "knee extension per kg, mid-range (T3-047, T3-041)"),
    (KNEE_EXTENSORS, 1.52 / 1.95 * STATURE_RATIO, 0.08, "the same, older people (T3-050, T3-049)"),
    (KNEE_EXTENSORS, 0.124 / 0.137, 0.08, "Anderson 2007 C1 knee extension, over 65 years (T3-086, T3-085)"),
    (CALVES, 0.104 / 0.095, 0.20, "Anderson 2007 C1 ankle extension, 18-25 years (T3-100; men's 0.095 from memory)"),
    (CALVES, 0.125 / 0.106, 0.14, "the same over 65 years (T3-106, T3-105)"),
    (CALVES, 0.093 / (0.095 * 0.85), 0.21, "the same, women of 55-65 (T3-104) over men of 18-25 (from memory) with the age factor of strength.toml"),
    (CALVES, 0.65 / SIZE_RATIO, 0.08, "135 sedentary adults, women 35 % weaker (Fugl-Meyer 1980, Eur J Appl Physiol 45:221-234, abstract read)"),
    (CALVES, 0.66 / SIZE_RATIO, 0.10, "20 women had 62 to 70 % of 20 men's strength in all four groups of the ankle (1986, Am J Phys Med 65:75-84, abstract read)"),
    (CALVES, (1 + 30 / 30) / (1 + 37 / 30), 0.12, "heel rises on one leg at 20-29 years, 30 against 37, of 566 people (Hebert-Losier 2017, Physiotherapy 103:446-452, a table of it read), by Epley"),
    (CALVES, (1 / 1.49 / 1.80) ** 0.5 * STATURE_RATIO, 0.15, "20 men 49 % (straight knee) and 80 % (bent) stronger per kg than 20 women, isokinetic (Differences in triceps surae muscle dynamometry and electromyography between adult males and females, abstract read)"),
    (("iliopsoas", "hip_flexors", "rectus_femoris"), 0.091 / 0.107, 0.11, "Anderson 2007 C1 hip flexion, 55-65 years (T3-074, T3-073)"),
    (HIP_EXTENSORS, 0.138 / (0.161 * 0.89), 0.13, "the same, women over 65 years (T3-066)"),
    (HIP_EXTENSORS, 0.140 / (0.161 * 0.95), 0.16, "Anderson 2007 C1 hip extension, women of 55-65 years (T3-064) over men of 18-25 (from memory) with the age factor of strength.toml"),
    (("hip_abductors",), 1.13 / 1.29 * STATURE_RATIO, 0.10, "isokinetic, 20 women and 16 men, athletes (Sugimoto 2014, Clin J Sport Med 24:422-428, abstract read)"),
    (("elbow_flexors",), 33.0 / 71.1 / SIZE_RATIO, 0.12, "Askew 1987, 90 deg (T1-050; men's 71.1 Nm from memory)"),
    (("triceps",), 20.6 / 41.3 / SIZE_RATIO, 0.12, "Askew 1987, 90 deg (T1-052, T1-051, from memory)"),
    (("wrist",), 0.625 / SIZE_RATIO, 0.08, "60 to 65 % of men's wrist flexion and extension, 25 articles (Napper 2023, PeerJ 11:e16557, abstract read)"),
    (("wrist",), 0.786 * STATURE_RATIO, 0.10, "0.786 of men's per kg, 20 women and 20 men, isokinetic (2025, J Funct Morphol Kinesiol 10:377, abstract read)"),
    (("forearm",), 0.575 / SIZE_RATIO, 0.08, "55 to 60 % of men's pronation and supination (Napper 2023, abstract read)"),
    (BACK, 0.605 / SIZE_RATIO, 0.08, "lumbar extension over 0 to 72 deg, 30 women of 48 years over 70 men of 49 (1997, J Korean Acad Rehabil Med 21:1-7, abstract read)"),
    (BACK, 0.65 / SIZE_RATIO, 0.08, "32 women had 60 to 70 % of 41 men's strength (Kumar 1995, Spine 20:160-168, abstract read)"),
    (TRUNK_FLEXORS, 0.65 / SIZE_RATIO, 0.08, "the same, flexion"),
]  # fmt: skip
BESIDE = [  # women's over men's ratio of two torques of the same people: groups, groups below, ratio, SD of its logarithm, source
    (("hamstrings",), KNEE_EXTENSORS, 50 / 56, 0.08, "isometric knee flexion over extension, 20 women and 20 men (Hannah 2015, Eur J Appl Physiol 115:837, abstract read)"),
    (("hamstrings",), KNEE_EXTENSORS, 1.0, 0.08, "no difference, isometric and isokinetic, 14 women and 13 men (Int J Exerc Sci Conf Proc 16(3):59, abstract read)"),
    (("hamstrings",), KNEE_EXTENSORS, (1 + 0.29) / (1 + 0.33), 0.08, "men 20 to 38 % stronger in extension, 23 to 43 in flexion, 2208 people, isokinetic (2025, Front Bioeng Biotechnol 13:1573267, abstract read)"),
]  # fmt: skip
WITHIN_W, FAMILY_W, MEAN_W = 0.06, 0.20, (np.log(0.75), 0.15)
WITHIN_T, FAMILY_T, MEAN_T = 0.10, 0.12, (np.log(1.4), 0.30)
RATES = {"recreational": (0.45, 0.10), "advanced": (1.5, 0.2)}
LEAST_GAIN = 1.05  # training weakens no muscle (own choice)
SKILLS = {"untrained": (-0.15, 0.08), "recreational": (-0.07, 0.05)}
UNUSED = {"untrained": 1.0, "recreational": 0.5}
"""How much of what sets a family apart from others in beginners each level shows; estimate."""
SKILL_D = FAMILY_W
MODEL_SD, RATIO_SD, FREEDOM, N_POS, ROUNDS = 0.12, 0.08, 4.0, 9, 6
GROUPS = groups()
FAMILY_OF = {g: f for f, members in FAMILIES.items() for g in members}


@dataclass(frozen=True)
class Layout:
    """Where each parameter stands in the vector."""

    n: int = len(GROUPS)

    def split(self, theta: np.ndarray) -> tuple[np.ndarray, np.ndarray, dict[str, float]]:
        """ln woman, ln trained of each group; the rate of each level."""
        w, t, rate = theta[: self.n], theta[self.n : 2 * self.n], theta[2 * self.n :]
        return w, t, {"untrained": 0.0, "recreational": float(rate[0]), "trained": 1.0, "advanced": float(rate[1])}

    def skill(self, theta: np.ndarray) -> dict[str, np.ndarray]:
        """ln skill of each level, (n_share,); none lacks any from "trained" on."""
        own = theta[2 * self.n + len(RATES) :]
        return {level: own[k] + UNUSED[level] * own[len(SKILLS) :] for k, level in enumerate(SKILLS)}


LAYOUT = Layout()
SHARES = [*FAMILIES, OWN_BODY]
NO_SKILL_LACKS = np.zeros(len(SHARES))


@cache
def families_of(lift_id: str) -> np.ndarray:
    """Part of each family in the skill of a lift, (n_share,)."""
    moving = [FAMILY_OF[g] for g in moving_groups(tuple(built_in().lifts[lift_id].practised))] or [OWN_BODY]
    return np.array([moving.count(f) / len(moving) for f in SHARES])


def of_skills(level: str, gain: np.ndarray) -> np.ndarray:
    """Slope of a load in the parameters of skill, from that in ln skill of each family."""
    return np.concatenate([[float(gain.sum()) * (level == k) for k in SKILLS], gain * UNUSED.get(level, 0.0)])


def prior() -> tuple[np.ndarray, np.ndarray]:
    """Mean and precision of the parameters; family and common means are integrated out."""
    same = np.array([[float(FAMILY_OF[a] == FAMILY_OF[b]) for b in GROUPS] for a in GROUPS])
    blocks, means = [], []
    for within, family, (mean, spread) in ((WITHIN_W, FAMILY_W, MEAN_W), (WITHIN_T, FAMILY_T, MEAN_T)):
        blocks.append(np.linalg.inv(within**2 * np.eye(LAYOUT.n) + family**2 * same + spread**2))
        means.append(np.full(LAYOUT.n, mean))
    single = [*RATES.values(), *SKILLS.values(), *[(0.0, SKILL_D)] * len(SHARES)]
    precision = np.zeros((2 * LAYOUT.n + len(single),) * 2)
    for k, block in enumerate(blocks):
        precision[k * LAYOUT.n : (k + 1) * LAYOUT.n, k * LAYOUT.n : (k + 1) * LAYOUT.n] = block
    for k, (_, spread) in enumerate(single):
        precision[2 * LAYOUT.n + k, 2 * LAYOUT.n + k] = spread**-2
    return np.concatenate([*means, [m for m, _ in single]]), precision


def person(sex: str, level: str, theta: np.ndarray) -> Person:
    """A person whose groups have the strength that the parameters say, whatever the data file says now."""
    stature, mass = SIZE[sex]
    w, t, rate = LAYOUT.split(theta)
    plain = Person.model_validate({"sex": sex, "stature_m": stature, "mass_kg": mass, "training": level})
    man = Person(stature_m=stature, mass_kg=mass)
    x = (sex == "woman") * w + rate[level] * t
    now = np.array([strength_factor(plain, g) / strength_factor(man, g) for g in GROUPS])
    return plain.model_copy(
        update={"strength": Person(strength=dict(zip(GROUPS, (np.exp(x) / now).tolist(), strict=True))).strength}
    )


class Model:
    """Predicted logarithms at one set of parameters."""

    def __init__(self, theta: np.ndarray) -> None:
        self.theta = theta
        self.asked = cache(self._asked)

    def _asked(self, lift_id: str, setup: tuple, sex: str, level: str) -> tuple[float, float, np.ndarray]:
        """Whole resistance lifted once, moved body in it [kg], and the slope of the former's logarithm in ln strength of each group."""
        who = person(sex, level, self.theta)
        lift = built_in().lifts[lift_id]
        told = strength_of(pose(body_of(who), lift, setup=dict(setup), n_pos=N_POS))
        skill = np.exp(families_of(lift_id) @ LAYOUT.skill(self.theta).get(level, NO_SKILL_LACKS))
        return told.total_kg / lifting_skill(who, lift.practised) * skill, told.moved_kg, told.slope

    def of(self, norm: dict, sex: str) -> tuple[float, np.ndarray, np.ndarray]:
        """The logarithm of the norm's quantity, its slope in ln strength of each group, and in ln skill of each family."""
        level, setup = norm.get("training", "trained"), tuple(norm.get("setup", {}).items())
        total, moved, slope = self.asked(norm["lift"], setup, sex, level)
        mass, unit = SIZE[sex][1], norm["unit"]
        counted = total - moved + (mass if unit == "body mass, with body" else 0.0)
        value, gain, skilled = np.log(counted), total / counted, families_of(norm["lift"])
        if unit.startswith("body mass"):
            return value - np.log(mass), slope * gain, skilled * gain
        if unit == "kg":
            return value, slope * gain, skilled * gain
        other = unit.removeprefix("of ")
        below, under, its = self.asked(other, (("depth_deg", 105.0),) if other == "back_squat" else (), sex, level)
        part = below / (below - under)
        return value - np.log(below - under), slope * gain - its * part, skilled * gain - families_of(other) * part


def _mean_of(members: tuple[str, ...]) -> np.ndarray:
    """Weights that take the mean over some groups, (n_group,)."""
    return np.array([float(g in members) / max(len(members), 1) for g in GROUPS])


def rows(theta: np.ndarray) -> tuple[list[str], np.ndarray, np.ndarray, np.ndarray]:
    """Names, misses (observed less predicted), slopes in the parameters and SDs of every observation."""
    model, out = Model(theta), []
    w, t, rate = LAYOUT.split(theta)
    for norm in NORMS:
        for sex in ("man", "woman") if norm["sex"] == "both" else (norm["sex"],):
            try:
                value, slope, of_skill = model.of(norm, sex)
            except NoSolutionError as error:
                print("left out:", norm["lift"], sex, str(error)[:90])
                continue
            level = norm.get("training", "trained")
            of_rate = [float(slope @ t) if level == k else 0.0 for k in RATES]
            full = np.concatenate([slope * (sex == "woman"), slope * rate[level], of_rate, of_skills(level, of_skill)])
            middle, half = np.log(norm["low"] * norm["high"]) / 2, np.log(norm["high"] / norm["low"]) / 2
            out.append(
                (
                    f"{norm['lift']} {sex} {level} {norm['unit']}",
                    middle - value,
                    full,
                    np.hypot(half / 1.645, RATIO_SD if norm["unit"].startswith("of ") else MODEL_SD),
                )
            )
    for members, below, ratio, sd, source in [(m, (), *rest) for m, *rest in TORQUES] + BESIDE:
        pick = _mean_of(members) - _mean_of(below)
        out.append(
            (
                f"{'+'.join(members)}: {source}",
                np.log(ratio) - pick @ w,
                np.concatenate([pick, np.zeros(len(theta) - len(pick))]),
                sd,
            )
        )
    names, miss, slope, sd = zip(*out, strict=True)
    return list(names), np.array(miss), np.array(slope), np.array(sd)


def fit() -> np.ndarray:
    """The most probable parameters."""
    mean, precision = prior()
    theta = mean.copy()
    for k in range(ROUNDS):
        _, miss, slope, sd = rows(theta)
        weight = (FREEDOM + 1) / (FREEDOM + (miss / sd) ** 2) / sd**2
        normal = precision + slope.T * weight @ slope
        step = np.linalg.solve(normal, slope.T @ (weight * miss) + precision @ (mean - theta))
        theta = theta + step / (1 + k / 2)  # the load's slope leaps where another muscle takes over
        theta[LAYOUT.n : 2 * LAYOUT.n] = np.maximum(theta[LAYOUT.n : 2 * LAYOUT.n], np.log(LEAST_GAIN))
        print(
            f"round {k}: misses {np.median(np.abs(miss)):.3f} median, {np.sum(np.abs(miss) > 0.3)} beyond 30 %; step {np.abs(step).max():.3f}",
            flush=True,
        )
    return theta


def text_of(theta: np.ndarray) -> str:
    """The data file."""
    w, t, rate = LAYOUT.split(theta)
    head = (
        "# Strength by sex, training and muscle group: written by validation/fit_people.py (its docstring says how), not by hand.\n"
        "# woman: of a woman over a man of the same mass. trained: of a trained over an untrained person. family: groups that go together.\n"
        "# level: which power of `trained` each level of training has. skill: share of a family's strength brought to bear in a lift, 1 where a level is not named.\n"
    )
    skills = "".join(
        f"[skill.{level}]\n" + "".join(f'"{f}" = {np.exp(v):.3f}\n' for f, v in zip(SHARES, own, strict=True))
        for level, own in LAYOUT.skill(theta).items()
    )
    levels = "[level]\n" + "".join(f"{k} = {rate[k]:.3f}\n" for k in LEVELS)
    tables = (
        f'[group.{g}]\nfamily = "{FAMILY_OF[g]}"\nwoman = {np.exp(w[i]):.3f}\ntrained = {np.exp(t[i]):.3f}\n'
        for i, g in enumerate(GROUPS)
    )
    return head + levels + skills + "".join(tables)


if __name__ == "__main__":
    assert sorted(FAMILY_OF) == sorted(GROUPS), set(GROUPS) ^ set(FAMILY_OF)
    found = fit()
    names, miss, _, sd = rows(found)
    for name, m, s in sorted(zip(names, miss, sd, strict=True), key=lambda r: -abs(r[1])):
        print(f"{-m:+.2f} ln too high, {abs(m) / s:.1f} SD  {name}")
    print(text_of(found))
    if "--write" in sys.argv:
        OUT.write_text(text_of(found), encoding="utf-8")
        strength_table.cache_clear()
