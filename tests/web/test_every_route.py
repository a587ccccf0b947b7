"""Every route, asked by everybody in every spelling: what is open to whom is as declared, and nobody reaches another's records."""

import ast
from collections.abc import Callable, Iterator
from datetime import timedelta
from pathlib import Path
from types import SimpleNamespace
from typing import NamedTuple

import pytest
from asking_plainly import Question, ask, ask_all
from fastapi import FastAPI
from fastapi.routing import APIRoute
from starlette.responses import Response
from starlette.routing import compile_path

from lengthwise.errors import InputError
from lengthwise.records import accounts, coaching, own_lifts, picks, sign_ins
from lengthwise.records.store import save_client
from lengthwise.training.client import Client, StoredClient
from lengthwise.web import handlers, refusals, who
from lengthwise.web.app import create_app
from lengthwise.web.gate import SIGN_IN_COOKIE
from lengthwise.web.kept_clients import PICK_COOKIE
from lengthwise.web.pages import own_lifts_page as own_lifts_page
from lengthwise.web.pages import study_effects
from lengthwise.web.routes import JudgedRoute, Role, Routes, check_declared, every_route
from lengthwise.weeks.study_effect import StudyEffect

PASSWORD = "a long enough word"
WEB = Path(who.__file__).parent
METHODS = ("GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS", "TRACE", "CONNECT", "PURGE")
FILLED = {
    "lift": "back_squat",
    "muscle": "triceps",
    "name": "mine",
    "claim": "long_length",
    "study": "s1",
    "token": "0" * 32,
    "kind": "svg",
    "which": "own",
    "size": "a4",
    "stem": "mine",
    "entry": "1",
}
"""A plausible value for every other part of an address."""


class Gym(NamedTuple):
    """An application with two clients and what each asker's browser holds."""

    app: FastAPI
    own: int
    other: int
    cookies: dict[str, dict[str, str]]


@pytest.fixture(scope="module")
def gym(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Gym]:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("LENGTHWISE_DATA", str(tmp_path_factory.mktemp("walk")))
        patch.delenv("LENGTHWISE_DATABASE", raising=False)
        patch.setattr(sign_ins, "CONFIRMED_FOR", timedelta(days=1))  # the walk takes minutes where much else runs
        patch.setattr(sign_ins, "IDLE", dict.fromkeys(sign_ins.IDLE, timedelta(days=1)))
        own, other = save_client(Client(name="Ada")), save_client(Client(name="Zeno Secret"))
        people = (
            ("Coach", None),
            ("Ada", "Ada"),
            ("Zeno", "Zeno Secret"),
            ("Gone", "Ada"),
            ("Coach of Ada", None),
            ("Coach of Zeno", None),
        )
        for name, client in people:
            accounts.add_account(name, PASSWORD, "client" if client else "coach", client)
        for client in ("Ada", "Zeno"):
            coaching.give_client(client, f"Coach of {client}")
        tokens = {name: sign_ins.sign_in(name, PASSWORD).token for name, _ in people}
        accounts.remove_account("Gone")
        yield Gym(create_app({"localhost"}), own, other, {"nobody": {}, **{n: {SIGN_IN_COOKIE: t} for n, t in tokens.items()}})


