#!/usr/bin/env python3
# correction-peer.py: the pictures that correction-sim wrote, corrected by a plain fit, and the tables
#
# SPDX-License-Identifier: GPL-3.0-or-later
#
# correction-peer.py FOLDER [--pictures]
#
# The peer is the root-polynomial of degree 2 (Finlayson, Mackiewicz and Hurlbert 2015: r, g, b and
# the roots of rg, gb, rb) by numpy's least squares in XYZ on the very patches that the program used.
# CIEDE2000 and CIELAB are scikit-image's. A colour with more than a tenth of its pixels clipped is left
# out for both: the program marks it.
import collections
import csv
import os
import sys

import numpy
from skimage.color import deltaE_ciede2000

WHITE = numpy.array([0.9642, 1.0, 0.8249])  # ICC.1, D50
MOST_CLIPPED = 0.1


def lab_from_xyz(xyz):
    # skimage.color.xyz2lab has a D50 of more digits than ICC's; the formula is ISO/CIE 11664-4.
    t = xyz / WHITE
    f = numpy.where(t > (6 / 29) ** 3, numpy.cbrt(t), t / (3 * (6 / 29) ** 2) + 4 / 29)
    return numpy.stack([116 * f[:, 1] - 16, 500 * (f[:, 0] - f[:, 1]), 200 * (f[:, 1] - f[:, 2])], 1)


def xyz_from_lab(lab):
    y = (lab[:, 0] + 16) / 116
    f = numpy.stack([y + lab[:, 1] / 500, y, y - lab[:, 2] / 200], 1)
    return WHITE * numpy.where(f > 6 / 29, f ** 3, 3 * (6 / 29) ** 2 * (f - 4 / 29))


def terms(rgb):
    r, g, b = rgb.T
    root = numpy.sqrt(numpy.maximum([r * g, g * b, r * b], 0.0))
    return numpy.stack([r, g, b, *root], 1)


def read(folder, name):
    tables = collections.defaultdict(list)
    with open(os.path.join(folder, name), encoding="utf-8") as file:
        for row in csv.DictReader(file):
            tables[int(row["picture"]), row["method"], row.get("kind")].append(row)
    return tables


def columns(rows, *names):
    return numpy.array([[float(row[name]) for name in names] for row in rows])


def fit_peer(patches):
    used = [row for row in patches if row["used"] == "1"]
    wanted = xyz_from_lab(columns(used, "L", "a", "B"))
    return numpy.linalg.lstsq(terms(columns(used, "r", "g", "b")), wanted, rcond=None)[0]


class Picture:
    """What one correction leaves of one picture's colours."""

    def __init__(self, rows):
        self.rows = [row for row in rows if float(row["clipped"]) <= MOST_CLIPPED]
        self.true = columns(self.rows, "L", "a", "B")
        self.found = columns(self.rows, "our_L", "our_a", "our_B")
        self.off = deltaE_ciede2000(self.true, self.found)
        self.covered = self.off <= columns(self.rows, "radius")[:, 0]
        self.covered_lightness = (abs(self.true[:, 0] - self.found[:, 0])
                                  <= columns(self.rows, "radius_L")[:, 0])

    def off_by_peer(self, matrix):
        return deltaE_ciede2000(self.true, lab_from_xyz(terms(columns(self.rows, "r", "g", "b")) @ matrix))


def line(name, pictures):
    off = numpy.concatenate([p.off for p in pictures])
    covered = [p.covered.mean() for p in pictures]
    lightness = numpy.concatenate([p.covered_lightness for p in pictures])
    print("%-28s %5.2f / %5.2f  within stated %.3f, least %.3f, L* %.3f" % (
        name, numpy.median(off), numpy.percentile(off, 90),
        numpy.concatenate([p.covered for p in pictures]).mean(), min(covered), lightness.mean()))


def main():
    folder = sys.argv[1]
    colours, patches = read(folder, "colours.csv"), read(folder, "patches.csv")
    developed = {number: number // 16 % 2 == 1 for number, _, _ in colours}
    print("CIEDE2000, median / 90 %")
    for method in ("none", "card", "cards", "chart", "spoilt"):
        for kind in ("paint", "grey"):
            for name, wanted in (("", (False, True)), (" plain", (False,)), (" developed", (True,))):
                line("%s, %ss%s" % (method, kind, name),
                     [Picture(rows) for (number, of, what), rows in colours.items()
                      if of == method and what == kind and developed[number] in wanted])
    ratios, peers = {}, []
    for number in sorted(developed):
        ours = Picture(colours[number, "chart", "paint"])
        peer = ours.off_by_peer(fit_peer(patches[number, "chart", None]))
        peers.append(peer)
        ratios[number] = ours.off.mean() / peer.mean()
        if "--pictures" in sys.argv:
            print("picture %3d  ours %.2f  peer %.2f  ratio %.3f" % (number, ours.off.mean(),
                                                                    peer.mean(), ratios[number]))
    peers = numpy.concatenate(peers)
    values = numpy.array(list(ratios.values()))
    print("%-28s %5.2f / %5.2f" % ("peer, paints", numpy.median(peers), numpy.percentile(peers, 90)))
    print("mean over the peer's, by picture: median %.3f, most %.3f of %d pictures"
          % (numpy.median(values), values.max(), len(values)))


if __name__ == "__main__":
    main()
