"""What computes is worked out in its turn: few of one account at once, ended when whoever asked hangs up, and never within a plain request."""

import asyncio
import threading
from collections.abc import Iterator
from pathlib import Path

import matplotlib.figure
import pytest
import typst
from asking_plainly import Question, alone, ask
from fastapi import FastAPI
from here import HERE
from sent_bodies import LAST, sent_to
from test_every_route import filled, walked

import lengthwise.known.lift_facts as counting
import lengthwise.known.studies as studying
import lengthwise.known.trial_answers as trying
import lengthwise.known.weighed_claims as weighing
import lengthwise.questions.answering.reviewing as reviewing
import lengthwise.weeks.week_plans as planning
from kept_gym import copied, using
from lengthwise.core import whole_lifts as core
from lengthwise.errors import InputError
from lengthwise.files import spreading
from lengthwise.mechanics import many
from lengthwise.storage.account_rows import asked_by
from lengthwise.web import background
from lengthwise.web import kept_answers as answers
from lengthwise.web.app import create_app
from lengthwise.web.background import GivenUp, step, under_way
from lengthwise.web.routes import Role, Routes
from lengthwise.web.turns import OF_ONE_ACCOUNT

DOORS = (
    (core, "solve"),
    (matplotlib.figure.Figure, "savefig"),
    (typst, "compile"),
    (reviewing, "review"),
    (planning, "plan"),
    (weighing, "assess"),
    (counting, "in_threads"),
    (studying, "in_threads"),
    (many, "in_threads"),
    (trying, "in_threads"),
    (spreading, "spread_out"),
)
"""What takes longer than a moment: lifts solved, figures drawn, pages set, logs reviewed, weeks planned, evidence weighed."""
ASKED = {
    "/api/compare": "lift=back_squat&lift=hip_thrust",
    "/side-by-side": "lift=back_squat&lift=hip_thrust",
    "best-set-up": "head=gluteus_maximus_lower",
    "/api/tune": "head=gluteus_maximus_lower",
    "/api/split": "lift=cable_pushdown&lift=skull_crusher",
    "/split/": "muscle=triceps&lift=cable_pushdown&lift=skull_crusher",
    "/lift-audit": "lift=back_squat",
    "/api/strength": "angle=elbow_flexion",
    "/swap": "lift=back_squat",
}
"""What some addresses need besides; by a part of them."""


class Computing(InputError):
    """Stands for a computation."""


@pytest.fixture
def gym(demo_gym: Path, tmp_path: Path) -> Iterator[None]:
    """The demo gym with no facts of lifts kept: those that tests before this one left there would leave nothing to compute."""
    folder = copied(demo_gym, tmp_path / "gym")
    (folder / "cache" / "facts").unlink()
    with using(folder):
        yield


@pytest.fixture
def doors(monkeypatch: pytest.MonkeyPatch) -> dict[str, bool]:
    """By the name of each door that was reached, whether always in a job or a turn."""
    reached: dict[str, bool] = {}
    for where, name in DOORS:

        def door(*_: object, name: str = name, **__: object) -> None:
            reached[name] = reached.get(name, True) and under_way.get() is not None
            raise Computing("computing")

        monkeypatch.setattr(where, name, door)
    monkeypatch.setattr(background.finished, "__defaults__", (60.0,))
    for kept in (answers.profiles, answers.texts, answers.files):
        kept.forget()
    weighing._weighed.cache_clear()
    return reached


def query(path: str) -> str:
    return next((words for part, words in ASKED.items() if part in path), "")


def test_no_route_computes_within_a_plain_request(gym: None, doors: dict[str, bool]):
    app, seen, outside = create_app({"localhost"}), set[str](), set[str]()
    for path, route in walked(app):
        if "GET" in route.methods and "picture.{kind}" not in path:
            address = filled(path, 1).replace("/block/svg", "/block/a4").replace("/week.svg", "/week.pdf")
            doors.clear()
            ask(app, Question(address, query=query(address), cookies={"body": "stature_m=1.641"}))
            seen.update(doors)
            outside.update(f"{address}: {name}" for name, inside in doors.items() if not inside)
    assert outside == set()
    assert seen >= {"solve", "assess", "in_threads"}


