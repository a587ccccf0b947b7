"""Everything that reads text or bytes from outside, with an input that it takes; and how inputs are spoilt."""

import random
import zipfile
from collections.abc import Callable, Iterator, Mapping
from io import BytesIO
from pathlib import Path
from typing import Any

from lengthwise.body.posture import parse_posture
from lengthwise.errors import DataFileError, InputError
from lengthwise.grading.criteria import preferences
from lengthwise.grading.criterion_weights import _default_text, read_weights
from lengthwise.grading.trial_file import read_trials
from lengthwise.known import evidence
from lengthwise.known.library import library_of
from lengthwise.questions.answering import effect_tables, grading
from lengthwise.questions.answering.imports import look_into
from lengthwise.questions.fields import settings, spans
from lengthwise.questions.log_import import ImportWishes
from lengthwise.questions.week import minutes_by_day
from lengthwise.records import log_entries, people
from lengthwise.records.lift_names import match_lifts
from lengthwise.records.own_lifts import template_of
from lengthwise.records.store import store
from lengthwise.storage.backup import read_backup, restore, write_backup
from lengthwise.training.quick_line import read_quick_line
from lengthwise.web import who
from lengthwise.web.loads_text import read_loads
from lengthwise.web.pages.settings import local
from lengthwise.web.security import host_name
from lengthwise.weeks.week_edit import week_from_text

Reader = Callable[[bytes], Any]


def _text(read: Callable[[str], Any]) -> Reader:
    return lambda sent: read(sent.decode("utf-8", "replace"))


def _words(read: Callable[[tuple[str, ...]], Any]) -> Reader:
    return _text(lambda text: read(tuple(text.split())))


def _table(folder: Path) -> Reader:
    def read(sent: bytes) -> Any:
        file = folder / "table.csv"
        file.write_bytes(sent)
        return look_into(file, ImportWishes(person="Ada"), count=False)

    return read


def _backup() -> bytes:
    """A backup of the present store, not packed, so that what is spoilt is what it holds."""
    made, plain = BytesIO(), BytesIO()
    with store().reading() as db:
        write_backup(db, made, lambda step, share: None)
    with zipfile.ZipFile(made) as packed, zipfile.ZipFile(plain, "w") as archive:
        for name in packed.namelist():
            archive.writestr(name, packed.read(name))
    return plain.getvalue()


def _restore(sent: bytes) -> Any:
    """A backup whose rows are spoilt and whose sums are right; nothing of it is kept."""
    with store().trying() as db:
        return restore(db, "b.zip", _mended(sent), lambda step, share: None, replace=True)


def _mended(sent: bytes) -> BytesIO:
    """The store's own backup with one table's rows replaced by what was sent."""
    made = BytesIO()
    with zipfile.ZipFile(BytesIO(_backup())) as whole, zipfile.ZipFile(made, "w") as archive:
        for name in whole.namelist():
            archive.writestr(name, sent if name == "clients.jsonl" else whole.read(name))
    made.seek(0)
    return made


def _rows() -> bytes:
    with zipfile.ZipFile(BytesIO(_backup())) as whole:
        return whole.read("clients.jsonl")


def _loads(text: str) -> Any:
    try:
        return read_loads(text, "metric")
    except ValueError as error:  # which the form of a record tells beside its field
        raise InputError(str(error)) from error


STUDY = (
    b"study,year,source,doi,title,design,weeks,population,arm,n,change_mean,change_sd,versus,muscle,measure,unit,obtained,note,claims\n"
    b"s1,2020,somewhere,,,parallel,8,,a,10,3,1,,triceps,thickness,mm,read,,\n"
)
TRIALS = (
    b'[[comparison]]\ntrial = "Own 1"\nhead = "vastus_lateralis"\na = { lift = "leg_extension", range = "long" }\n'
    b'b = { lift = "leg_extension", range = "short" }\nobserved = 3.0\nsource = "where"\n'
)


def _own_lift(text: str) -> None:
    faults = library_of((("own", text),)).faults
    if faults:
        raise DataFileError(list(faults["own"]), asked="own")


