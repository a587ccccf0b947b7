"""Importing tables: thirty awkward files give the log they hold, faults are told at once, and nothing is half imported."""

from datetime import date, timedelta
from pathlib import Path

import pytest
from awkward_tables import BODY, FIRST, HEAD, PLAIN, SECOND, TABLES, TEXT

import lengthwise as lw
from lengthwise.errors import DataFileError, InputError
from lengthwise.questions.answering import imports
from lengthwise.questions.answering.imports import import_log, look_into
from lengthwise.questions.log_import import ImportWishes
from lengthwise.records import log_entries as log_actions
from lengthwise.records import store as store_actions
from lengthwise.storage import backup
from lengthwise.training.client import Client
from lengthwise.web.background import GivenUp

MARA = ImportWishes(person="Mara Lindqvist")


def written(tmp_path: Path, content: bytes | str, name: str = "log.csv") -> Path:
    file = tmp_path / name
    file.write_bytes(content.encode() if isinstance(content, str) else content)
    return file


def days(person: str = "Mara Lindqvist") -> dict[date, list]:
    return {s.day: list(s.sets) for s in log_actions.read_log(person)}


def kept() -> dict[str, int]:
    with store_actions.store().reading() as db:
        return {t: n for t, n in backup.counts(db).items() if n and t != "clients"}


def test_a_table_is_imported_from_python(mara, tmp_path):
    done = lw.log_import(written(tmp_path, TEXT), person="Mara")
    assert done.json["imported"]["sets"] == done.found.imported.staged.sets == 5
    assert done.json["understood"]["columns"]["lift"] and done.json["understood"]["rows"] == done.found.understood.n_rows
    assert lw.log_import(written(tmp_path, TEXT), person="Mara").found.imported.entry is None


def test_there_are_thirty_tables():
    assert len({t.name for t in TABLES}) == len(TABLES) >= 30


@pytest.mark.parametrize("table", TABLES, ids=lambda t: t.name)
def test_an_awkward_table_gives_its_log(mara, tmp_path, table):
    seen = look_into(written(tmp_path, table.content), table.asked())
    assert kept() == {}
    done = import_log(seen)
    assert days() == table.days
    assert (done.staged, done.staged.repeats, done.not_done) == (seen.staged, table.repeats, table.not_done)


def test_a_table_of_a_hundred_megabytes_is_read_and_kept_whole(mara, tmp_path):
    """Twenty thousand sets with long words beside each, in columns that nobody asked for and in notes."""
    days_of = [FIRST - timedelta(days=k) for k in range(2000)]
    lines = (f"{d},back_squat,{60 + k % 20},8,2,{'word ' * 1000},note {k}\n" for d in days_of for k in range(10))
    file = tmp_path / "wide.csv"
    with file.open("w") as out:
        out.write("date,lift,load_kg,reps,reserve,mood,note\n")
        out.writelines(lines)
    assert file.stat().st_size >= 100_000_000
    done = import_log(look_into(file, MARA))
    assert (done.staged.sets, done.sessions_made) == (20_000, 2000)
    assert [s.load_kg for s in days()[FIRST]] == [float(60 + k) for k in range(10)]


def test_the_same_file_again_adds_nothing_and_a_longer_one_only_what_is_new(mara, tmp_path):
    file = written(tmp_path, TEXT)
    import_log(look_into(file, MARA))
    again = look_into(file, MARA)
    assert again.imported_at is not None and again.staged.sets == 0 and again.staged.known == 5
    assert import_log(again).entry is None
    longer = written(tmp_path, TEXT + "2026-03-14,bench_press,42.5,10,2\n2026-03-16,back_squat,62.5,8,2\n", "more.csv")
    done = import_log(look_into(longer, MARA))
    assert (done.staged.sets, done.staged.known, done.sessions_made) == (2, 5, 1)
    assert len(days()[SECOND]) == 3 and len(days()) == 3


def test_sets_entered_by_hand_are_not_counted_twice(mara, tmp_path):
    log_actions.add_sets(mara, "back_squat", "8 @ 60 r2 # by hand", FIRST)
    done = import_log(look_into(written(tmp_path, TEXT), MARA))
    assert done.staged.known == 1 and [s.repetitions for s in days()[FIRST]] == [8, 8, 7]


def test_an_import_is_taken_back_whole_and_leaves_what_was_there(mara, tmp_path):
    log_actions.add_sets(mara, "bench_press", "5 @ 50", FIRST)
    before = days()
    table = TEXT.replace("reserve", "reserve,pain,readiness").replace(",8,2\n", ",8,2,knee,4\n")
    done = import_log(look_into(written(tmp_path, table), MARA))
    assert [s.pain for s in days()[FIRST]] == [(), ("knee",), (), ()]
    gone = log_actions.undo(number=done.entry)
    assert (gone.sets, gone.sessions, gone.readiness) == (5, 1, 1) and days() == before
    assert import_log(look_into(written(tmp_path, table), MARA)).staged.sets == 5


