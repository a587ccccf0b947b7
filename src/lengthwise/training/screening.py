"""Whether to begin, begin easy or see a clinician first: the published order of decisions, never a diagnosis."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any, ClassVar, Literal

from lengthwise.contents import data_of
from lengthwise.training.client import Client, Screening
from lengthwise.training.defaults import default_reserve
from lengthwise.training.record_words import Condition

Answer = Literal["go", "start easy", "see a clinician first"]
ORDER: tuple[Answer, ...] = ("go", "start easy", "see a clinician first")
AGREED_FOR = timedelta(days=365)
"""How long a clinician's agreement counts: twelve months (V135, from memory)."""
ROWS = re.compile(r"\s*\((?:V\d+(?:, V\d+)*|common practice, no source)\)")
"""Where a reason names the rows that it follows, or that there is none."""
NO_DIAGNOSIS = "This does not find or rule out illness; anyone who feels unwell stops and asks a clinician."
STOP = (
    "Stop at once for chest pain, unusual breathlessness, dizziness, an irregular heartbeat or sudden sharp pain, and get help; call the emergency "
    "number if it does not pass within minutes."
)
BIRTH_STOP = (
    "During pregnancy and after a birth: stop for heaviness or dragging in the pelvis, leaking, or a bulge along the midline of the belly, and "
    "see a women's-health physiotherapist or doctor before you go on; what they or your midwife say goes before this plan."
)
PREGNANCY_STOP = (
    "Pregnant: stop at once and call the midwife or doctor for bleeding from the vagina, regular painful contractions, fluid that leaks or gushes, "
    "belly pain, breathlessness before effort, dizziness or fainting, headache, chest pain, weak muscles that upset the balance, pain or swelling "
    "in a calf, or a baby that moves less than usual."
)
"""Warning signs after ACOG Committee Opinion 804 (2020), from memory; fewer movements: common practice, no source."""
PREGNANCY_CARE = (
    "Pregnant: nothing lying flat on the back or on the belly, no pad, belt or bar on belly or hip crease, no hard bending or turning of the trunk, "
    "no breath held against a load, nothing with which a fall or a weight could hit the belly; lifts that do so are left out, known or not."
)
BONES_CARE = (
    "Thin bones: keep the trunk long and still under load: bend at the hips with a flat back, never in the back, no twisting with weights, nothing "
    "jerked; new back pain, or pain after a small fall or lift, means stop and see a doctor."
)
FALLS_CARE = (
    "Unsteady: have a wall, rail or heavy chair within reach for every standing lift, clear the floor, and stand up slowly."
)
SEATED_CARE = (
    "Seated: brakes on, the trunk held by a backrest or strap where it is not steady, someone near when you move to a bench. Shift weight and look at "
    "the skin for red marks that stay. Shoulders carry the chair all day: stop a lift that hurts them. With an injury of the spinal cord in the "
    "chest or above, a pounding headache, sweating or flushing means stop, sit up and get help at once."
)
"""Autonomic dysreflexia, skin and shoulders after an injury of the spinal cord: common practice, from memory."""
LIES_UNTIL_WEEK = 12
"""To the end of this week of a pregnancy lying flat is no matter (common practice, no source)."""


@dataclass(frozen=True)
class ScreeningOutcome:
    """What the answers lead to.

    Attributes:
        answer: go, start easy, or see a clinician first. reasons: each with what it rests on. care: what to watch in training.
        vigorous: whether sets may end near the last possible repetition: only at "go", and only where vigorous effort was asked about.
    """

    PUBLIC: ClassVar = "answer vigorous reasons care"
    answer: Answer
    reasons: tuple[str, ...]
    care: tuple[str, ...] = ()
    vigorous: bool = False

    @property
    def told(self) -> tuple[str, ...]:
        """The reasons as people read them: without the rows of the published outline that they follow."""
        return tuple(ROWS.sub("", reason) for reason in self.reasons)


def after_birth(client: Client) -> bool:
    """Whether the record says a pregnancy or a birth within about the last year."""
    return client.screening is not None and client.screening.pregnant_or_recent_birth


