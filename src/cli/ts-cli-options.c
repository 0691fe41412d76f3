/* ts-cli-options.c: the words of a command, read and checked
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include <math.h>
#include <string.h>

#include <glib/gstdio.h>

#include "base/ts-text.h"
#include "cli/ts-cli.h"

G_DEFINE_QUARK (ts - cli - error - quark, ts_cli_error)

/**
 * ts_cli_usage:
 * @error: return location for an error
 * @format: as for printf: what is wrong and the mend
 * @...: its arguments
 *
 * Returns: %FALSE, with an error that makes the exit status TS_CLI_USAGE
 */
gboolean
ts_cli_usage (GError **error, const char *format, ...)
{
  g_autofree char *message = NULL;
  va_list args;

  va_start (args, format);
  message = g_strdup_vprintf (format, args);
  va_end (args);
  g_set_error_literal (error, TS_CLI_ERROR, 0, message);
  return FALSE;
}

/**
 * ts_cli_parse_options:
 * @entries: the verb's options
 * @operand: (nullable): what its one operand is called; %NULL where there is none
 * @summary: what the verb does, for --help
 * @argc: (inout): words; afterwards 2 where there is an operand, else 1
 * @argv: (inout): the words
 * @error: return location for an error, or %NULL
 *
 * Returns: %FALSE with an error of usage
 */
gboolean
ts_cli_parse_options (const GOptionEntry *entries, const char *operand, const char *summary,
                      int *argc, char ***argv, GError **error)
{
  g_autofree char *parameters = g_strdup_printf ("%s", operand != NULL ? operand : "");
  g_autofree char *program = g_strconcat ("tonestair-cli ", (*argv)[0], NULL);
  g_autoptr (GOptionContext) context = g_option_context_new (parameters);
  g_autoptr (GError) fault = NULL;
  int wanted = operand != NULL ? 2 : 1;

  g_set_prgname (program);
  g_option_context_set_summary (context, summary);
  g_option_context_add_main_entries (context, entries, NULL);
  if (!g_option_context_parse (context, argc, argv, &fault))
    return ts_cli_usage (error, "%s. Try %s --help.", fault->message, program);
  /* "--" ends the options and is left in its place when a word follows. */
  if (*argc > 1 && g_str_equal ((*argv)[1], "--"))
    {
      (*argv)[1] = (*argv)[0];
      (*argv)++;
      (*argc)--;
    }
  if (*argc < wanted)
    return ts_cli_usage (error, "no %s given. Try %s --help.", operand, program);
  if (*argc > wanted)
    return ts_cli_usage (error, "“%s” is one word too many. Try %s --help.", (*argv)[wanted],
                         program);
  return TRUE;
}

/**
 * ts_cli_parse_numbers:
 * @option: what the text belongs to, for errors
 * @text: numbers with commas between
 * @numbers: (out) (array length=most): the numbers
 * @least: how many there must be
 * @most: how many there may be
 * @n: (out) (optional): how many there are
 * @error: return location for an error, or %NULL
 *
 * Returns: %FALSE with an error of usage
 */
gboolean
ts_cli_parse_numbers (const char *option, const char *text, double *numbers, guint least,
                      guint most, guint *n, GError **error)
{
  g_auto (GStrv) words = g_strsplit (text, ",", -1);
  guint count = g_strv_length (words);

  if ((count < least || count > most) && least == most)
    return ts_cli_usage (error, "%s “%s”: %u numbers with commas between are wanted", option, text,
                         least);
  if (count < least || count > most)
    return ts_cli_usage (error, "%s “%s”: %u to %u numbers with commas between are wanted", option,
                         text, least, most);
  for (guint i = 0; i < count; i++)
    {
      const char *word = g_strstrip (words[i]);

      if (!ts_text_parse_number (word, &numbers[i]))
        return ts_cli_usage (error, "%s %s: “%s” is not a number", option, text, word);
    }
  if (n != NULL)
    *n = count;
  return TRUE;
}

/**
 * ts_cli_parse_lab:
 * @option: what the text belongs to, for errors
 * @text: L,a,b
 * @lab: (out): the colour
 * @error: return location for an error, or %NULL
 *
 * Returns: %FALSE with an error of usage
 */
gboolean
ts_cli_parse_lab (const char *option, const char *text, TsLab *lab, GError **error)
{
  double numbers[3];

  if (!ts_cli_parse_numbers (option, text, numbers, 3, 3, NULL, error))
    return FALSE;
  if (!(numbers[0] >= 0.0 && numbers[0] <= 100.0 && fabs (numbers[1]) <= 200.0 &&
        fabs (numbers[2]) <= 200.0))
    return ts_cli_usage (error, "%s %s: L is 0 to 100, a and b are -200 to 200", option, text);
  *lab = (TsLab){ numbers[0], numbers[1], numbers[2] };
  return TRUE;
}

/**
 * ts_cli_parse_points:
 * @option: what the text belongs to, for errors
 * @text: X,Y:X,Y[:X,Y...]
 * @error: return location for an error, or %NULL
 *
 * Returns: (transfer full) (nullable) (element-type TsPoint): two points or more, or %NULL with an
 *   error of usage
 */
GArray *
ts_cli_parse_points (const char *option, const char *text, GError **error)
{
  g_auto (GStrv) words = g_strsplit (text, ":", -1);
  g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (TsPoint));

  for (guint i = 0; words[i] != NULL; i++)
    {
      double xy[2];
      TsPoint point;

      if (!ts_cli_parse_numbers (option, words[i], xy, 2, 2, NULL, error))
        return NULL;
      point = (TsPoint){ xy[0], xy[1] };
      g_array_append_val (points, point);
    }
  if (points->len < 2)
    {
      ts_cli_usage (error, "%s %s: two points or more are wanted, X,Y:X,Y", option, text);
      return NULL;
    }
  return g_steal_pointer (&points);
}

/**
 * ts_cli_check_range:
 * @option: what the number belongs to, for errors
 * @value: the number
 * @least: the least that makes sense
 * @most: the most
 * @error: return location for an error, or %NULL
 *
 * Returns: %FALSE with an error of usage
 */
gboolean
ts_cli_check_range (const char *option, int value, int least, int most, GError **error)
{
  if (value < least || value > most)
    return ts_cli_usage (error, "%s %d: %d to %d is wanted", option, value, least, most);
  return TRUE;
}

static gboolean
is_same_file (const char *one, const char *other)
{
  g_autofree char *whole = g_canonicalize_filename (one, NULL);
  g_autofree char *other_whole = g_canonicalize_filename (other, NULL);
  GStatBuf first, second;

  if (g_str_equal (whole, other_whole))
    return TRUE;
  return g_stat (one, &first) == 0 && g_stat (other, &second) == 0 &&
         first.st_dev == second.st_dev && first.st_ino == second.st_ino;
}

/**
 * ts_cli_check_output:
 * @option: what the output belongs to, for errors
 * @out: (nullable): where to save
 * @others: (array length=n_others): files that are read or saved too, each nullable
 * @n_others: how many
 * @error: return location for an error, or %NULL
 *
 * Returns: %FALSE with an error of usage where saving would replace one of the others
 */
gboolean
ts_cli_check_output (const char *option, const char *out, const char *const *others, guint n_others,
                     GError **error)
{
  for (guint i = 0; out != NULL && i < n_others; i++)
    if (others[i] != NULL && is_same_file (out, others[i]))
      return ts_cli_usage (error, "%s %s would replace %s, which this needs; give another name",
                           option, out, others[i]);
  return TRUE;
}