def test_no_change_computes_within_a_plain_request_or_breaks(gym: None, doors: dict[str, bool]):
    """What breaks is raised here; what is refused is told in words."""
    app, seen, outside, answers = create_app({"localhost"}), set[str](), set[str](), dict[str, int]()
    changes = [(path, m) for path, route in walked(app) for m in sorted(route.methods - {"GET", "HEAD"})]
    for path, method in sorted(changes, key=lambda change: (LAST.index(change[0]) + 1 if change[0] in LAST else 0, change)):
        kind, body = sent_to(path)
        doors.clear()
        headers = (("content-type", kind), ("sec-fetch-site", "same-origin"))
        asked = Question(filled(path, 1), method, headers=headers, cookies={"body": "stature_m=1.641"}, body=body)
        answers[f"{method} {path}"] = ask(app, asked).status
        seen.update(doors)
        outside.update(f"{method} {path}: {name}" for name, inside in doors.items() if not inside)
    assert outside == set()
    assert {what: status for what, status in answers.items() if status >= 500} == {}
    assert seen >= {"solve", "in_threads"}
    assert sum(status < 400 for status in answers.values()) >= 25, answers


def app_of(endpoint) -> FastAPI:
    routes, app = Routes(), FastAPI(openapi_url=None)
    routes.get("/x", Role.ANYBODY, in_turn=True)(endpoint)
    app.include_router(routes)
    return app


def scope(path: str) -> dict[str, object]:
    return {
        "type": "http",
        "http_version": "1.1",
        "method": "GET",
        "scheme": "http",
        "path": path,
        "raw_path": path.encode(),
        "query_string": b"",
        "root_path": "",
        "headers": [],
        "client": HERE,
        "server": ("127.0.0.1", 1),
    }


def test_what_nobody_waits_for_any_more_ends_at_its_next_step():
    began, ended = threading.Event(), threading.Event()

    def endless() -> None:
        began.set()
        try:
            while True:
                step()
        except GivenUp:
            ended.set()
            raise

    async def hang_up() -> None:
        messages = asyncio.Queue[dict[str, object]]()
        messages.put_nowait({"type": "http.request", "body": b"", "more_body": False})
        asked = asyncio.ensure_future(app_of(endless)(scope("/x"), messages.get, _nowhere))
        await asyncio.to_thread(began.wait, 30)
        messages.put_nowait({"type": "http.disconnect"})
        await asyncio.wait([asked], timeout=30)
        assert isinstance(asked.exception(), GivenUp)

    alone(hang_up())
    assert ended.is_set()


def test_few_of_one_account_compute_at_once_and_others_come_in_between():
    running, release = list[int | None](), threading.Event()

    def slow() -> str:
        running.append(asked_by.get())
        release.wait(30)
        return "done"

    app = app_of(slow)

    async def one(account: int) -> None:
        asked_by.set(account)
        await app(scope("/x"), _stays(), _nowhere)

    async def all_of_them() -> None:
        tasks = [asyncio.create_task(one(1)) for _ in range(6)]
        await _until(lambda: len(running) == OF_ONE_ACCOUNT)
        tasks.append(asyncio.create_task(one(2)))
        await _until(lambda: 2 in running)
        assert running.count(1) == OF_ONE_ACCOUNT
        release.set()
        await asyncio.gather(*tasks)
        assert running.count(1) == 6

    alone(all_of_them())


async def _until(holds) -> None:
    for _ in range(3000):
        if holds():
            return
        await asyncio.sleep(0.01)
    raise AssertionError("did not come to hold")


def _stays():
    messages = [{"type": "http.request", "body": b"", "more_body": False}]

    async def receive() -> dict[str, object]:
        if not messages:
            await asyncio.Event().wait()
        return messages.pop()

    return receive


async def _nowhere(message: object) -> None:
    pass
