/* test-km-published.c: layers, films, surface and hiding against numbers from outside the project
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include <stdlib.h>
#include <string.h>

#include "colour/ts-difference.h"
#include "paint/ts-km.h"
#include "colour/ts-colour-convert.h"
#include "paint/ts-mix.h"
#include "ts-test.h"

/* A spectrum that is the same at every band. */
static TsSpectrum
flat (double value)
{
  TsSpectrum spectrum;

  for (guint b = 0; b < TS_BANDS; b++)
    spectrum.band[b] = value;
  return spectrum;
}

/* Kubelka and Munk (1931), computed both ways: the table is rounded to 12 digits. */
static void
test_reflectance (void **state)
{
  g_autoptr (TsCsv) table = ts_test_table ("published/km_reflectance_checks.csv");
  guint n_rows = ts_csv_get_n_rows (table);

  assert_int_equal (n_rows, 25);
  for (guint r = 0; r < n_rows; r++)
    {
      double reflectance = ts_test_cell (table, r, "R");
      double ratio = ts_test_cell (table, r, "K_over_S");

      assert_near (ts_km_reflectance (ratio, 1.0), reflectance, 2e-12);
      assert_near (ts_km_reflectance (ratio * 7.0, 7.0), reflectance, 2e-12);
      /* An R of 12 digits near 1 fixes a small K/S to fewer. */
      assert_near (ts_km_ratio (reflectance) / ratio, 1.0, ratio < 1e-3 ? 3e-9 : 1e-9);
    }
}

/* Kubelka (1948), checked there against numerical integration. */
static void
test_film (void **state)
{
  g_autoptr (TsCsv) table = ts_test_table ("published/km_film_checks.csv");
  guint n_rows = ts_csv_get_n_rows (table);

  assert_int_equal (n_rows, 65);
  for (guint r = 0; r < n_rows; r++)
    {
      double K = ts_test_cell (table, r, "K");
      double S = ts_test_cell (table, r, "S");
      double X = ts_test_cell (table, r, "X");
      double ground = ts_test_cell (table, r, "Rg");

      assert_near (ts_km_film (K, S, X, ground), ts_test_cell (table, r, "R"), 1e-12);
      /* Thickness and strength are one product. */
      assert_near (ts_km_film (K * X, S * X, 1.0, ground), ts_test_cell (table, r, "R"), 1e-12);
    }
}

/* Kubelka (1948): K and S back from two films, and the contrast ratio (ISO 6504-3). The
 * reflectances of the table have 12 digits, which a film that nearly hides makes fewer. */
static void
test_invert_films (void **state)
{
  g_autoptr (TsCsv) table = ts_test_table ("published/km_black_white_inverse_checks.csv");
  guint n_rows = ts_csv_get_n_rows (table);

  assert_int_equal (n_rows, 6);
  for (guint r = 0; r < n_rows; r++)
    {
      double over_black = ts_test_cell (table, r, "R_black");
      double over_white = ts_test_cell (table, r, "R_white");
      double K, S;

      assert_true (ts_km_invert_films (over_black, over_white, ts_test_cell (table, r, "Rg_black"),
                                       ts_test_cell (table, r, "Rg_white"), &K, &S));
      assert_near (K, ts_test_cell (table, r, "KX"), 2e-9);
      assert_near (S, ts_test_cell (table, r, "SX"), 2e-9);
      assert_near (ts_km_reflectance (K, S), ts_test_cell (table, r, "R_inf"), 1e-9);
      assert_near (over_black / over_white, ts_test_cell (table, r, "contrast_ratio"), 1e-11);
    }
}

