"""Thirty awkward tables of the same little log, and what each must give. Invented.

The plain log: on 2 March 2026 three sets of back squat, 60 kg x 8, 8, 7 with 2, 1, 0 in reserve; on 14 March two of bench press, 42.5 kg x 10
with 2 in reserve.
"""

from dataclasses import dataclass, field
from datetime import date

from lengthwise.questions.log_import import ImportWishes
from lengthwise.training.log import LoggedSet
from lengthwise.units import LB

FIRST, SECOND = date(2026, 3, 2), date(2026, 3, 14)
SQUATS = [LoggedSet(lift="back_squat", load_kg=60.0, repetitions=n, reserve=r) for n, r in ((8, 2.0), (8, 1.0), (7, 0.0))]
PRESSES = [LoggedSet(lift="bench_press", load_kg=42.5, repetitions=10, reserve=2.0)] * 2
PLAIN = {FIRST: SQUATS, SECOND: PRESSES}
HEAD = "date,lift,load_kg,repetitions,reserve\n"
BODY = (
    "2026-03-02,back_squat,60,8,2\n2026-03-02,back_squat,60,8,1\n2026-03-02,back_squat,60,7,0\n"
    "2026-03-14,bench_press,42.5,10,2\n2026-03-14,bench_press,42.5,10,2\n"
)
TEXT = HEAD + BODY


@dataclass(frozen=True)
class Awkward:
    """A table: its bytes, what is said about it, and the days it must give."""

    name: str
    content: bytes
    days: dict = field(default_factory=lambda: PLAIN)
    wishes: dict = field(default_factory=dict)
    repeats: int = 0
    not_done: int = 0

    def asked(self) -> ImportWishes:
        return ImportWishes(**{"person": "Mara Lindqvist", **self.wishes})


def semicolons(text: str) -> str:
    """As spreadsheets write it where the comma is the decimal mark."""
    return text.replace(",", ";").replace(".", ",")


def in_pounds(sets: list[LoggedSet], loads: list[float]) -> list[LoggedSet]:
    return [
        LoggedSet(lift=s.lift, load_kg=load * LB, repetitions=s.repetitions, reserve=s.reserve)
        for s, load in zip(sets, loads, strict=True)
    ]


def reordered_dates(order: str) -> str:
    days = {"dmy": ("02/03/2026", "14/03/2026"), "mdy": ("03/02/2026", "03/14/2026")}[order]
    return TEXT.replace("2026-03-02", days[0]).replace("2026-03-14", days[1])


POUNDS = {FIRST: in_pounds(SQUATS, [135.0] * 3), SECOND: in_pounds(PRESSES, [95.0] * 2)}
LB_TEXT = TEXT.replace("42.5", "95").replace(",60,", ",135,")
WARM = {
    FIRST: [
        LoggedSet(lift="back_squat", load_kg=40.0, repetitions=5, warm_up=True),
        LoggedSet(
            lift="back_squat", load_kg=60.0, repetitions=8, reserve=2.0, range="long", pain=("hip", "knee"), note="slow, deep"
        ),
    ]
}

