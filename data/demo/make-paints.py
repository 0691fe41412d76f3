#!/usr/bin/env python3
# make-paints.py: invents the demo paint set; prints it as CSV
#
# SPDX-License-Identifier: GPL-3.0-or-later
"""Every paint here is invented. A paint is a recipe of invented pigments; a pigment is a few smooth
absorption bands and a smooth scattering. Nothing is measured and nothing is copied from a real paint.

usage: make-paints.py > lighthouse-paints.csv
"""

import csv
import math
import sys

BANDS = range(400, 701, 10)
# Read as an instrument at 45:0 reads: nearly all of the surface's sheen is left out.
K1, K2 = 0.02, 0.6
CARD_BLACK, CARD_WHITE = 0.0, 0.8  # inside reflectances of the plain contrast card


def bell(nm, centre, width):
    """A Gaussian band, 1 at its centre."""
    return math.exp(-0.5 * ((nm - centre) / width) ** 2)


def edge(nm, at, width):
    """1 below the edge, 0 above it."""
    return 1.0 / (1.0 + math.exp((nm - at) / width))


def pigment(absorb, scatter):
    """K and S at every band, from two functions of the wavelength."""
    return ([absorb(nm) for nm in BANDS], [scatter(nm) for nm in BANDS])


# Absorption and scattering per coat of a paint at full strength.
PIGMENTS = {
    # Titanium white: absorbs only towards the violet end.
    "white": pigment(lambda nm: 0.004 + 0.25 * edge(nm, 403, 5), lambda nm: 6.0),
    # Carbon black: nearly even, a little stronger in the blue.
    "black": pigment(lambda nm: 9.0 + 1.2 * edge(nm, 520, 60), lambda nm: 0.16),
    # Iron oxides.
    "ochre": pigment(lambda nm: 0.10 + 5.2 * edge(nm, 498, 19) + 1.0 * bell(nm, 600, 55) * 0.35,
                     lambda nm: 1.6 + 0.5 * (1 - edge(nm, 560, 30))),
    "red oxide": pigment(lambda nm: 0.24 + 7.5 * edge(nm, 567, 13) + 0.22 * bell(nm, 650, 40),
                         lambda nm: 1.5 + 0.7 * (1 - edge(nm, 600, 25))),
    "umber": pigment(lambda nm: 0.95 + 4.6 * edge(nm, 545, 42), lambda nm: 0.85),
    "burnt earth": pigment(lambda nm: 0.34 + 4.6 * edge(nm, 573, 20), lambda nm: 0.42),
    # Organic yellows, oranges and reds.
    "opaque yellow": pigment(lambda nm: 0.012 + 7.0 * edge(nm, 492, 8), lambda nm: 2.6),
    "lemon": pigment(lambda nm: 0.012 + 6.0 * edge(nm, 476, 8), lambda nm: 1.5),
    "clear gold": pigment(lambda nm: 0.02 + 5.5 * edge(nm, 513, 11), lambda nm: 0.22),
    "opaque orange": pigment(lambda nm: 0.012 + 7.5 * edge(nm, 555, 7), lambda nm: 2.2),
    "opaque red": pigment(lambda nm: 0.012 + 8.0 * edge(nm, 585, 7), lambda nm: 1.9),
    "deep red": pigment(lambda nm: 0.05 + 7.0 * edge(nm, 603, 12) * (0.75 + 0.25 * bell(nm, 530, 45)),
                        lambda nm: 0.9),
    "magenta": pigment(lambda nm: 0.02 + 6.0 * bell(nm, 541, 30) + 0.7 * bell(nm, 430, 45),
                       lambda nm: 0.22),
    "violet": pigment(lambda nm: 0.16 + 9.0 * bell(nm, 560, 40) + 1.0 * bell(nm, 640, 30),
                      lambda nm: 0.20),
    # Blues and greens.
    "deep blue": pigment(lambda nm: 0.05 + 5.5 * bell(nm, 600, 50) + 0.9 * bell(nm, 530, 40),
                         lambda nm: 0.20 + 0.10 * edge(nm, 480, 30)),
    "strong blue": pigment(lambda nm: 0.08 + 10.0 * bell(nm, 620, 52) + 3.0 * bell(nm, 690, 45) +
                           0.5 * edge(nm, 408, 12), lambda nm: 0.22 + 0.12 * edge(nm, 490, 20)),
    "strong green": pigment(lambda nm: 0.10 + 8.5 * bell(nm, 645, 56) + 4.6 * edge(nm, 446, 18),
                            lambda nm: 0.22 + 0.12 * bell(nm, 510, 30)),
    "dull green": pigment(lambda nm: 0.42 + 2.6 * edge(nm, 486, 18) + 2.4 * bell(nm, 612, 42) +
                          0.9 * bell(nm, 690, 40), lambda nm: 1.25),
    # Flakes, as far as two constants can say it.
    "silver": pigment(lambda nm: 0.55, lambda nm: 5.0),
}


