"""Studies as text and back: one CSV layout, one JSON layout, every fault of a file reported at once.

CSV: one row for each outcome of an arm; a row whose `versus` is filled is a contrast between `arm` and `versus`. The
study's own columns stand in its first row and may be left empty afterwards. Lists are separated by `;`, judgements and
exceptions are written `key=value; key=value`.
"""

import csv
import io
import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Annotated, Any

from pydantic import ConfigDict, TypeAdapter, ValidationError

from lengthwise.errors import DataFileError
from lengthwise.evidence.checking import faults as study_faults
from lengthwise.evidence.study import Contrast, Outcome, Study, StudyArm, StudyFile
from lengthwise.reading import harmless, json_of, named_rows, rows_of_csv

STUDY_COLUMNS = (
    "study", "year", "source", "doi", "title", "design", "weeks", "sessions_per_week", "population", "sex", "n_total",
    "training", "age", "read_on", "not_scored", "bias", "bias_why", "study_obtained_except",
)  # fmt: skip
ARM_COLUMNS = ("arm", "position", "sets_per_week", "repetitions", "load", "done", "reserve", "load_percent", "rest_s", "tempo")
PLACE_COLUMNS = ("versus", "claims", "muscle", "heads", "site", "measure", "unit")
OUTCOME_COLUMNS = (
    "n", "pre_mean", "pre_sd", "post_mean", "post_sd", "change_mean", "change_sd", "change_se", "change_ci_low",
    "change_ci_high", "percent_change", "percent_sd", "growth_told",
)  # fmt: skip
CONTRAST_COLUMNS = ("difference", "se", "ci_low", "ci_high", "t", "p", "d", "verdict", "start")
ROW_COLUMNS = ("obtained", "obtained_except", "note")
COLUMNS = (*STUDY_COLUMNS, *ARM_COLUMNS, *PLACE_COLUMNS, *OUTCOME_COLUMNS, *CONTRAST_COLUMNS, *ROW_COLUMNS)
"""Every column of the CSV layout, in order."""

REQUIRED = ("study", "arm", "muscle", "obtained")

_INTEGERS = {"year", "n_total", "n"}
_NUMBERS = {
    "weeks", "sessions_per_week", "sets_per_week", "reserve", "load_percent", "rest_s", *OUTCOME_COLUMNS, *CONTRAST_COLUMNS,
} - {"n", "growth_told", "verdict"}  # fmt: skip
_LISTS, _PAIRS = {"claims", "heads"}, {"bias", "bias_why", "obtained_except", "study_obtained_except"}


@dataclass(frozen=True)
class Parsed:
    """What a text held: studies that are fit to store, and every fault found, each in words."""

    studies: tuple[Study, ...]
    faults: tuple[str, ...]


@dataclass
class _Draft:
    """A study being read from rows: its plain values, and the row each part came from."""

    values: dict[str, Any]
    rows: dict[tuple[str, int], int] = field(default_factory=dict)
    first_row: int = 0
    contradictory: bool = False

    def place(self, kind: str, index: int) -> str:
        if self.first_row:
            return f"row {self.rows.get((kind, index), self.first_row)}, study {self.values['id']}"
        return f"study {self.values['id']}" + ("" if kind == "study" else f", {kind[:-1]} {index + 1}")


def _value(column: str, text: str) -> Any:
    """A cell as the type its column asks for; text that does not fit stays text, for the model to refuse."""
    if column in _LISTS:
        return [part.strip() for part in text.split(";") if part.strip()]
    if column in _PAIRS:
        pairs = (part.partition("=") for part in text.split(";") if part.strip())
        return {key.strip(): value.strip() for key, _, value in pairs}
    if column in _INTEGERS or column in _NUMBERS:
        try:
            number = float(text)
        except ValueError:
            return text
        return int(number) if column in _INTEGERS and number.is_integer() else number
    return text


def _cells(row: dict[str, str], columns: Sequence[str]) -> dict[str, Any]:
    """The filled cells of a row among `columns`."""
    return {c: _value(c, row[c].strip()) for c in columns if row.get(c) and row[c].strip()}


def _own(row: dict[str, str]) -> dict[str, Any]:
    cells = _cells(row, STUDY_COLUMNS)
    renamed = {"study": "id", "study_obtained_except": "obtained_except"}
    return {renamed.get(key, key): value for key, value in cells.items()}


