"""render_sheet.py: a photograph of a painted swatch sheet beside a chart, computed from measured spectra

The sheet lies tilted in front of a pinhole camera; each pixel is the spectrum there, the light and the camera's
measured sensitivities summed over 380 to 780 nm at 5 nm. Tables: tests/fixtures/published, which name their sources.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import csv
import os

import numpy
from PIL import Image, PngImagePlugin

NM = numpy.arange(380, 781, 5)
CELL = 22.0   # mm
PATCH = 13.0  # mm from one chart patch to the next
GUTTER = 0.1  # bare card about a swatch, share of a cell
BARE = 0.25   # strip left bare at the top of a cell with halves


def table(published, name):
    with open(os.path.join(published, name), encoding="utf-8") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


def spectrum(row, prefix):
    """Columns PREFIXnnn at 5 nm, straight between samples and held at the ends."""
    at = sorted(int(key[len(prefix):]) for key in row if key.startswith(prefix) and key[len(prefix):].isdigit())
    return numpy.interp(NM, at, [float(row["%s%d" % (prefix, nm)]) for nm in at])


def column(rows, name):
    return numpy.interp(NM, [float(r["nm"]) for r in rows], [float(r[name]) for r in rows])


def measured(inside, k1=0.03, k2=0.65):
    """Saunderson (1942) with the constants of km_acrylics_2016.csv."""
    return k1 + (1 - k1) * (1 - k2) * inside / (1 - k2 * inside)


def unmeasured(seen, k1=0.03, k2=0.65):
    return (seen - k1) / ((1 - k1) * (1 - k2) + k2 * (seen - k1))


def film(K, S, ground):
    """Kubelka (1948) in the textbook's form, over an inside reflectance."""
    a = 1 + K / S
    b = numpy.sqrt(a * a - 1)
    coth = 1 / numpy.tanh(b * S)
    return (1 - ground * (a - b * coth)) / (a - ground + b * coth)


class World:
    def __init__(self, published):
        self.chart = numpy.array([spectrum(r, "R") for r in table(published, "chart24_reflectance.csv")])
        self.pigments = numpy.array([spectrum(r, "R") for r in table(published, "pigment_patches.csv")])
        acrylics = table(published, "km_acrylics_2016.csv")
        self.K = numpy.array([spectrum(r, "K") for r in acrylics])
        self.S = numpy.array([spectrum(r, "S") for r in acrylics])
        observer = table(published, "cie_1931_2deg_5nm.csv")
        days, lamps = table(published, "cie_illuminants_5nm.csv"), table(published, "cie_illuminants_lamps_5nm.csv")
        self.lights = {name: column(days, name) for name in ("A", "D50", "D65")}
        self.lights["LED-B1"] = column(lamps, "LED-B1")
        xyz = numpy.stack([column(observer, name) for name in ("xbar", "ybar", "zbar")], 1)
        # CIELAB is of bands from 400 to 700 nm, held at the ends, as the design has it.
        self.xyz = xyz * self.lights["D50"][:, None]
        self.xyz /= self.xyz[:, 1].sum()
        cameras = table(published, "camera_sensitivities_5nm.csv")
        self.cameras = {c: numpy.stack([column(cameras, "%s_%s" % (c, ch)) for ch in "rgb"], 1)
                        for c in ("c1", "c2", "c3", "c4")}

    def masstones(self):
        ratio = self.K / self.S
        return measured(1 + ratio - numpy.sqrt(ratio * ratio + 2 * ratio))

    def films(self, coats, ground):
        return measured(film(self.K * coats, self.S * coats, unmeasured(ground)))

    def lab(self, reflectance):
        held = numpy.array(reflectance, dtype=float)
        held[..., NM < 400] = held[..., NM == 400]
        held[..., NM > 700] = held[..., NM == 700]
        t = held @ self.xyz / self.xyz.sum(0)
        f = numpy.where(t > (6 / 29) ** 3, numpy.cbrt(t), t * (29 / 6) ** 2 / 3 + 4 / 29)
        return numpy.stack([116 * f[..., 1] - 16, 500 * (f[..., 0] - f[..., 1]), 200 * (f[..., 1] - f[..., 2])], -1)


