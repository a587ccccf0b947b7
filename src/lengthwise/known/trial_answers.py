"""Trials against the growth estimate: each left out of the fit that predicts it, beside the simplest rules."""

import json
from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from datetime import date
from functools import lru_cache
from hashlib import sha256
from importlib.metadata import version
from pathlib import Path

from pydantic import TypeAdapter

from lengthwise.arrays import Array
from lengthwise.body import anatomy
from lengthwise.body.model import Body, body_of
from lengthwise.body.person import Person
from lengthwise.contents import hash_of
from lengthwise.errors import InputError, NoSolutionError, unknown
from lengthwise.evidence.exchange import parse_json, to_json
from lengthwise.evidence.study import Study
from lengthwise.files.cache_files import keep, kept, kept_or_made
from lengthwise.files.folders import cache_folder
from lengthwise.grading import study_names
from lengthwise.grading.beside_trials import Difference, ExpectedTrial, NotSolved, OnRecordToday, TrialsBeside, beside, gains_over
from lengthwise.grading.old_grade import with_old_grade
from lengthwise.grading.trial_file import TrialFile, Unbuildable
from lengthwise.growth.beside import Beside, not_compared, not_expressed
from lengthwise.growth.design import Trial, trial_of, trials_of
from lengthwise.growth.features import Features, Table, kept_features, profile_of, read_features, write_features
from lengthwise.growth.fit import Posterior, fitted
from lengthwise.growth.kept import packed, unpacked
from lengthwise.growth.likelihood import Data
from lengthwise.growth.observed import Seen, read_seen, seen_in, write_seen
from lengthwise.growth.programme import Done, programme
from lengthwise.growth.rivals import RIVALS
from lengthwise.growth.scores import learned_without, left_out, predictions, score
from lengthwise.growth.upcoming import Upcoming
from lengthwise.known.known_studies import library
from lengthwise.known.lifts import all_lifts
from lengthwise.known.studies import Progress, no_progress
from lengthwise.lifts.definition import Lift
from lengthwise.mechanics.many import in_threads

# ---- what is learned ----


def learned(studies: tuple[Study, ...] | None = None) -> tuple[tuple[Trial, ...], Posterior]:
    """The trials behind the estimate, and the posterior: of the library with the user's own studies unless others are given.

    Raises:
        InputError: an arm of a study names a lift that the library does not have.
    """
    text = _text_of(studies)
    return _trials(text), _posterior(text)


def trials_between(lifts: Collection[str]) -> tuple[Trial, ...]:
    """The trials whose arms did two or more of these lifts: quick, as no other is looked at."""
    wanted, text = set(lifts), _text_of(None)
    studies, table = _arms(text)
    return trials_of((s for s in studies if len({d.lift for d in _done([s])} & wanted) > 1), table, _seen(text))


def posterior_of(studies: tuple[Study, ...] | None = None) -> Posterior:
    """The posterior alone: quick where it is kept, as no trial is looked at."""
    return _posterior(_text_of(studies))


def _text_of(studies: tuple[Study, ...] | None) -> str:
    return to_json(library().studies if studies is None else studies)


@lru_cache(maxsize=4)
def _arms(text: str) -> tuple[tuple[Study, ...], Table]:
    studies = parse_json(text).studies
    return studies, features_on(Person(), _done(studies))[0]


@lru_cache(maxsize=4)
def _seen(text: str) -> Mapping[str, tuple[Seen, ...]]:
    """What every study saw, by its id: kept, since an error read off a p asks for a library that takes long to load."""
    name, make = _seen_as(text), lambda: {s.id: seen_in(s) for s in parse_json(text).studies}
    return kept_or_made(name, read_seen, make, write_seen)


def _seen_as(text: str) -> str:
    return f"growth/seen_{_name_of([hash_of(_FIT), version('scipy'), text])}.json"


def seen_kept(studies: tuple[Study, ...]) -> tuple[str, bytes]:
    """What some studies saw, as it is kept: under which name, and the content of its file."""
    text = _text_of(studies)
    return _seen_as(text), write_seen(_seen(text))


