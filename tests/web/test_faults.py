"""A fault that nobody foresaw: told in words without anything of the inside, found again by its mark."""

import logging
import re

import pytest
from here import HERE
from starlette.testclient import TestClient

from lengthwise.web.app import create_app
from lengthwise.web.pages import home


@pytest.mark.parametrize("path", ["/", "/api/people"])
def test_an_unforeseen_fault_tells_its_mark_and_nothing_else(tmp_path, monkeypatch, caplog, path: str):
    monkeypatch.setenv("LENGTHWISE_DATA", str(tmp_path))

    def broken(*asked: object) -> None:
        raise RuntimeError("secret inside")

    monkeypatch.setattr(home, "page", broken)
    monkeypatch.setattr("lengthwise.web.api.people_api.visible", broken)
    client = TestClient(create_app({"localhost"}), client=HERE, raise_server_exceptions=False)
    with caplog.at_level(logging.ERROR, logger="lengthwise.web"):
        found = client.get(path, headers={"host": "localhost"})
    assert (found.status_code, "secret" in found.text, "Traceback" in found.text) == (500, False, False)
    mark = re.search(r"marked ([0-9a-f]{8})", found.text)[1]
    assert mark in caplog.text
    assert found.headers["x-content-type-options"] == "nosniff"


def test_a_path_cannot_begin_a_line_of_the_server_s_output(tmp_path, monkeypatch, caplog):
    monkeypatch.setenv("LENGTHWISE_DATA", str(tmp_path))

    def broken(request: object) -> None:
        raise RuntimeError

    app = create_app({"localhost"})
    app.add_route("/broken/{name}", broken)
    client = TestClient(app, client=HERE, raise_server_exceptions=False)
    with caplog.at_level(logging.ERROR, logger="lengthwise.web"):
        assert client.get("/broken/a%0Afault 0: all is well", headers={"host": "localhost"}).status_code == 500
    said = [record.getMessage() for record in caplog.records if record.name == "lengthwise.web"]
    assert len(said) == 1
    assert r"a\nfault" in said[0]
    assert "\n" not in said[0]