def _merge(known: dict[str, Any], given: dict[str, Any], where: str) -> list[str]:
    """Take over what is new; what differs from an earlier row is a fault."""
    return [
        f"{where}, {key}: {value!r} differs from {known[key]!r} in an earlier row of the same study"
        for key, value in given.items()
        if known.setdefault(key, value) != value
    ]


def _add_row(draft: _Draft, row: dict[str, str], number: int, faults: list[str]) -> None:
    where = f"row {number}, study {draft.values['id']}"
    clashes = _merge(draft.values, _own(row), where)
    kind = "contrasts" if row.get("versus", "").strip() else "outcomes"
    cells = _cells(row, ("arm", *PLACE_COLUMNS, *OUTCOME_COLUMNS, *CONTRAST_COLUMNS, *ROW_COLUMNS))
    draft.rows[kind, len(draft.values[kind])] = number
    draft.values[kind].append(cells)
    if kind == "outcomes":
        arm = {"name" if k == "arm" else k: v for k, v in _cells(row, ARM_COLUMNS).items()}
        known = next((a for a in draft.values["arms"] if a["name"] == arm["name"]), None)
        if known is None:
            draft.values["arms"].append(arm)
        else:
            clashes += _merge(known, arm, where)
    draft.contradictory |= bool(clashes)
    faults += clashes


def _header_faults(header: Sequence[str]) -> list[str]:
    unknown = [c for c in header if c not in COLUMNS]
    missing = [c for c in REQUIRED if c not in header]
    found = [f"header: unknown column {c!r}; allowed: {', '.join(COLUMNS)}" for c in unknown]
    return found + [f"header: column {c!r} is missing" for c in missing]


def _drafts(rows: Iterable[dict[str, str]], faults: list[str]) -> list[_Draft]:
    drafts: dict[str, _Draft] = {}
    for number, row in enumerate(rows, start=2):
        empty = [c for c in REQUIRED if not (row.get(c) or "").strip()]
        extra = row.get(None)  # type: ignore[call-overload]
        if empty or extra:
            faults += [f"row {number}, {c}: is empty, but every row needs it" for c in empty]
            faults += [f"row {number}: has more cells than the header"] if extra else []
            continue
        name = row["study"].strip()
        values: dict[str, Any] = {"id": name, "arms": [], "outcomes": [], "contrasts": []}
        draft = drafts.setdefault(name, _Draft(values, first_row=number))
        _add_row(draft, {k: v or "" for k, v in row.items()}, number, faults)
    return list(drafts.values())


_PATTERNS = {
    "doi": "allowed: a bare DOI such as 10.1000/abc, or empty",
    "id": "allowed: up to 40 letters, digits, dots, dashes and underscores",
}


def _words(message: str, kind: str, name: str, part: str = "") -> str:
    """A complaint of the model, with what is allowed instead of a pattern, and where a cell belongs that its row has no place for."""
    if kind == "string_pattern_mismatch" and name in _PATTERNS:
        return _PATTERNS[name]
    if kind == "extra_forbidden" and part == "contrasts":
        return "what was measured in an arm stands in a row of its own with versus left empty"
    if kind == "extra_forbidden" and part == "outcomes":
        return "only in a row that compares two arms, with versus filled in"
    message = message.replace("Input should be ", "allowed: ", 1)
    return message[0].lower() + message[1:]


def _explain(error: ValidationError, draft: _Draft) -> Iterator[str]:
    """Each complaint of the model in words, with the row it came from."""
    for fault in error.errors():
        loc = fault["loc"]
        part = loc[0] if loc and loc[0] in ("outcomes", "contrasts", "arms") else "study"
        index = loc[1] if part != "study" and len(loc) > 1 else 0
        key = ".".join(str(step) for step in (loc[2:] if part != "study" else loc)) or str(loc[0])
        found = "missing" if fault["type"] == "missing" else f"found {fault['input']!r}"
        yield f"{draft.place(str(part), int(index))}, {key}: {found}; {_words(fault['msg'], fault['type'], key, str(part))}"


def _finish(drafts: Iterable[_Draft], faults: list[str]) -> Parsed:
    studies = []
    for draft in drafts:
        try:
            study = Study.model_validate_json(json.dumps(draft.values))
        except ValidationError as error:
            faults += _explain(error, draft)
            continue
        wrong = study_faults(study)
        faults += [f"{draft.place(f.kind, f.index)}, {f.key}: {f.message}" for f in wrong]
        studies += [] if wrong or draft.contradictory else [study]
    return Parsed(tuple(studies), tuple(faults))


