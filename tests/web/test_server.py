"""The server: who may ask what, what every answer carries, and the command that starts it."""

import http.client
import subprocess
import sys
from urllib.parse import urlsplit

import pytest
from browsing import ROOT

from lengthwise.errors import InputError
from lengthwise.web import serving
from lengthwise.web.security import LARGEST_BODY


def ask(address: str, method: str, path: str, body: bytes | None = None, **headers: str) -> http.client.HTTPResponse:
    connection = http.client.HTTPConnection(urlsplit(address).netloc, timeout=60)
    connection.request(method, path, body, {k.replace("_", "-"): v for k, v in headers.items()})
    answer = connection.getresponse()
    answer.body = answer.read()
    return answer


def test_every_answer_carries_the_policy(address: str):
    for path in ("/", "/api/heads", "/nothing", "/built/manifest.json"):
        answer = ask(address, "GET", path)
        policy = answer.headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy
        assert answer.headers["x-content-type-options"] == "nosniff"


def test_another_host_name_is_refused(address: str):
    assert ask(address, "GET", "/", Host="elsewhere.example").status == 400


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
def test_a_form_of_another_site_is_refused(address: str, site: str):
    assert ask(address, "POST", "/settings", b"", Sec_Fetch_Site=site).status == 403


def test_an_old_browser_is_known_by_its_origin(address: str):
    assert ask(address, "POST", "/settings", b"", Origin="http://elsewhere.example").status == 403
    assert ask(address, "POST", "/settings", b"", Origin=address).status == 422


def test_a_body_is_bounded_whatever_its_header_says(address: str):
    assert ask(address, "POST", "/api/studies", b"", Content_Length=str(LARGEST_BODY + 1)).status == 413
    connection = http.client.HTTPConnection(urlsplit(address).netloc, timeout=60)
    pieces = (b"x" * 100_000 for _ in range(11))
    connection.request("POST", "/api/studies", pieces, {"content-type": "application/json"}, encode_chunked=True)
    assert connection.getresponse().status == 413


def test_what_a_browser_has_is_not_sent_again(address: str):
    first = ask(address, "GET", "/api/heads")
    again = ask(address, "GET", "/api/heads", If_None_Match=first.headers["etag"])
    assert (again.status, again.body) == (304, b"")


def test_built_files_are_kept_for_good(address: str):
    page = ask(address, "GET", "/").body.decode()
    script = page.split('src="/built/')[1].split('"')[0]
    assert "immutable" in ask(address, "GET", f"/built/{script}").headers["cache-control"]


def test_no_page_has_inline_script_or_style(address: str):
    paths = (
        "/",
        "/choose",
        "/lift/back_squat",
        "/side-by-side?lift=back_squat",
        "/posture",
        "/posture/heads",
        "/evidence",
        "/programs",
        "/records",
        "/own-lifts",
        "/people/questions",
    )
    evidence = ("long_length", "studies", "pool?claim=long_length", "trials", "trials/answer", "report")
    for path in (*paths, *(f"/evidence/{name}" for name in evidence)):
        page = ask(address, "GET", path).body.decode()
        assert " style=" not in page
        assert "<style" not in page
        assert page.count("<script") == page.count('<script type="module" src="/built/')


def test_a_return_address_stays_on_this_site(address: str):
    form = "sex=man&training=trained&stature=180&mass=80&age=30&back=https://elsewhere.example/x"
    answer = ask(address, "POST", "/settings", form.encode(), Content_Type="application/x-www-form-urlencoded")
    assert answer.status == 303
    assert answer.headers["location"] == "/x"


def test_an_error_is_a_page_for_people_and_json_for_programs(address: str):
    page = ask(address, "GET", "/lift/bench_pres")
    assert page.status == 404
    assert b"did you mean bench_press" in page.body
    answer = ask(address, "GET", "/api/lifts/bench_pres/motion")
    assert answer.status == 404
    assert b'"error":"unknown_name"' in answer.body


def test_an_address_that_lacks_its_name_says_how_it_goes_on(address: str):
    answer = ask(address, "GET", "/api/rank")
    assert answer.status == 404 and b'"allowed":["/api/rank/{muscle}"]' in answer.body


@pytest.mark.parametrize("host", ["0.0.0.0", "192.168.1.4", "::", "gym.example"])
def test_other_addresses_need_accounts(host: str):
    with pytest.raises(InputError, match="no accounts to sign in with"):
        serving.check_host(host)


@pytest.mark.parametrize("host", ["127.0.0.1", "127.0.0.2", "::1", "localhost"])
def test_this_machine_s_own_addresses_are_served(host: str):
    serving.check_host(host)


def test_a_taken_port_is_told(address: str):
    taken = str(urlsplit(address).port)
    done = subprocess.run(
        [sys.executable, "-m", "lengthwise.cli", "serve", "--port", taken], capture_output=True, text=True, timeout=300
    )
    assert done.returncode == 2
    assert "give another --port" in done.stderr


def test_make_app_installs_and_serves():
    told = subprocess.run(
        ["make", "--dry-run", "--always-make", "app"], cwd=ROOT, capture_output=True, text=True, timeout=60
    ).stdout
    assert told.index("pip install") < told.index("lengthwise demo") < told.index("lengthwise serve")
