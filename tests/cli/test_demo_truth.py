#!/usr/bin/python3
"""The demo picture read back: against what its renderer knows, and against another reading of the same pixels.

The other reading takes the pixels through python3-pil's JPEG reader, the profile's own tags and the formulas of
ISO 15076-1 (matrix and curve profiles) and ISO/CIE 11664-4, with nothing of ours between.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import csv
import os
import statistics
import struct

import numpy
from PIL import Image

import cli
from cli import DEMO, PAINTS, PICTURE

EDGE = 6  # CIELAB, root mean square
RISE = 3  # L*, after the core shadow


def read_truth(name):
    with open(os.path.join(DEMO, name), newline="", encoding="utf-8") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


def tags(profile):
    found = {}
    for i in range(struct.unpack(">I", profile[128:132])[0]):
        sig, offset, size = struct.unpack(">4sII", profile[132 + 12 * i:144 + 12 * i])
        found[sig.decode()] = profile[offset:offset + size]
    return found


def xyz_tag(tag):
    return [v / 65536 for v in struct.unpack(">3i", tag[8:20])]


def curve_tag(tag):
    """Samples 0..1 to linear light."""
    kind = tag[:4]
    if kind == b"para":
        form = struct.unpack(">H", tag[8:10])[0]
        p = [v / 65536 for v in struct.unpack(">%di" % ((len(tag) - 12) // 4), tag[12:])]
        if form == 0:
            return lambda x: x ** p[0]
        if form == 3:
            g, a, b, c, d = p[:5]
            return lambda x: numpy.where(x >= d, (a * x + b) ** g, c * x)
        raise ValueError("parametric curve of type %d" % form)
    n = struct.unpack(">I", tag[8:12])[0]
    values = struct.unpack(">%dH" % n, tag[12:12 + 2 * n])
    if n == 1:
        return lambda x: x ** (values[0] / 256)
    grid = numpy.linspace(0, 1, n)
    return lambda x: numpy.interp(x, grid, numpy.array(values) / 65535)


def lab(xyz):
    ratio = numpy.array(xyz) / [0.9642, 1.0, 0.8249]
    f = numpy.where(ratio > 216 / 24389, numpy.cbrt(ratio), (24389 / 27 * ratio + 16) / 116)
    return [116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])]


def delta_e(one, other):
    """CIEDE2000 after Sharma, Wu and Dalal (2005), written apart from the program's."""
    (l1, a1, b1), (l2, a2, b2) = one, other
    cm = (numpy.hypot(a1, b1) + numpy.hypot(a2, b2)) / 2
    g = 0.5 * (1 - numpy.sqrt(cm ** 7 / (cm ** 7 + 25 ** 7)))
    a1, a2 = a1 * (1 + g), a2 * (1 + g)
    c1, c2 = numpy.hypot(a1, b1), numpy.hypot(a2, b2)
    h1, h2 = numpy.degrees(numpy.arctan2(b1, a1)) % 360, numpy.degrees(numpy.arctan2(b2, a2)) % 360
    dh = 0 if c1 * c2 == 0 else (h2 - h1 + 180) % 360 - 180
    hm = (h1 + h2) if c1 * c2 == 0 else (h1 + dh / 2) % 360
    lm, cm = (l1 + l2) / 2, (c1 + c2) / 2
    t = (1 - 0.17 * numpy.cos(numpy.radians(hm - 30)) + 0.24 * numpy.cos(numpy.radians(2 * hm))
         + 0.32 * numpy.cos(numpy.radians(3 * hm + 6)) - 0.2 * numpy.cos(numpy.radians(4 * hm - 63)))
    sl = 1 + 0.015 * (lm - 50) ** 2 / numpy.sqrt(20 + (lm - 50) ** 2)
    sc, sh = 1 + 0.045 * cm, 1 + 0.015 * cm * t
    rt = (-numpy.sin(numpy.radians(60 * numpy.exp(-(((hm - 275) / 25) ** 2))))
          * 2 * numpy.sqrt(cm ** 7 / (cm ** 7 + 25 ** 7)))
    x, y, z = (l2 - l1) / sl, (c2 - c1) / sc, 2 * numpy.sqrt(c1 * c2) * numpy.sin(numpy.radians(dh / 2)) / sh
    return float(numpy.sqrt(x * x + y * y + z * z + rt * y * z))


