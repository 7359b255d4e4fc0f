"""Run the groups, print one table, write the rows."""

import argparse
import importlib
import json
import sys
from pathlib import Path

from coachdesk.benchmarks.figures import Row

# Group -> modules, each with a function rows() -> list[Row]
GROUPS = {
    "media": ["coachdesk.benchmarks.transcoding", "coachdesk.benchmarks.media_jobs"],
    "play": ["coachdesk.benchmarks.frame_stepping"],
    "upload": ["coachdesk.benchmarks.upload_rate"],
    "slow": ["coachdesk.benchmarks.slow_clients"],
    "load": ["coachdesk.benchmarks.load_summaries"],
    "script": ["coachdesk.benchmarks.script_size"],
    "desk": ["coachdesk.benchmarks.desk_page"],
    "library": ["coachdesk.benchmarks.library_search"],
    "workbench": ["coachdesk.benchmarks.workbench_ready"],
}


def line(row: Row) -> str:
    figures = f"{row['value']:>10.3f}  {row['unit']:<8}{row['runs']:>5}"
    return f"{row['name']:<20}{figures}  {row['against']}"


def table(rows: list[Row]) -> str:
    head = f"{'figure':<20}{'value':>10}  {'unit':<8}{'runs':>5}  against"
    return "\n".join([head, *map(line, rows)])


def main() -> int:
    parser = argparse.ArgumentParser(prog="bin/bench", description="Measure the figures.")
    parser.add_argument("--only", choices=GROUPS, help="one group")
    parser.add_argument("--json", type=Path, metavar="FILE", help="write the rows here")
    options = parser.parse_args()
    rows: list[Row] = []
    for group, modules in GROUPS.items():
        if options.only in {None, group}:
            for module in modules:
                rows += importlib.import_module(module).rows()
    print(table(rows))
    if options.json:
        options.json.write_text(json.dumps(rows, indent=2) + "\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
