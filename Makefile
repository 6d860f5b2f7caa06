# Two commands matter: `make run` and `make test`. Everything else is listed by `make`.
SHELL := /bin/bash
.DEFAULT_GOAL := help

PYTHON ?= $(shell command -v python3.11 || command -v python3.12 || command -v python3.13 || command -v python3)
HOST ?= 127.0.0.1
PORT ?= 8000
BIN := .venv/bin
# Two test workers fill a 2-core machine; each starts its own server and browser.
WORKERS ?= 2
# The day a report is dated.
DAY ?= $(shell date +%F)

help: ## list the targets
	@grep -hE '^[a-z-]+:.*##' $(MAKEFILE_LIST) | sed -E 's/:.*## /\t/' | expand -t 14

run: .venv/installed ## make the environment, migrate, load the demo unit, serve
	RINGSIDE_DEMO=$${RINGSIDE_DEMO:-1} $(BIN)/ringside migrate
	RINGSIDE_DEMO=$${RINGSIDE_DEMO:-1} $(BIN)/ringside load
	RINGSIDE_DEMO=$${RINGSIDE_DEMO:-1} $(BIN)/ringside serve --host $(HOST) --port $(PORT)

test: lint check-data tests ## everything: lint, types, data, tests, browser

tests: .venv/dev browser ## the tests alone
	$(BIN)/python -m pytest -n $(WORKERS) --dist loadfile

lint: .venv/dev ## format, lint, types, which way imports go
	$(BIN)/ruff format --check .
	$(BIN)/ruff check .
	$(BIN)/mypy
	$(BIN)/lint-imports --no-cache

fix: .venv/dev ## format, mend lint, write the generated blocks of DEVELOPERS.md
	$(BIN)/ruff format .
	$(BIN)/ruff check --fix .
	$(BIN)/python -m tests.contract.generated_blocks --write

check-data: .venv/installed ## check every seed file: fields, charge balance, osmolarity, sources
	$(BIN)/ringside check-data

bench: .venv/dev ## speed, as ratios in one run, one JSON object a line
	@$(BIN)/python -m tests.benchmarks.run

measure: .venv/dev ## hold the review against the panel's cases, the prediction against published groups
	$(BIN)/python -m tests.cases.score --write $(DAY)
	$(BIN)/python -m tests.trials.score --write $(DAY)

bill: .venv/dev ## list every library with its licence (CycloneDX) in build/bill.json
	@mkdir -p build
	$(BIN)/python -m cyclonedx_py environment --sv 1.6 --of JSON --output-reproducible -o build/bill.json $(BIN)/python
	@echo "build/bill.json"

audit: .venv/dev ## hold every library against the list of known faults (needs the network)
	$(BIN)/python -m pip_audit -r requirements.lock --no-deps --disable-pip --strict

pictures: .venv/dev browser ## take the README's pictures anew
	$(BIN)/python -m tests.browser.pictures

fluid: .venv/installed ## NAME=…: a new fluid file to fill in
	$(BIN)/python -m tests.skeletons.copy fluid $(NAME)

rule: .venv/installed ## NAME=…: a new caution family with its examples
	$(BIN)/python -m tests.skeletons.copy rule $(NAME)

page: .venv/installed ## NAME=…: a new page with its template and test
	$(BIN)/python -m tests.skeletons.copy page $(NAME)

lock: ## write both lock files anew (needs uv)
	uv pip compile --quiet --universal --python-version 3.11 --generate-hashes --no-emit-index-url \
		--no-annotate --custom-compile-command "make lock" -o requirements.lock pyproject.toml
	uv pip compile --quiet --universal --python-version 3.11 --generate-hashes --no-emit-index-url \
		--no-annotate --custom-compile-command "make lock" --extra dev -c requirements.lock \
		-o requirements-dev.lock pyproject.toml

.venv/made:
	@test -n "$(PYTHON)" || { echo "Python 3.11 or newer is needed, and none was found."; exit 1; }
	@# Debian keeps venv in a package of its own; install it where we may.
	@$(PYTHON) -c "import ensurepip, venv" 2>/dev/null || { \
		echo "Python's venv module is missing: installing python3-venv"; \
		apt-get update -qq && apt-get install -y -qq python3-venv; }
	$(PYTHON) -m venv .venv
	@touch $@

.venv/installed: .venv/made requirements.lock pyproject.toml
	$(BIN)/pip install --quiet --disable-pip-version-check --require-hashes -r requirements.lock
	$(BIN)/pip install --quiet --disable-pip-version-check --no-deps --no-build-isolation -e .
	@touch $@

.venv/dev: .venv/installed requirements-dev.lock
	$(BIN)/pip install --quiet --disable-pip-version-check --require-hashes -r requirements-dev.lock
	@touch $@

browser:
	@command -v chromium >/dev/null || { \
		echo "Chromium is missing: installing Debian's"; \
		apt-get update -qq && apt-get install -y -qq chromium; }

.PHONY: help run test tests lint fix check-data bench measure bill audit pictures fluid rule page lock browser