class OtherReading:
    def __init__(self, path):
        image = Image.open(path)
        profile = tags(image.info["icc_profile"])
        self.pixels = numpy.asarray(image.convert("RGB"), dtype=float) / 255
        self.curves = [curve_tag(profile[c + "TRC"]) for c in "rgb"]
        self.matrix = numpy.array([xyz_tag(profile[c + "XYZ"]) for c in "rgb"]).T

    def disc(self, x, y, r):
        """Mean in linear light, the farthest tenth left out."""
        rows, columns = numpy.mgrid[0:self.pixels.shape[0], 0:self.pixels.shape[1]]
        inside = (columns + 0.5 - x) ** 2 + (rows + 0.5 - y) ** 2 <= r * r
        rgb = self.pixels[inside]
        linear = numpy.stack([self.curves[i](rgb[:, i]) for i in range(3)], axis=1)
        xyz = linear @ self.matrix.T
        far = ((xyz - numpy.median(xyz, axis=0)) ** 2).sum(axis=1)
        kept = xyz[numpy.argsort(far)[:max(1, int(len(far) * 0.9))]]
        return lab(kept.mean(axis=0))


class Truth(cli.CliTest):
    def setUp(self):
        super().setUp()
        rows = read_truth("lighthouse-truth.csv")
        self.discs = [r for r in rows if r["kind"] == "disc"]
        self.card = next(r for r in rows if r["kind"] == "card")
        self.assertGreaterEqual(len(self.discs), 20)

    def spots(self, *extra):
        words = []
        for disc in self.discs:
            words += ["--spot", "%s,%s,%s" % (disc["x"], disc["y"], disc["radius"])]
        return self.answer("measure", PICTURE, *words, *extra)["spots"]

    def test_renderer(self):
        grey = "%s,%s,%s,%s" % (self.card["x"], self.card["y"], self.card["radius"], self.card["L"])
        both = [(delta_e(s["lab_d50"], [float(d[k]) for k in ("L", "a", "b")]), s["spread"])
                for s, d in zip(self.spots("--grey", grey), self.discs)]
        # A disc whose pixels lie far apart has an edge in it, or ribs and strands: there the mean depends on what is
        # left out of it.
        found = [difference for difference, spread in both if spread <= EDGE]
        print("measure against the renderer: dE2000 median %.2f, worst %.2f, of %d discs away from edges; worst of "
              "all %d: %.2f" % (statistics.median(found), max(found), len(found), len(both), max(both)[0]))
        self.assertGreaterEqual(len(found), 20)
        self.assertLessEqual(statistics.median(found), 1.0)
        self.assertLessEqual(max(found), 2.0)

    def test_other_reading(self):
        other = OtherReading(PICTURE)
        found = [delta_e(s["lab_d50"], other.disc(float(d["x"]), float(d["y"]), float(d["radius"])))
                 for s, d in zip(self.spots(), self.discs)]
        print("measure against another reading: dE2000 median %.3f, worst %.3f" % (statistics.median(found), max(found)))
        self.assertLessEqual(statistics.median(found), 0.3)

    def runs(self):
        """Name, truth (81 places) of every run."""
        runs = {}
        for row in read_truth("lighthouse-truth.csv"):
            if row["kind"] == "run":
                runs.setdefault(row["name"], []).append(row)
        return runs.items()

    def find_core(self, places, spots):
        """Reads the run off the picture and fits its curve."""
        grey = "%s,%s,%s,%s" % (self.card["x"], self.card["y"], self.card["radius"], self.card["L"])
        line = "%s,%s:%s,%s" % (places[0]["x"], places[0]["y"], places[-1]["x"], places[-1]["y"])
        read = self.answer("measure", PICTURE, "--run", line, "--spots", str(spots), "--radius", places[0]["radius"],
                           "--grey", grey)["spots"]
        rows = "position,L,a,b\n" + "".join("%g,%g,%g,%g\n" % (s["position"], *s["lab_d50"]) for s in read)
        return self.answer("curve", self.path("run.csv", rows), "--steps", "5")

    def test_core_shadow(self):
        """Where the renderer's lightness is least, against where the fit says, in lengths of the run. Only runs that
        rise again are counted: where a run ends in its core shadow there is nothing to find."""
        near, counted = [], 0
        for name, places in self.runs():
            truth = [float(p["L"]) for p in places]
            core = truth.index(min(truth)) / (len(truth) - 1)
            curve = self.find_core(places, 25)
            off = abs(curve["core_shadow_position"] - core)
            rises = truth[-1] - min(truth) >= RISE
            counted += rises
            if rises and curve["shape"] == "falling_then_rising" and off <= 0.03:
                near.append(name)
            print("core shadow of %s: really %.3f, found %.3f, off by %.3f%s" %
                  (name, core, curve["core_shadow_position"], off, "" if rises else " (does not rise again)"))
        print("core shadow within 3 % of the run on", len(near), "of", counted, "runs that rise again")
        self.assertGreaterEqual(len(near), 6)


cli.main()
