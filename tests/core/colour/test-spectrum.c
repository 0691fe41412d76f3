/* test-spectrum.c: weights and resampling held to plain arithmetic
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/ts-error.h"
#include "colour/ts-colour-convert.h"
#include "colour/ts-spectrum.h"

#include "ts-test.h"

static void
test_perfect_reflector (void **state)
{
  for (int light = 0; light < TS_N_LIGHTS; light++)
    {
      TsSpectrum white, grey;
      TsLab lab;

      for (int b = 0; b < TS_BANDS; b++)
        {
          white.band[b] = 1.0;
          grey.band[b] = 0.18;
        }
      lab = ts_spectrum_to_lab (&white, light);
      assert_near (lab.L, 100.0, 1e-12);
      assert_near (lab.a, 0.0, 1e-12);
      assert_near (lab.b, 0.0, 1e-12);
      lab = ts_spectrum_to_lab (&grey, light);
      assert_near (lab.L, 116.0 * cbrt (0.18) - 16.0, 1e-12);
      assert_near (lab.a, 0.0, 1e-12);
      assert_near (lab.b, 0.0, 1e-12);
    }
}

/* Reflectance at 380 + 5 i nm as an abridged table at 10 nm says it: the four-point formulas for
 * the middle of an interval, written out, and the ends held. */
static double
at_5nm (const TsSpectrum *spectrum, int i)
{
  int half = i - 4; /* in half bands from 400 nm */
  int b = half / 2;
  const double *r = spectrum->band;

  if (half <= 0)
    return r[0];
  if (half >= 60)
    return r[30];
  if (half % 2 == 0)
    return r[b];
  if (b == 0)
    return (5.0 * r[0] + 15.0 * r[1] - 5.0 * r[2] + r[3]) / 16.0;
  if (b == 29)
    return (5.0 * r[30] + 15.0 * r[29] - 5.0 * r[28] + r[27]) / 16.0;
  return (-r[b - 1] + 9.0 * r[b] + 9.0 * r[b + 1] - r[b + 2]) / 16.0;
}

static void
test_weights (void **state)
{
  static const char *const files[TS_N_LIGHTS] = {
    "data/cie/cie_illuminants_5nm.csv",       "data/cie/cie_illuminants_5nm.csv",
    "data/cie/cie_illuminants_5nm.csv",       "data/cie/cie_illuminants_5nm.csv",
    "data/cie/cie_illuminants_lamps_5nm.csv", "data/cie/cie_illuminants_lamps_5nm.csv",
    "data/cie/cie_illuminants_lamps_5nm.csv",
  };
  g_autofree char *observer_path = ts_test_source ("data/cie/cie_1931_2deg_5nm.csv");
  g_autoptr (TsCsv) observer = ts_csv_load (observer_path, NULL);
  g_autoptr (GRand) random = g_rand_new_with_seed (5);

  for (int light = 0; light < TS_N_LIGHTS; light++)
    {
      g_autofree char *path = ts_test_source (files[light]);
      g_autoptr (TsCsv) power = ts_csv_load (path, NULL);
      double sum[3] = { 0.0 }, white[3] = { 0.0 };
      TsSpectrum spectrum;
      TsXyz xyz;

      for (int b = 0; b < TS_BANDS; b++)
        spectrum.band[b] = g_rand_double (random);
      for (int i = 0; i < 81; i++)
        {
          static const char *const names[3] = { "xbar", "ybar", "zbar" };

          for (int c = 0; c < 3; c++)
            {
              double weight = ts_test_cell (power, i, ts_light_get_name (light)) *
                              ts_test_cell (observer, i, names[c]);

              white[c] += weight;
              sum[c] += weight * at_5nm (&spectrum, i);
            }
        }
      xyz = ts_spectrum_to_xyz (&spectrum, light);
      assert_near (xyz.X, sum[0] / white[0] * TS_D50_X, 1e-13);
      assert_near (xyz.Y, sum[1] / white[1], 1e-13);
      assert_near (xyz.Z, sum[2] / white[2] * TS_D50_Z, 1e-13);
    }
}

