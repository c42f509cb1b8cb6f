# Each target works from a bare clone: it first brings what it needs, and only once.

.DEFAULT_GOAL := run
MAKEFLAGS += --no-print-directory
SHELL := /bin/sh

bin := .venv/bin
python_files := api tests scripts $(wildcard benchmarks)
# A Node that was installed into .venv goes before the system's, for the tests too.
with_node := PATH="$(CURDIR)/$(bin):$$PATH"
npm := $(with_node) npm --prefix web --silent

.PHONY: run test test-long test-dates check bench format lock clean prepare

run: ## start the server and print its address
	@scripts/with_python scripts/run.py

test: prepare ## everything that must hold: `check` and every test, side by side
	@scripts/with_python scripts/bring_browsers.py
	@$(bin)/python scripts/suite.py

test-long: prepare ## the same, with all of what `test` repeats a tenth of: before a release
	@scripts/with_python scripts/bring_browsers.py
	@TEST_LONG=1 $(bin)/python scripts/suite.py

test-dates: prepare ## the tests under a clock set to days and hours that break programs
	@scripts/with_python scripts/bring_browsers.py
	@$(bin)/python scripts/other_dates.py

check: prepare ## format, lint, types, import rules, drift; no tests
	@$(bin)/ruff format --check --quiet $(python_files)
	@$(bin)/ruff check --quiet $(python_files)
	@$(bin)/mypy
	@$(bin)/lint-imports --no-logo
	@$(bin)/basinside openapi --check
	@$(bin)/basinside safety --check
	@$(bin)/python scripts/record_fields.py --check
	@$(bin)/python scripts/examples.py --check
	@$(bin)/python scripts/demo_day.py --check
	@if [ -f web/package.json ]; then $(npm) run check; fi

bench: prepare ## everything that is measured; reports, never fails on a slow machine
	@for benchmark in benchmarks/[!_]*.py; do \
	    echo "== $$benchmark"; $(bin)/python "$$benchmark" || exit 1; done

format: prepare ## rewrite the Python files as `check` wants them
	@$(bin)/ruff check --quiet --fix-only $(python_files)
	@$(bin)/ruff format --quiet $(python_files)

# Pins that still fit stay; delete a lock first to move everything in it.
# Lines that name an index would tie the lock to one registry, so none are written.
compile := $(bin)/uv pip compile --quiet --universal --python-version 3.11 \
    --fork-strategy fewest --generate-hashes --no-header --no-emit-index-url --no-emit-find-links
lock: prepare ## re-make the Python locks from pyproject.toml
	@$(compile) pyproject.toml --group build --output-file requirements.lock
	@$(compile) pyproject.toml --group build --group dev \
	    --constraints requirements.lock --output-file requirements-dev.lock
	@$(compile) --group pyproject.toml:node --output-file requirements-node.lock

clean: ## remove what was installed and built; var/ holds records and stays
	@rm -rf .venv .cache .mypy_cache .pytest_cache .ruff_cache .import_linter_cache \
	    .hypothesis web/node_modules web/dist
	@find $(python_files) -name __pycache__ -type d -prune -exec rm -rf {} +

prepare:
	@scripts/with_python scripts/prepare.py --dev
