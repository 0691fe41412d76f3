"""sheet.py: a photograph of a swatch sheet, made from the demo's paints

Each cell is one coat, over white card at its start and over black card at its end, as the program itself
predicts it: how right that is others test; here the sheet is only something to lay a grid on.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import json
import os
import subprocess

import numpy
from PIL import Image, ImageDraw
from skimage import color

WIDTH, HEIGHT = 1200, 840
LEFT, TOP, CELL_WIDTH, CELL_HEIGHT = 90, 90, 110, 128


# From D50 to D65 by Bradford (Lam 1985): scikit-image changes no white.
BRADFORD = numpy.array([[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]])
D50, D65 = (numpy.array(color.xyz_tristimulus_values(illuminant=name, observer="2", dtype=float))
            if hasattr(color, "xyz_tristimulus_values") else color.colorconv.get_xyz_coords(name, "2")
            for name in ("D50", "D65"))
ADAPT = numpy.linalg.inv(BRADFORD) @ numpy.diag((BRADFORD @ D65) / (BRADFORD @ D50)) @ BRADFORD


def to_srgb(lab):
    """CIELAB under D50 to sRGB 0..255."""
    xyz = color.lab2xyz(numpy.array([[lab]], dtype=float), illuminant="D50") @ ADAPT.T
    return tuple(int(round(255 * v)) for v in numpy.clip(color.xyz2rgb(xyz)[0, 0], 0, 1))


def predict(cli, paints, name, over):
    answer = subprocess.run([cli, "predict", "--paints", paints, "--recipe", "1 " + name, "--over", over,
                             "--coats", "1", "--json"], stdout=subprocess.PIPE, check=True, timeout=60)
    return json.loads(answer.stdout)["lab_d50"]


def corners(rows, columns):
    """The outer corners of the swatches, upright pixels, in turn."""
    right, bottom = LEFT + columns * CELL_WIDTH, TOP + rows * CELL_HEIGHT
    return (LEFT, TOP), (right, TOP), (right, bottom), (LEFT, bottom)


def make(cli, paints, names, rows, columns, path, glossy=()):
    """Writes the picture; cells whose index is in @glossy have a light on them."""
    image = Image.new("RGB", (WIDTH, HEIGHT), (72, 66, 58))
    draw = ImageDraw.Draw(image)
    white, black = to_srgb((92, 0, 2)), to_srgb((12, 0, 0))
    draw.rectangle((30, 30, WIDTH - 30, HEIGHT - 60), fill=white)
    for i, name in enumerate(names[:rows * columns]):
        x, y = LEFT + i % columns * CELL_WIDTH, TOP + i // columns * CELL_HEIGHT
        middle = x + CELL_WIDTH // 2
        draw.rectangle((middle, y, x + CELL_WIDTH - 1, y + CELL_HEIGHT - 1), fill=black)
        for left, right, over in ((x + 8, middle - 1, "92,0,2"), (middle, x + CELL_WIDTH - 9, "12,0,0")):
            draw.rectangle((left, y + 12, right, y + CELL_HEIGHT - 13), fill=to_srgb(predict(cli, paints, name, over)))
        if i in glossy:
            draw.ellipse((x + 10, y + 14, middle + 30, y + CELL_HEIGHT - 20), fill=(255, 255, 255))
    image.save(path)
    return path


def cli_beside(program):
    return os.path.join(os.path.dirname(program), "..", "cli", "tonestair-cli")
