"""What the table of docs/security.md says and no other test asks; numbers of OWASP ASVS 4.0.3, from memory."""

import ast
from pathlib import Path
from urllib.parse import urlencode

import pytest
from asking_plainly import Question, ask

import lengthwise
from lengthwise.errors import InputError
from lengthwise.records import accounts, sign_ins
from lengthwise.web.app import create_app
from lengthwise.web.gate import SIGN_IN_COOKIE

HOUSE = Path(lengthwise.__file__).parent
PASSWORD = "a long enough word"
LONG = "".join(f"{n:x}-Wq" for n in range(1000, 1030))[:127]


@pytest.fixture(autouse=True)
def own_data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("LENGTHWISE_DATA", str(tmp_path))
    monkeypatch.delenv("LENGTHWISE_DATABASE", raising=False)


def test_a_long_password_is_allowed_and_never_cut_short():
    """2.1.2, 2.1.3."""
    accounts.add_account("Lee", LONG + "x")
    for other in (LONG, LONG + "y", LONG + "xx", (LONG + "x") * 2):
        with pytest.raises(sign_ins.SignInError, match="wrong"):
            sign_ins.sign_in("Lee", other)
    assert sign_ins.sign_in("Lee", LONG + "x")
    accounts.add_account("Kim", LONG[:64])
    with pytest.raises(InputError, match="129 characters; allowed 12 to 128"):
        accounts.add_account("Max", LONG + "xx")


def test_password_managers_know_the_fields():
    """2.1.11: none forbids to paste, each says what it is for (WHATWG HTML, autocomplete)."""
    accounts.add_account("Lee", PASSWORD)
    app, cookies = create_app({"localhost"}), {SIGN_IN_COOKIE: sign_ins.sign_in("Lee", PASSWORD).token}
    found = {}
    for path in ("/sign-in", "/account", "/account/confirm"):
        fields = ask(app, Question(path, cookies=cookies)).body.decode().split('type="password"')[1:]
        found[path] = [field.partition('autocomplete="')[2].partition('"')[0] for field in fields]
        assert not any("onpaste" in field for field in fields)
    assert found == {
        "/sign-in": ["current-password"],
        "/account": ["current-password", "new-password", "new-password"],
        "/account/confirm": ["current-password"],
    }


@pytest.mark.parametrize(
    "path",
    ["/built", "/built/", "/built/assets", "/built/assets/", "/built/../app.py", "/built/assets/../../app.py", "/.git/config"],
)
def test_no_folder_is_listed_and_nothing_beside_it_served(path: str):
    """4.3.2."""
    found = ask(create_app({"localhost"}), Question(path))
    assert found.status == 404 and b"manifest.json" not in found.body and b"FastAPI" not in found.body


def test_a_token_counts_in_its_cookie_alone():
    """3.1.1, 3.2.3: neither in an address nor in a header, and its digest, which the store keeps, is of no use."""
    accounts.add_account("Lee", PASSWORD)
    app, token = create_app({"localhost"}), sign_ins.sign_in("Lee", PASSWORD).token
    tries = (
        Question("/api/lifts", query=f"{SIGN_IN_COOKIE}={token}"),
        Question("/api/lifts", headers=(("authorization", f"Bearer {token}"),)),
        Question("/api/lifts", headers=((SIGN_IN_COOKIE.replace("_", "-"), token),)),
        Question("/api/lifts", cookies={SIGN_IN_COOKIE: sign_ins._digest(token)}),
        Question("/api/lifts", cookies={f"__Host-{SIGN_IN_COOKIE}": token}),
    )
    assert {ask(app, asked).status for asked in tries} == {401}
    assert ask(app, Question("/api/lifts", cookies={SIGN_IN_COOKIE: token})).status == 200


def test_each_sign_in_has_a_token_of_its_own():
    """3.2.1: whatever token a browser brings, somebody else may have put there."""
    accounts.add_account("Lee", PASSWORD)
    app, brought = create_app({"localhost"}), "A" * 43
    form = (("content-type", "application/x-www-form-urlencoded"), ("sec-fetch-site", "same-origin"))
    asked = Question(
        "/sign-in",
        "POST",
        cookies={SIGN_IN_COOKIE: brought},
        headers=form,
        body=urlencode({"name": "Lee", "password": PASSWORD}).encode(),
    )
    given = {ask(app, asked).headers["set-cookie"].partition(f"{SIGN_IN_COOKIE}=")[2].partition(";")[0] for _ in range(2)}
    assert len(given) == 2 and brought not in given
    assert ask(app, Question("/api/lifts", cookies={SIGN_IN_COOKIE: brought})).status == 401
    assert {ask(app, Question("/api/lifts", cookies={SIGN_IN_COOKIE: token})).status for token in given} == {200}


def test_nothing_that_is_sent_is_evaluated_unpickled_or_given_to_a_shell():
    """5.2.4, 5.3.8, 5.5.1, 5.5.3: processes of one run pickle for one another, and a compiler builds the core; nothing else."""
    found = {file.relative_to(HOUSE).as_posix(): _delicate(ast.parse(file.read_text())) for file in HOUSE.rglob("*.py")}
    assert {name: what for name, what in found.items() if what} == {"web/board.py": {"pickle"}, "core/build.py": {"subprocess"}}


def _delicate(tree: ast.AST) -> set[str]:
    modules = {"subprocess", "pickle", "marshal", "shelve", "dill", "cloudpickle", "pty"}
    calls = {"eval", "exec", "system", "popen", "execv", "execve", "spawnv"}
    imported = {a.name.partition(".")[0] for n in ast.walk(tree) if isinstance(n, ast.Import) for a in n.names}
    imported |= {(n.module or "").partition(".")[0] for n in ast.walk(tree) if isinstance(n, ast.ImportFrom)}
    called = {n.func for n in ast.walk(tree) if isinstance(n, ast.Call)}
    named = {f.id if isinstance(f, ast.Name) else f.attr for f in called if isinstance(f, ast.Name | ast.Attribute)}
    return (imported & modules) | (named & calls)
