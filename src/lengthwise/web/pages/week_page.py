"""A client's week: planned, changed by hand with what stands against it said at once, kept, and handed over."""

from collections.abc import Collection
from datetime import date, timedelta
from typing import Annotated, Any, Literal, get_args

from fastapi import Form, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from lengthwise.days import monday_meant, monday_of, monday_to_open
from lengthwise.errors import InputError, LengthwiseError
from lengthwise.grading.long_half import LONG_HALVES
from lengthwise.known.lifts import all_lifts
from lengthwise.lifts.catalogue import gear
from lengthwise.planning.recount import UNKNOWN_GAP
from lengthwise.planning.shape import TEMPLATES
from lengthwise.planning.week import Week
from lengthwise.practice.beginning import screening_of
from lengthwise.quantities import percent
from lengthwise.questions import named
from lengthwise.questions.answering.sheets import block_paper, week_paper
from lengthwise.questions.week import QUESTION
from lengthwise.records.kept_weeks import gone_lifts, keep_week, week_of
from lengthwise.records.past import past_of_number, past_of_week
from lengthwise.report.typeset import Paper, pdf
from lengthwise.report.week_files import calendar_text, csv_text
from lengthwise.training.client import StoredClient
from lengthwise.training.methods import SUPERSET, methods
from lengthwise.training.phases import phases
from lengthwise.training.places import presets
from lengthwise.web.api.question_addresses import job_of
from lengthwise.web.asker import Seen
from lengthwise.web.background import step
from lengthwise.web.client_jobs import near_to_kept, offer_for, offer_job, placed, plan_job, when_done
from lengthwise.web.kept_clients import is_coach, noted
from lengthwise.web.pages.log_page import onward
from lengthwise.web.pictures import saved_file
from lengthwise.web.rendering import page, page_of
from lengthwise.web.routes import Role, Routes
from lengthwise.weeks.standing import as_it_stands
from lengthwise.weeks.swap_fit import Because
from lengthwise.weeks.swap_taken import Span, edited_for_pain, take_swap
from lengthwise.weeks.swapping import Where, joint_told
from lengthwise.weeks.week_edit import Edit, Edited, edit_week, week_from_text, week_text

router = Routes()
Day = Annotated[date | None, Query()]
Words = Annotated[list[str], Query(max_length=20)]
EMPTY = Week(days=(), weekly_sets={}, muscle_sets={}, value=0.0, gap=1.0)
WORDS = "Computing the lifts for this body; this happens once."


@router.get("/week", Role.SIGNED_IN)
def whose(request: Request, add: Annotated[str, Query(max_length=80)] = "") -> Response:
    """On to the week of whoever is picked, with a lift to be added."""
    found = onward(request, "week", "Week")
    if add and isinstance(found, RedirectResponse):
        found.headers["location"] += f"?add={all_lifts().find(add)}"
    return found


@router.get("/week/{number:client}", Role.OWN)
def week(request: Request, found: Seen, monday: Day = None, add: Annotated[str, Query(max_length=80)] = "") -> HTMLResponse:
    """The week as it is kept, the form to plan it anew, and the board that can be changed once the lifts are computed."""
    first = monday_meant(monday)
    kept = week_of(found.number, first)
    if not (monday or add or kept):
        first = monday_to_open(date.today(), any(d.day == "sunday" for d in found.client.days))
        kept = week_of(found.number, first)
    values = {
        "here": "week",
        "found": found,
        "monday": first,
        "before": first - timedelta(weeks=1),
        "after": first + timedelta(weeks=1),
        "kept": kept,
        "gone": gone_lifts(kept.week) if kept else (),
        "add": all_lifts().find(add) if add else "",
        "was_kept": request.query_params.get("kept") == "yes",
        "gear": {k: gear()[k].name for p in found.client.places.values() for k in p.gear if k in gear()},
        "places": {**dict.fromkeys(found.client.places, ""), **{k: p["name"] for k, p in presets().items()}},
        "templates": TEMPLATES,
        "phases": {k: p.words for k, p in phases().items()},
        "ways": {k: m for k, m in methods().items() if k != SUPERSET},
        "share": f"{100 * found.client.wishes.most_share:g}",
        "held": _held(found),
    }
    return page_of(request, "week.html", values)