def test_columns_and_spellings_are_remembered(mara, tmp_path):
    strange = TEXT.replace("date", "when").replace("load_kg", "heaviness").replace("back_squat", "Beuge")
    with pytest.raises(InputError, match="no column is known to hold day, load; the columns are 'when'"):
        look_into(written(tmp_path, strange), MARA)
    told = ImportWishes(person=MARA.person, columns={"day": "when", "load": "heaviness"}, unit="kg", lifts={"beuge": "Back squat"})
    first = look_into(written(tmp_path, strange), told)
    assert not first.remembered
    import_log(first)
    later = look_into(written(tmp_path, strange.replace("2026-03", "2026-04"), "april.csv"), MARA)
    assert later.remembered and later.columns["load"] == "heaviness" and later.doubtful == ()
    assert import_log(later).staged.sets == 5


def test_doubts_are_told_before_anything_is_kept(mara, tmp_path):
    seen = look_into(written(tmp_path, "date,lift,weight,reps\n02/03/2026,bench presss,60,8\n"), MARA)
    said = " ".join(seen.doubtful)
    assert "dates: dmy (both day first and month first are possible)" in said
    assert "unit: kg" in said and "'bench presss': bench_press (spelled like 'bench press')" in said


def test_a_unit_is_guessed_from_the_plates_or_the_client(mara, tmp_path):
    loads = "".join(f"2026-03-0{i},back_squat,{x},5\n" for i, x in enumerate((135, 185, 225, 95, 115), 1))
    assert look_into(written(tmp_path, "date,lift,weight,reps\n" + loads), MARA).guesses["unit"].value == "lb"
    store_actions.save_client(Client(name="Ann", mass_unit="lb"))
    plain = written(tmp_path, "date,lift,weight,reps\n2026-03-02,back_squat,60,5\n")
    assert look_into(plain, ImportWishes(person="Ann")).guesses["unit"].value == "lb"
    assert look_into(plain, MARA).guesses["unit"].value == "kg"


def test_every_fault_is_told_at_once_and_nothing_is_kept(mara, tmp_path):
    bad = HEAD + (
        "2026-03-02,back_squat,60,8,2\n"
        "2026-13-02,back_squat,60,8,2\n"
        "2026-03-02,bak squat machine,60,8,2\n"
        "2026-03-02,back_squat,sixty,8,2\n"
        "2026-03-02,back_squat,60,eight,2\n"
        "2026-03-02,back_squat,60,8,12\n"
        "2026-03-02,back_squat,60,5,8,2\n"
        "2026-03-02,back_squat,,8,2\n"
    )
    seen = look_into(written(tmp_path, bad), MARA)
    said = "\n".join(seen.faults)
    for line, words in (
        (3, "date: found '2026-13-02'; allowed a day"),
        (4, "lift: found 'bak squat machine'"),
        (5, "load_kg: found 'sixty'; allowed a load"),
        (6, "repetitions: found 'eight'; allowed a whole number, 0 to 100"),
        (7, "reserve: found '12'; allowed a number, 0 to 10"),
        (8, "more than 5 cells; a decimal comma needs another separator or quotes"),
        (9, "found no load for 'back_squat'"),
    ):
        assert f"line {line}: {words}" in said
    with pytest.raises(DataFileError, match="nothing was imported"):
        import_log(seen)
    assert kept() == {}
    skipping = look_into(written(tmp_path, bad), ImportWishes(person=MARA.person, skip_faulty=True))
    done = import_log(skipping)
    assert (done.staged.sets, done.faulty) == (1, 7)


def test_a_column_of_too_many_lifts_is_told_before_each_is_looked_for(mara, tmp_path):
    file = tmp_path / "notes.csv"
    file.write_text("date,exercise,kg,reps\n" + "".join(f"2026-01-05,note {i},60,5\n" for i in range(5001)))
    with pytest.raises(
        InputError, match="column 'exercise' names 5001 different lifts; allowed 5000; is it really the column of lifts"
    ):
        look_into(file, ImportWishes(person=mara))


def test_a_table_of_several_clients_goes_to_each(mara, tmp_path):
    ben = store_actions.save_client(Client(name="Ben Holt"))
    rows = "client," + HEAD + "".join(f"{who},{row}\n" for who in ("mara lindqvist", "Ben Holt") for row in BODY.splitlines())
    done = import_log(look_into(written(tmp_path, rows), ImportWishes()))
    assert (done.staged.sets, done.staged.clients, done.sessions_made) == (10, 2, 4)
    assert days() == days("Ben") == PLAIN and ben == 2
    stranger = look_into(written(tmp_path, rows.replace("Ben Holt", "Ben Hold")), ImportWishes())
    assert "line 7: client: found 'Ben Hold'; allowed a client of the store: Ben Holt" in stranger.faults[0]