def blend(shares):
    """K and S of a paint from shares of pigments, which need not add up to 1."""
    k = [sum(part * PIGMENTS[name][0][b] for name, part in shares.items()) for b in range(len(BANDS))]
    s = [sum(part * PIGMENTS[name][1][b] for name, part in shares.items()) for b in range(len(BANDS))]
    return k, s


def film(k, s, ground):
    """Kubelka's film of one coat over a ground, inside reflectance."""
    r = math.sqrt(k * (k + 2 * s))
    t = math.tanh(r) / r
    return (s * t - ground * ((k + s) * t - 1)) / ((k + s) * t - ground * s * t + 1)


def measured(inside):
    return K1 + (1 - K1) * (1 - K2) * inside / (1 - K2 * inside)


def masstone(k, s):
    return measured(s / (k + s + math.sqrt(k * (k + 2 * s))))


# name, kind, opacity, finish, pigments, stock, colour group, shares, notes
PAINTS = [
    ("Plain White", "paint", "semi-opaque", "matt", "PW6", "full", "ks", {"white": 0.8},
     "keep for the brightest spots"),
    ("Bone White", "paint", "semi-opaque", "matt", "PW6 PY42", "full", "ks",
     {"white": 0.78, "ochre": 0.11, "umber": 0.012}, ""),
    ("Cold Pale Grey", "paint", "opaque", "matt", "PW6 PBk7 PB29", "full", "ks",
     {"white": 0.85, "black": 0.035, "deep blue": 0.05}, ""),
    ("Middle Grey", "paint", "opaque", "matt", "PW6 PBk7", "full", "ks",
     {"white": 0.75, "black": 0.16}, ""),
    ("Slate Grey", "paint", "opaque", "matt", "PBk7 PW6 PB29", "full", "ks",
     {"white": 0.33, "black": 0.28, "deep blue": 0.25}, ""),
    ("Lamp Black", "paint", "opaque", "matt", "PBk7", "full", "ks", {"black": 1.0}, ""),
    ("Warm Black", "paint", "opaque", "matt", "PBk7 PBr7", "full", "ks",
     {"black": 0.5, "umber": 0.9}, ""),
    ("Yellow Earth", "paint", "semi-opaque", "matt", "PY42", "full", "ks", {"ochre": 1.0}, ""),
    ("Sand", "paint", "opaque", "matt", "PW6 PY42 PBr7", "full", "ks",
     {"white": 0.55, "ochre": 0.5, "umber": 0.12}, ""),
    ("Red Earth", "paint", "opaque", "matt", "PR101", "full", "ks", {"red oxide": 0.9}, ""),
    ("Burnt Brick Earth", "paint", "semi-transparent", "satin", "PBr7", "full", "films",
     {"burnt earth": 1.0}, ""),
    ("Dark Umber", "paint", "semi-opaque", "matt", "PBr7 PBk7", "full", "ks",
     {"umber": 1.0, "black": 0.06}, ""),
    ("Saddle Brown", "paint", "opaque", "matt", "PR101 PBr7 PW6", "full", "ks",
     {"red oxide": 0.4, "umber": 0.5, "ochre": 0.35, "white": 0.05}, ""),
    ("Oak Brown", "paint", "opaque", "matt", "PY42 PBr7 PW6", "full", "ks",
     {"ochre": 0.6, "umber": 0.45, "burnt earth": 0.2, "white": 0.1}, ""),
    ("Harbour Yellow", "paint", "semi-opaque", "matt", "PY184 PY83", "full", "ks",
     {"opaque yellow": 1.0}, "opaque, for a warm light"),
    ("Lemon Peel", "paint", "semi-transparent", "matt", "PY3", "full", "ks", {"lemon": 0.8}, ""),
    ("Clear Honey", "paint", "transparent", "gloss", "PY150", "low", "ks", {"clear gold": 0.9}, ""),
    ("Buoy Orange", "paint", "semi-opaque", "matt", "PO73", "full", "ks", {"opaque orange": 1.0}, ""),
    ("Signal Red", "paint", "semi-opaque", "matt", "PR254", "full", "films", {"opaque red": 1.0}, ""),
    ("Dark Cherry", "paint", "semi-opaque", "matt", "PR170 PV19", "full", "ks",
     {"deep red": 1.0, "violet": 0.04}, ""),
    ("Clear Rose", "paint", "transparent", "satin", "PR122", "full", "ks", {"magenta": 0.9}, ""),
    ("Plum", "paint", "semi-opaque", "matt", "PV19 PV23 PW6", "full", "ks",
     {"magenta": 0.6, "violet": 0.3, "white": 0.08}, ""),
    ("Dark Violet", "paint", "transparent", "matt", "PV23", "full", "ks", {"violet": 0.5}, ""),
    ("Heather", "paint", "opaque", "matt", "PW6 PV23 PR122", "full", "films",
     {"white": 0.6, "violet": 0.09, "magenta": 0.06}, ""),
    ("Night Blue", "paint", "semi-opaque", "matt", "PB29 PBk7", "full", "ks",
     {"deep blue": 1.0, "black": 0.12, "white": 0.03}, ""),
    ("Deep Sea Blue", "paint", "semi-transparent", "matt", "PB29", "full", "ks",
     {"deep blue": 1.1, "white": 0.02}, ""),
    ("Strong Blue", "paint", "transparent", "satin", "PB15:3", "full", "ks", {"strong blue": 0.9}, ""),
    ("Sky Blue", "paint", "opaque", "matt", "PW6 PB28", "full", "ks",
     {"white": 0.8, "strong blue": 0.05, "deep blue": 0.05}, ""),
    ("Shallow Turquoise", "paint", "opaque", "matt", "PW6 PB15:3 PG7", "full", "ks",
     {"white": 0.65, "strong blue": 0.09, "strong green": 0.09}, ""),
    ("Strong Green", "paint", "transparent", "satin", "PG7", "full", "ks", {"strong green": 0.9}, ""),
    ("Pine Green", "paint", "semi-opaque", "matt", "PG7 PY42 PBk7", "full", "ks",
     {"strong green": 0.35, "ochre": 0.5, "black": 0.06}, ""),
    ("Chrome Leaf", "paint", "opaque", "matt", "PG17", "full", "ks", {"dull green": 1.0}, ""),
    ("Waxed Olive", "paint", "opaque", "matt", "PY42 PG17 PBk7", "full", "ks",
     {"ochre": 0.8, "dull green": 0.35, "black": 0.07}, ""),
    ("Fair Skin", "paint", "opaque", "matt", "PW6 PY42 PR101", "full", "ks",
     {"white": 0.72, "ochre": 0.08, "red oxide": 0.055}, ""),
    ("Tanned Skin", "paint", "opaque", "matt", "PW6 PR101 PY42", "full", "ks",
     {"white": 0.42, "ochre": 0.3, "red oxide": 0.26}, ""),
    ("Ruddy Skin", "paint", "opaque", "matt", "PR101 PW6 PR254", "full", "films-lab",
     {"white": 0.25, "red oxide": 0.3, "opaque red": 0.06, "ochre": 0.2}, ""),
    ("Dark Skin", "paint", "opaque", "matt", "PR101 PBr7", "full", "ks",
     {"red oxide": 0.35, "umber": 0.7, "white": 0.06, "ochre": 0.1}, ""),
    ("Bright Steel", "metallic", "opaque", "metallic", "", "out", "lab", {"silver": 1.0, "black": 0.02}, ""),
    ("Old Brass", "metallic", "semi-opaque", "metallic", "PY150", "out", "lab",
     {"silver": 0.35, "clear gold": 0.5, "umber": 0.25}, ""),
    ("Brown Ink", "ink", "transparent", "gloss", "PBr7 PBk7", "full", "ks",
     {"burnt earth": 0.65}, ""),
    ("Blue Ink", "ink", "transparent", "gloss", "PB15:3 PV23", "full", "ks",
     {"strong blue": 0.7, "violet": 0.15}, ""),
    ("Sepia Wash", "wash", "transparent", "matt", "PBr7 PBk7", "full", "ks",
     {"umber": 0.11, "black": 0.025, "burnt earth": 0.08}, "let it run into the folds"),
    ("Flesh Shade Wash", "wash", "transparent", "matt", "PR101", "low", "ks",
     {"burnt earth": 0.25, "magenta": 0.04}, ""),
    ("Black Primer", "primer", "opaque", "matt", "PBk7", "full", "masstone", {"black": 1.0}, ""),
    ("Grey Primer", "primer", "opaque", "matt", "PW6 PBk7", "full", "masstone",
     {"white": 0.8, "black": 0.14}, ""),
    ("White Primer", "primer", "opaque", "matt", "PW6", "full", "masstone", {"white": 0.9}, ""),
    ("Gloss Medium", "medium", "", "gloss", "", "full", "", {}, ""),
    ("Matt Medium", "medium", "", "matt", "", "full", "", {}, ""),
    ("Satin Varnish", "varnish", "", "satin", "", "full", "", {}, ""),
]