def is_pregnant(client: Client) -> bool:
    """Whether the client may be pregnant: the record says a pregnancy or a birth, and of no birth when it was."""
    return after_birth(client) and client.screening is not None and client.screening.gave_birth is None


def lies_freely(client: Client, today: date) -> bool:
    """Whether a pregnancy is so early that lying flat is no matter; never where the record has no week, or no day on which it was so."""
    said = client.screening
    if said is None or said.pregnancy_week is None or said.pregnancy_week_day is None:
        return False
    return said.pregnancy_week + (today - said.pregnancy_week_day).days // 7 <= LIES_UNTIL_WEEK


def has(client: Client, condition: Condition) -> bool:
    """Whether the record names a condition."""
    return client.screening is not None and condition in client.screening.conditions


def stop_signs(client: Client) -> tuple[str, ...]:
    """What to heed and to stop for beside what holds for everybody, on every face; empty for most."""
    seated = (SEATED_CARE,) if client.wishes.seated_only else ()
    return seated if client.screening is None else (*_signs(client.screening), *seated)


def _signs(answers: Screening) -> tuple[str, ...]:
    told = {
        PREGNANCY_CARE: answers.pregnant_or_recent_birth and not answers.gave_birth,
        PREGNANCY_STOP: answers.pregnant_or_recent_birth and not answers.gave_birth,
        BIRTH_STOP: answers.pregnant_or_recent_birth,
        BONES_CARE: "osteoporosis" in answers.conditions,
        FALLS_CARE: "falls" in answers.conditions,
    }
    return tuple(words for words, holds in told.items() if holds)


def reserve_told(client: Client, today: date, paper: bool = False) -> str:
    """Why sets keep so many repetitions in reserve, where the screening holds effort down; else empty.

    Args:
        paper: whether the client reads it, who cannot change the record.
    """
    outcome = screen_client(client, today)
    if outcome is None or outcome.vigorous:
        return ""
    moderate = "the record says moderate intensity"
    moderate += "" if paper else '; "vigorous" (screening.intensity) lets sets end nearer the last repetition'
    why, left = "; ".join(outcome.told), f"{default_reserve(client, easy=True):g} left in every set"
    if outcome.answer == "go":
        return f"{left}: {moderate}."
    return f"{why[:1].upper()}{why[1:]}{'. ' if ':' in why else ': '}{left}."


def wording() -> Mapping[str, Any]:
    """Questions, symptoms and conditions in words (data/screening.toml)."""
    return data_of("training", "screening.toml")


@dataclass(frozen=True)
class ScreeningQuestions:
    """The questions before training starts, by key, and what each word that may answer three of them means."""

    question: Mapping[str, str]
    known_disease: Mapping[str, str]
    symptoms: Mapping[str, str]
    conditions: Mapping[str, str]


def screening_questions() -> ScreeningQuestions:
    """As data/screening.toml words them."""
    words = wording()
    conditions = {key: row["words"] for key, row in words["conditions"].items()}
    return ScreeningQuestions(words["question"], words["known_disease"], words["symptoms"], conditions)


def screen(answers: Screening, today: date) -> ScreeningOutcome:
    """What follows from the answers: the most careful of what each of them leads to."""
    agreed = _agreed(answers, today)
    found = [_activity(answers, agreed), *_conditions(answers, agreed), *_life(answers, agreed)]
    answer = max((a for a, _ in found), key=ORDER.index)
    reasons = tuple(reason for a, reason in found if a == answer)
    return ScreeningOutcome(
        answer, reasons, (*_care(answers), STOP, NO_DIAGNOSIS), answer == "go" and answers.intensity == "vigorous"
    )


def screen_client(client: Client, today: date) -> ScreeningOutcome | None:
    """The outcome for a client, or nothing where the questions were not answered."""
    return None if client.screening is None else screen(client.screening, today)