/* Saunderson (1942), specular component included and excluded. */
static void
test_saunderson (void **state)
{
  g_autoptr (TsCsv) table = ts_test_table ("published/km_saunderson_checks.csv");
  guint n_rows = ts_csv_get_n_rows (table);

  assert_int_equal (n_rows, 40);
  for (guint r = 0; r < n_rows; r++)
    {
      TsSurfaceReflection surface = { ts_test_cell (table, r, "k1"),
                                      ts_test_cell (table, r, "k2") };
      double inside = ts_test_cell (table, r, "Ri");
      double measured = ts_test_cell (table, r, "Rm_included");

      assert_near (ts_saunderson_measured (surface, inside), measured, 1e-12);
      assert_near (ts_saunderson_inside (surface, measured), inside, 1e-11);
      assert_near (ts_saunderson_measured (surface, inside) - surface.k1,
                   ts_test_cell (table, r, "Rm_excluded"), 1e-12);
    }
}

/* Three invented pigments at five wavelengths, from the tests of a general colour library. The K of
 * the table's first lines are reflectances for single_constant. */
static const double mix_K[3][5] = {
  { 1.00, 0.50, 1.00, 0.50, 1.00 },
  { 1.00, 1.00, 0.25, 0.50, 0.50 },
  { 1.00, 1.00, 0.75, 0.25, 0.25 },
};
static const double mix_S[3][5] = {
  { 0.2, 0.4, 0.6, 0.8, 1.0 },
  { 1.0, 0.8, 0.6, 0.4, 0.2 },
  { 0.2, 0.8, 0.2, 0.8, 0.2 },
};

static void
test_mixing (void **state)
{
  static const TsSurfaceReflection surface = { 0.033, 0.66 };
  g_autoptr (TsCsv) table = ts_test_table ("published/km_mixing_checks.csv");
  guint n_rows = ts_csv_get_n_rows (table);
  int kind = ts_csv_find_column (table, "kind");

  assert_int_equal (n_rows, 27);
  for (guint r = 0; r < n_rows; r++)
    {
      const char *word = ts_csv_get_cell (table, r, kind);
      gboolean single = strcmp (word, "single_constant") == 0;
      gboolean excluded = g_str_has_suffix (word, "excluded");
      double c[3] = { ts_test_cell (table, r, "c1"), ts_test_cell (table, r, "c2"),
                      ts_test_cell (table, r, "c3") };

      for (guint b = 0; b < 5; b++)
        {
          g_autofree char *column = g_strdup_printf ("R%u", b + 1);
          double K = 0.0, S = single ? 1.0 : 0.0, got;

          for (guint i = 0; i < 3; i++)
            {
              K += c[i] * (single ? ts_km_ratio (mix_K[i][b]) : mix_K[i][b]);
              S += single ? 0.0 : c[i] * mix_S[i][b];
            }
          got = ts_km_reflectance (K, S);
          if (excluded)
            got = ts_saunderson_measured (surface, got) - surface.k1;
          assert_near (got, ts_test_cell (table, r, column), 1e-14);
        }
    }
}

/* Thickness of 98 % hiding, computed from Kubelka (1948) for the ratio of ISO 6504-3 over black 0.
 * Flat spectra without a surface make Y the reflectance. */
static void
test_hiding (void **state)
{
  static const TsSurfaceReflection bare = { 0.0, 0.0 };
  g_autoptr (TsCsv) table = ts_test_table ("published/hiding_power_checks.csv");
  guint n_rows = ts_csv_get_n_rows (table);

  assert_int_equal (n_rows, 16);
  for (guint r = 0; r < n_rows; r++)
    {
      double thickness = ts_test_cell (table, r, "SX98");
      TsSpectrum K = flat (ts_km_ratio (ts_test_cell (table, r, "R_inf")));
      TsSpectrum S = flat (1.0);
      TsSpectrum black = flat (0.0);
      TsSpectrum white = flat (ts_test_cell (table, r, "Rw"));
      double r_black = ts_km_film (K.band[0], 1.0, thickness, 0.0);

      assert_near (K.band[0], ts_test_cell (table, r, "K_over_S"), 6e-9);
      assert_near (r_black, ts_test_cell (table, r, "R_black"), 6e-9);
      assert_near (ts_mix_get_contrast_ratio_over (&K, &S, bare, thickness, &black, &white), 0.98,
                   1e-7);
      assert_near (ts_mix_get_contrast_ratio_over (&K, &S, bare, 0.5 * thickness, &black, &white),
                   ts_test_cell (table, r, "ratio_half"), 1e-6);
      if (ts_test_cell (table, r, "Rw") == TS_CARD_WHITE)
        assert_near (ts_mix_get_coats_to_hide (&K, &S, bare), thickness, 2e-6);
    }
}