@pytest.fixture
def answered_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever passes the judge is answered 204, and what does not by its status alone, so that only judging is seen."""

    async def passed(self, scope, receive, send):
        await Response(status_code=204)(scope, receive, send)

    monkeypatch.setattr(APIRoute, "handle", passed)
    for part in (handlers, refusals):
        monkeypatch.setattr(part, "answer", lambda request, status, fault: Response(status_code=status))


def walked(app: FastAPI) -> list[tuple[str, JudgedRoute]]:
    return [(path, route) for path, route in every_route(app.routes) if isinstance(route, JudgedRoute)]


def filled(path: str, number: object) -> str:
    for kind in ("client", "log"):
        path = path.replace(f"{{number:{kind}}}", str(number))
    for name, value in FILLED.items():
        path = path.replace(f"{{{name}}}", value)
    assert "{" not in path, f"{path}: say in FILLED what stands there"
    return path


def may(who_asks: str, role: Role, about_own: bool) -> bool:
    """The policy once more, written down without the code under test."""
    if role is Role.ANYBODY:
        return True
    if who_asks in ("nobody", "Gone"):
        return False
    if role in (Role.SIGNED_IN, Role.OWN_ACCOUNT) or who_asks == "Coach":
        return True
    its_own = about_own == who_asks.endswith("Ada")
    return its_own and (role is Role.OWN or (role is Role.COACH and who_asks.startswith("Coach of ")))


def test_every_route_is_open_to_whom_it_declares(gym: Gym, answered_at_once: None):
    asked: list[tuple[str, bool, Question]] = []
    for path, route in walked(gym.app):
        about = [gym.own, gym.other] if "{number" in path else [gym.own]
        for number in about:
            for who_asks, cookies in gym.cookies.items():
                method = next(iter(route.methods))
                question = Question(filled(path, number), method, cookies=cookies, headers=(("sec-fetch-site", "same-origin"),))
                allowed = may(who_asks, route.role, number == gym.own)
                if route.role is Role.COACH and "{number" not in path:
                    allowed = who_asks.startswith("Coach")
                if route.role is Role.SIGNED_IN and "{number" in path:
                    allowed = allowed and (who_asks == "Coach" or (number == gym.own) == who_asks.endswith("Ada"))
                asked.append((who_asks, allowed, question))
    answers = ask_all(gym.app, [question for _, _, question in asked])
    for (who_asks, allowed, question), found in zip(asked, answers, strict=True):
        refused = found.status in (401, 403) or found.headers.get("location", "").startswith("/sign-in?")
        assert (found.status == 204, refused) == (allowed, not allowed), (who_asks, question.method, question.path, found.status)


SPELLINGS = (
    "0{}", "+{}", " {}", "{} ", "{}.0", "{}e0", "0x{}", "{}%00", "-{}", "{}/", "//{}", "1/../{}", "./{}", "{};1", "{},1", "{}_", "_{}",
    "{}\n", "{}\x00", "{}\u200b", "\u0661/{}", "{}\u0660", "{}?x", "{}#", "{}.1", "{}%2e0",
)  # fmt: skip
DIGITS = (0x0660, 0x06F0, 0x0966, 0xFF10, 0x1D7CE)
"""Where other scripts' digits begin: Arabic-Indic, Persian, Devanagari, full-width, mathematical bold (Unicode, category Nd)."""


def test_no_other_spelling_of_a_number_reaches_a_client(gym: Gym, answered_at_once: None):
    spelt = (
        [s.format(gym.other) for s in SPELLINGS] + [chr(d + gym.other) for d in DIGITS] + ["9" * 5000, "²", "Ⅱ", "nan", "None", ""]
    )
    about = sorted({path for path, _ in walked(gym.app) if "{number" in path})
    questions = [Question(filled(p, s), cookies=gym.cookies[w]) for p in about for s in spelt for w in ("Ada", "Coach of Ada")]
    for asked, found in zip(questions, ask_all(gym.app, questions), strict=True):
        assert found.status in (303, 307, 401, 403, 404, 405), (asked.path[:80], found.status)


def test_no_other_method_reaches_a_client(gym: Gym, answered_at_once: None):
    about = sorted({path for path, _ in walked(gym.app) if "{number" in path})
    questions = [
        Question(filled(p, gym.other), m, cookies=gym.cookies[w]) for p in about for m in METHODS for w in ("Ada", "Coach of Ada")
    ]
    for asked, found in zip(questions, ask_all(gym.app, questions), strict=True):
        assert found.status in (403, 405), (asked.method, asked.path, found.status)


def forged(gym: Gym) -> list[dict[str, str]]:
    """Cookies that name another client in every way that one ever did, or that another's browser holds."""
    named = [f"{gym.other}.00000000", str(gym.other), picks.pick(gym.other)]
    body = "sex=man&stature_m=1.76&mass_kg=75&age_y=25&training=untrained&client="
    return [{name: value} for name in ("client", PICK_COOKIE) for value in named] + [{"body": body + named[0]}]