@lru_cache(maxsize=4)
def _trials(text: str) -> tuple[Trial, ...]:
    return trials_of(*_arms(text))


@lru_cache(maxsize=4)
def _posterior(text: str) -> Posterior:
    return kept_or_made(_kept_as(text), unpacked, lambda: fitted(Data(_trials(text))), packed)


def _kept_as(text: str) -> str:
    return f"growth/{_fit_name(text, _arms(text)[1], _FIT)}.npz"


def fit_kept(studies: tuple[Study, ...]) -> tuple[str, bytes]:
    """The posterior of some studies as it is kept: under which name, and the content of its file."""
    text = _text_of(studies)
    return _kept_as(text), packed(_posterior(text))


@lru_cache(maxsize=4)
def _without(text: str) -> Mapping[str, tuple[Array, Array]]:
    """What was learned without each trial: the same whoever's body the trials are told for, and slow to learn."""
    return learned_without(_trials(text), _posterior(text))


_FIT = {"growth": (".py",), "evidence": (".py",), "distributions.py": (".py",)}
"""Code that makes a posterior of studies and of the features of their arms."""
_SAID = {**_FIT, "known/trial_answers.py": (".py",), "grading/beside_trials.py": (".py",)}
"""Code that makes the answer for trials left out."""


def _fit_name(studies: str, table: Table, code: Mapping[str, tuple[str, ...]]) -> str:
    """A name for what is computed of studies, features and code: a hash of all three."""
    features = {done: {head: list(vars(f).values()) for head, f in heads.items()} for done, heads in table.items()}
    made_by = [hash_of(code), version("numpy"), version("scipy")]
    return _name_of([made_by, studies, features])


def _name_of(asked: Sequence[object]) -> str:
    return sha256(json.dumps(asked).encode()).hexdigest()


def _done(studies: Sequence[Study]) -> dict[Done, frozenset[str]]:
    """Every lift that arms did (its sets aside), and the heads that their studies measured."""
    out: dict[Done, frozenset[str]] = {}
    for s in studies:
        heads = frozenset(h for o in s.outcomes for h in o.heads)
        for d in (replace(d, sets=None) for a in s.arms for d in programme(a.done)):
            out[d] = out.get(d, frozenset()) | heads
    return out


def features_on(
    person: Person, wanted: Mapping[Done, Collection[str]], progress: Progress = no_progress
) -> tuple[Table, Mapping[str, str]]:
    """Features of lifts as arms did them on a body, and why others cannot be computed, by what was done.

    Those of the shipped studies on the usual body come with Lengthwise, for the heads that these measured; others are computed once
    and then read from disk.

    Args:
        wanted: the lifts, with the heads that were measured.
    """
    shipped = kept_features() if person == Person() else {}
    lacking = {
        d.text for d, heads in wanted.items() if d.text in shipped and set(heads) & set(anatomy.heads()) - shipped[d.text].keys()
    }
    known: dict[str, Mapping[str, Features]] = {text: f for text, f in shipped.items() if text not in lacking}
    files = {d.text: (d, _file(person, d)) for d in wanted if d.text not in known}
    known |= {text: found for text, (_, file) in files.items() if (found := kept(file, read_features)) is not None}
    missing = [d for text, (d, _) in files.items() if text not in known]
    if not missing:
        return known, {}
    lifts = all_lifts().lifts
    failed = {d.text: f"not solved: {unknown('lift', d.lift, lifts)}" for d in missing if d.lift not in lifts}
    missing = [d for d in missing if d.lift in lifts]
    body, solved = body_of(person), dict[int, str]()
    for at, text in in_threads(lambda d: _solve(body, d, lifts), missing):
        solved[at] = text
        if text.startswith("{"):
            keep(files[missing[at].text][1], text)
        progress(len(solved), len(missing))
    told = {d.text: solved[at] for at, d in enumerate(missing)}
    known |= {done: read_features(text) for done, text in told.items() if text.startswith("{")}
    return known, failed | {done: text for done, text in told.items() if not text.startswith("{")}


