#!/usr/bin/env python3
# make-tables.py: src/core/colour/ts-cie-tables.c from the tables of this folder
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Run by hand after a table has changed:
#     python3 data/cie/make-tables.py > src/core/colour/ts-cie-tables.c

import csv
import pathlib

FOLDER = pathlib.Path(__file__).parent
OBSERVER = "cie_1931_2deg_5nm.csv"
STANDARD = "cie_illuminants_5nm.csv"
LAMPS = "cie_illuminants_lamps_5nm.csv"
# In the order of TsLight.
LIGHTS = [
    ("D50", STANDARD), ("D65", STANDARD), ("A", STANDARD), ("C", STANDARD),
    ("FL11", LAMPS), ("LED-B1", LAMPS), ("LED-V1", LAMPS),
]

HEAD = """\
/* ts-cie-tables.c: observer and illuminant tables of the CIE, 380 to 780 nm at 5 nm
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Made by data/cie/make-tables.py from the tables beside it, which name their sources.
 */
#include "colour/ts-cie-tables.h"

/* clang-format off */
"""


def read(name):
    """The rows of a table as numbers by column, its comments left out."""
    lines = (FOLDER / name).read_text(encoding="utf-8").splitlines()
    rows = list(csv.DictReader(line for line in lines if not line.startswith("#")))
    assert [float(row["nm"]) for row in rows] == list(range(380, 785, 5)), name
    return rows


def number(text):
    """The shortest decimal of the same number, as a C double."""
    short = repr(float(text))
    return short if "." in short or "e" in short else short + ".0"


def print_observer():
    print("const double ts_cie_observer[TS_CIE_SAMPLES][3] = {")
    for row in read(OBSERVER):
        values = ", ".join(number(row[name]) for name in ("xbar", "ybar", "zbar"))
        print(f"  {{ {values} }}, /* {row['nm']} nm */")
    print("};\n")


def print_lights():
    print("const double ts_cie_lights[TS_N_LIGHTS][TS_CIE_SAMPLES] = {")
    for name, table in LIGHTS:
        values = [number(row[name]) for row in read(table)]
        print(f"  /* {name} */\n  {{")
        for start in range(0, len(values), 9):
            print("    " + ", ".join(values[start:start + 9]) + ",")
        print("  },")
    print("};")


print(HEAD)
print_observer()
print_lights()
print("/* clang-format on */")
