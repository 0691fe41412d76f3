#!/usr/bin/python3
"""A picture of the window with a plan in it: picture_of_window.py PROGRAM PLAN OUT.png

SPDX-License-Identifier: GPL-3.0-or-later
"""
import sys

from driver import Program, wait_for

with Program(sys.argv[1:3]) as program:
    program.focus()
    # What each step tells of itself names its mix once the search is done.
    wait_for("the mixes", lambda: any("within about dE" in node.description for node in program.root.walk()), limit=60)
    program.shoot(sys.argv[3])
    print("wrote", sys.argv[3])