@pytest.mark.parametrize("who_asks", ["Ada", "Coach of Ada"])
def test_a_forged_cookie_shows_nobody(gym: Gym, monkeypatch: pytest.MonkeyPatch, who_asks: str):
    asked_for: list[str] = []
    monkeypatch.setattr(who, "calibrated_person", lambda client: asked_for.append(client.name) or who.Who().body)
    for cookies in forged(gym):
        for path in ("/", "/posture", "/people", "/settings", "/choose", "/log", "/week", "/progress", "/nothing"):
            found = ask(gym.app, Question(path, cookies={**gym.cookies[who_asks], **cookies}))
            assert found.status in (200, 303, 404, 405), path
            assert b"Zeno Secret" not in found.body
            assert found.headers.get("location", "") in ("", f"/log/{gym.own}", f"/week/{gym.own}", f"/progress/{gym.own}")
    assert "Zeno Secret" not in asked_for


def test_a_question_about_another_s_body_is_refused(gym: Gym):
    description = gym.app.openapi()["paths"]
    about = [
        (p, m)
        for p, ms in description.items()
        for m, told in ms.items()
        for q in told.get("parameters", ())
        if q["name"] == "client"
    ]
    assert len(about) >= 10
    needs = "angle=elbow_flexion&lift=back_squat&lift=hip_thrust&head=soleus"
    for path, method in about:
        if method != "get":
            continue
        query = f"client={gym.other}.00000000&{needs if 'tune' not in path and 'posture' not in path else 'head=soleus'}"
        found = ask(gym.app, Question(filled(path, gym.own), query=query, cookies=gym.cookies["Ada"]))
        assert found.status in (403, 422), (path, found.status, found.body[:200])
        assert b"Zeno" not in found.body


def test_a_coach_is_told_of_what_studies_change_for_own_clients_alone(gym: Gym, monkeypatch: pytest.MonkeyPatch):
    looked_at: list[str] = []

    def effect_of(studies: object, day: object, tell: object, clients: list[StoredClient]) -> StudyEffect:
        looked_at.extend(c.client.name for c in clients)
        return StudyEffect((), (), (), ())

    monkeypatch.setattr(study_effects, "upload_text", lambda shelf, token: ("studies.csv", token))
    monkeypatch.setattr(study_effects.actions, "check_study_text", lambda name, text: SimpleNamespace(sound=()))
    monkeypatch.setattr(study_effects, "effect_of", effect_of)
    for n, (who_asks, seen) in enumerate({"Coach of Ada": ["Ada"], "Coach": ["Ada", "Zeno Secret"]}.items()):
        looked_at.clear()
        asked = Question("/evidence/effect", query=f"token={n}", cookies=gym.cookies[who_asks])
        while b"progress working" in (found := ask(gym.app, asked)).body:
            pass
        assert (found.status, sorted(looked_at)) == (200, seen)


def test_a_lift_that_another_s_client_needs_is_kept_without_a_name(gym: Gym, monkeypatch: pytest.MonkeyPatch):
    asked: list[Callable[[int], bool]] = []
    monkeypatch.setattr(
        own_lifts_page.actions, "remove_own", lambda stem, may_see: asked.append(may_see) or SimpleNamespace(stem=stem)
    )
    for who_asks in ("Coach of Ada", "Coach"):
        headers = (("content-type", "application/x-www-form-urlencoded"), ("sec-fetch-site", "same-origin"))
        ask(gym.app, Question("/own-lifts/remove", "POST", cookies=gym.cookies[who_asks], headers=headers, body=b"stem=mine"))
    assert [[may_see(n) for n in (gym.own, gym.other)] for may_see in asked] == [[True, False], [True, True]]

    gone = object()
    monkeypatch.setattr(own_lifts, "_named", lambda client: ["my press"])
    monkeypatch.setattr(own_lifts, "_has", lambda found, name: found is not gone)
    with pytest.raises(InputError) as told:
        own_lifts._check_named(SimpleNamespace(catalogue=gone), asked[0])
    assert "Ada: my press" in str(told.value) and "Zeno" not in f"{told.value} {told.value.asked}"