/* A paint set out of the published K and S; our bands are 400 to 700 nm of them. */
static TsPaintSet *
make_acrylics (void)
{
  g_autoptr (TsCsv) table = ts_test_table ("published/km_acrylics_2016.csv");
  g_autoptr (GString) text = g_string_new ("# surface: k1=0.03 k2=0.65\nname");
  g_autoptr (GError) error = NULL;
  TsPaintSet *set;

  for (guint c = 0; c < 2 * TS_BANDS; c++)
    g_string_append_printf (text, ",%c%u", c < TS_BANDS ? 'K' : 'S',
                            TS_BAND_FIRST + TS_BAND_STEP * (c % TS_BANDS));
  for (guint r = 0; r < ts_csv_get_n_rows (table); r++)
    {
      g_string_append_printf (text, "\n%s",
                              ts_csv_get_cell (table, r, ts_csv_find_column (table, "ci")));
      for (guint c = 0; c < 2 * TS_BANDS; c++)
        {
          g_autofree char *column = g_strdup_printf ("%c%u", c < TS_BANDS ? 'K' : 'S',
                                                     TS_BAND_FIRST + TS_BAND_STEP * (c % TS_BANDS));
          int index = ts_csv_find_column (table, column);

          g_string_append_printf (text, ",%s", ts_csv_get_cell (table, r, index));
        }
    }
  set = ts_paint_set_parse (text->str, -1, "acrylics", &error);
  assert_no_error (error);
  assert_int_equal (ts_paint_set_get_n_paints (set), 19);
  return set;
}

/* "2 PO20 + 3 PW6 + 1 PBk9" */
static guint
parse_recipe (const TsPaintSet *set, const char *text, TsAmount *amounts)
{
  g_auto (GStrv) terms = g_strsplit (text, " + ", -1);
  guint n = 0;

  for (; terms[n] != NULL; n++)
    {
      char *name = NULL;
      int paint;

      amounts[n].parts = g_ascii_strtod (terms[n], &name);
      paint = ts_paint_set_find (set, g_strstrip (name));
      assert_true (paint >= 0);
      amounts[n].paint = (guint) paint;
    }
  return n;
}

/* Computed in the table's folder from the K and S of Berns (2016). Reflectances must agree to the
 * table's 8 decimals. CIELAB was summed there over 380-750 nm at 10 nm; ours takes 400-700 nm at
 * weights made from 5 nm, which moves these paints by up to 0.004 in L* and 0.05 in a* and b*. */
static void
test_acrylics (void **state)
{
  static const guint bands[] = { 420, 450, 500, 550, 600, 650 };
  g_autoptr (TsCsv) table = ts_test_table ("published/km_acrylics_mix_checks.csv");
  g_autoptr (TsPaintSet) set = make_acrylics ();
  TsSurfaceReflection surface = ts_paint_set_get_surface (set);
  guint n_rows = ts_csv_get_n_rows (table);

  assert_int_equal (n_rows, 14);
  assert_near (surface.k1, 0.03, 0.0);
  assert_near (surface.k2, 0.65, 0.0);
  for (guint r = 0; r < n_rows; r++)
    {
      TsAmount amounts[8];
      guint n = parse_recipe (set, ts_csv_get_cell (table, r, 0), amounts);
      TsSpectrum K, S, reflectance;
      TsLab lab;

      ts_mix_get_K_S (set, amounts, n, &K, &S);
      ts_mix_get_masstone (&K, &S, surface, &reflectance);
      for (gsize i = 0; i < G_N_ELEMENTS (bands); i++)
        {
          g_autofree char *column = g_strdup_printf ("R%u", bands[i]);

          assert_near (reflectance.band[(bands[i] - TS_BAND_FIRST) / TS_BAND_STEP],
                       ts_test_cell (table, r, column), 6e-9);
        }
      lab = ts_spectrum_to_lab (&reflectance, TS_LIGHT_D50);
      assert_near (lab.L, ts_test_cell (table, r, "L"), 0.005);
      assert_near (lab.a, ts_test_cell (table, r, "a"), 0.06);
      assert_near (lab.b, ts_test_cell (table, r, "b"), 0.06);
    }
}