def to_wide():
    """XYZ (D50) to linear RGB of ITU-R BT.2020, its primaries and D65, adapted by Bradford (Lam 1985)."""
    xy = numpy.array([[0.708, 0.292], [0.170, 0.797], [0.131, 0.046]])
    white = numpy.array([0.3127 / 0.3290, 1.0, (1 - 0.3127 - 0.3290) / 0.3290])
    primaries = numpy.stack([xy[:, 0] / xy[:, 1], numpy.ones(3), (1 - xy.sum(1)) / xy[:, 1]])
    to_xyz = primaries * numpy.linalg.solve(primaries, white)
    cone = numpy.array([[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]])
    adapt = numpy.linalg.inv(cone) @ numpy.diag(cone @ [0.9642, 1, 0.8249] / (cone @ white)) @ cone
    return numpy.linalg.inv(adapt @ to_xyz)


def perspective(tilt, distance, focal, middle, size):
    """Millimetres on the sheet to pixels: a sheet about @middle, tilted about a slanting axis."""
    axis = numpy.array([numpy.cos(0.6), numpy.sin(0.6), 0.0])
    c, s = numpy.cos(numpy.radians(tilt)), numpy.sin(numpy.radians(tilt))
    x, y, z = axis
    turn = numpy.array([[c + x * x * (1 - c), x * y * (1 - c) - z * s, x * z * (1 - c) + y * s],
                        [y * x * (1 - c) + z * s, c + y * y * (1 - c), y * z * (1 - c) - x * s],
                        [z * x * (1 - c) - y * s, z * y * (1 - c) + x * s, c + z * z * (1 - c)]])
    plane = numpy.array([[1, 0, -middle[0]], [0, 1, -middle[1]], [0, 0, 0]], dtype=float)
    placed = turn @ plane
    placed[2] += numpy.array([0, 0, distance])
    return numpy.array([[focal, 0, size[0] / 2], [0, focal, size[1] / 2], [0, 0, 1]]) @ placed


def through(matrix, points):
    p = numpy.column_stack([points, numpy.ones(len(points))]) @ matrix.T
    return p[:, :2] / p[:, 2:]


