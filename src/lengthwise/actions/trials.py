"""Trials beside the estimate of growth: each left out of the fit that predicts it, beside the simplest rules."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import astuple
from datetime import date
from functools import lru_cache
from hashlib import sha256
from importlib.metadata import version
from pathlib import Path
from typing import Any

from lengthwise.actions.cache_files import keep, kept, kept_or_made
from lengthwise.actions.folders import cache_folder
from lengthwise.actions.known_studies import library
from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.people import read_person
from lengthwise.actions.studies import Progress, no_progress
from lengthwise.body.model import Body, body_of
from lengthwise.body.person import Person
from lengthwise.contents import hash_of
from lengthwise.errors import DataFileError, InputError, NoSolutionError, unknown
from lengthwise.evidence.exchange import parse_json, to_json
from lengthwise.evidence.study import Study
from lengthwise.grading import store
from lengthwise.grading.old_grade import with_old_grade
from lengthwise.grading.trials import TrialFile, read_trials
from lengthwise.growth.beside import Beside, Concordance, concordance, not_expressed
from lengthwise.growth.design import Trial, trial_of, trials_of
from lengthwise.growth.features import Features, Table, kept_features, profile_of, read_features, write_features
from lengthwise.growth.fit import Posterior, fitted
from lengthwise.growth.kept import packed, unpacked
from lengthwise.growth.likelihood import Data
from lengthwise.growth.programme import Done, programme
from lengthwise.growth.rivals import RIVALS
from lengthwise.growth.scores import Array, Compared, by_trial, gain, learned_without, left_out, predictions, score
from lengthwise.growth.upcoming import Upcoming, known_upcoming, read_upcoming
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
_SAID = {**_FIT, "actions/trials.py": (".py",)}
"""Code that makes the answer for trials left out."""


def _fit_name(studies: str, table: Table, code: Mapping[str, tuple[str, ...]]) -> str:
    """A name for what is computed of studies, features and code: a hash of all three."""
    features = {done: {head: astuple(f) for head, f in heads.items()} for done, heads in table.items()}
    made_by = [hash_of(code), version("numpy"), version("scipy")]
    return sha256(json.dumps([made_by, studies, features]).encode()).hexdigest()


def _done(studies: Sequence[Study]) -> tuple[Done, ...]:
    return tuple({d.text: d for s in studies for a in s.arms for d in programme(a.done)}.values())


def features_on(person: Person, wanted: Sequence[Done], progress: Progress = no_progress) -> tuple[Table, Mapping[str, str]]:
    """Features of lifts as arms did them on a body, and why others cannot be computed, by what was done.

    Those of the shipped studies on the usual body come with Lengthwise; others are computed once and then read from disk.
    """
    known: dict[str, Mapping[str, Features]] = dict(kept_features()) if person == Person() else {}
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
        store.code_hash(),
        store.person_table(person),
        done.text,
        lift.model_dump(mode="json", warnings=False) if lift else None,
    ]
    return cache_folder() / "arms" / f"{sha256(json.dumps(asked, sort_keys=True).encode()).hexdigest()}.json"


# ---- the answer ----


def compare_trials(file: Path | None, person_file: Path | Person | None, progress: Progress = no_progress) -> dict[str, Any]:
    """Every published comparison, or those of a file, beside the estimate.

    Raises:
        DataFileError: the file cannot be read, or has faults.
    """
    found = read_trials(file.name, _text(file)) if file else None
    return beside_the_model(found, read_person(person_file), progress)


def _text(file: Path) -> str:
    try:
        return file.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise DataFileError([f"{file}: cannot be read: {error}"], asked=str(file)) from error


def beside_the_model(found: TrialFile | None, person: Person, progress: Progress = no_progress) -> dict[str, Any]:
    """Comparisons beside the estimate as the machine-readable answer: the library's trials, each left out, or those of a file."""
    return _library_answer(person, progress) if found is None else _file_answer(found, person, progress)


def _library_answer(person: Person, progress: Progress) -> dict[str, Any]:
    """Every trial of the library left out in turn: computed once for a body and what is known, then read from disk."""
    studies = library().studies
    table, failed = features_on(person, _done(studies), progress)
    file = cache_folder() / "trials" / f"{_fit_name(to_json(studies), table, _SAID)}.json"
    answer: dict[str, Any] | None = kept(file, json.loads)
    if answer is None:
        answer = _left_out_answer(person, studies, table)
        keep(file, json.dumps(answer))
    return {**answer, "not_solved": _lost(failed)}


def _left_out_answer(person: Person, studies: tuple[Study, ...], table: Table) -> dict[str, Any]:
    trials = _trials(_text_of(studies))
    shown = trials if person == Person() else trials_of(studies, table)
    same = [t.study.id for t in shown] == [t.study.id for t in trials]
    compared = left_out(trials, _without(_text_of(studies)), shown if same else trials)
    rows = [Beside(c.trial, c.pair, c.predicted["model"], True) for c in compared]
    lost = not_expressed(studies, {c.trial.study.id for c in compared})
    answer = _answer(rows, [{"trial": s.id, "contrast": s.title, "why": why} for s, why in lost])
    return {**answer, "scores": scores_answer(compared), "gains": gains_answer(compared)}


