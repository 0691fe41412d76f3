#!/usr/bin/python3
"""Big pictures: how long, how much memory and how smooth, over libjpeg-turbo and lcms2 alone.

pictures.py BUILD [--keep FOLDER] [--scale N]: makes the pictures in a folder that goes again (or stays and is used
again), measures all in one run and prints each figure with its aim. Times are the least of a few rounds, in turn. On a
machine with other work the times of the main loop are also given as what its thread computed.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import argparse
import os
import subprocess
import sys
import tempfile
import time

HERE = os.path.dirname(os.path.abspath(__file__))
ROUNDS = 5
MB = 1e6


def run(*words, **options):
    return subprocess.run(words, check=True, stdout=subprocess.PIPE, text=True, **options).stdout


class Pictures:
    def __init__(self, options):
        self.build, self.folder, self.scale = options.build, options.keep, options.scale
        self.environment = {**os.environ, "TONESTAIR_DATA": os.path.join(HERE, "..", "..", "data"),
                            "GSETTINGS_SCHEMA_DIR": os.path.join(self.build, "data")}

    def path(self, name):
        kind = ".png" if name.endswith(("png", "interlaced")) else ".jpg"
        path = os.path.join(self.folder, name + kind)
        if not os.path.exists(path):
            run("/usr/bin/python3", os.path.join(HERE, "make_pictures.py"), self.folder, name)
        return path

    def plain(self, mode, name):
        return [float(w) for w in run(os.path.join(self.build, "tests/bench/bench-picture"), mode, self.path(name)).split()]

    def measure(self, name):
        """Milliseconds of the whole process with ten spots, and its most memory in bytes."""
        words = [os.path.join(self.build, "src/cli/tonestair-cli"), "measure", self.path(name), "--json"]
        for i in range(10):
            words += ["--spot", "%d,%d,20" % (300 + 250 * i, 200 + 150 * i)]
        begun = time.monotonic()
        process = subprocess.Popen(words, stdout=subprocess.DEVNULL)
        _, status, usage = os.wait4(process.pid, 0)
        process.returncode = status
        if status != 0:
            sys.exit("measure failed: %s" % " ".join(words))
        return 1000 * (time.monotonic() - begun), 1024 * usage.ru_maxrss

    def window(self, name, *more):
        size = "%dx%d" % (1280 * self.scale, 800 * self.scale)
        text = run("sh", os.path.join(HERE, "..", "gui", "headless"), "--size", size, "--scale", str(self.scale), "--limit",
                   "180", "--", os.path.join(self.build, "tests/bench/bench-window"), self.path(name), *more,
                   env=self.environment)
        return {line.split()[0]: float(line.split()[1]) for line in text.splitlines()}


def say(what, value, aim, unit=""):
    verdict = "" if aim is None else "  aim %g%s%s" % (aim, unit, "" if value <= aim else "  MISSED")
    print("%-66s %8.2f%s%s" % (what, value, unit, verdict), flush=True)


def times(pictures):
    decode, first, whole, measure = [], [], [], []
    for _ in range(ROUNDS):
        decode.append(pictures.plain("decode", "24-jpeg")[0])
        measure.append(pictures.measure("24-jpeg")[0])
        seen = pictures.window("24-jpeg", "open")
        first.append(seen["first_ms"])
        whole.append(seen["whole_ms"])
    alone = min(decode)
    say("24 MP JPEG, libjpeg-turbo alone", alone, None, " ms")
    say("  first view over that", min(first) / alone, 0.5)
    say("  whole picture on the screen over that", min(whole) / alone, 1.3)
    say("  measure with ten spots, whole process, over that", min(measure) / alone, 1.3)
    plain, ours = pictures.plain("convert", "24-wide")
    say("tiles converted for the screen over one plain lcms2 call", ours / plain, 1.1)


def memory(pictures):
    for name, pixel in (("24-jpeg", 3), ("24-progressive", 3), ("100-jpeg", 3), ("100-progressive", 3), ("100-interlaced", 3)):
        decoded = float(name.split("-")[0]) * 1e6 * pixel
        aim = (1.5 * decoded + 150 * MB) / decoded
        say("%s, most memory of measure over decoded size" % name, pictures.measure(name)[1] / decoded, aim)
        say("%s, of the window" % name, 1024 * pictures.window(name)["peak_kb"] / decoded, aim)


def smooth(pictures):
    for more in ((), ("move",)):
        seen = pictures.window("50-jpeg", *more)
        say("50 MP, longest stall%s" % (", moving while it opens" if more else ""), seen["stall_ms"], 50, " ms")
        say("  longest that the main thread computed at a stretch", seen["stall_computing_ms"], 50, " ms")
        say("  frames panning and zooming, 95th percentile", seen["frame_95_ms"], 16.7, " ms")
        say("  computed in a frame, 95th percentile", seen["frame_computing_95_ms"], 16.7, " ms")


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("build")
    parser.add_argument("--keep", help="folder of the pictures, to be used again")
    parser.add_argument("--scale", type=int, default=1, help="of the screen, 1 or 2")
    parser.add_argument("--only", choices=["times", "memory", "smooth"])
    options = parser.parse_args()
    options.build = os.path.abspath(options.build)
    with tempfile.TemporaryDirectory(prefix="tonestair-bench-") as folder:
        if options.keep:
            os.makedirs(options.keep, exist_ok=True)
        options.keep = options.keep or folder
        pictures = Pictures(options)
        for part in (times, memory, smooth):
            if options.only in (None, part.__name__):
                part(pictures)


main()