def lacking(answers: Screening, today: date) -> tuple[str, ...]:
    """What of a clinician's agreement would open training and is still to be entered, by key; none where no agreement opens it."""
    day = {} if _agreed(answers, today) else {"cleared_by_clinician": today}
    for added in (day, {**day, "clearance_covers_symptoms": True}):
        if screen(answers.model_copy(update=added), today).answer != "see a clinician first":
            return tuple(added)
    return ()


def _agreed(answers: Screening, today: date) -> bool:
    when = answers.cleared_by_clinician
    return when is not None and timedelta(0) <= today - when <= AGREED_FOR


def _activity(answers: Screening, agreed: bool) -> tuple[Answer, str]:
    """The three published inputs: activity now, disease and symptoms, intended intensity."""
    if answers.symptoms:
        what = "; ".join(wording()["symptoms"][s] for s in answers.symptoms)
        if agreed and answers.clearance_covers_symptoms:
            return "start easy", f"symptoms that a clinician knows of and agreed to: {what}"
        stop = "stop training and ask a clinician" if answers.active_now else "ask a clinician before beginning"
        return "see a clinician first", f"symptoms: {what}; {stop} (V133, V136)"
    disease = "; ".join(wording()["known_disease"][d] for d in answers.known_disease)
    if answers.active_now:
        return _active(answers, agreed, disease)
    if not disease:
        return (
            "start easy",
            "not active so far, no known disease, no symptoms: begin light to moderate and build up gradually (V131)",
        )
    if agreed:
        return "start easy", f"{disease}, and a clinician agreed: begin light to moderate (V132)"
    return "see a clinician first", f"{disease}, and not active so far: ask a clinician, then begin light to moderate (V132)"


def _active(answers: Screening, agreed: bool, disease: str) -> tuple[Answer, str]:
    if not disease:
        return "go", "active already, no known disease, no symptoms: go on, moderate or vigorous (V134)"
    if answers.intensity != "vigorous":
        return "go", f"{disease}, active already and without symptoms: go on at up to moderate effort (V135)"
    if agreed:
        return "go", f"{disease}, active already, and a clinician agreed within twelve months: vigorous effort is open (V135)"
    return "see a clinician first", f"{disease}: ask a clinician before vigorous effort; up to moderate effort may go on (V135)"


def _conditions(answers: Screening, agreed: bool) -> list[tuple[Answer, str]]:
    out: list[tuple[Answer, str]] = []
    for name in answers.conditions:
        row = wording()["conditions"][name]
        told = f"{row['words']} ({row['row']})"
        if row["weight"] == "always" or (row["weight"] == "agreed" and not (agreed and answers.clearance_covers_symptoms)):
            out.append(("see a clinician first", told))
        else:
            out.append(("start easy", told))
    return out


def _life(answers: Screening, agreed: bool) -> list[tuple[Answer, str]]:
    """Pregnancy, birth, surgery, injury: training is often good then, but somebody licensed plans it; common practice, no source."""
    birth = "after a birth" if answers.gave_birth else "in pregnancy" if answers.pregnancy_week else "in pregnancy or after a birth"
    given = {
        birth: answers.pregnant_or_recent_birth,
        "after a recent operation or serious injury": answers.recent_surgery_or_injury,
    }
    answer: Answer = "start easy" if agreed else "see a clinician first"
    word = (
        "a clinician agreed to training {}"
        if agreed
        else "training {}: ask the clinician, midwife or physiotherapist in charge what is safe now"
    )
    return [(answer, word.format(what)) for what, yes in given.items() if yes]


def _care(answers: Screening) -> tuple[str, ...]:
    out = [*_signs(answers)]
    if answers.recent_surgery_or_injury:
        out.append("Spare the operated or injured part until whoever treats it lifts the limit; enter it among sore_joints.")
    if answers.known_disease or set(answers.conditions) - {"musculoskeletal_limit"}:
        out.append("Breathe out while lifting, never hold the breath; end sets well before the last possible repetition.")
    if "diabetes_or_metabolic" in answers.known_disease:
        out.append("With diabetes: keep sugar within reach and follow the plan agreed with the clinician.")
    return tuple(out)