def _held(found: StoredClient) -> tuple[str, ...]:
    """Why a clinician is to be seen before anything is planned; empty where the screening does not say so."""
    outcome = screening_of(found.client)
    return outcome.told if outcome and outcome.answer == "see a clinician first" else ()


@router.get("/week/{number:client}/board", Role.OWN)
def board(request: Request, found: Seen, monday: Day = None, add: Annotated[str, Query(max_length=80)] = "") -> HTMLResponse:
    """The kept week to be changed by hand."""
    first = monday_meant(monday)
    kept = week_of(found.number, first)
    now = when_done(request, *offer_job(found, kept.week if kept else EMPTY, first), WORDS)
    return _board(request, found, first, now, add, stands=kept is not None)


@router.get("/week/{number:client}/planned", Role.OWN)
def planned(
    request: Request,
    found: Seen,
    monday: Day = None,
    without: Words = [],  # noqa: B006 - FastAPI copies it
    minutes: Words = [],  # noqa: B006
    ways: Annotated[int, Query(ge=1, le=3)] = 1,
    near: bool = False,
    place: Annotated[str, Query(max_length=40)] = "",
    template: Annotated[str, Query(max_length=20)] = "",
    share: Annotated[str, Query(pattern=r"^([3-7]\d)?$")] = "",
    phase: Annotated[str, Query(max_length=20)] = "",
    way: Words = [],  # noqa: B006
    fix: Words = [],  # noqa: B006
    keep_day: Words = [],  # noqa: B006
) -> HTMLResponse:
    """The best week under these changes, or a few that clearly differ; nothing is kept by asking."""
    asked = QUESTION.asked(
        client=found, monday=monday, without=without, minutes=[m for m in minutes if not m.endswith("=")], place=place,
        template=template, most_share=int(share) / 100 if share else None, phase=phase, save_time=way, fix=fix,
        keep_day=keep_day, ways=ways,
    )  # fmt: skip
    told = when_done(request, *plan_job(near_to_kept(asked, near)), QUESTION.waiting)
    boards = [{**_values(found, monday_meant(monday), one, ""), "stay": _stay(fix)} for one in told]
    return page(request, "parts/week_boards.html", {"boards": boards})


@router.post("/week/{number:client}/edit", Role.OWN, in_turn=True)
def edit(
    request: Request,
    found: Seen,
    week: Annotated[str, Form(max_length=400_000)],
    do: Annotated[Literal["look", "move", "sets", "remove", "add", "swap"], Form()],
    monday: Annotated[date, Form()],
    day: Annotated[str, Form(max_length=12)] = "",
    lift: Annotated[str, Form(max_length=80)] = "",
    range: Annotated[Literal["full", "long", "short"], Form()] = "full",
    to: Annotated[str, Form(max_length=80)] = "",
    sets: Annotated[int, Form()] = 3,
    because: Annotated[str, Form(max_length=20)] = "",
    joint: Annotated[str, Form(max_length=40)] = "",
    n: Annotated[int, Form(ge=1, le=3)] = 1,
    fix: Annotated[list[str], Form(max_length=40)] = [],  # noqa: B006 - FastAPI copies it
) -> HTMLResponse:
    """One change by hand; the answer is the board with its minutes, its sets, what stands against it, and the way back.

    To look at a week as it was sent is how a change is taken back. A lift that was moved is marked to stay where it was put.
    """
    before = week_from_text(week)
    there, past = placed(found, before), past_of_week(found.number, monday_meant(monday))
    offer = offer_for(there, past, step)
    asked = Edit(do=do, day=day, lift=lift, range=range, to=to, sets=sets)
    try:
        if do == "swap" and because == "pain":
            now = edited_for_pain(there.client, offer, (before, monday_meant(monday)), asked, past, joint)
        else:
            now = edit_week(there.client, offer, before, asked, past)
        stay = _stay(fix) | ({f"{to}:{lift}"} if do == "move" else set())
    except LengthwiseError as error:
        same = edit_week(there.client, offer, before, Edit(), past)
        now, stay = Edited(same.week, (str(error), *same.against)), _stay(fix)
    return _board(request, found, monday_meant(monday), now, "", (n, week), stay=stay)


