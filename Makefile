# Everything sets itself up in .venv on a bare machine with Python 3.11 or newer. `make help` lists the targets.
PY ?= python3
VENV := .venv
BIN := $(VENV)/bin
RUN := $(VENV)/.run-ready
DEV := $(VENV)/.dev-ready
PIP := $(BIN)/python -m pip install --quiet --disable-pip-version-check
# Two processes; the one that is done takes over tests of the other, in runs, so that few start a browser twice.
PYTEST := $(BIN)/python -m pytest -q -n 2 --dist worksteal -m "not long"

.PHONY: help demo demo-check chromium test check long bench pictures vendor wheel lock clean

help:            ## this list
	@sed -n 's/^\([a-z-]*\): .*## /\1: /p' $(MAKEFILE_LIST)

$(BIN)/python:
	@$(PY) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || { echo "Python 3.11 or newer is needed; this is $$($(PY) --version 2>&1). Install one and run: make PY=/path/to/python3"; exit 1; }
	@$(PY) -m venv $(VENV) || { rm -rf $(VENV); echo "No virtual environment could be made. On Debian or Ubuntu: sudo apt-get install python3-venv"; exit 1; }

$(RUN): requirements/run.lock pyproject.toml | $(BIN)/python
	@echo "Setting up Steelyard in $(VENV) ..."
	@$(PIP) --require-hashes -r requirements/run.lock
	@$(PIP) --no-build-isolation --no-deps -e .
	@touch $@

$(DEV): requirements/dev.lock $(RUN)
	@echo "Setting up the checks in $(VENV) ..."
	@$(PIP) --require-hashes -r requirements/dev.lock
	@touch $@

demo: $(RUN)     ## the main job in the browser, on a throw-away workshop; Ctrl-C ends it
	@$(BIN)/steelyard demo

demo-check: $(RUN) ## judge the example checks, print, end
	@for file in examples/*.toml; do \
	  $(BIN)/steelyard check $$file; status=$$?; echo; \
	  case $$status in 0|10|11) ;; *) exit $$status;; esac; \
	done

chromium:        ## find Chromium, or install it where that is allowed, or say what to type
	@sh tools/chromium.sh

test: $(DEV) chromium ## all tests but the long ones
	@$(PYTEST)

check: $(DEV)    ## format, lint, types, rooms, quick tests
	@$(BIN)/ruff format --check .
	@$(BIN)/ruff check .
	@$(BIN)/mypy
	@$(BIN)/lint-imports
	@$(PYTEST) --ignore=tests/simulation --ignore=tests/browser

long: $(DEV)     ## the full simulations behind docs/measured.md
	@$(BIN)/python -m pytest -q -m long

bench: $(DEV)    ## ratios against their bounds; exit 1 when over
	@$(BIN)/python tools/bench.py

pictures: $(DEV) chromium ## make the pictures of the documents again
	@$(BIN)/python tools/pictures.py

vendor: $(BIN)/python ## renew the files of other people named in tools/vendor.json; needs npm
	@$(BIN)/python tools/vendor.py --update

wheel: $(DEV)    ## a wheel in dist/
	@$(BIN)/python -m build --wheel --no-isolation

lock: $(DEV)     ## renew both lock files from requirements/*.in
	@cd requirements && for f in run dev; do ../$(BIN)/pip-compile --quiet --upgrade --generate-hashes --allow-unsafe --strip-extras --no-header --no-emit-index-url --no-emit-find-links --no-emit-trusted-host -o $$f.lock $$f.in; done

clean:           ## remove what was built
	rm -rf $(VENV) build dist src/*.egg-info .mypy_cache .pytest_cache .ruff_cache .hypothesis
