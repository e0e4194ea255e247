# SPDX-License-Identifier: GPL-3.0-or-later
"""Sums up a run of 'meson test': count.py TESTLOG.json STATUS

Each row of the log is one test program. Where its output is TAP its points are
counted, else the program is one point. Ends with 'N passed, N failed' and exits
with 0 only when something passed, nothing failed and STATUS, the exit code of
'meson test', is 0 too.
"""

import json
import re
import sys

POINT = re.compile(r"^(not )?ok \d+\b(.*)$")
SKIP = re.compile(r"#\s*SKIP\b", re.IGNORECASE)


def points(output):
    """Passed, failed and skipped points of a TAP output, and the names that failed."""
    passed = skipped = 0
    failed = []
    for line in output.splitlines():
        match = POINT.match(line)
        if not match:
            continue
        if SKIP.search(match.group(2)):
            skipped += 1
        elif match.group(1):
            failed.append(match.group(2).strip())
        else:
            passed += 1
    return passed, failed, skipped


def main():
    passed = skipped = 0
    failures = []
    with open(sys.argv[1], encoding="utf-8") as log:
        for line in log:
            test = json.loads(line)
            name, fine = test["name"], test["result"] in ("OK", "EXPECTEDFAIL")
            good, bad, left_out = points(test.get("stdout") or "")
            if test["result"] == "SKIP" or (fine and left_out and not good and not bad):
                skipped += max(left_out, 1)
                continue
            passed += good
            skipped += left_out
            failures += [f"{name}: {point}" for point in bad]
            if not fine and not bad:
                failures.append(f"{name}: {test['result'].lower()}")
            elif fine and not good and not bad:
                passed += 1

    # 'meson test' can fail without a failed row, for instance on a wrong argument.
    if not failures and (sys.argv[2] != "0" or passed == 0):
        failures.append(f"meson test ended with {sys.argv[2]} after {passed} passed points")

    print()
    for failure in failures:
        print(f"failed  {failure}")
    if skipped:
        print(f"{skipped} skipped")
    print(f"{passed} passed, {len(failures)} failed")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