def _file_answer(found: TrialFile, person: Person, progress: Progress) -> dict[str, Any]:
    studies = found.studies()
    table, failed = features_on(person, _done(studies), progress)
    trials = trials_of(studies, table)
    rows = []
    if trials:
        posterior = posterior_of()
        for t in trials:
            expected = predictions(t, posterior.draws, posterior.weights)
            rows += [Beside(t, p, e, False) for p, e in zip(t.pairs, expected, strict=True)]
    return {**_answer(rows, [u.model_dump() for u in found.not_buildable]), "not_solved": _lost(failed), "scores": {}, "gains": {}}


def _lost(failed: Mapping[str, str]) -> list[dict[str, str]]:
    return [{"arm": done, "why": why} for done, why in failed.items()]


def _answer(rows: Sequence[Beside], not_buildable: Sequence[Mapping[str, str]]) -> dict[str, Any]:
    return {
        "comparisons": [_row(b) for b in rows],
        "concordance": _concordance(concordance(rows)),
        "where_trials_differ": _concordance(concordance([b for b in rows if b.clear])),
        "where_trials_find_none": _concordance(concordance([b for b in rows if not b.clear])),
        "not_buildable": list(not_buildable),
    }


def _row(b: Beside) -> dict[str, Any]:
    low, high = b.predicted.interval
    mean, least, most = b.observed
    first, second = (_arm(a.name, programme(a.done)) for a in b.arms)
    return {
        "trial": b.trial.study.id if b.left_out else b.trial.study.title,
        "head": "+".join(b.heads),
        "a": first,
        "b": second,
        "predicted": {"mean": b.predicted.centre, "low": low, "high": high},
        "observed": {"mean": mean, "low": least, "high": most},
        "direction_only": b.pair.side,
        "clear": b.clear,
        "agree": b.agree,
        "left_out": b.left_out,
        "source": b.trial.source if b.left_out else b.trial.study.source,
    }


def _arm(name: str, done: Sequence[Done]) -> dict[str, Any]:
    first = done[0]
    return {
        "arm": name,
        "lift": first.lift,
        "range": first.part,
        "setup": dict(first.setup),
        "angle": list(first.angle) if first.angle else None,
        "done": " + ".join(d.text for d in done),
    }


def _concordance(c: Concordance) -> dict[str, Any]:
    return {"agree": c.agree, "of": c.of, "interval": list(c.interval)}


def scores_answer(compared: Sequence[Compared]) -> dict[str, Any]:
    """How well the estimate and every rival do."""
    out = {}
    for name in ("model", *RIVALS):
        s = score(compared, name)
        out[name] = {
            "rmse": s.rmse, "log_score": s.log_score, "sign": {"right": s.sign[0], "of": s.sign[1]},
            "coverage50": s.coverage50, "coverage90": s.coverage90,
        }  # fmt: skip
    return out


def gains_answer(compared: Sequence[Compared]) -> dict[str, Any]:
    """By how much the estimate's log score beats every rival, with intervals over trials drawn again, and without its best trial."""
    best = most_telling(compared)
    out: dict[str, Any] = {"trials": len({c.trial.study.id for c in compared}), "most_telling": best}
    for name in RIVALS:
        (all_in, low, high), (rest, least, most) = gain(compared, name), gain(compared, name, without=best)
        out[name] = {"mean": all_in, "low": low, "high": high, "without_most_telling": {"mean": rest, "low": least, "high": most}}
    return out


def most_telling(compared: Sequence[Compared]) -> str:
    """The trial on which the estimate gains most over no difference."""
    own, none = by_trial(compared, "model"), by_trial(compared, "no_difference")
    return max(own, key=lambda t: own[t] - none[t])


# ---- predictions on record ----


def upcoming_answer(file: Path | None, today: date, progress: Progress = no_progress) -> dict[str, Any]:
    """What is expected of registered trials whose results are not out, as the machine-readable answer, dated.

    Args:
        file: registered trials of one's own; those that come with Lengthwise without.
        today: the day that the answer carries.

    Raises:
        DataFileError: the file cannot be read, or has faults.
    """
    found = read_upcoming(file.name, _text(file)) if file else known_upcoming()
    studies = tuple(u.study() for u in found if not u.reason)
    table, failed = features_on(Person(), _done(studies), progress)
    posterior = posterior_of()
    return {
        "dated": today.isoformat(),
        "trials": [_expected(u, None if u.reason else trial_of(u.study(), table), posterior) for u in found],
        "not_solved": _lost(failed),
    }


def _expected(u: Upcoming, trial: Trial | None, posterior: Posterior) -> dict[str, Any]:
    told = {
        **u.model_dump(include={"registry", "title", "measure", "obtained", "read_on", "read_at", "status", "note"}),
        "heads": list(u.heads),
        "on_record": [r.model_dump() for r in u.on_record],
    }
    told |= {"a": u.a.model_dump(), "b": u.b.model_dump()}
    if trial is None:
        return {**told, "predicted": None, "a_grows_more": None, "why_not": u.reason or "an arm cannot be solved on the usual body"}
    (expected,) = predictions(trial, posterior.draws, posterior.weights)
    low, high = expected.interval
    ahead = 1 - expected.below(0.0, 0.0)
    return {**told, "predicted": {"mean": expected.centre, "low": low, "high": high}, "a_grows_more": ahead, "why_not": ""}