def _stay(fix: list[str]) -> set[str]:
    """Lifts that are marked to stay, as day:lift, from day:lift:sets."""
    return {word.rpartition(":")[0] for word in fix}


@router.get("/week/{number:client}/swap", Role.OWN)
def swap(
    request: Request,
    found: Seen,
    lift: Annotated[str, Query(max_length=80)] = "",
    because: Annotated[Because, Query()] = "",
    joint: Annotated[Where, Query()] = "",
    monday: Day = None,
) -> HTMLResponse:
    """What could come instead of a lift: which lift, why it goes, where it hurts; the answer follows."""
    lift_id = all_lifts().find(lift) if lift else ""
    values = {
        "here": "week",
        "found": found,
        "lift_id": lift_id,
        "lift": all_lifts().lifts[lift_id].name if lift_id else "",
        "because": because,
        "joint": joint,
        "joints": [j for j in get_args(Where) if j],
        "monday": monday_meant(monday),
        "lifts": sorted(own.name for own in all_lifts().lifts.values()),
    }
    return page(request, "swap.html", values)


@router.get("/week/{number:client}/swap/answer", Role.OWN)
def swapped(
    request: Request,
    found: Seen,
    lift: Annotated[str, Query(max_length=80)],
    because: Annotated[Because, Query()] = "",
    joint: Annotated[Where, Query()] = "",
    day: Annotated[str, Query(max_length=12)] = "",
    n: Annotated[int, Query(ge=1, le=3)] = 1,
    monday: Day = None,
) -> HTMLResponse:
    """The best replacements; beside a day of the board each with a button that puts it there, else into the kept week or block."""
    told = when_done(request, *job_of("swap", named("swap").asked(client=found, lift=lift, because=because, joint=joint)), WORDS)
    first = monday_meant(monday)
    held = week_of(found.number, first)
    here = held is not None and any(x.lift == told.lift for d in held.week.days for x in d.lifts)
    values = {
        "swap": told,
        "joint_told": joint_told(told),
        "found": found,
        "day": day,
        "n": n,
        "monday": first,
        "may_take": here and is_coach(request),
    }
    return page(request, "parts/swap.html", values)


@router.post("/week/{number:client}/swap/take", Role.COACH, in_turn=True)
def take(
    request: Request,
    found: Seen,
    lift: Annotated[str, Form(max_length=80)],
    to: Annotated[str, Form(max_length=80)],
    monday: Annotated[date, Form()],
    span: Annotated[Span, Form()] = "week",
    because: Annotated[str, Form(max_length=20)] = "",
    joint: Annotated[str, Form(max_length=40)] = "",
) -> HTMLResponse:
    """A replacement put into the kept week, or into every kept week of its block from then on; what that did."""
    first = monday_meant(monday)
    taken = take_swap(found.number, found.client, lift, to, first, span=span, because=because, joint=joint)
    for one in taken:
        noted(request, "week saved", found.number, str(one.monday))
    return page(request, "parts/swap_taken.html", {"found": found, "taken": taken})