TABLES = [
    Awkward("plain", TEXT.encode()),
    Awkward("utf-8 mark", b"\xef\xbb\xbf" + TEXT.encode()),
    Awkward("utf-16 with mark", TEXT.encode("utf-16")),
    Awkward("utf-16 big end first, no mark", TEXT.encode("utf-16-be")),
    Awkward("carriage returns", TEXT.replace("\n", "\r\n").encode()),
    Awkward("old carriage returns alone", TEXT.replace("\n", "\r").encode()),
    Awkward("no line end after the last row", TEXT.rstrip("\n").encode()),
    Awkward("semicolons and decimal commas", semicolons(TEXT).encode()),
    Awkward("tabs", TEXT.replace(",", "\t").encode()),
    Awkward("bars", TEXT.replace(",", "|").encode()),
    Awkward("sep= line", b"sep=;\r\n" + semicolons(TEXT).replace("\n", "\r\n").encode()),
    Awkward("commas with quoted decimal commas", TEXT.replace("42.5", '"42,5"').encode()),
    Awkward("everything quoted", "\n".join('"' + '","'.join(x.split(",")) + '"' for x in TEXT.splitlines()).encode()),
    Awkward("title and blank lines above the header", b"My training log\n\n" + TEXT.encode()),
    Awkward("blank rows and a row of commas", (HEAD + "\n,,,,\n" + BODY + "\n\n,,,,\n").encode()),
    Awkward("separators at line ends", "\n".join(line + ",," for line in TEXT.splitlines()).encode()),
    Awkward(
        "short rows",
        TEXT.replace(",10,2\n", ",10\n").encode(),
        {FIRST: SQUATS, SECOND: [LoggedSet(lift="bench_press", load_kg=42.5, repetitions=10)] * 2},
    ),
    Awkward("day first", reordered_dates("dmy").encode()),
    Awkward("month first", reordered_dates("mdy").encode()),
    Awkward(
        "times after dates", TEXT.replace("2026-03-02", "2026-03-02 18:30").replace("2026-03-14", "2026-03-14T07:05:00Z").encode()
    ),
    Awkward(
        "German, Windows-1252",
        (
            "Datum;Übung;Gewicht (kg);Wiederholungen;RIR\r\n02.03.2026;Kniebeuge;60;8;2\r\n02.03.2026;Kniebeuge;60;8;1\r\n"
            "02.03.2026;Kniebeuge;60;7;0\r\n14.03.2026;Bankdrücken;42,5;10;2\r\n14.03.2026;Bankdrücken;42,5;10;2\r\n"
        ).encode("cp1252"),
        wishes={"lifts": {"kniebeuge": "back_squat", "Bankdrücken": "bench_press"}},
    ),
    Awkward("pounds by the column's name", LB_TEXT.replace("load_kg", "Weight (lbs)").encode(), POUNDS),
    Awkward("pounds as told", LB_TEXT.replace("load_kg", "weight").encode(), POUNDS, {"unit": "lb"}),
    Awkward(
        "units mixed in the cells",
        TEXT.replace("load_kg", "weight").replace(",42.5,", ",95 lb,").replace(",60,", ",60 kg,").encode(),
        {FIRST: SQUATS, SECOND: POUNDS[SECOND]},
    ),
    Awkward(
        "units mixed in a column",
        ("date,lift,weight,unit,reps,rir\n" + BODY.replace(",42.5,", ",95,lb,").replace(",60,", ",60,kg,")).encode(),
        {FIRST: SQUATS, SECOND: POUNDS[SECOND]},
    ),
    Awkward(
        "sets counted in a column",
        (b"date,lift,weight,reps,rir,sets\n2026-03-02,back_squat,60 kg,8,2,2\n2026-03-14,bench_press,42.5 kg,10,2,2\n"),
        {FIRST: [SQUATS[0]] * 2, SECOND: PRESSES},
    ),
    Awkward("the whole log twice", (TEXT + BODY).encode(), repeats=5),
    Awkward(
        "numbered sets with a row repeated",
        (
            b"date,lift,set,load_kg,repetitions,reserve\n2026-03-02,back_squat,1,60,8,2\n2026-03-02,back_squat,2,60,8,1\n2026-03-02,back_squat,2,60,8,1\n"
            b"2026-03-02,back_squat,3,60,7,0\n2026-03-14,bench_press,1,42.5,10,2\n2026-03-14,bench_press,2,42.5,10,2\n"
        ),
        repeats=1,
    ),
    Awkward(
        "sets not done",
        (TEXT + "2026-03-16,bench_press,42.5,0,\n2026-03-16,bench_press,,,\n").replace("load_kg", "kg").encode(),
        not_done=1,
        wishes={"skip_faulty": True},
    ),
    Awkward(
        "names as people write them",
        TEXT.replace("back_squat", " Back Squat ")
        .replace("bench_press", "press, bench", 1)
        .replace("press, bench", '"Press, bench"')
        .encode(),
    ),
    Awkward(
        "warm-ups, range, joints and notes",
        (
            b'day,exercise,kg,reps,rir,range,warm up,pain,notes,colour of shirt\n2026-03-02,back_squat,40,5,,,yes,,,red\n2026-03-02,back_squat,60,8,2,long,,knee/hip,"slow, deep",red\n'
        ),
        WARM,
    ),
    Awkward(
        "exertion instead of reserve",
        TEXT.replace("reserve", "RPE")
        .replace(",8,2\n", ",8,8\n")
        .replace(",8,1\n", ",8,9\n")
        .replace(",7,0\n", ",7,10\n")
        .replace(",10,2\n", ",10,8\n")
        .encode(),
    ),
    Awkward(
        "quick lines in a column",
        b'date,lift,done\n2026-03-02,back_squat,"8,8,7 @ 60 r2/1/0"\n2026-03-14,bench_press,2x10 @ 42.5 r2\n',
    ),
    Awkward(
        "strange names told",
        TEXT.replace("date", "when").replace("load_kg", "heaviness").replace("repetitions", "times").encode(),
        wishes={"columns": {"day": "when", "load": "heaviness", "repetitions": "times"}, "unit": "kg"},
    ),
]
