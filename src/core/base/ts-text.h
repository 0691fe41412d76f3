/* ts-text.h: text files taken apart with care, and numbers as short decimal text
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* No text file that is read here is larger; a paint set of 10,000 paints with spectra is 2 MB. */
#define TS_TEXT_MAX_BYTES (64 * 1024 * 1024)

/* Steps over a byte order mark; refuses what is not UTF-8, naming the line. */
gboolean ts_text_check         (const char **text,
                                gsize       *length,
                                const char  *what,
                                GError     **error);
/* A whole decimal number with '.', whatever the locale; "nan", "inf" and hexadecimal are none. */
gboolean ts_text_parse_number  (const char  *text,
                                double      *number);
/* Short decimal text that reads back as @number rounded to @digits (1..17) significant digits.
 * @number must be finite. */
void     ts_text_append_number (GString     *text,
                                double       number,
                                int          digits);
/* The beginning of a text, to stand in a message. */
char    *ts_text_dup_excerpt   (const char  *text);
/* What a message calls the file at @path. */
char    *ts_text_dup_file_name (const char  *path);

G_END_DECLS