def readers(folder: Path) -> Mapping[str, tuple[Reader, bytes]]:
    """What reads each kind of input, and one that it takes; `folder` is for those that read files."""
    return {
        "set line": (
            _text(lambda t: read_quick_line(t, "back_squat")),
            b"3x8 @ 60/62,5/65kg r2 long pain knee # note; 8,8,7 @ bw+10",
        ),
        "lift file": (_text(_own_lift), template_of("Mine").encode()),
        "record": (lambda sent: people.client_of(people.toml_table(sent, "record"), "record"), b'name = "Ada"\nmass_kg = 70.0\n'),
        "study table": (_text(lambda t: evidence.check_study_text("s.csv", t)), STUDY),
        "study json": (_text(lambda t: evidence.check_study_text("s.json", t)), b'{"studies": [{"id": "s1", "year": 2020}]}'),
        "effects": (
            _text(lambda t: effect_tables.effects_of_text("t", t)),
            b"yi,vi,study,cluster,dose\n0.2,0.04,a,1,3\n0.3,0.05,b,1,4\n",
        ),
        "trials": (_text(lambda t: read_trials("t", t)), TRIALS),
        "weights": (_text(lambda t: read_weights("w", t)), _default_text().encode()),
        "log table": (_table(folder), b"date;lift;weight (kg);reps;RIR\n2026-03-02;Back squat;62,5;8;2\n"),
        "reading": (_words(lambda w: log_entries.readings("girth", w)), b"36.5 36,5cm 14.5in"),
        "week": (_text(week_from_text), b'{"days": [], "weekly_sets": {}, "muscle_sets": {}, "value": 0.0, "gap": 1.0}'),
        "posture": (_text(parse_posture), b"shoulder_flexion=90 elbow_flexion=60"),
        "set-up": (_words(lambda w: settings(list(w))), b"bench_deg=30 grip_cm=50"),
        "weight words": (_words(grading.parse_weights), " ".join(f"{n}=2" for n in list(preferences())[:3]).encode()),
        "bounds": (_words(spans), b"back_squat=1-4"),
        "minutes": (_words(minutes_by_day), b"monday=60"),
        "lift name": (_text(lambda t: match_lifts([t[:200]], {})), b"Back squat (high bar)"),
        "loads of gear": (_text(_loads), b"bar 20 plates 20 10 5"),
        "cookie": (_text(who.read), b"sex=man&stature_m=1.8&mass_kg=80&age_y=30&training=trained"),
        "address back": (_text(local), b"/people/1?kept=yes"),
        "host": (_text(host_name), b"localhost:8610"),
        "backup": (lambda sent: read_backup("b.zip", BytesIO(sent)), _backup()),
        "rows of a backup": (_restore, _rows()),
    }


PIECES = (
    b"9" * 5000, b"1e999", b"-", b"nan", b"inf", b"\r", b"\x00", b"\xff\xfe", b"[" * 3000, b"{" * 500, b'"', b"'" * 3, b",", b";", b"=",
    b"\xd9\xa3", b"\xef\xbc\x93", b"\xc2\xb2", b"\n", b" " * 300, b"x" * 400, b"@", b"/", b"..", b"a=1\n" * 50, b"0001-01-01", b"9999-12-31",
    b"\xf0\x9f\x8f\x8b", b"e\xcc\x81" * 50, b"0x1f", b"1_000", b"true", b"null", b"\xed\xa0\x80",
)  # fmt: skip
"""What trips readers: long numbers, other digits, quotes, bare returns, nesting, halves of pairs."""


def spoilt(seed: int, whole: bytes) -> Iterator[bytes]:
    """Endless spoilt inputs, the same ones for the same seed."""
    chance = random.Random(seed)
    while True:
        made = bytearray(whole)
        for _ in range(chance.choice((1, 1, 1, 2, 3, 6))):
            at, end = sorted((chance.randrange(len(made) + 1), chance.randrange(len(made) + 1)))
            match chance.randrange(6):
                case 0:
                    made[at:at] = chance.choice(PIECES)
                case 1:
                    made[at : at + chance.randrange(1, 5)] = chance.choice(PIECES)
                case 2:
                    del made[at : min(end, at + 20)]
                case 3 if made:
                    made[min(at, len(made) - 1)] = chance.randrange(256)
                case 4:
                    made[at:at] = made[at : min(end, at + 200)]
                case _:
                    digits = [i for i, c in enumerate(made) if 48 <= c < 58]
                    if digits:
                        i = chance.choice(digits)
                        made[i : i + 1] = chance.choice(PIECES[:6])
        yield bytes(made[:100_000])
