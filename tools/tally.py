#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""usage: tally.py FAILED PYTEST.xml TESTLOG.json...
Adds up what the test runners said and ends with 'N passed, N failed, N skipped'. FAILED 1: some
runner itself ended badly; then at least one failure is counted, whatever the logs say."""
import json
import pathlib
import re
import sys
import xml.etree.ElementTree as xml


def of_pytest(path):
    passed = failed = skipped = 0
    for suite in xml.parse(path).getroot().iter("testsuite"):
        bad = int(suite.get("failures")) + int(suite.get("errors"))
        as_known = len(suite.findall(".//skipped[@type='pytest.xfail']"))  # known to be wrong, and still so
        skips = int(suite.get("skipped")) - as_known
        passed += int(suite.get("tests")) - bad - skips
        failed += bad
        skipped += skips
    return passed, failed, skipped


def of_meson(path):
    passed = failed = skipped = 0
    for line in pathlib.Path(path).read_text().splitlines():
        test = json.loads(line)
        points = re.findall(r"^(not ok|ok)\b([^\n]*)", test.get("stdout") or "", re.M)
        bad = sum(word == "not ok" for word, _ in points)
        skips = sum(word == "ok" and "# SKIP" in rest.upper() for word, rest in points)
        if test["result"] not in ("OK", "SKIP", "EXPECTEDFAIL") and bad == 0:
            bad = 1
        good = sum(word == "ok" for word, _ in points) - skips
        passed += good if points else int(test["result"] == "OK")
        failed += bad
        skipped += skips
    return passed, failed, skipped


def main():
    ended_badly, pytest, *mesons = sys.argv[1:]
    sums = [0, 0, 0]
    for reader, path in [(of_pytest, pytest)] + [(of_meson, m) for m in mesons]:
        try:
            sums = [a + b for a, b in zip(sums, reader(path))]
        except (OSError, ValueError, xml.ParseError) as why:
            print(f"no results in {path}: {why}")
            sums[1] += 1
    if ended_badly != "0" and sums[1] == 0:
        sums[1] = 1
    print("{} passed, {} failed, {} skipped".format(*sums))
    return 1 if sums[1] or not sums[0] else 0


sys.exit(main())
