# Thin on purpose: studio/bootstrap.py says what each of these does.

PYTHON ?= python3
PORT ?= 8000
BOOTSTRAP = $(PYTHON) -I studio/bootstrap.py

.PHONY: run test check bench faults

run:  ## serve the program with its demo on http://127.0.0.1:$(PORT)
	@$(BOOTSTRAP) run --port $(PORT)

test:  ## the whole suite
	@$(BOOTSTRAP) test

check:  ## format, lint, types, templates, migrations, production settings
	@$(BOOTSTRAP) check

bench:  ## speed, as ratios to a baseline of the same run
	@$(BOOTSTRAP) bench

faults:  ## many people at once, kills and races, for real; nothing may be lost or booked twice
	@$(BOOTSTRAP) faults
