"""A week's calendar and table, read back by other libraries."""

import csv
import io
from datetime import UTC, date, datetime, timedelta

import vobject

from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.report.week_files import calendar_text, csv_text

CURL = PlannedLift(
    lift="dumbbell_curl",
    range="full",
    name="Dumbbell curl, slow; both, arms",
    sets=3,
    repetitions=(10, 15),
    reserve=2,
    load_kg=9.0,
    guess=False,
    pair=1,
    muscle="biceps",
    gear="dumbbell",
    why="why",
)
SQUAT = PlannedLift(
    lift="back_squat",
    range="long",
    name="Back squat with a name so long that its line has to be folded somewhere",
    sets=4,
    repetitions=(6, 10),
    reserve=1.5,
)
WEEK = Week(
    days=(
        PlannedDay("tuesday", "Café, first floor", 58.6, (SQUAT, CURL)),
        PlannedDay("wednesday", "gym", 5, ()),
        PlannedDay("sunday", "gym", 30, (CURL,)),
    ),
    weekly_sets={},
    muscle_sets={},
    value=1.0,
    gap=0.0,
)
MADE = datetime(2026, 2, 27, 9, 0, tzinfo=UTC)


def test_another_library_reads_the_calendar():
    raw = calendar_text(WEEK, "Mara", date(2026, 3, 2), MADE)
    events = vobject.readOne(raw.decode("utf-8")).vevent_list
    assert [e.dtstart.value for e in events] == [datetime(2026, 3, 3, 18), datetime(2026, 3, 8, 18)]
    assert [e.duration.value for e in events] == [timedelta(minutes=59), timedelta(minutes=30)]
    assert events[0].location.value == "Café, first floor"
    lines = events[0].description.value.split("\n")
    assert lines[0] == f"{SQUAT.name}: 4 × 6–10, 1.5 in reserve, long half"
    assert lines[1] == "Dumbbell curl, slow; both, arms: 3 × 10–15, 2 in reserve, 9 kg, superset A"
    assert len({e.uid.value for e in events}) == 2


def test_the_calendar_keeps_the_rules_of_its_format():
    raw = calendar_text(WEEK, "Mara", date(2026, 3, 2), MADE)
    assert raw.startswith(b"BEGIN:VCALENDAR\r\n") and raw.endswith(b"END:VCALENDAR\r\n")
    assert max(len(line) for line in raw.split(b"\r\n")) <= 75
    assert b"\n" not in raw.replace(b"\r\n", b"")
    assert b"DTSTAMP:20260227T090000Z" in raw and b"VERSION:2.0" in raw and b"PRODID:" in raw
    assert raw == calendar_text(WEEK, "Mara", date(2026, 3, 2), MADE)


def test_the_table_holds_every_lift():
    rows = list(csv.DictReader(io.StringIO(csv_text(WEEK), newline="")))
    assert [(r["day"], r["order"], r["lift"], r["sets"]) for r in rows] == [
        ("tuesday", "1", "back_squat", "4"),
        ("tuesday", "2", "dumbbell_curl", "3"),
        ("sunday", "1", "dumbbell_curl", "3"),
    ]
    assert (rows[0]["load_kg"], rows[1]["load_kg"], rows[1]["name"]) == ("", "9", "Dumbbell curl, slow; both, arms")