class Sheet:
    """Spectra of cells (rows x columns, each one, or a pair over white and black) and where they lie, in mm."""

    def __init__(self, world, cells, n_columns, halves=False, white=0.88, black=0.045):
        self.world, self.cells, self.n_columns, self.halves = world, cells, n_columns, halves
        self.n_rows = -(-len(cells) // n_columns)
        self.white = white * numpy.interp(NM, [380, 430, 500, 780], [0.82, 0.97, 1.0, 1.0])
        self.black = numpy.full(len(NM), black)
        self.chart_at = (n_columns * CELL + 12.0, 4.0)
        self.size = (self.chart_at[0] + 6 * PATCH, max(self.n_rows * CELL, 4 * PATCH + 8.0))

    def palette(self):
        """All spectra there are, and where each kind begins."""
        base = [numpy.interp(NM, [380, 780], [0.25, 0.4]), self.white, self.black, numpy.full(len(NM), 0.03)]
        cells = [s for cell in self.cells for s in (cell if self.halves else [cell])]
        return numpy.array(base + cells + list(self.world.chart))

    def index_at(self, x, y):
        """Which spectrum lies at each place of the sheet's plane."""
        out = numpy.zeros(x.shape, dtype=int)
        margin = 6.0
        board = (x > -margin) & (x < self.size[0] + margin) & (y > -margin) & (y < self.size[1] + margin)
        out[board] = 1
        column, row = numpy.floor(x / CELL).astype(int), numpy.floor(y / CELL).astype(int)
        cell = row * self.n_columns + column
        inside = (column >= 0) & (column < self.n_columns) & (row >= 0) & (row < self.n_rows) & (cell < len(self.cells))
        u, v = x / CELL - column, y / CELL - row
        half = (u >= 0.5).astype(int) if self.halves else numpy.zeros(x.shape, dtype=int)
        along = 2 * u - half if self.halves else u
        painted = inside & (along > GUTTER) & (along < 1 - GUTTER) & (v < 1 - GUTTER)
        painted &= v > (BARE if self.halves else GUTTER)
        if self.halves:
            out[inside & (half == 1)] = 2
        kind = cell * 2 + half if self.halves else cell
        out[painted] = 4 + kind[painted]
        n = len(self.cells) * (2 if self.halves else 1)
        column, row = (x - self.chart_at[0]) / PATCH, (y - self.chart_at[1]) / PATCH
        chart = (column > -0.1) & (column < 6.1) & (row > -0.1) & (row < 4.1)
        out[chart] = 3
        patch = chart & (abs(column - numpy.floor(column) - 0.5) < 0.43) & (abs(row - numpy.floor(row) - 0.5) < 0.43)
        patch &= (column > 0) & (column < 6) & (row > 0) & (row < 4)
        out[patch] = 4 + n + (numpy.floor(row) * 6 + numpy.floor(column)).astype(int)[patch]
        return out

    def corners(self):
        w, h = self.n_columns * CELL, self.n_rows * CELL
        return numpy.array([[0, 0], [w, 0], [w, h], [0, h]])

    def chart_corners(self):
        x, y = self.chart_at
        return numpy.array([[x + PATCH / 2, y + PATCH / 2], [x + 5.5 * PATCH, y + PATCH / 2],
                            [x + 5.5 * PATCH, y + 3.5 * PATCH], [x + PATCH / 2, y + 3.5 * PATCH]])


def photograph(sheet, path, camera="c3", light="A", tilt=10.0, fall=0.15, noise=0.004, size=(1800, 1000), seed=1):
    """Saves the picture (PNG, 8 bits, wide primaries); returns corners of the grid and of the chart in pixels."""
    world, random = sheet.world, numpy.random.default_rng(seed)
    distance = 500.0
    middle = (sheet.size[0] / 2, sheet.size[1] / 2)
    focal = 0.86 * min(size[0] / sheet.size[0], size[1] / sheet.size[1]) * distance
    matrix = perspective(tilt, distance, focal, middle, size)
    px, py = numpy.meshgrid(numpy.arange(size[0]) + 0.5, numpy.arange(size[1]) + 0.5)
    back = through(numpy.linalg.inv(matrix), numpy.column_stack([px.ravel(), py.ravel()]))
    index = sheet.index_at(back[:, 0], back[:, 1])

    # White balance most of the way from daylight to the lamp, as a phone leaves a warm light.
    s = world.cameras[camera]
    day, lamp = world.lights["D65"] @ s, world.lights[light] @ s
    raw = (sheet.palette() * world.lights[light]) @ s / (day ** 0.3 * lamp ** 0.7)
    # The maker's matrix, into a space wide enough for paints under a warm light, as a raw converter saves it: by least squares over the chart in daylight.
    wanted = world.chart @ world.xyz @ to_wide().T
    seen = (world.chart * world.lights["D65"]) @ s / day
    raw = raw @ numpy.linalg.lstsq(seen, wanted, rcond=None)[0]
    raw *= 0.85 / (raw[1].max())  # the bare card just does not clip
    rgb = raw[index]
    # The light falls off from left to right over the sheet, a little more at the top.
    x, y = back[:, 0] / sheet.size[0], back[:, 1] / sheet.size[1]
    rgb = rgb * (1 - fall * x - 0.3 * fall * x * (1 - y))[:, None]
    rgb = rgb + noise * numpy.sqrt(numpy.clip(rgb, 0.01, None)) * random.standard_normal(rgb.shape)
    rgb = numpy.clip(rgb, 0, 1)
    encoded = numpy.where(rgb <= 0.0031308, 12.92 * rgb, 1.055 * rgb ** (1 / 2.4) - 0.055)
    pixels = numpy.round(255 * encoded).astype(numpy.uint8).reshape(size[1], size[0], 3)
    # Coding of the colours (ITU-T H.273): BT.2020's primaries, sRGB's curve.
    marks = PngImagePlugin.PngInfo()
    marks.add(b"cICP", bytes([9, 13, 0, 1]))
    Image.fromarray(pixels).save(path, pnginfo=marks)
    return through(matrix, sheet.corners()), through(matrix, sheet.chart_corners())


def write_chart_reference(world, path, seed=2):
    """The chart's colours as a maker would print them: off by about 0.5 in each of L*, a*, b*."""
    lab = world.lab(world.chart) + numpy.random.default_rng(seed).normal(0, 0.5, (24, 3))
    with open(path, "w", encoding="utf-8") as file:
        file.write("CGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_ID LAB_L LAB_A LAB_B\nEND_DATA_FORMAT\nBEGIN_DATA\n")
        for i, row in enumerate(lab):
            file.write("%d %.3f %.3f %.3f\n" % (i + 1, *row))
        file.write("END_DATA\n")


def words(corners):
    return ":".join("%.2f,%.2f" % (x, y) for x, y in corners)
