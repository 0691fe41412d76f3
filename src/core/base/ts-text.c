/* ts-text.c: text files taken apart with care, and numbers as short decimal text
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/ts-text.h"

#include <float.h>
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "base/ts-error.h"

static guint
line_of (const char *text, const char *place)
{
  guint line = 1;

  for (const char *p = text; p < place; p++)
    if (*p == '\n' || (*p == '\r' && !(p + 1 < place && p[1] == '\n')))
      line++;
  return line;
}

/**
 * ts_text_check:
 * @text: (inout): the bytes of a text file; stepped past a UTF-8 byte order mark
 * @length: (inout): how many there are
 * @what: what messages call the file
 * @error: return location for an error, or %NULL
 *
 * Returns: %TRUE, or %FALSE with %TS_ERROR_TOO_LARGE, %TS_ERROR_UNSUPPORTED (UTF-16) or
 *   %TS_ERROR_FORMAT (no UTF-8, or a zero byte) set
 */
gboolean
ts_text_check (const char **text, gsize *length, const char *what, GError **error)
{
  const char *end;

  if (*length > TS_TEXT_MAX_BYTES)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_TOO_LARGE,
                   _ ("%s is larger than %d MB and was not read; is it the right file?"), what,
                   TS_TEXT_MAX_BYTES >> 20);
      return FALSE;
    }
  if (*length >= 2 && (memcmp (*text, "\xff\xfe", 2) == 0 || memcmp (*text, "\xfe\xff", 2) == 0))
    {
      g_set_error (error, TS_ERROR, TS_ERROR_UNSUPPORTED,
                   _ ("%s is UTF-16 text; save it as UTF-8 and try again"), what);
      return FALSE;
    }
  if (*length >= 3 && memcmp (*text, "\xef\xbb\xbf", 3) == 0)
    {
      *text += 3;
      *length -= 3;
    }
  if (!g_utf8_validate_len (*text, *length, &end))
    {
      g_set_error (error, TS_ERROR, TS_ERROR_FORMAT,
                   _ ("%s, line %u: not UTF-8 text; save it as UTF-8 and try again"), what,
                   line_of (*text, end));
      return FALSE;
    }
  return TRUE;
}

/**
 * ts_text_parse_number:
 * @text: the text, nothing before or after the number
 * @number: (out): the number; untouched on failure
 *
 * Returns: whether the whole of @text is one finite decimal number
 */
gboolean
ts_text_parse_number (const char *text, double *number)
{
  char *end = NULL;
  double value;

  if (*text == '\0' || text[strspn (text, "0123456789.eE+-")] != '\0')
    return FALSE;
  value = g_ascii_strtod (text, &end);
  if (*end != '\0' || !isfinite (value))
    return FALSE;
  *number = value;
  return TRUE;
}

/**
 * ts_text_append_number:
 * @text: text to append to
 * @number: a finite number
 * @digits: significant digits, 1 to 17; 17 keeps every double exactly
 *
 * Appends @number rounded to @digits digits, without zeros at its end. From 16 digits up it is the
 * shortest such text that reads back as the same double: decimals of up to 15 digits all survive
 * (IEEE 754, DBL_DIG). Minus zero is written as 0.
 */
void
ts_text_append_number (GString *text, double number, int digits)
{
  char buffer[G_ASCII_DTOSTR_BUF_SIZE];

  g_return_if_fail (isfinite (number));
  g_return_if_fail (digits >= 1 && digits <= 17);

  for (int n = MIN (digits, DBL_DIG); n <= digits; n++)
    {
      char format[8];
      double back;

      g_snprintf (format, sizeof format, "%%.%dg", n);
      g_ascii_formatd (buffer, sizeof buffer, format, number);
      back = g_ascii_strtod (buffer, NULL);
      if (back >= number && back <= number)
        break;
    }
  g_string_append (text, strcmp (buffer, "-0") == 0 ? "0" : buffer);
}

/**
 * ts_text_dup_excerpt:
 * @text: any UTF-8 text
 *
 * Returns: (transfer full): @text, cut after 40 characters where it is longer, to stand in a
 * message
 */
char *
ts_text_dup_excerpt (const char *text)
{
  const char *end = text;

  for (int i = 0; i < 40 && *end != '\0'; i++)
    end = g_utf8_next_char (end);
  return *end == '\0' ? g_strdup (text) : g_strdup_printf ("%.*s…", (int) (end - text), text);
}

/**
 * ts_text_dup_file_name:
 * @path: a path
 *
 * Returns: (transfer full): the last part of @path as valid UTF-8, to stand in a message
 */
char *
ts_text_dup_file_name (const char *path)
{
  return g_filename_display_basename (path);
}