def test_bodyweight_lifts_go_without_a_load(mara, tmp_path):
    done = import_log(
        look_into(
            written(tmp_path, "date,lift,kg,reps\n2026-03-02,pull_up,,8\n2026-03-02,pull_up,+10,5\n2026-03-02,pull_up,bw,5\n"), MARA
        )
    )
    assert done.staged.sets == 3 and [s.load_kg for s in days()[FIRST]] == [0, 10, 0]


def test_repeats_of_the_file_can_be_kept(mara, tmp_path):
    file = written(tmp_path, TEXT + BODY)
    seen = look_into(file, MARA)
    assert (seen.staged.sets, seen.staged.repeats, seen.staged.repeat_lines) == (5, 5, (7, 8, 9, 10, 11))
    assert import_log(look_into(file, ImportWishes(person=MARA.person, keep_repeats=True))).staged.sets == 10


def test_sets_done_in_turn_are_no_repeats(mara, tmp_path):
    turn = "".join(f"2026-03-02,{lift},40,8,2\n" for _ in range(3) for lift in ("back_squat", "bench_press"))
    assert look_into(written(tmp_path, HEAD + turn), MARA).staged.sets == 6


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "the file is empty"),
        (b"   \n\n", "the file is empty"),
        (b"PK\x03\x04 spreadsheet", "this is no text"),
        (b"\x00\x01\x02\x03" * 100, "this is no text"),
        (b"1,2,3\n4,5,6\n", "no row names the columns"),
        (HEAD.encode(), "no rows below the header"),
        (HEAD.encode() + b'2026-03-02,"back_squat,60,8,2\n' + b"x" * 200_000, "every quote closed"),
    ],
)
def test_a_file_that_cannot_be_read_says_why(mara, tmp_path, content, words):
    with pytest.raises(DataFileError, match=words):
        look_into(written(tmp_path, content), MARA)


def test_a_file_that_is_not_there_or_changed_is_refused(mara, tmp_path):
    with pytest.raises(DataFileError, match="No such file"):
        look_into(tmp_path / "none.csv", MARA)
    file = written(tmp_path, TEXT)
    seen = look_into(file, MARA)
    file.write_text(TEXT + "2026-03-16,back_squat,60,8,2\n")
    with pytest.raises(InputError, match="has changed since"):
        import_log(seen)
    assert kept() == {}


def test_a_failure_in_the_middle_leaves_nothing(mara, tmp_path, monkeypatch):
    seen = look_into(written(tmp_path, TEXT), MARA)

    def broken(*given):
        raise OSError("the disk is gone")

    monkeypatch.setattr(imports.bulk, "MOVE_READINESS", "INSERT INTO nowhere SELECT :entry")
    with pytest.raises(InputError, match="nowhere"):
        import_log(seen)
    assert kept() == {}


def test_an_import_that_is_stopped_at_any_step_keeps_nothing(mara, tmp_path):
    """What a page's Stop does: the next word on how far it is ends the work."""
    file = written(tmp_path, "date,lift,load_kg,reps,reserve\n" + "".join(f"{FIRST},back_squat,{60 + k},8,2\n" for k in range(40)))
    seen, steps = look_into(file, MARA, count=False), []
    for last in range(1, 100):
        told = iter(range(last - 1))

        def heard(step, share, told=told):
            steps.append(step)
            if next(told, None) is None:
                raise GivenUp

        try:
            import_log(seen, heard)
            break
        except GivenUp:
            assert kept() == {}
    assert {"reading", "looking for duplicates", "making sessions", "keeping sets"} <= set(steps)
    assert len(days()[FIRST]) == 40


def test_wishes_that_cannot_be_met_are_refused(mara, tmp_path):
    file = written(tmp_path, TEXT)
    for wishes, words in (
        (ImportWishes(person="Mara", dates="ydm"), "dates 'ydm'; allowed ymd, dmy, mdy"),
        (ImportWishes(person="Mara", unit="stone"), "units 'stone'; allowed kg, lb"),
        (ImportWishes(person="Mara", columns={"weight": "load_kg"}), "no meaning of a column is called 'weight'"),
        (ImportWishes(person="Mara", columns={"load": "Kg"}), "no column is called 'Kg'"),
        (ImportWishes(person="Mara", lifts={"back_squat": "sqat"}), "no lift is called 'sqat'"),
        (ImportWishes(), "no column is known to hold person"),
    ):
        with pytest.raises(InputError, match=words):
            look_into(file, wishes)
