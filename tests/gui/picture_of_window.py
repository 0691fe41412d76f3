#!/usr/bin/python3
"""A picture of the window with a plan in it: picture_of_window.py PROGRAM PLAN OUT.png

SPDX-License-Identifier: GPL-3.0-or-later
"""
import re
import sys

from driver import Program

with Program(sys.argv[1:3]) as program:
    program.focus()
    # The last step's recipe stands there when the search for mixes is done.
    program.find("list item", re.compile(r"within about dE"), limit=60)
    program.shoot(sys.argv[3])
    print("wrote", sys.argv[3])
