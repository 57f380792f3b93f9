# Everything runs in a private environment in .venv, made on the first call and left alone on
# the next. Another interpreter: make site PYTHON=python3.12

PYTHON ?= python3
BIN := .venv/bin

# One moment for every date that a build writes: same inputs, same bytes.
export SOURCE_DATE_EPOCH ?= 1767225600

# The theme's notice about its own future; DEVELOPERS.md carries it.
export NO_MKDOCS_2_WARNING := 1

# A stamp carries the checksum of the pins it was made from, so that changed pins, and nothing
# else, install again.
SITE_STAMP := .venv/site-$(firstword $(shell cksum requirements.txt))
TEST_STAMP := .venv/test-$(firstword $(shell cat requirements.txt requirements-test.txt | cksum))

.PHONY: help site serve check test lint format bench lighthouse

help:
	@echo "make site    build the site into site/, failing on any drift"
	@echo "make test    lint, types and the whole test suite"
	@echo "make serve   the site at http://127.0.0.1:8000, rebuilt as you write"
	@echo "make check   recompute every figure, without building the site"
	@echo "make lint    ruff and mypy alone"
	@echo "make format  let ruff lay the code out"
	@echo "make bench   time and memory for a thousand pages and a million rows"
	@echo "make lighthouse   Lighthouse on three pages; needs npm"

site: $(SITE_STAMP)
	$(BIN)/python -m mkdocs build --strict

serve: $(SITE_STAMP)
	$(BIN)/python -m mkdocs serve --livereload

check: $(SITE_STAMP)
	@$(BIN)/python -m calc check

lint: $(TEST_STAMP)
	$(BIN)/python -m ruff check .
	$(BIN)/python -m mypy

format: $(TEST_STAMP)
	$(BIN)/python -m ruff format .

# Two workers, and the tests of one file in one worker, so that what a file builds it builds once.
test: lint
	$(BIN)/python -m pytest -n 2 --dist loadfile

bench: $(TEST_STAMP)
	$(BIN)/python -m tests.bench

lighthouse: site tests/lighthouse/node_modules
	$(BIN)/python -m tests.lighthouse

tests/lighthouse/node_modules: tests/lighthouse/package-lock.json
	npm ci --prefix tests/lighthouse --no-audit --no-fund
	@touch $@

$(SITE_STAMP): | $(BIN)/pip
	$(BIN)/python -m pip install -qq --requirement requirements.txt
	@touch $@

# The test pins hold the site's too, so both stamps are true afterwards.
$(TEST_STAMP): | $(BIN)/pip
	$(BIN)/python -m pip install -qq --requirement requirements-test.txt
	@touch $@ $(SITE_STAMP)

$(BIN)/pip:
	@$(PYTHON) -c 'import sys; sys.version_info >= (3, 11) or sys.exit("Worked Cells needs \
	Python 3.11 or newer; $(PYTHON) is %d.%d. Name a newer one: make PYTHON=..." % sys.version_info[:2])'
	$(PYTHON) -m venv .venv