def _solve(body: Body, done: Done, lifts: Mapping[str, Lift]) -> str:
    """Features as text, or why there are none."""
    try:
        return write_features(with_old_grade(profile_of(body, done, lifts)))
    except (NoSolutionError, InputError, RuntimeError) as error:
        return f"not solved: {error}"


def _file(person: Person, done: Done) -> Path:
    lift = all_lifts().lifts.get(done.lift)
    asked = [
        study_names.code_hash(),
        study_names.person_table(person),
        done.text,
        lift.model_dump(mode="json", warnings=False) if lift else None,
    ]
    return cache_folder() / "arms" / f"{sha256(json.dumps(asked, sort_keys=True).encode()).hexdigest()}.json"


# ---- the answer ----


def beside_the_model(found: TrialFile | None, person: Person, progress: Progress = no_progress) -> TrialsBeside:
    """Comparisons beside the estimate: the library's trials, each left out, or those of a file."""
    return _library_beside(person, progress) if found is None else _file_beside(found, person, progress)


def _library_beside(person: Person, progress: Progress) -> TrialsBeside:
    """Every trial of the library left out in turn: computed once for a body and what is known, then read from disk."""
    studies, layout = library().studies, TypeAdapter(TrialsBeside)
    table, failed = features_on(person, _done(studies), progress)
    file = cache_folder() / "trials" / f"{_fit_name(to_json(studies), table, _SAID)}.json"
    answer: TrialsBeside | None = kept(file, layout.validate_json)
    if answer is None:
        answer = _left_out(person, studies, table)
        keep(file, layout.dump_json(answer).decode())
    return replace(answer, not_solved=_lost(failed))


def _left_out(person: Person, studies: tuple[Study, ...], table: Table) -> TrialsBeside:
    trials = _trials(_text_of(studies))
    shown = trials if person == Person() else trials_of(studies, table)
    same = [t.study.id for t in shown] == [t.study.id for t in trials]
    compared = left_out(trials, _without(_text_of(studies)), shown if same else trials)
    rows = [Beside(c.trial, c.pair, c.predicted["model"], True) for c in compared]
    lost = not_expressed(studies, {c.trial.study.id for c in compared})
    silent = [(s, s.title, why) for s, why in lost] + list(not_compared(studies))
    other = tuple(Unbuildable(trial=s.id, contrast=what, why=why, cited=s.cited) for s, what, why in silent)
    return beside(rows, other, scores={n: score(compared, n) for n in ("model", *RIVALS)}, gains=gains_over(compared))


def _file_beside(found: TrialFile, person: Person, progress: Progress) -> TrialsBeside:
    studies = found.studies()
    table, failed = features_on(person, _done(studies), progress)
    rows = []
    for t in trials_of(studies, table):
        posterior = posterior_of()
        expected = predictions(t, posterior.draws, posterior.weights)
        rows += [Beside(t, p, e, False) for p, e in zip(t.pairs, expected, strict=True)]
    return replace(beside(rows, found.not_buildable), not_solved=_lost(failed))


def _lost(failed: Mapping[str, str]) -> tuple[NotSolved, ...]:
    return tuple(NotSolved(done, why) for done, why in failed.items())


# ---- predictions on record ----


def expected_of(found: Sequence[Upcoming], today: date, progress: Progress = no_progress) -> OnRecordToday:
    """What is expected of registered trials whose results are not out; `today` is the day that the answer carries."""
    table, failed = features_on(Person(), _done(tuple(u.study() for u in found if not u.reason)), progress)
    return OnRecordToday(today, tuple(_expected(u, table) for u in found), _lost(failed))


def _expected(u: Upcoming, table: Table) -> ExpectedTrial:
    trial = None if u.reason else trial_of(u.study(), table)
    if trial is None:
        return ExpectedTrial(trial=u, why_not=u.reason or "an arm cannot be computed on the usual body")
    posterior = posterior_of()
    (expected,) = predictions(trial, posterior.draws, posterior.weights)
    return ExpectedTrial(trial=u, predicted=Difference.of(expected), a_grows_more=1 - expected.below(0.0, 0.0))
