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
    monkeypatch.setattr("lengthwise.web.api.people.visible", broken)
    client = TestClient(create_app({"localhost"}), client=HERE, raise_server_exceptions=False)
    with caplog.at_level(logging.ERROR, logger="lengthwise.web"):
        found = client.get(path, headers={"host": "localhost"})
    assert (found.status_code, "secret" in found.text, "Traceback" in found.text) == (500, False, False)
    mark = re.search(r"output is ([0-9a-f]{8})", found.text)[1]
    assert mark in caplog.text
    assert found.headers["x-content-type-options"] == "nosniff"
