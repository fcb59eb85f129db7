# Everything is done by one script, which finds a Python and needs nothing installed beforehand.
.PHONY: help run stop test test-long lint bench

help:
	@echo "make run        start Boardshop on this machine, with everything it needs"
	@echo "make stop       end it"
	@echo "make test       style, types and all tests, the browser's included"
	@echo "make test-long  the checks that take longer"
	@echo "make lint       style and types only"
	@echo "make bench      how fast the core and the pages are"

run stop test test-long lint bench:
	@for python in "$$BOARDSHOP_PYTHON" python3 python3.13 python3.12 python3.14 python; do \
		if "$$python" -c 'import sys; sys.exit(sys.version_info < (3, 6))' 2>/dev/null; then \
			exec "$$python" boardshop/ops/bootstrap.py $@; \
		fi; \
	done; \
	echo "Boardshop needs Python 3.12 or newer; on Debian 13 type: apt-get install python3 python3-venv" >&2; \
	exit 1