static int
compare_doubles (const void *one, const void *other)
{
  double a = *(const double *) one;
  double b = *(const double *) other;

  return (a > b) - (a < b);
}

/* The same paints known only by their CIELAB masstone. */
static TsPaintSet *
forget_all_but_colour (const TsPaintSet *truth)
{
  g_autoptr (GString) text = g_string_new ("# surface: k1=0.03 k2=0.65\nname,L,a,b\n");
  g_autoptr (GError) error = NULL;
  TsPaintSet *set;

  for (guint i = 0; i < ts_paint_set_get_n_paints (truth); i++)
    {
      const TsPaint *paint = ts_paint_set_get_paint (truth, i);
      TsLab lab = ts_paint_get_masstone (paint);

      g_string_append_printf (text, "%s,%.6f,%.6f,%.6f\n", ts_paint_get_name (paint), lab.L, lab.a,
                              lab.b);
    }
  set = ts_paint_set_parse (text->str, -1, "colours", &error);
  assert_no_error (error);
  return set;
}

/* How far a masstone colour alone leads, against the measured K and S of Berns (2016): tints with
 * white 1:3, 1:1 and 3:1. The bounds are what the rule reached when it was chosen; scattering that
 * is the same for every paint reaches 18.8 / 32.3. */
static void
test_colour_alone (void **state)
{
  static const double white_parts[] = { 1.0 / 3.0, 1.0, 3.0 };
  g_autoptr (TsPaintSet) truth = make_acrylics ();
  g_autoptr (TsPaintSet) known = forget_all_but_colour (truth);
  guint white = (guint) ts_paint_set_find (truth, "PW6");
  double misses[64];
  guint n = 0;

  for (guint i = 0; i < ts_paint_set_get_n_paints (truth); i++)
    for (guint r = 0; i != white && r < 3; r++)
      {
        TsAmount amounts[] = { { i, 1.0 }, { white, white_parts[r] } };
        TsSpectrum K, S, one, other;

        ts_mix_get_K_S (truth, amounts, 2, &K, &S);
        ts_mix_get_masstone (&K, &S, ts_paint_set_get_surface (truth), &one);
        ts_mix_get_K_S (known, amounts, 2, &K, &S);
        ts_mix_get_masstone (&K, &S, ts_paint_set_get_surface (known), &other);
        misses[n++] = ts_delta_e_2000 (ts_spectrum_to_lab (&one, TS_LIGHT_D50),
                                       ts_spectrum_to_lab (&other, TS_LIGHT_D50));
      }
  qsort (misses, n, sizeof *misses, compare_doubles);
  print_message ("tints of acrylics from one colour each: %.1f / %.1f\n", misses[n / 2],
                 misses[n * 9 / 10]);
  assert_int_equal (n, 54);
  assert_true (misses[n / 2] < 12.0);
  assert_true (misses[n * 9 / 10] < 25.0);
}

static TsLch
mix_acrylics (const TsPaintSet *set, const char *recipe)
{
  TsAmount amounts[8];
  guint n = parse_recipe (set, recipe, amounts);
  TsSpectrum K, S, reflectance;

  ts_mix_get_K_S (set, amounts, n, &K, &S);
  ts_mix_get_masstone (&K, &S, ts_paint_set_get_surface (set), &reflectance);
  return ts_lch_from_lab (ts_spectrum_to_lab (&reflectance, TS_LIGHT_D50));
}

