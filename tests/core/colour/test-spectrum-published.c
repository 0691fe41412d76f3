/* test-spectrum-published.c: CIE tables and band weights against published colours
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The head of each table names its source.
 */
#include "colour/ts-cie-tables.h"
#include "colour/ts-colour-convert.h"
#include "colour/ts-difference.h"

#include "colour/rows.h"

static TsLight
light_of_row (const Row *row)
{
  for (int light = 0; light < TS_N_LIGHTS; light++)
    if (g_str_equal (ts_light_get_name (light), row_word (row, "illuminant")))
      return light;
  fail_msg ("no light %s", row_word (row, "illuminant"));
  return 0;
}

/* XYZ of @reflectance at 5 nm, NULL for white; Y of white is 100. */
static void
sum_5nm (TsLight light, const double *reflectance, double xyz[3])
{
  double white = 0.0;

  memset (xyz, 0, 3 * sizeof (double));
  for (int i = 0; i < TS_CIE_SAMPLES; i++)
    {
      white += ts_cie_lights[light][i] * ts_cie_observer[i][1] / 100.0;
      for (int c = 0; c < 3; c++)
        xyz[c] += ts_cie_lights[light][i] * ts_cie_observer[i][c] *
                  (reflectance != NULL ? reflectance[i] : 1.0);
    }
  for (int c = 0; c < 3; c++)
    xyz[c] /= white;
}

static void
test_white_row (void **state)
{
  const Row *row = *state;
  double xyz[3];

  sum_5nm (light_of_row (row), NULL, xyz);
  assert_near (xyz[0], row_number (row, "X_5nm"), 6e-5);
  assert_near (xyz[1], row_number (row, "Y_5nm"), 1e-12);
  assert_near (xyz[2], row_number (row, "Z_5nm"), 6e-5);
  assert_near (xyz[0] / (xyz[0] + xyz[1] + xyz[2]), row_number (row, "x_lib"), 5e-5);
}

static void
read_patch (guint patch, double reflectance[TS_CIE_SAMPLES])
{
  g_autoptr (TsCsv) table = ts_test_table ("published/chart24_reflectance.csv");

  assert_true (ts_test_cell (table, patch - 1, "patch") == patch);
  for (int i = 0; i < TS_CIE_SAMPLES; i++)
    {
      g_autofree char *column = g_strdup_printf ("R%d", TS_CIE_FIRST + i * TS_CIE_STEP);

      reflectance[i] = ts_test_cell (table, patch - 1, column);
    }
}

/* The tables at 5 nm give the printed XYZ to 1e-4. The bands at 10 nm cannot: summing at 10 nm,
 * says the source, shifts XYZ by up to 0.07 (D50) and 0.12 (C); interpolation must stay well below
 * that. */
static void
test_chart_row (void **state)
{
  const Row *row = *state;
  TsLight light = light_of_row (row);
  TsLab printed = { row_number (row, "L"), row_number (row, "a"), row_number (row, "b") };
  double reflectance[TS_CIE_SAMPLES], xyz[3], white[3];
  TsSpectrum bands;
  TsXyz got;

  read_patch ((guint) row_number (row, "patch"), reflectance);
  sum_5nm (light, reflectance, xyz);
  sum_5nm (light, NULL, white);
  assert_near (xyz[0], row_number (row, "X"), 1e-4);
  assert_near (xyz[1], row_number (row, "Y"), 1e-4);
  assert_near (xyz[2], row_number (row, "Z"), 1e-4);

  for (int b = 0; b < TS_BANDS; b++)
    bands.band[b] = reflectance[4 + 2 * b];
  got = ts_spectrum_to_xyz (&bands, light);
  assert_near (got.X / TS_D50_X * white[0], xyz[0], 0.05);
  assert_near (got.Y * 100.0, xyz[1], 0.05);
  assert_near (got.Z / TS_D50_Z * white[2], xyz[2], 0.05);
  assert_near (ts_delta_e_2000 (ts_spectrum_to_lab (&bands, light), printed), 0.0, 0.1);

  /* As an instrument that measures at 5 nm would be read. */
  assert_true (
    ts_spectrum_resample (reflectance, TS_CIE_SAMPLES, TS_CIE_FIRST, TS_CIE_STEP, &bands, NULL));
  assert_near (ts_delta_e_2000 (ts_spectrum_to_lab (&bands, light), printed), 0.0, 0.1);
}

/* Steps of 5 to 20 nm, on and off the bands. */
static void
test_resample_row (void **state)
{
  const Row *row = *state;
  guint n = (guint) row_number (row, "n");
  double values[TS_CIE_SAMPLES];
  TsSpectrum bands;

  for (guint i = 0; i < n; i++)
    {
      g_autofree char *column = g_strdup_printf ("v%u", i);

      values[i] = row_number (row, column);
    }
  assert_true (ts_spectrum_resample (values, n, row_number (row, "first"), row_number (row, "step"),
                                     &bands, NULL));
  for (guint b = 0; b < TS_BANDS; b++)
    {
      g_autofree char *column = g_strdup_printf ("R%u", TS_BAND_FIRST + TS_BAND_STEP * b);

      assert_near (bands.band[b], row_number (row, column), 1e-9);
    }
}

int
main (void)
{
  return run_rows ("published/white_points.csv", test_white_row) +
         run_rows ("published/chart24_xyz_checks.csv", test_chart_row) +
         run_rows ("colour/resample_scipy.csv", test_resample_row);
}
