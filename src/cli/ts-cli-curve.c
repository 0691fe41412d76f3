/* ts-cli-curve.c: a lightness curve from a table of spots
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/ts-csv.h"
#include "base/ts-error.h"
#include "cli/ts-cli.h"

/* The optional columns; -1 where one is not there. */
typedef struct
{
  int position, L, a, b, se;
} Columns;

static gboolean
find_columns (const TsCsv *csv, const char *path, Columns *columns, GError **error)
{
  columns->position = ts_csv_find_column (csv, "position");
  columns->L = ts_csv_find_column (csv, "L");
  columns->a = ts_csv_find_column (csv, "a");
  columns->b = ts_csv_find_column (csv, "b");
  columns->se = ts_csv_find_column (csv, "se");
  if (columns->position >= 0 && columns->L >= 0)
    return TRUE;
  g_set_error (error, TS_ERROR, TS_ERROR_FORMAT,
               "%s: the columns position and L are needed (a, b and se may follow).", path);
  return FALSE;
}

static gboolean
read_optional (const TsCsv *csv, guint row, int column, double least, double most, double *number,
               GError **error)
{
  *number = 0.0;
  if (column < 0 || *ts_csv_get_cell (csv, row, column) == '\0')
    return TRUE;
  return ts_csv_get_number (csv, row, column, least, most, number, error);
}

static GArray *
read_samples (const char *path, GError **error)
{
  g_autoptr (TsCsv) csv = ts_csv_load (path, error);
  g_autoptr (GArray) samples = g_array_new (FALSE, TRUE, sizeof (TsCurveSample));
  Columns columns;

  if (csv == NULL || !find_columns (csv, path, &columns, error))
    return NULL;
  for (guint i = 0; i < ts_csv_get_n_rows (csv); i++)
    {
      TsCurveSample s;

      if (!ts_csv_get_number (csv, i, columns.position, 0.0, 1.0, &s.position, error) ||
          !ts_csv_get_number (csv, i, columns.L, -10.0, 200.0, &s.lab.L, error) ||
          !read_optional (csv, i, columns.a, -200.0, 200.0, &s.lab.a, error) ||
          !read_optional (csv, i, columns.b, -200.0, 200.0, &s.lab.b, error) ||
          !read_optional (csv, i, columns.se, 0.0, 100.0, &s.standard_error, error))
        return NULL;
      g_array_append_val (samples, s);
    }
  if (samples->len == 0)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_TOO_FEW, "%s has no rows below its header.", path);
      return NULL;
    }
  return g_steal_pointer (&samples);
}

static void
print_steps (const TsStair *stair, GString *text)
{
  for (guint i = 0; i < ts_stair_get_n_steps (stair); i++)
    {
      const TsStep *step = ts_stair_get_step (stair, i);

      g_string_append_printf (text, "%2u  at %3.0f %%  ", i + 1, 100.0 * step->position);
      ts_cli_append_lab (text, step->wanted);
      g_string_append_c (text, '\n');
    }
}

gboolean
ts_cli_curve (int argc, char **argv, JsonObject *answer, GString *text, gboolean *json,
              GError **error)
{
  int n_steps = 7;
  gboolean polished = FALSE;
  const GOptionEntry entries[] = {
    { "steps", 0, 0, G_OPTION_ARG_INT, &n_steps, "Steps of the stair (7)", "N" },
    { "polished", 0, 0, G_OPTION_ARG_NONE, &polished, "Light-dark-light: no rule of shape", NULL },
    { "json", 0, 0, G_OPTION_ARG_NONE, json, "Print one JSON object", NULL },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (GArray) samples = NULL;
  g_autoptr (TsCurve) curve = NULL;
  g_autoptr (TsStair) stair = NULL;
  TsStairSettings settings;

  if (!ts_cli_parse_options (entries, "DATA.csv",
                             "Fits a lightness curve to columns position,L[,a,b][,se].", &argc,
                             &argv, error) ||
      !ts_cli_check_range ("--steps", n_steps, 2, TS_STAIR_MAX_STEPS, error))
    return FALSE;
  samples = read_samples (argv[1], error);
  if (samples == NULL)
    return FALSE;
  curve = ts_curve_fit ((const TsCurveSample *) samples->data, samples->len,
                        polished ? TS_CURVE_RULE_POLISHED : TS_CURVE_RULE_SURFACE, error);
  if (curve == NULL)
    return FALSE;
  ts_stair_settings_init (&settings);
  settings.n_steps = (guint) n_steps;
  stair = ts_stair_new (curve, &settings, error);
  if (stair == NULL)
    return FALSE;
  ts_cli_set_curve (answer, curve);
  ts_cli_set_steps (answer, stair);
  print_steps (stair, text);
  return TRUE;
}