def test_who_is_not_there_is_told_as_who_may_not_be_seen(gym: Gym):
    asked = [ask(gym.app, Question(f"/api/log/{n}", cookies=gym.cookies["Ada"])) for n in (gym.other, 999_999)]
    assert asked[0].status == asked[1].status == 403
    assert asked[0].body == asked[1].body


def test_a_stranger_is_not_told_which_addresses_there_are(gym: Gym):
    found = [ask(gym.app, Question(p, m)) for p, m in (("/nothing", "GET"), ("/people", "PURGE"), ("/people", "GET"))]
    found += [ask(gym.app, Question(p)) for p in ("/nothing/", "/people/", "/audit//", f"/week/{gym.other}/")]
    assert {f.status for f in found} == {303}
    assert {ask(gym.app, Question(p)).status for p in ("/api/nothing/", "/api/lifts/", "/api/lifts")} == {401}


def test_only_one_module_gets_clients_from_the_store():
    """A second way to a client would be a way around what is judged."""
    ways = {"numbered_client", "stored_clients", "named_client", "load_client", "list_clients", "client_names"}
    found = {}
    for file in WEB.rglob("*.py"):
        names = {n.attr for n in ast.walk(ast.parse(file.read_text())) if isinstance(n, ast.Attribute)}
        if names & ways:
            found[file.name] = names & ways
    assert set(found) == {"asker.py"}, found


def test_a_route_that_declares_nothing_does_not_start():
    routes = Routes()
    with pytest.raises(TypeError, match="says not whom it is open to"):
        routes.get("/x")(lambda: None)
    with pytest.raises(TypeError, match="names none"):
        routes.get("/x", Role.OWN)(lambda: None)
    with pytest.raises(TypeError, match="number is written"):
        routes.get("/x/{number}", Role.OWN)(lambda number: None)
    with pytest.raises(TypeError, match="begins with a word"):
        routes.get("/{anything}", Role.OWN)(lambda anything: None)
    plain = FastAPI(openapi_url=None)
    plain.get("/x")(lambda: None)
    with pytest.raises(TypeError, match="/x: says not whom"):
        check_declared(plain.routes, "/built")


HOSTS = (
    "elsewhere.example", "localhost.elsewhere.example", "localhost:8610@elsewhere", "localhost/../x", "localhost:99999", "localhost:",
    "", "localhost:8610:1", "local host", "localhost,elsewhere", "[::1", "[::1]x", "localhost#", "localhost?", "localhost\t",
    "localhost:٨",
)  # fmt: skip


@pytest.mark.parametrize("host", HOSTS)
def test_a_host_is_a_name_and_a_port_and_nothing_else(gym: Gym, host: str):
    assert ask(gym.app, Question("/sign-in", host=host)).status == 400
    assert ask(gym.app, Question("/sign-in", host="LOCALHOST:8610")).status == 200


def test_two_hosts_are_none(gym: Gym):
    assert ask(gym.app, Question("/sign-in", headers=(("host", "localhost"),))).status == 400


def test_the_gate_judges_what_is_routed_whatever_the_host_says(gym: Gym):
    """With a path in the Host header, some frameworks' own addresses of a request begin with it."""
    for host in ("localhost/built/x?", "localhost/sign-in#", "localhost"):
        found = ask(gym.app, Question(f"/api/people/{gym.other}/record", host=host))
        assert found.status in (400, 401)


def test_a_forwarded_request_is_not_from_this_machine(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setenv("LENGTHWISE_DATA", str(tmp_path))
    app = create_app({"localhost"})
    assert ask(app, Question("/people")).status == 200
    for name in ("x-forwarded-for", "forwarded", "x-real-ip"):
        assert ask(app, Question("/people", headers=((name, "127.0.0.1"),))).status == 403


def test_a_written_out_address_is_never_hidden_by_one_with_a_parameter(gym: Gym):
    every = [path for path, route in every_route(gym.app.routes) if isinstance(route, JudgedRoute)]
    for written in (path for path in every if "{" not in path):
        assert next(path for path in every if compile_path(path)[0].match(written)) == written
