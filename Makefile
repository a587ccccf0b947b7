# Two commands set everything up on a fresh machine: make app, make test.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
export OMP_NUM_THREADS ?= 1
export OPENBLAS_NUM_THREADS ?= 1

.PHONY: app test bench check install install-test clean

$(BIN)/python:
	$(PYTHON) -m venv $(VENV)

$(VENV)/.installed: $(BIN)/python pyproject.toml constraints.txt
	$(BIN)/pip install --quiet --constraint constraints.txt --editable .
	touch $@

$(VENV)/.installed-test: $(VENV)/.installed
	$(BIN)/pip install --quiet --constraint constraints.txt --editable ".[test,check]"
	touch $@

install: $(VENV)/.installed
install-test: $(VENV)/.installed-test

app: install
	mkdir -p out
	$(BIN)/lengthwise profile overhead_cable_extension_one_arm --person demo/client.toml --figure out/overhead_cable_extension.png
	$(BIN)/lengthwise rank triceps --person demo/client.toml --report out/triceps.html

test: install-test
	$(BIN)/pytest -n 2 --dist worksteal

bench: install-test
	$(BIN)/python bench/lifts.py
	$(BIN)/python bench/solvers.py

check: install-test
	$(BIN)/ruff check
	$(BIN)/ruff format --check
	$(BIN)/mypy

clean:
	rm -rf $(VENV) out .pytest_cache .mypy_cache .ruff_cache
