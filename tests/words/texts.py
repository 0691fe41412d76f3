"""texts.py: the texts to translate, taken afresh from the sources

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import subprocess
import sys

TOP = os.path.abspath(os.environ.get("TS_TEST_SOURCE") or os.path.join(os.path.dirname(__file__), "..", ".."))

# What meson's preset "glib" gives xgettext.
KEYWORDS = ["_", "N_", "C_:1c,2", "NC_:1c,2", "g_dcgettext:2", "g_dngettext:2,3", "g_dpgettext2:2c,3"]
FLAGS = ["N_:1:pass-c-format", "C_:2:pass-c-format", "NC_:2:pass-c-format", "g_dngettext:2:pass-c-format",
         "g_strdup_printf:1:c-format", "g_string_printf:2:c-format", "g_string_append_printf:2:c-format",
         "g_error_new:3:c-format", "g_set_error:4:c-format", "g_print:1:c-format", "g_printerr:1:c-format"]


def make_pot(path):
    """Writes all texts of the files in po/POTFILES."""
    subprocess.run(["xgettext", "--directory=" + TOP, "--files-from=" + os.path.join(TOP, "po", "POTFILES"),
                    "--package-name=tonestair", "--from-code=UTF-8", "--add-comments", "--output=" + path]
                   + ["--keyword=" + word for word in KEYWORDS] + ["--flag=" + flag for flag in FLAGS],
                   check=True, timeout=120)
    return path


def make_pseudo(folder):
    """Writes the language that nobody speaks; its po file."""
    path = os.path.join(folder, "pseudo.po")
    with open(path, "w", encoding="utf-8") as file:
        subprocess.run([sys.executable, os.path.join(TOP, "tests", "words", "pseudo.py"),
                        make_pot(os.path.join(folder, "words.pot"))], stdout=file, check=True, timeout=60)
    return path


def languages():
    with open(os.path.join(TOP, "po", "LINGUAS"), encoding="utf-8") as file:
        return [line.strip() for line in file if line.strip() and not line.startswith("#")]


def compile_po(po, folder, language):
    """Makes the language known to a program whose TONESTAIR_LOCALE is @folder."""
    place = os.path.join(folder, language, "LC_MESSAGES")
    os.makedirs(place, exist_ok=True)
    return subprocess.run(["msgfmt", "--check", "--statistics", "--output-file=" + os.path.join(place, "tonestair.mo"),
                           po], text=True, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, timeout=120,
                          env={**os.environ, "LC_ALL": "C.UTF-8", "LANGUAGE": "en"})
