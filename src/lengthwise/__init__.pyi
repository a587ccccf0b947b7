"""Made by docs/stubs.py from the questions; not to be edited."""

from collections.abc import Iterable, Mapping
from datetime import date
from pathlib import Path
from typing import Literal

from lengthwise.asking import Who, Answer as Answer, add_studies as add_studies, pool as pool, study_effect as study_effect
from lengthwise.body.in_posture import BodyInPosture as _in_posture_BodyInPosture
from lengthwise.body.named_heads import NamedHeads as _named_heads_NamedHeads
from lengthwise.body.person import Person as Person
from lengthwise.grading.beside_trials import TrialsBeside as _beside_trials_TrialsBeside
from lengthwise.grading.dividing import Split as _dividing_Split
from lengthwise.grading.setup_search import Landscape as _setup_search_Landscape
from lengthwise.known.evidence import Claims as _evidence_Claims
from lengthwise.known.order_of_lifts import OrderOfLifts as _order_of_lifts_OrderOfLifts
from lengthwise.known.population_answers import ForWhom as _population_answers_ForWhom
from lengthwise.known.population_answers import Places as _population_answers_Places
from lengthwise.mechanics.long_half_beside import LiftOnBody as _long_half_beside_LiftOnBody
from lengthwise.mechanics.strength import JointMoment as _strength_JointMoment
from lengthwise.populations.side_by_side import SideBySide as _side_by_side_SideBySide
from lengthwise.questions.answering.grading import WeightsTold as _grading_WeightsTold
from lengthwise.questions.answering.imports import ImportedTable as _imports_ImportedTable
from lengthwise.questions.ask import Tell
from lengthwise.questions.week import Weeks as _week_Weeks
from lengthwise.records.accounts import Accounts as _accounts_Accounts
from lengthwise.records.log_entries import EnteredMeasurement as _log_entries_EnteredMeasurement
from lengthwise.records.log_entries import EnteredSets as _log_entries_EnteredSets
from lengthwise.records.log_entries import Measurements as _log_entries_Measurements
from lengthwise.records.log_entries import Sessions as _log_entries_Sessions
from lengthwise.records.store import StoreInfo as _store_StoreInfo
from lengthwise.records.whose import Whom
from lengthwise.report.filming import Film as _filming_Film
from lengthwise.report.grading_explainer import Explained as _grading_explainer_Explained
from lengthwise.report.typeset import Sheet as _typeset_Sheet
from lengthwise.training.block import TrainingBlock as _block_TrainingBlock
from lengthwise.training.one_rm_told import OneRm as _one_rm_told_OneRm
from lengthwise.training.prescription import Prescription as _prescription_Prescription
from lengthwise.training.review import Review as _review_Review
from lengthwise.training.screening import ScreeningQuestions as _screening_ScreeningQuestions
from lengthwise.weeks.clients import WhatFollows as _clients_WhatFollows
from lengthwise.weeks.swapping import Swap as _swapping_Swap
from lengthwise.weeks.year_plan import Year as _year_plan_Year

__version__: str
__all__: list[str]
WRITTEN: tuple[str, ...]

def account_list(*, tell: Tell = ...) -> Answer[_accounts_Accounts]:
    """List accounts."""

def block(client: Whom, *, monday: date | None = ..., lifts: Iterable[str] = ..., weeks: int = ..., gain: float = ..., tell: Tell = ...) -> Answer[_block_TrainingBlock]:
    """Plan a block of weeks for a client: sets, available loads, repetitions and reserve, with the rules behind them."""

def card(lift: str, person: Who = None, *, tell: Tell = ...) -> Answer[_typeset_Sheet]:
    """Write a card on LIFT as PDF: drawing, muscles at work, the set, parts of the range, curves, cautions."""

def claims(*, memory: bool = ..., next: bool = ..., tell: Tell = ...) -> Answer[_evidence_Claims]:
    """List what the studies say about each claim, how sure that is, and which new study would change the most decisions."""

def compare(lifts: Iterable[str], person: Who = None, *, repetitions: int = ..., reserve: float = ..., tell: Tell = ...) -> Answer[_side_by_side_SideBySide]:
    """Compare lifts side by side, curve by curve, and say which lift each head gains from."""

