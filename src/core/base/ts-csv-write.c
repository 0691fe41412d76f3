/* ts-csv-write.c: the cells of a table as comma-separated text (RFC 4180)
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/ts-csv.h"

#include <math.h>
#include <string.h>

#include "base/ts-text.h"

/**
 * ts_csv_append_cell:
 * @text: text to append to
 * @cell: what stands in the cell, UTF-8
 * @first: whether it is the first of its row
 *
 * Appends one cell. The caller ends rows with "\n" or "\r\n".
 */
void
ts_csv_append_cell (GString *text, const char *cell, gboolean first)
{
  gsize n = strlen (cell);

  if (!first)
    g_string_append_c (text, ',');
  if (strpbrk (cell, ",\"\r\n") == NULL && !(first && *cell == '#') && !g_ascii_isspace (*cell) &&
      !(n > 0 && g_ascii_isspace (cell[n - 1])))
    {
      g_string_append (text, cell);
      return;
    }
  g_string_append_c (text, '"');
  for (const char *p = cell; *p != '\0'; p++)
    {
      if (*p == '"')
        g_string_append_c (text, '"');
      g_string_append_c (text, *p);
    }
  g_string_append_c (text, '"');
}

/**
 * ts_csv_append_number:
 * @text: text to append to
 * @number: a number; an empty cell where it is not finite
 * @digits: significant digits, 1 to 17
 * @first: whether it is the first cell of its row
 */
void
ts_csv_append_number (GString *text, double number, int digits, gboolean first)
{
  if (!first)
    g_string_append_c (text, ',');
  if (isfinite (number))
    ts_text_append_number (text, number, digits);
}
