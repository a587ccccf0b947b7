"""A client's load of one lift, and blocks of weeks; what takes longer than a moment answers 202: ask the same again."""

from collections.abc import Callable
from datetime import date
from typing import Annotated

from fastapi import Query
from fastapi.responses import Response

from lengthwise.actions.blocks import block_for, block_of_week
from lengthwise.actions.clients import load_of
from lengthwise.actions.kept_weeks import week_of
from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.past import past_of_number
from lengthwise.actions.week import plan_week
from lengthwise.questions.answers import model_of
from lengthwise.storage.clients import StoredClient
from lengthwise.training.block import Block
from lengthwise.training.prescription import Prescription, Target
from lengthwise.web.api.lifts import LiftName
from lengthwise.web.api.prescription_models import BlockQuestion, LoadQuestion
from lengthwise.web.api.waiting import BEING_COMPUTED, not_yet, sent
from lengthwise.web.asking import Seen
from lengthwise.web.client_jobs import jobs
from lengthwise.web.jobs import Told
from lengthwise.web.kept_clients import mark_of
from lengthwise.web.routes import Role, Routes, open_to
from lengthwise.web.week_days import monday_of

router = Routes(tags=["week"])
PrescriptionOut, BlockOut = model_of(Prescription), model_of(Block)


@router.get("/people/{number:client}/load/{lift}", response_model=PrescriptionOut, responses=BEING_COMPUTED)
@open_to(Role.OWN)
def load(found: Seen, lift: LiftName, asked: Annotated[LoadQuestion, Query()]) -> Response:
    """How a client is to do a lift: load that exists, repetitions, reserve, warm-up, rest, tempo, and how to test a guess."""
    job = jobs.ask(*load_job(found, lift, asked))
    return not_yet(job) or sent(PrescriptionOut, job.future.result())


@router.get("/week/{number:client}/block", response_model=BlockOut, responses=BEING_COMPUTED)
@open_to(Role.OWN)
def block(found: Seen, asked: Annotated[BlockQuestion, Query()]) -> Response:
    """A block of weeks: sets, loads that exist, repetitions and reserve, with the rules they follow."""
    job = jobs.ask(*block_job(found, asked))
    return not_yet(job) or sent(BlockOut, job.future.result())


def load_job(found: StoredClient, lift: str, asked: LoadQuestion) -> tuple[str, Callable[[Told], Prescription]]:
    """The load of a lift as something to be run: the first time, the body is fitted to the client's known lifts.

    Raises:
        UnknownNameError: no such lift. InputError: repetitions or reserve out of bounds.
    """
    lift_id = all_lifts().find(lift)
    low, _, high = asked.repetitions.partition("-")
    target = Target(
        repetitions=(int(low), int(high or low)) if low else None,
        reserve=asked.reserve,
        range=asked.range,
        place=asked.place or None,
    )
    key = f"load {mark_of(found)} {date.today()} {lift_id} {asked.model_dump_json()}"
    return key, lambda tell: load_of(found.client, lift_id, target)


def block_job(found: StoredClient, asked: BlockQuestion) -> tuple[str, Callable[[Told], Block]]:
    """Laying out a block as something to be run; where no week is kept it is planned first, and without days the known lifts are taken."""
    kept = None if asked.lift else week_of(found.number, monday_of(asked.monday))
    gain = asked.gain / 100

    def work(tell: Told) -> Block:
        if asked.lift or (kept is None and not found.client.days):
            return block_for(found.client, asked.lift, asked.weeks, gain)
        week = kept.week if kept else plan_week(found.client, progress=tell, past=past_of_number(found.number))
        return block_of_week(found.client, week, asked.weeks, gain)

    return f"block {mark_of(found)} {date.today()} {kept.number if kept else 0} {asked.model_dump_json()}", work
