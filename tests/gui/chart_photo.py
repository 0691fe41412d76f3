#!/usr/bin/python3
"""chart_photo.py: a photograph with a chart and cards in it, under a warm lamp: chart_photo.py FILE.png

Rendered from published numbers (tests/fixtures/published/): the chart's reflectances (Ohta 1997), one
camera's sensitivities, CIE illuminant A. The camera is balanced for D65 and stays so, so that the
picture is warm. On its left a painted cylinder runs from a clipped light to a lost shadow.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import csv
import os
import sys

import numpy as np
from PIL import Image

SOURCE = os.environ.get("TS_TEST_SOURCE") or os.path.join(os.path.dirname(__file__), "..", "..")
PUBLISHED = os.path.join(os.path.abspath(SOURCE), "tests", "fixtures", "published")
WIDTH, HEIGHT = 1200, 900
WAVES = np.arange(400, 701, 10)

# Centres of the corner patches, clockwise from patch 1, pixels.
CORNERS = ((640, 520), (1078, 545), (1062, 826), (634, 792))
# Neutral cards: left, top, right, bottom, and reflectance (18 % grey has L* 49.5).
CARDS = {"grey": (640, 120, 860, 340, 0.18), "white": (900, 120, 1040, 260, 0.90), "black": (900, 290, 1040, 430, 0.03)}
TEAL = 4, 13  # the cylinder is painted between these patches of the chart: foliage and green
EXPOSURE = 0.80  # of the chart's white, in linear light


def read(name, first):
    """Rows of a published table as their first columns, and the values at WAVES."""
    with open(os.path.join(PUBLISHED, name), encoding="utf-8") as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    return [tuple(row[c] for c in first) for row in rows], rows


def chart():
    _, rows = read("chart24_reflectance.csv", ())
    return np.array([[float(row["R%d" % w]) for w in WAVES] for row in rows])


def columns(name, wanted):
    _, rows = read(name, ())
    wave = next(c for c in rows[0] if c.lower() in ("nm", "wavelength", "lambda", "wavelength_nm"))
    at = {float(row[wave]): row for row in rows}
    return np.array([[float(at[float(w)][c]) for w in WAVES] for c in wanted])


def camera(illuminant):
    """Reflectance to linear RGB: a white under D65 has three equal channels."""
    names = read("camera_sensitivities_5nm.csv", ())[1][0].keys()
    wanted = [c for c in names if c.lower().startswith("c1")][:3]
    sensitivity = columns("camera_sensitivities_5nm.csv", wanted)
    light, balanced = columns("cie_illuminants_5nm.csv", (illuminant, "D65"))
    gain = 1.0 / (sensitivity @ balanced)
    return (sensitivity * light) * gain[:, None]


def homography(corners):
    """From the unit square to the four places."""
    a, b = [], []
    for (u, v), (x, y) in zip(((0, 0), (1, 0), (1, 1), (0, 1)), corners):
        a += [[u, v, 1, 0, 0, 0, -u * x, -v * x], [0, 0, 0, u, v, 1, -u * y, -v * y]]
        b += [x, y]
    return np.append(np.linalg.solve(np.array(a, float), np.array(b, float)), 1.0).reshape(3, 3)


def patch_map():
    """For each pixel the patch it shows, -1 the board between them, -2 neither."""
    y, x = np.mgrid[0:HEIGHT, 0:WIDTH] + 0.5
    p = np.linalg.inv(homography(CORNERS)) @ np.stack([x.ravel(), y.ravel(), np.ones(x.size)])
    u, v = 5.0 * p[0] / p[2], 3.0 * p[1] / p[2]
    column, row = np.rint(u), np.rint(v)
    inside = (column >= 0) & (column <= 5) & (row >= 0) & (row <= 3)
    on_patch = inside & (np.abs(u - column) < 0.43) & (np.abs(v - row) < 0.43)
    board = (u > -0.62) & (u < 5.62) & (v > -0.64) & (v < 3.64)
    found = np.where(on_patch, 6 * row + column, np.where(board, -1, -2))
    return found.reshape(HEIGHT, WIDTH).astype(int)


def render():
    """Linear RGB, height x width x 3."""
    reflectance, to_rgb = chart(), camera("A")
    patches = reflectance @ to_rgb.T
    white = patches[18]
    scale = EXPOSURE / white.max()
    flat = np.ones(len(WAVES)) @ to_rgb.T
    y, x = np.mgrid[0:HEIGHT, 0:WIDTH]
    rgb = 0.32 * (1.0 - 0.1 * x / WIDTH)[..., None] * flat
    seen = patch_map()
    rgb[seen == -1] = 0.03 * flat
    for i in range(24):
        rgb[seen == i] = patches[i]
    for left, top, right, bottom, share in CARDS.values():
        rgb[top:bottom, left:right] = share * flat
    # The cylinder: Lambert's cosine from the left, a glint, and a foot in the dark.
    turn = (x - 300.0) / 200.0
    lit = np.clip(np.cos(np.arcsin(np.clip(turn, -1, 1)) + 0.9), 0.02, 1.0)
    paint = np.mean(reflectance[list(TEAL)], axis=0) @ to_rgb.T
    glint = 6.0 * np.exp(-(((x - 170.0) / 14.0) ** 2) - ((y - 330.0) / 70.0) ** 2)
    body = (np.abs(turn) < 1) & (y > 140) & (y < 780)
    rgb[body] = (lit[..., None] * (1.9 * paint) + glint[..., None] * flat)[body]
    rgb[(y >= 780) & (y < 850) & (np.abs(turn) < 1.1)] = 0.0
    return rgb * scale


def save(path, rgb, seed=1):
    noise = np.random.default_rng(seed).normal(0.0, 0.004, rgb.shape)
    rgb = np.where(rgb > 0, np.clip(rgb + noise * np.sqrt(np.maximum(rgb, 0)), 0, 1), 0)
    srgb = np.where(rgb <= 0.0031308, 12.92 * rgb, 1.055 * np.power(np.maximum(rgb, 1e-9), 1 / 2.4) - 0.055)
    Image.fromarray(np.rint(255 * srgb).astype(np.uint8), "RGB").save(path)


def write(path, exposure=1.0):
    save(path, exposure * render())
    return path


if __name__ == "__main__":
    write(sys.argv[1])