def explain(muscle: str, person: Who = None, *, gear: Iterable[str] = ..., tell: Tell = ...) -> Answer[_grading_explainer_Explained]:
    """Explain MUSCLE for teaching: a page, a PDF, and pictures (SVG and PNG, 16:9 and 4:5); or slides."""

def film(lift: str, person: Who = None, *, compare: str | None = ..., tell: Tell = ...) -> Answer[_filming_Film]:
    """Animate one repetition of LIFT, with the curve of how hard each position is."""

def heads(*, tell: Tell = ...) -> Answer[_named_heads_NamedHeads]:
    """List every head, its muscle lines and the muscles it belongs to."""

def load(client: Whom, lift: str, *, place: str = ..., repetitions: str = ..., reserve: float | None = ..., range: Literal['full', 'long', 'short', 'mixed'] = ..., tell: Tell = ...) -> Answer[_prescription_Prescription]:
    """Show how a client should do LIFT: available load, repetitions, reserve, warm-up, rest, tempo, and how to test a guess."""

def log_add(client: Whom, lift: str, sets: str, *, day: date | None = ..., yes: bool = ..., tell: Tell = ...) -> Answer[_log_entries_EnteredSets]:
    """Log sets of LIFT from one line; asks first if the load is far above what the client can lift."""

def log_import(file: Path, *, columns: Mapping[str, str] = ..., lifts: Mapping[str, str] = ..., dates: str | None = ..., unit: str | None = ..., decimal: str | None = ..., skip_faulty: bool = ..., keep_repeats: bool = ..., tell: Tell = ...) -> Answer[_imports_ImportedTable]:
    """Import a table of sets (CSV): show how it is read, ask, then save all of it or nothing."""

def log_show(client: Whom, *, first: date | None = ..., last: date | None = ..., tell: Tell = ...) -> Answer[_log_entries_Sessions]:
    """Show a client's sessions."""

def measure_add(client: Whom, kind: str, readings: Iterable[str], *, site: str = ..., side: Literal['', 'right', 'left'] = ..., day: date | None = ..., note: str = ..., tell: Tell = ...) -> Answer[_log_entries_EnteredMeasurement]:
    """Enter a measurement; several readings on one day show its error."""

def measure_show(client: Whom, *, kind: str | None = ..., tell: Tell = ...) -> Answer[_log_entries_Measurements]:
    """Show a client's measurements."""

def one_rm(load: float, repetitions: int, *, reserve: float = ..., tell: Tell = ...) -> Answer[_one_rm_told_OneRm]:
    """Estimate the one-repetition maximum from a set by every published equation, with the spread."""

def person_questions(*, tell: Tell = ...) -> Answer[_screening_ScreeningQuestions]:
    """Show the questions to ask before training starts, and the words that answer them in a record file."""

def person_show(client: Whom, *, tell: Tell = ...) -> Answer[_clients_WhatFollows]:
    """Show a client: body, screening, places and their loads, known lifts against the model, weekly sets."""

def population(order: str, folder: Path, *, tell: Tell = ...) -> Answer[_population_answers_ForWhom]:
    """Show in how many people one lift grows a head or muscle more than another, and in whom it does not."""

def population_table(muscle: str, folder: Path, *, tell: Tell = ...) -> Answer[_population_answers_Places]:
    """Show the lifts for MUSCLE over a population: for how many each is the best, among the best three, or out of reach."""

def posture(angles: str, person: Who = None, *, tell: Tell = ...) -> Answer[_in_posture_BodyInPosture]:
    """Show how long each head is in a posture such as "shoulder_flexion=160 elbow_flexion=90", and its moment arms."""

def profile(lift: str, person: Who = None, *, range: Literal['full', 'long', 'short'] = ..., setup: Mapping[str, float] = ..., repetitions: int = ..., reserve: float = ..., positions: int = ..., tell: Tell = ...) -> Answer[_long_half_beside_LiftOnBody]:
    """Show what LIFT asks of each head: capacity, what fails first, lengths, tension, the measures, and its long half."""

def progress(client: Whom, *, on: date | None = ..., tell: Tell = ...) -> Answer[_review_Review]:
    """Show a client's progress: strength, volume against plan, pain and growth, with figures."""

