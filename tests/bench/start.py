#!/usr/bin/python3
"""From the start of the process to the first painted frame, over a program with an empty window.

start.py BUILD [--rounds N]: runs the window without a plan, the window with the demo's plan and the empty program in
turn, on a display of its own with the software renderer, and prints the medians and their ratios.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import argparse
import os
import statistics
import subprocess
import sys
import tempfile
import time

HERE = os.path.dirname(os.path.abspath(__file__))
DATA = os.path.join(HERE, "..", "..", "data")
AIM = 4


def first_frame(build, folder, *command):
    """Milliseconds until a program has painted."""
    path = os.path.join(folder, "probe")
    environment = {**os.environ, "LD_PRELOAD": os.path.join(build, "tests/bench/libprobe.so"), "TS_PROBE_FILE": path,
                   "TS_PROBE_ONCE": "1", "TONESTAIR_DATA": DATA, "GSETTINGS_SCHEMA_DIR": os.path.join(build, "data"),
                   "XDG_STATE_HOME": folder}
    begun = time.clock_gettime(time.CLOCK_MONOTONIC)
    subprocess.run(command, check=True, env=environment, timeout=60)
    with open(path, encoding="utf-8") as file:
        words = file.read().split()
    os.remove(path)
    return float(words[words.index("first_frame_us") + 1]) / 1000 - 1000 * begun


def measure(build, rounds):
    ours = os.path.join(build, "src/gui/tonestair")
    programs = {"empty": [os.path.join(build, "tests/bench/empty-window")], "no plan": [ours],
                "demo's plan": [ours, os.path.join(DATA, "demo/lighthouse.tonestair")]}
    times = {name: [] for name in programs}
    with tempfile.TemporaryDirectory(prefix="tonestair-bench-") as folder:
        # The first of each fills the caches.
        for i in range(rounds + 1):
            for name, command in programs.items():
                value = first_frame(build, folder, *command)
                if i > 0:
                    times[name].append(value)
    return {name: statistics.median(values) for name, values in times.items()}


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("build")
    parser.add_argument("--rounds", type=int, default=9)
    parser.add_argument("--on-display", action="store_true", help=argparse.SUPPRESS)
    options = parser.parse_args()
    build = os.path.abspath(options.build)
    if not options.on_display:
        return subprocess.run(["sh", os.path.join(HERE, "..", "gui", "headless"), "--", "/usr/bin/python3", __file__, build,
                               "--rounds", str(options.rounds), "--on-display"]).returncode
    median = measure(build, options.rounds)
    for name, value in median.items():
        ratio = value / median["empty"]
        verdict = "" if name != "no plan" else "  aim %d%s" % (AIM, "" if ratio < AIM else "  MISSED")
        print("first frame, %-12s %7.0f ms  %5.2f%s" % (name, value, ratio, verdict))
    return 0


sys.exit(main())
