#!/usr/bin/python3
"""Makes the big pictures of the benchmarks: make_pictures.py FOLDER NAME...

A name is megapixels, a dash and a kind: 24-jpeg (4:2:0), 24-wide (the same with a profile that is not sRGB's),
100-progressive (4:4:4, the dearest kind), 100-png, 100-interlaced (16 bits stay with the tests). They look like
a photograph to a coder: soft shapes, edges and noise, about 0.4 bytes a pixel as JPEG.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import struct
import sys
import zlib

import numpy
from PIL import Image, ImageCms

STRIP = 512  # rows made at a time


def shapes(width, height, seed):
    """Octaves of soft noise, small, to be enlarged strip by strip."""
    random = numpy.random.default_rng(seed)
    layers = []
    for size, weight in ((6, 60), (40, 25), (300, 12)):
        layer = random.standard_normal((size * height // width + 2, size, 3)) * weight
        layers.append(layer.astype(numpy.float32))
    return layers


def enlarge(layer, width, top, rows, height):
    """@rows rows of @layer as if it were @width x @height, by bilinear interpolation."""
    y = numpy.linspace(0, layer.shape[0] - 1.001, height, dtype=numpy.float32)[top:top + rows]
    x = numpy.linspace(0, layer.shape[1] - 1.001, width, dtype=numpy.float32)
    y0, x0 = y.astype(int), x.astype(int)
    fy, fx = (y - y0)[:, None, None], (x - x0)[None, :, None]
    lines = layer[y0] * (1 - fy) + layer[y0 + 1] * fy
    return lines[:, x0] * (1 - fx) + lines[:, x0 + 1] * fx


def make_pixels(width, height):
    layers = shapes(width, height, 7)
    grain = numpy.random.default_rng(8).normal(0, 6, (STRIP, 1024, 1)).astype(numpy.float32)
    grain = numpy.tile(grain, (1, width // 1024 + 1, 1))[:, :width]
    pixels = numpy.empty((height, width, 3), numpy.uint8)
    for top in range(0, height, STRIP):
        rows = min(STRIP, height - top)
        strip = 120 + grain[:rows]
        for layer in layers:
            strip = strip + enlarge(layer, width, top, rows, height)
        pixels[top:top + rows] = numpy.clip(strip, 4, 251)
    return pixels


def wide_profile():
    """Any profile that is not sRGB's makes the program convert: this one has another curve."""
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    # The three curves share one parametric tag; its first number is the exponent (s15Fixed16).
    at = profile.find(b"para")
    return profile[:at + 12] + struct.pack(">I", int(2.2 * 65536)) + profile[at + 16:]


def write_interlaced(path, pixels):
    """PIL writes no interlace: the seven passes of Adam7 (ISO/IEC 15948, 8.2), without filters."""
    height, width, _ = pixels.shape

    def chunk(kind, data):
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
    with open(path, "wb") as file:
        file.write(b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 1)))
        packer = zlib.compressobj(1)
        for x, y, dx, dy in ((0, 0, 8, 8), (4, 0, 8, 8), (0, 4, 4, 8), (2, 0, 4, 4), (0, 2, 2, 4), (1, 0, 2, 2), (0, 1, 1, 2)):
            for row in pixels[y::dy, x::dx]:
                data = packer.compress(b"\0" + row.tobytes())
                if data:
                    file.write(chunk(b"IDAT", data))
        file.write(chunk(b"IDAT", packer.flush()) + chunk(b"IEND", b""))


def write(folder, name):
    megapixels, kind = name.split("-")
    width = int(round((float(megapixels) * 1.5e6) ** 0.5))
    pixels = make_pixels(width, int(float(megapixels) * 1e6) // width)
    picture = Image.fromarray(pixels)
    if kind == "interlaced":
        write_interlaced(os.path.join(folder, name + ".png"), pixels)
    elif kind == "png":
        picture.save(os.path.join(folder, name + ".png"), compress_level=1)
    else:
        options = {"jpeg": {}, "wide": {"icc_profile": wide_profile()},
                   "progressive": {"progressive": True, "subsampling": 0}}[kind]
        picture.save(os.path.join(folder, name + ".jpg"), quality=90, **options)


Image.MAX_IMAGE_PIXELS = None
for wanted in sys.argv[2:]:
    write(sys.argv[1], wanted)