# CIE 1931 observer times D50 for the three colours given as CIELAB, as the sum of Gaussian lobes of Wyman,
# Sloan and Shirley (2013) times a straight line for the light: near enough for an invented colour.
def lobe(nm, centre, low, high):
    return math.exp(-0.5 * ((nm - centre) / (low if nm < centre else high)) ** 2)


def observer(nm):
    light = 0.6 + 0.4 * min(1.0, (nm - 400) / 160)
    x = 1.056 * lobe(nm, 599.8, 37.9, 31.0) + 0.362 * lobe(nm, 442.0, 16.0, 26.7) - \
        0.065 * lobe(nm, 501.1, 20.4, 26.2)
    y = 0.821 * lobe(nm, 568.8, 46.9, 40.5) + 0.286 * lobe(nm, 530.9, 16.3, 31.1)
    z = 1.217 * lobe(nm, 437.0, 11.8, 36.0) + 0.681 * lobe(nm, 459.0, 26.0, 13.8)
    return light * x, light * y, light * z


def lab(reflectance):
    weights = [observer(nm) for nm in BANDS]
    f = []
    for c in range(3):
        t = sum(w[c] * r for w, r in zip(weights, reflectance)) / sum(w[c] for w in weights)
        f.append(t ** (1 / 3) if t > (6 / 29) ** 3 else t / (3 * (6 / 29) ** 2) + 4 / 29)
    return [116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])]