def parse_csv(text: str) -> Parsed:
    """The studies in a CSV text, and every fault in it."""
    try:
        header, *rows = list(rows_of_csv("the file", text)) or [[]]
    except DataFileError as error:
        return Parsed((), tuple(f.removeprefix("the file: ") for f in error.faults))
    faults = _header_faults(header)
    if faults:
        return Parsed((), tuple(faults))
    return _finish(_drafts(named_rows(header, rows), faults), faults)


def parse_rows(rows: Iterable[Mapping[str, str]]) -> Parsed:
    """The studies in rows of the CSV layout (column → text), and every fault in them."""
    listed = [dict(row) for row in rows]
    faults = _header_faults([*dict.fromkeys((*REQUIRED, *(column for row in listed for column in row)))])
    return Parsed((), tuple(faults)) if faults else _finish(_drafts(listed, faults), faults)


def cell_fault(column: str, text: str) -> str:
    """Why a filled cell of a column cannot be right whatever the others hold; empty when it can."""
    name = {"study": "id"}.get(column, column)
    model = next((m for m in (Study, Outcome, Contrast, StudyArm) if name in m.model_fields), None)
    if model is None or not text.strip():
        return ""
    field_info = model.model_fields[name]
    kind: Any = field_info.annotation
    if field_info.metadata:
        kind = Annotated[(kind, *field_info.metadata)]
    adapter: TypeAdapter[Any] = TypeAdapter(kind, config=ConfigDict(strict=True))
    try:
        adapter.validate_json(json.dumps(_value(column, text.strip())))
    except ValidationError as error:
        fault = error.errors()[0]
        return f"found {text.strip()!r}; {_words(fault['msg'], fault['type'], name)}"
    return ""


def parse_json(text: str) -> Parsed:
    """The studies in a JSON text (`{"studies": [...]}`), and every fault in it."""
    try:
        content = json_of("the file", text)
    except DataFileError as error:
        return Parsed((), tuple(f.removeprefix("the file: ") for f in error.faults))
    if not isinstance(content, dict) or not isinstance(content.get("studies"), list) or len(content) != 1:
        return Parsed((), ('the file must be {"studies": [...]} and nothing else',))
    named = [c if isinstance(c, dict) and "id" in c else {"id": f"number {i + 1}"} for i, c in enumerate(content["studies"])]
    faults = [f"study {d['id']}: appears twice" for i, d in enumerate(named) if d["id"] in [e["id"] for e in named[:i]]]
    drafts = [_Draft(values) for values in named]
    return _finish(drafts, faults)


def _text(value: Any) -> str:
    if isinstance(value, dict):
        return "; ".join(f"{k}={v}" for k, v in value.items())
    if isinstance(value, list | tuple):
        return "; ".join(value)
    return f"{value:g}" if isinstance(value, float) and value.is_integer() else str(value)


def _row(*parts: dict[str, Any]) -> dict[str, str]:
    return {k: _text(v) for part in parts for k, v in part.items() if v not in (None, "", (), {}, [])}


def _study_cells(study: Study) -> dict[str, Any]:
    own = study.model_dump(exclude={"arms", "outcomes", "contrasts"})
    return {{"id": "study", "obtained_except": "study_obtained_except"}.get(k, k): v for k, v in own.items()}


def _arm_cells(arm: StudyArm) -> dict[str, Any]:
    return {"arm" if k == "name" else k: v for k, v in arm.model_dump().items()}


def _study_rows(study: Study) -> Iterator[dict[str, str]]:
    arms = {a.name: a for a in study.arms}
    rows: list[Outcome | Contrast] = [*study.outcomes, *study.contrasts]
    seen: set[str] = set()
    for i, row in enumerate(rows):
        own = _study_cells(study) if i == 0 else {"study": study.id}
        new = isinstance(row, Outcome) and row.arm not in seen
        seen |= {row.arm} if new else set()
        yield _row(own, _arm_cells(arms[row.arm]) if new else {}, row.model_dump())


def to_csv(studies: Iterable[Study]) -> str:
    """The studies in the CSV layout."""
    out = io.StringIO()
    writer = csv.DictWriter(out, COLUMNS, lineterminator="\n")
    writer.writeheader()
    for study in studies:
        writer.writerows({k: harmless(v) for k, v in row.items()} for row in _study_rows(study))
    return out.getvalue()


def to_json(studies: Iterable[Study]) -> str:
    """The studies in the JSON layout."""
    file = StudyFile(studies=tuple(studies))
    return file.model_dump_json(indent=1, exclude_defaults=True) + "\n"