@router.post("/week/{number:client}/keep", Role.COACH, in_turn=True)
def keep(
    request: Request,
    found: Seen,
    week: Annotated[str, Form(max_length=400_000)],
    monday: Annotated[date, Form()],
    seen: Annotated[bool, Form()] = False,
) -> RedirectResponse:
    """Keep a week; the one kept before stays in the store as an older version.

    Raises:
        InputError: a draft that nobody has said to have seen.
    """
    first = monday_meant(monday)
    sent = week_from_text(week)
    there, past = placed(found, sent), past_of_week(found.number, first)
    edited = edit_week(there.client, offer_for(there, past, step), sent, Edit(), past)
    if _is_draft(edited.week) and not seen:
        raise InputError(
            f"a draft: a week with a score up to {percent(edited.week.gap)} higher may exist; tick that you know it is a draft, then save it"
        )
    keep_week(found.number, first, edited.week, "kept on the page")
    noted(request, "week saved", found.number, str(first))
    return RedirectResponse(f"/week/{found.number}?monday={first}&kept=yes", 303)


@router.get("/week/{number:client}/block.pdf", Role.OWN, in_turn=True)
def block(found: Seen, monday: Day = None, weeks: Annotated[int, Query(ge=4, le=8)] = 6, size: Paper = "a4") -> Response:
    """The block that the kept week begins, on one sheet.

    Raises:
        InputError: no week is kept.
    """
    first = monday_meant(monday)
    made = block_paper(found.client, _standing(found, first), weeks, past_of_number(found.number))
    return saved_file(pdf(made, size), f"block_{first}.pdf")


def _standing(found: StoredClient, first: date) -> Week:
    """The week that is kept, as it stands today; one that is over as it was.

    Raises:
        InputError: no week is kept.
    """
    kept = week_of(found.number, first)
    if kept is None:
        raise InputError(f"no week is saved for the week of {first}; plan and save one first", asked=str(first))
    over = first < monday_of(date.today())
    return kept.week if over else as_it_stands(placed(found, kept.week).client, kept.week, past_of_number(found.number))


@router.get("/week/{number:client}/week.{kind}", Role.OWN, in_turn=True)
def paper(request: Request, found: Seen, kind: Literal["pdf", "csv", "ics"], monday: Day = None, size: Paper = "a4") -> Response:
    """The kept week as a sheet, a table or a calendar.

    Raises:
        InputError: no week is kept.
    """
    first = monday_meant(monday)
    week = _standing(found, first)
    name = f"week_{first}.{kind}"
    if kind == "pdf":
        sheet = week_paper(found.client, week, f"{request.base_url}log/{found.number}", past_of_number(found.number))
        return saved_file(pdf(sheet, size), name)
    if kind == "csv":
        return saved_file(csv_text(week), name)
    return saved_file(calendar_text(week, found.client.name, first, unit=found.client.mass_unit), name)


def _board(
    request: Request,
    found: StoredClient,
    monday: date,
    now: Edited,
    add: str,
    of: tuple[int, str] = (1, ""),
    stands: bool = False,
    stay: Collection[str] = (),
) -> HTMLResponse:
    """The board; `of` says which of several it is and the text of the week before the change, where there is one; `stands` that it is kept;
    `stay` which lifts are marked to stay when it is planned again.
    """
    values = {
        **_values(found, monday, now, add), "may_keep": is_coach(request), "n": of[0], "undo": of[1], "stands": stands, "stay": stay,
    }  # fmt: skip
    return page(request, "parts/week_board.html", values)


def _is_draft(week: Week) -> bool:
    """Whether a planned week may well be bettered; of one that was changed by hand nothing is claimed."""
    return week.draft and week.gap < UNKNOWN_GAP


def _values(found: StoredClient, monday: date, now: Edited, add: str) -> dict[str, Any]:
    lifts = all_lifts()
    try:
        adding = lifts.find(add) if add else ""
    except LengthwiseError:
        adding = ""
    return {
        "found": found,
        "monday": monday,
        "week": now.week,
        "against": now.against,
        "said": now.said,
        "met": now.met,
        "draft": _is_draft(now.week),
        "text": week_text(now.week),
        "limits": {d.day: d.minutes for d in found.client.days},
        "add": adding,
        "add_name": lifts.lifts[adding].name if adding else "",
        "may_keep": True,
        "names": sorted((lift.name, i) for i, lift in lifts.lifts.items()),
        "ways": methods(),
        "long_halves": LONG_HALVES,
    }