/* The files of data/cie are copies; what they were copied from is among the fixtures. */
static void
test_tables_are_copies (void **state)
{
  static const char *const names[] = { "cie_1931_2deg_5nm.csv", "cie_illuminants_5nm.csv",
                                       "cie_illuminants_lamps_5nm.csv" };

  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *fixture = g_build_filename ("published", names[i], NULL);
      g_autofree char *path = g_build_filename ("data", "cie", names[i], NULL);
      g_autofree char *full = ts_test_source (path);
      g_autoptr (TsCsv) published = ts_test_table (fixture);
      g_autoptr (TsCsv) copy = ts_csv_load (full, NULL);

      assert_int_equal (ts_csv_get_n_rows (copy), 81);
      for (guint row = 0; row < 81; row++)
        for (guint column = 0; column < ts_csv_get_n_columns (published); column++)
          assert_string_equal (ts_csv_get_cell (copy, row, (int) column),
                               ts_csv_get_cell (published, row, (int) column));
    }
}

/* A cubic, which four-point interpolation gives back exactly. */
static double
cubic (double nm)
{
  double t = (nm - 550.0) / 150.0;

  return 0.4 + 0.2 * t - 0.1 * t * t + 0.15 * t * t * t;
}

static void
test_resample_cubic (void **state)
{
  static const double steps[] = { 10.0, 20.0, 15.0, 12.5 };

  for (gsize s = 0; s < G_N_ELEMENTS (steps); s++)
    {
      double values[64];
      guint n = (guint) (400.0 / steps[s]) + 1;
      TsSpectrum spectrum;
      g_autoptr (GError) error = NULL;

      for (guint i = 0; i < n; i++)
        values[i] = cubic (360.0 + i * steps[s]);
      assert_true (ts_spectrum_resample (values, n, 360.0, steps[s], &spectrum, &error));
      assert_no_error (error);
      for (int b = 0; b < TS_BANDS; b++)
        assert_near (spectrum.band[b], cubic (TS_BAND_FIRST + b * TS_BAND_STEP), 1e-12);
    }
}

/* From fine samples, at any offset, a cubic comes back as it is, and noise is averaged. */
static void
test_resample_fine (void **state)
{
  static const double steps[] = { 0.5, 1.0, 2.0, 3.3, 4.0, 5.0 };

  for (gsize s = 0; s < G_N_ELEMENTS (steps); s++)
    for (int offset = 0; offset < 3; offset++)
      {
        double values[701];
        double first = 370.0 + 0.7 * offset;
        guint n = (guint) (350.0 / steps[s]) + 1;
        TsSpectrum spectrum;

        for (guint i = 0; i < n; i++)
          values[i] = cubic (first + i * steps[s]);
        assert_true (ts_spectrum_resample (values, n, first, steps[s], &spectrum, NULL));
        for (int b = 0; b < TS_BANDS; b++)
          assert_near (spectrum.band[b], cubic (TS_BAND_FIRST + b * TS_BAND_STEP), 1e-12);
        for (guint i = 0; i < n; i++)
          values[i] += i % 2 == 0 ? 0.05 : -0.05;
        if (steps[s] > 1.0)
          continue;
        assert_true (ts_spectrum_resample (values, n, first, steps[s], &spectrum, NULL));
        for (int b = 0; b < TS_BANDS; b++)
          assert_near (spectrum.band[b], cubic (TS_BAND_FIRST + b * TS_BAND_STEP), 0.006);
      }
}

/* Where the first sample lies on the first band there is none before it. */
static void
test_resample_fine_ends (void **state)
{
  double values[61];
  TsSpectrum spectrum;

  for (int i = 0; i < 61; i++)
    values[i] = cubic (400.0 + 5.0 * i);
  assert_true (ts_spectrum_resample (values, 61, 400.0, 5.0, &spectrum, NULL));
  for (int b = 0; b < TS_BANDS; b++)
    assert_near (spectrum.band[b], cubic (TS_BAND_FIRST + b * TS_BAND_STEP), 1e-12);
}

