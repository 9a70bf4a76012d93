"""Run every bench and print one table: ``python -m tests.bench``, or with names to run only those.

A bench is a module ``bench_<name>.py`` in this folder with ``run() -> list[Row]``.
Limits are ratios to a baseline measured in the same run, so they hold on a slow
machine as well as on a quick one. The exit code is 1 when a limit is exceeded.
"""

import sys
from importlib import import_module
from pathlib import Path

from tests.bench.table import Row, table

FOLDER = Path(__file__).resolve().parent


def names() -> list[str]:
    """The benches there are, in order of name."""
    return sorted(path.stem.removeprefix("bench_") for path in FOLDER.glob("bench_*.py"))


def main(wanted: list[str]) -> int:
    """Run the wanted benches, or all of them; 0 when every limit is kept."""
    known = names()
    unknown = [name for name in wanted if name not in known]
    if unknown:
        print(f"There is no bench {', '.join(unknown)}; there are {', '.join(known)}.", file=sys.stderr)
        return 2
    rows: list[Row] = []
    for name in wanted or known:
        print(f"bench {name} ...", file=sys.stderr, flush=True)
        rows += import_module(f"tests.bench.bench_{name}").run()
    if not rows:
        print("There are no benches yet.", file=sys.stderr)
        return 2
    print(table(rows))
    over = [row for row in rows if not row.within]
    if over:
        print(f"\n{len(over)} of {len(rows)} over the limit: {'; '.join(row.name for row in over)}.", file=sys.stderr)
    return 1 if over else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