def columns():
    names = ["name", "kind", "opacity", "finish", "pigments", "stock", "notes", "L", "a", "b"]
    names += ["L_white", "a_white", "b_white", "L_black", "a_black", "b_black"]
    for prefix in ("R", "RW", "RB", "K", "S"):
        names += ["%s%d" % (prefix, nm) for nm in BANDS]
    return names


def colour_cells(group, shares):
    """The cells of one colour group."""
    if not group:
        return {}
    k, s = blend(shares)
    thick = [masstone(a, b) for a, b in zip(k, s)]
    over = {letter: [measured(film(a, b, ground)) for a, b in zip(k, s)]
            for letter, ground in (("B", CARD_BLACK), ("W", CARD_WHITE))}
    if group == "ks":
        runs = {"K": k, "S": s}
    elif group == "masstone":
        runs = {"R": thick}
    elif group == "films":
        runs = {"RW": over["W"], "RB": over["B"]}
    else:
        words = ("L", "a", "b")
        if group == "lab":
            return {w: "%.1f" % v for w, v in zip(words, lab(thick))}
        cells = {}
        for side, letter in (("white", "W"), ("black", "B")):
            cells.update({"%s_%s" % (w, side): "%.1f" % v for w, v in zip(words, lab(over[letter]))})
        return cells
    return {"%s%d" % (prefix, nm): "%.4g" % value
            for prefix, values in runs.items() for nm, value in zip(BANDS, values)}


def main():
    sys.stdout.write("# Lighthouse paints: a demo set. Every paint is invented; make-paints.py wrote this file.\n")
    sys.stdout.write("# surface: k1=%g k2=%g\n" % (K1, K2))
    names = columns()
    writer = csv.DictWriter(sys.stdout, names, restval="", lineterminator="\n")
    writer.writeheader()
    for name, kind, opacity, finish, pigments, stock, group, shares, notes in PAINTS:
        row = {"name": name, "kind": kind, "opacity": opacity, "finish": finish, "pigments": pigments,
               "stock": stock, "notes": notes}
        row.update(colour_cells(group, shares))
        writer.writerow(row)


if __name__ == "__main__":
    main()