static void
test_resample_held (void **state)
{
  double values[26];
  TsSpectrum spectrum;

  for (int i = 0; i < 26; i++)
    values[i] = 0.1 + 0.03 * i;
  assert_true (ts_spectrum_resample (values, 26, 420.0, 10.0, &spectrum, NULL));
  assert_near (spectrum.band[0], values[0], 0.0);
  assert_near (spectrum.band[1], values[0], 0.0);
  assert_near (spectrum.band[2], values[0], 0.0);
  assert_near (spectrum.band[3], values[1], 1e-15);
  assert_near (spectrum.band[27], values[25], 1e-15);
  assert_near (spectrum.band[30], values[25], 0.0);
}

/* A step must not swing below 0 or above 1. */
static void
test_resample_stays_in_range (void **state)
{
  double values[21];
  TsSpectrum spectrum;

  for (int i = 0; i < 21; i++)
    values[i] = i < 10 ? 0.0 : 1.0;
  assert_true (ts_spectrum_resample (values, 21, 360.0, 20.0, &spectrum, NULL));
  for (int b = 0; b < TS_BANDS; b++)
    assert_true (spectrum.band[b] >= 0.0 && spectrum.band[b] <= 1.0);
}

typedef struct
{
  const char *name;
  guint n;
  double first, step, value;
  TsError code;
} RefusedCase;

static const RefusedCase refused_cases[] = {
  { "three samples", 3, 400.0, 20.0, 0.5, TS_ERROR_TOO_FEW },
  { "starts late", 30, 440.0, 10.0, 0.5, TS_ERROR_TOO_FEW },
  { "ends early", 20, 400.0, 10.0, 0.5, TS_ERROR_TOO_FEW },
  { "step of nothing", 31, 400.0, 0.0, 0.5, TS_ERROR_BAD_VALUE },
  { "backwards", 31, 700.0, -10.0, 0.5, TS_ERROR_BAD_VALUE },
  { "step too wide", 31, 400.0, 25.0, 0.5, TS_ERROR_BAD_VALUE },
  { "step not a number", 31, 400.0, (double) (double) NAN, 0.5, TS_ERROR_BAD_VALUE },
  { "start not a number", 31, (double) (double) NAN, 10.0, 0.5, TS_ERROR_TOO_FEW },
  { "value not a number", 31, 400.0, 10.0, (double) (double) NAN, TS_ERROR_BAD_VALUE },
  { "value infinite", 31, 400.0, 10.0, (double) (double) INFINITY, TS_ERROR_BAD_VALUE },
};

static void
test_refused (void **state)
{
  const RefusedCase *c = *state;
  g_autoptr (GError) error = NULL;
  double values[31];
  TsSpectrum spectrum;

  for (int i = 0; i < 31; i++)
    values[i] = i == 20 ? c->value : 0.5;
  assert_false (ts_spectrum_resample (values, c->n, c->first, c->step, &spectrum, &error));
  assert_true (g_error_matches (error, TS_ERROR, (int) c->code));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_perfect_reflector),       cmocka_unit_test (test_weights),
    cmocka_unit_test (test_tables_are_copies),       cmocka_unit_test (test_resample_cubic),
    cmocka_unit_test (test_resample_fine),           cmocka_unit_test (test_resample_held),
    cmocka_unit_test (test_resample_stays_in_range), cmocka_unit_test (test_resample_fine_ends),
  };
  struct CMUnitTest refused[G_N_ELEMENTS (refused_cases)] = { 0 };

  for (gsize i = 0; i < G_N_ELEMENTS (refused_cases); i++)
    {
      refused[i].name = refused_cases[i].name;
      refused[i].test_func = test_refused;
      refused[i].initial_state = (void *) &refused_cases[i];
    }
  return cmocka_run_group_tests_name ("colour/spectrum", tests, NULL, NULL) +
         cmocka_run_group_tests_name ("colour/spectrum-refused", refused, NULL, NULL);
}
