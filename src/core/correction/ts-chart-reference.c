/* ts-chart-reference.c: the reference colours of the 24-patch chart
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "correction/ts-chart.h"

#include <glib/gi18n.h>
#include <string.h>

#include "base/ts-cgats.h"
#include "base/ts-error.h"
#include "colour/ts-colour-convert.h"

typedef struct
{
  const char *name;
  TsChartReference reference;
} Make;

/* The files data/charts/NAME.txt, which name their sources, so that the core needs no file. */
/* clang-format off */
static const Make makes[] = {
  { "earlier",
    { {
      { 37.99, 13.56, 14.06 }, /* 1 dark skin */
      { 65.71, 18.13, 17.81 }, /* 2 light skin */
      { 49.93, -4.88, -21.93 }, /* 3 blue sky */
      { 43.14, -13.10, 21.91 }, /* 4 foliage */
      { 55.11, 8.84, -25.40 }, /* 5 blue flower */
      { 70.72, -33.40, -0.20 }, /* 6 bluish green */
      { 62.66, 36.07, 57.10 }, /* 7 orange */
      { 40.02, 10.41, -45.96 }, /* 8 purplish blue */
      { 51.12, 48.24, 16.25 }, /* 9 moderate red */
      { 30.33, 22.98, -21.59 }, /* 10 purple */
      { 72.53, -23.71, 57.26 }, /* 11 yellow green */
      { 71.94, 19.36, 67.86 }, /* 12 orange yellow */
      { 28.78, 14.18, -50.30 }, /* 13 blue */
      { 55.26, -38.34, 31.37 }, /* 14 green */
      { 42.10, 53.38, 28.19 }, /* 15 red */
      { 81.73, 4.04, 79.82 }, /* 16 yellow */
      { 51.94, 49.99, -14.57 }, /* 17 magenta */
      { 51.04, -28.63, -28.64 }, /* 18 cyan */
      { 96.54, -0.43, 1.19 }, /* 19 white 9.5 */
      { 81.26, -0.64, -0.34 }, /* 20 neutral 8 */
      { 66.77, -0.73, -0.50 }, /* 21 neutral 6.5 */
      { 50.87, -0.15, -0.27 }, /* 22 neutral 5 */
      { 35.66, -0.42, -1.23 }, /* 23 neutral 3.5 */
      { 20.46, -0.08, -0.97 }, /* 24 black 2 */
    } } },
  { "later",
    { {
      { 37.54, 14.37, 14.92 }, /* 1 dark skin */
      { 64.66, 19.27, 17.50 }, /* 2 light skin */
      { 49.32, -3.82, -22.54 }, /* 3 blue sky */
      { 43.46, -12.74, 22.72 }, /* 4 foliage */
      { 54.94, 9.61, -24.79 }, /* 5 blue flower */
      { 70.48, -32.26, -0.37 }, /* 6 bluish green */
      { 62.73, 35.83, 56.50 }, /* 7 orange */
      { 39.43, 10.75, -45.17 }, /* 8 purplish blue */
      { 50.57, 48.64, 16.67 }, /* 9 moderate red */
      { 30.10, 22.54, -20.87 }, /* 10 purple */
      { 71.77, -24.13, 58.19 }, /* 11 yellow green */
      { 71.51, 18.24, 67.37 }, /* 12 orange yellow */
      { 28.37, 15.42, -49.80 }, /* 13 blue */
      { 54.38, -39.72, 32.27 }, /* 14 green */
      { 42.43, 51.05, 28.62 }, /* 15 red */
      { 81.80, 2.67, 80.41 }, /* 16 yellow */
      { 50.63, 51.28, -14.12 }, /* 17 magenta */
      { 49.57, -29.71, -28.32 }, /* 18 cyan */
      { 95.19, -1.03, 2.93 }, /* 19 white 9.5 */
      { 81.29, -0.57, 0.44 }, /* 20 neutral 8 */
      { 66.89, -0.75, -0.06 }, /* 21 neutral 6.5 */
      { 50.76, -0.13, 0.14 }, /* 22 neutral 5 */
      { 35.63, -0.46, -0.48 }, /* 23 neutral 3.5 */
      { 20.64, 0.07, -0.46 }, /* 24 black 2 */
    } } },
};
/* clang-format on */