def rank(muscle: str, person: Who = None, *, gear: Iterable[str] = ..., spare: Iterable[str] = ..., minutes: float | None = ..., steady: bool = ..., ranges: Iterable[Literal['full', 'long', 'short']] = ..., weights: str = ..., changed: Iterable[str] = ..., draws: int = ..., seed: int = ..., repetitions: int = ..., reserve: float = ..., per: Literal['set', 'minute', 'effort'] = ..., tell: Tell = ...) -> Answer[_order_of_lifts_OrderOfLifts]:
    """Rank the lifts for MUSCLE by growth per hard set, then by your preferences, with reasons and how sure that is."""

def review(client: Whom, *, on: date | None = ..., tell: Tell = ...) -> Answer[_review_Review]:
    """Review a client: what goes up, stalls, hurts, was skipped or grew, and what to change; nothing changes until accepted."""

def sheet(client: Whom, *, what: Literal['week', 'block', 'progress'] = ..., link: str = ..., tell: Tell = ...) -> Answer[_typeset_Sheet]:
    """Write a client's week, block of weeks or progress as PDF."""

def split(muscle: str, lifts: Iterable[str], person: Who = None, *, sets: int = ..., bounds: Mapping[str, tuple[float, float]] = ..., tell: Tell = ...) -> Answer[_dividing_Split]:
    """Split the weekly sets of MUSCLE among chosen lifts so that every head grows."""

def store_info(*, tell: Tell = ...) -> Answer[_store_StoreInfo]:
    """Show where the store is and how much it holds."""

def strength(angle: str, person: Who = None, *, at: str = ..., lower: bool = ..., tell: Tell = ...) -> Answer[_strength_JointMoment]:
    """Show the largest isometric joint moment that raises ANGLE in a posture, and which heads make it."""

def swap(client: Whom, lift: str, *, because: Literal['', 'pain', 'gear', 'time', 'taste'] = ..., joint: Literal['', 'neck', 'shoulder', 'elbow', 'wrist', 'trunk', 'back', 'hip', 'knee', 'ankle'] = ..., tell: Tell = ...) -> Answer[_swapping_Swap]:
    """Show what PERSON could do instead of LIFT, with load, reason and what is lost."""

def trials(person: Who = None, *, tell: Tell = ...) -> Answer[_beside_trials_TrialsBeside]:
    """Check the growth estimate against published trials, each left out in turn, and compare it with the simplest rules."""

def tune(lift: str, person: Who = None, *, head: str, measure: str = ..., vary: Iterable[str] = ..., tell: Tell = ...) -> Answer[_setup_search_Landscape]:
    """Find the set-up of LIFT that is best for a head by one measure, within the person's joint limits."""

def week(client: Whom, *, monday: date | None = ..., without: Iterable[str] = ..., minutes: Mapping[Literal['monday', 'tuesday', 'wednesday', 'thursday', 'friday', 'saturday', 'sunday'], float] = ..., place: str = ..., template: Literal['', 'usual', 'full_body', 'upper_lower', 'push_pull_legs'] = ..., phase: Literal['', 'grow', 'specialise', 'maintain', 'retest', 'return'] = ..., most_share: float | None = ..., save_time: Iterable[Literal['drop_set', 'rest_pause', 'cluster', 'long_halves']] = ..., fix: Mapping[tuple[Literal['monday', 'tuesday', 'wednesday', 'thursday', 'friday', 'saturday', 'sunday'], str], int] = ..., keep_day: Iterable[Literal['monday', 'tuesday', 'wednesday', 'thursday', 'friday', 'saturday', 'sunday']] = ..., anew: bool = ..., ways: int = ..., tell: Tell = ...) -> Answer[_week_Weeks]:
    """Plan a week for PERSON: last week with as few changes as possible, or a first week of lifts that PERSON knows and likes."""

def weights(name: str = ..., *, changed: Iterable[str] = ..., tell: Tell = ...) -> Answer[_grading_WeightsTold]:
    """Show how much each preference counts and why, change it, and save it by name."""

def year(client: Whom, *, start: date | None = ..., tell: Tell = ...) -> Answer[_year_plan_Year]:
    """Show PERSON's year: when to grow, specialise, maintain and re-test, with weekly sets for every muscle."""
