#!/usr/bin/python3
"""Prints how many tests of a meson log passed and how many failed: count-results.py testlog.json

SPDX-License-Identifier: GPL-3.0-or-later
"""
import json
import sys

passed = failed = 0
try:
    with open(sys.argv[1], encoding="utf-8") as log:
        for line in log:
            result = json.loads(line)["result"]
            if result in ("OK", "EXPECTEDFAIL"):
                passed += 1
            elif result != "SKIP":
                failed += 1
except OSError:
    failed = 1
print(passed, failed)