/**
 * ts_chart_reference_get:
 * @name: "earlier" for charts made before November 2014, "later" for those made since
 * @reference: (out): the maker's published values; untouched on failure
 * @error: return location for an error, or %NULL
 *
 * Returns: %TRUE, or %FALSE with %TS_ERROR_NOT_FOUND set
 */
gboolean
ts_chart_reference_get (const char *name, TsChartReference *reference, GError **error)
{
  for (guint i = 0; i < G_N_ELEMENTS (makes); i++)
    if (strcmp (name, makes[i].name) == 0)
      {
        *reference = makes[i].reference;
        return TRUE;
      }
  g_set_error (error, TS_ERROR, TS_ERROR_NOT_FOUND,
               _ ("No chart is called “%s”; say “earlier” (made before November 2014), “later”, or "
                  "give a file of its values"),
               name);
  return FALSE;
}

static gboolean
read_lab (const TsCgats *table, guint row, const int field[3], TsLab *lab, GError **error)
{
  return ts_cgats_get_number (table, row, field[0], 0.0, 100.0, &lab->L, error) &&
         ts_cgats_get_number (table, row, field[1], -128.0, 128.0, &lab->a, error) &&
         ts_cgats_get_number (table, row, field[2], -128.0, 128.0, &lab->b, error);
}

/* XYZ there is relative to a perfect reflector of Y = 100 (ISO 28178, 6). */
static gboolean
read_xyz (const TsCgats *table, guint row, const int field[3], TsLab *lab, GError **error)
{
  double n[3];

  for (int i = 0; i < 3; i++)
    if (!ts_cgats_get_number (table, row, field[i], 0.0, 120.0, &n[i], error))
      return FALSE;
  *lab = ts_lab_from_xyz ((TsXyz){ n[0] / 100.0, n[1] / 100.0, n[2] / 100.0 });
  return TRUE;
}

static gboolean
find_fields (const TsCgats *table, const char *const names[3], int field[3])
{
  for (int i = 0; i < 3; i++)
    if ((field[i] = ts_cgats_find_field (table, names[i])) < 0)
      return FALSE;
  return TRUE;
}

/**
 * ts_chart_reference_load:
 * @path: a CGATS text file (ISO 28178) of 24 sets in the chart's order, D50, 2 degree observer
 * @reference: (out): its values; untouched on failure
 * @error: return location for an error, or %NULL
 *
 * Returns: %TRUE, or %FALSE with %TS_ERROR_FORMAT, %TS_ERROR_TOO_FEW, %TS_ERROR_BAD_VALUE or an
 * error of ts_cgats_load() set
 */
gboolean
ts_chart_reference_load (const char *path, TsChartReference *reference, GError **error)
{
  static const char *const lab_names[3] = { "LAB_L", "LAB_A", "LAB_B" };
  static const char *const xyz_names[3] = { "XYZ_X", "XYZ_Y", "XYZ_Z" };
  g_autoptr (TsCgats) table = ts_cgats_load (path, error);
  TsChartReference read;
  int field[3];
  gboolean is_lab;

  if (table == NULL)
    return FALSE;
  is_lab = find_fields (table, lab_names, field);
  if (!is_lab && !find_fields (table, xyz_names, field))
    {
      g_set_error (
        error, TS_ERROR, TS_ERROR_FORMAT,
        _ ("The chart's file has neither the fields LAB_L LAB_A LAB_B nor XYZ_X XYZ_Y XYZ_Z"));
      return FALSE;
    }
  if (ts_cgats_get_n_rows (table) != TS_CHART_PATCHES)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_TOO_FEW,
                   _ ("The chart's file has %u sets; the chart has %d patches"),
                   ts_cgats_get_n_rows (table), TS_CHART_PATCHES);
      return FALSE;
    }
  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    if (!(is_lab ? read_lab : read_xyz) (table, i, field, &read.lab[i], error))
      return FALSE;
  *reference = read;
  return TRUE;
}
