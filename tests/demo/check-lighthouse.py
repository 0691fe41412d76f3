#!/usr/bin/env python3
"""Reads the demo picture without the project's code and holds it to its table of truth.

Pixels by Pillow, the profile's tags by hand (ICC.1), CIEDE2000 by scikit-image. The picture is corrected
by its grey card with one gain a channel (Bradford). Prints the differences; status 1 above the limits.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import csv
import io
import os
import struct
import sys

import numpy as np
from PIL import Image, ImageCms
from skimage.color import deltaE_ciede2000

WHITE = np.array([0.9642, 1.0, 0.8249])  # D50 of ICC.1
BRADFORD = np.array([[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]])
LIMITS = {'disc': (1.0, 2.0), 'patch': (1.0, 2.0)}  # median and worst CIEDE2000
CLIPPED = 0.002  # of all pixels: the glints on the brass


def xyz_of_lab(lab):
    lab = np.asarray(lab, float)
    fy = (lab[..., 0] + 16) / 116
    f = np.stack([fy + lab[..., 1] / 500, fy, fy - lab[..., 2] / 200], -1)
    return np.where(f ** 3 > 216 / 24389, f ** 3, (116 * f - 16) / (24389 / 27)) * WHITE


def lab_of_xyz(xyz):
    t = xyz / WHITE
    f = np.where(t > 216 / 24389, np.cbrt(t), (24389 / 27 * t + 16) / 116)
    return np.stack([116 * f[..., 1] - 16, 500 * (f[..., 0] - f[..., 1]), 200 * (f[..., 1] - f[..., 2])], -1)


def tags(icc):
    count, = struct.unpack('>I', icc[128:132])
    for i in range(count):
        name, offset, size = struct.unpack('>4sII', icc[132 + 12 * i:144 + 12 * i])
        yield name, icc[offset:offset + size]


def matrix_and_gamma(icc):
    tag = dict(tags(icc))

    def fixed(b):
        return struct.unpack('>i', b)[0] / 65536

    columns = [[fixed(tag[n][8 + 4 * i:12 + 4 * i]) for i in range(3)] for n in (b'rXYZ', b'gXYZ', b'bXYZ')]
    curve = tag[b'rTRC']
    if curve[:4] == b'curv':
        assert struct.unpack('>I', curve[8:12])[0] == 1
        gamma = struct.unpack('>H', curve[12:14])[0] / 256
    else:
        assert curve[:4] == b'para' and struct.unpack('>H', curve[8:10])[0] == 0
        gamma = fixed(curve[12:16])
    return np.array(columns).T, gamma


def chart_agrees(table, chart):
    """The true colours of the patches, brought to one luminance, against the published ones."""
    with open(chart, encoding='utf-8') as lines:
        published = {row['patch']: row for row in csv.DictReader(line for line in lines if not line.startswith('#'))}
    those = [row for row in table if row['kind'] == 'patch']
    true = xyz_of_lab([[float(row[k]) for k in 'Lab'] for row in those])
    want = np.array([[float(published[row['name'].split()[1]][k]) for k in ('L3', 'a3', 'b3')] for row in those])
    light = true[:, 1] / xyz_of_lab(want)[:, 1]
    d = deltaE_ciede2000(want, lab_of_xyz(true / light[:, None]))
    print(f'{len(those)} patches: hues as published within {np.median(d):.2f}, {d.max():.2f}; '
          f'the light on them {light.min():.2f} to {light.max():.2f} of that on the card')
    return d.max() < 2.5 and 0.8 < light.min() and light.max() < 1.2


def main(picture, truth, chart):
    image = Image.open(picture)
    name = ImageCms.getProfileDescription(ImageCms.ImageCmsProfile(io.BytesIO(image.info['icc_profile']))).strip()
    matrix, gamma = matrix_and_gamma(image.info['icc_profile'])
    pixels = np.asarray(image)
    height, width = pixels.shape[:2]
    clipped = (pixels == 255).any(2).mean()
    rows, columns = np.mgrid[0:height, 0:width] + 0.5
    with open(truth, encoding='utf-8') as lines:
        table = list(csv.DictReader(line for line in lines if not line.startswith('#')))

    def measured(row):
        x, y, r = (float(row[k]) for k in ('x', 'y', 'radius'))
        box = np.s_[max(0, int(y - r) - 1):int(y + r) + 2, max(0, int(x - r) - 1):int(x + r) + 2]
        inside = (columns[box] - x) ** 2 + (rows[box] - y) ** 2 <= r * r
        return ((pixels[box][inside] / 255.0) ** gamma @ matrix.T).mean(0)

    card = next(row for row in table if row['kind'] == 'card')
    true_card = xyz_of_lab([float(card[k]) for k in 'Lab'])
    gain = (BRADFORD @ true_card) / (BRADFORD @ measured(card))
    correct = np.linalg.inv(BRADFORD) @ np.diag(gain) @ BRADFORD
    size = os.path.getsize(picture)
    print(f'{picture}: {width} x {height}, {size} bytes, profile "{name}", clipped {100 * clipped:.2f} %')
    good = size < 900_000 and clipped < CLIPPED
    for kind, (median, worst) in LIMITS.items():
        those = [row for row in table if row['kind'] == kind]
        true = np.array([[float(row[k]) for k in 'Lab'] for row in those])
        seen = np.array([[float(row[k]) for k in ('L_seen', 'a_seen', 'b_seen')] for row in those])
        xyz = np.array([measured(row) for row in those])
        d = deltaE_ciede2000(true, lab_of_xyz(xyz @ correct.T))
        off = deltaE_ciede2000(seen, lab_of_xyz(xyz))
        at = int(d.argmax())
        print(f'{len(those)} of kind {kind}: corrected by the card within {np.median(d):.2f} (median), {d.max():.2f} '
              f'(worst, {those[at]["name"]}); uncorrected as told within {np.median(off):.2f}, {off.max():.2f}; '
              f'uncorrected against the truth {np.median(deltaE_ciede2000(true, lab_of_xyz(xyz))):.1f}')
        good = good and np.median(d) < median and d.max() < worst and off.max() < worst
    good = chart_agrees(table, chart) and good
    cores = [row for row in table if row['kind'] == 'core']
    between = [row['name'] for row in cores if 0.1 < float(row['position']) < 0.97]
    print(f'{len(cores)} runs; the core shadow lies within {len(between)}: ' + ', '.join(between))
    return 0 if good and len(cores) >= 6 and len(between) >= 3 else 1


if __name__ == '__main__':
    sys.exit(main(*sys.argv[1:]))