/* Facts of the trade: common practice, no source. PB29 and PB15:1 are deep blues, PB28 tinted with
 * PW6 and PG7 a light turquoise, PV23 a dark violet, PY74 a yellow. */
static void
test_facts_of_the_trade (void **state)
{
  g_autoptr (TsPaintSet) set = make_acrylics ();
  const char *deep = "1 PB29 + 2 PW6";
  TsLch blue = mix_acrylics (set, deep), lit, dark, between;

  /* Two parts black to one of a dark blue stays a near-black. */
  assert_true (mix_acrylics (set, "2 PBk9 + 1 PB29").L < 28.0);
  assert_true (mix_acrylics (set, "2 PBk9 + 1 PB29").C < 8.0);
  /* Equal parts of a deep blue and a light turquoise lie between the two. */
  between = mix_acrylics (set, "3 PB29 + 1 PG7 + 9 PW6");
  lit = mix_acrylics (set, "1 PG7 + 8 PW6");
  dark = mix_acrylics (set, "3 PB29 + 1 PW6");
  assert_true (between.L > dark.L && between.L < lit.L);
  assert_true (between.h < dark.h && between.h > lit.h);
  /* Yellow and white make a blue mix lighter and turn it towards green. */
  lit = mix_acrylics (set, "1 PB29 + 4 PW6 + 1 PY74");
  assert_true (lit.L > blue.L);
  assert_true (lit.h < blue.h && lit.h > 90.0);
  /* Black and a dark violet make it darker. */
  dark = mix_acrylics (set, "1 PB29 + 2 PW6 + 1 PBk9 + 1 PV23");
  assert_true (dark.L < blue.L);
}

/* One part in three of clear medium is a quarter of the paint: it tints and does not hide, and two
 * thin coats cover better than one. A coat here is half of what hides; of those that never do, 25
 * of the table's units. */
static void
test_films_of_the_trade (void **state)
{
  g_autoptr (TsPaintSet) set = make_acrylics ();
  TsSurfaceReflection surface = ts_paint_set_get_surface (set);

  for (guint i = 0; i < ts_paint_set_get_n_paints (set); i++)
    {
      const TsPaint *paint = ts_paint_set_get_paint (set, i);
      const TsSpectrum *K = ts_paint_get_K (paint), *S = ts_paint_get_S (paint);
      double coat = 0.5 * fmin (ts_mix_get_coats_to_hide (K, S, surface), 50.0);

      assert_true (ts_mix_get_contrast_ratio (K, S, surface, 0.25 * coat) < 0.95);
      assert_true (ts_mix_get_contrast_ratio (K, S, surface, coat) >
                   ts_mix_get_contrast_ratio (K, S, surface, 0.5 * coat));
      assert_true (ts_mix_get_contrast_ratio (K, S, surface, 0.5 * coat) >
                   ts_mix_get_contrast_ratio (K, S, surface, 0.25 * coat));
    }
}

/* White is the lightest of all, and no mix of the others reaches it. */
static void
test_white_of_the_trade (void **state)
{
  g_autoptr (TsPaintSet) set = make_acrylics ();
  guint white = (guint) ts_paint_set_find (set, "PW6");

  for (guint i = 0; i < ts_paint_set_get_n_paints (set); i++)
    if (i != white)
      assert_true (ts_paint_get_masstone (ts_paint_set_get_paint (set, i)).L <
                   ts_paint_get_masstone (ts_paint_set_get_paint (set, white)).L);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_reflectance),
    cmocka_unit_test (test_film),
    cmocka_unit_test (test_invert_films),
    cmocka_unit_test (test_saunderson),
    cmocka_unit_test (test_mixing),
    cmocka_unit_test (test_hiding),
    cmocka_unit_test (test_acrylics),
    cmocka_unit_test (test_facts_of_the_trade),
    cmocka_unit_test (test_films_of_the_trade),
    cmocka_unit_test (test_white_of_the_trade),
    cmocka_unit_test (test_colour_alone),
  };

  return cmocka_run_group_tests_name ("paint/km-published", tests, NULL, NULL);
}
