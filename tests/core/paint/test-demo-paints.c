/* test-demo-paints.c: the invented demo set behaves as paints do
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include <stdlib.h>
#include <string.h>

#include "colour/ts-colour-convert.h"
#include "colour/ts-difference.h"
#include "paint/ts-mix.h"
#include "ts-test.h"

static TsPaintSet *
load_demo (void)
{
  g_autofree char *path = ts_test_source ("data/demo/lighthouse-paints.csv");
  g_autoptr (GError) error = NULL;
  TsPaintSet *set = ts_paint_set_load (path, &error);

  assert_no_error (error);
  return set;
}

/* The same paints known only by a colour and a word, as most painters will know theirs. */
static TsPaintSet *
load_words (void)
{
  g_autoptr (TsPaintSet) demo = load_demo ();
  g_autoptr (GString) text = g_string_new (NULL);
  TsSurfaceReflection surface = ts_paint_set_get_surface (demo);
  g_autoptr (GError) error = NULL;
  TsPaintSet *set;

  /* The same colours read the same way. */
  g_string_append_printf (text, "# surface: k1=%g k2=%g\nname,kind,opacity,L,a,b\n", surface.k1,
                          surface.k2);
  for (guint i = 0; i < ts_paint_set_get_n_paints (demo); i++)
    {
      const TsPaint *paint = ts_paint_set_get_paint (demo, i);
      TsLab lab = ts_paint_get_masstone (paint);

      g_string_append_printf (text, "%s,%s,%s,%.1f,%.1f,%.1f\n", ts_paint_get_name (paint),
                              ts_paint_kind_to_word (ts_paint_get_kind (paint)),
                              ts_opacity_to_word (ts_paint_get_opacity (paint)), lab.L, lab.a,
                              lab.b);
    }
  set = ts_paint_set_parse (text->str, -1, "words", &error);
  assert_no_error (error);
  return set;
}

/* Parts of up to three named paints; a name may be NULL. */
static guint
amounts_of (const TsPaintSet *set, const char *const *names, const double *parts, TsAmount *amounts)
{
  guint n = 0;

  for (guint i = 0; i < 3 && names[i] != NULL; i++)
    {
      int paint = ts_paint_set_find (set, names[i]);

      if (paint < 0)
        fail_msg ("no paint %s", names[i]);
      amounts[n++] = (TsAmount){ (guint) paint, parts[i] };
    }
  return n;
}

static TsLab
mix_lab (const TsPaintSet *set, const char *const *names, const double *parts)
{
  TsAmount amounts[3];
  TsSpectrum K, S, reflectance;

  ts_mix_get_K_S (set, amounts, amounts_of (set, names, parts, amounts), &K, &S);
  ts_mix_get_masstone (&K, &S, ts_paint_set_get_surface (set), &reflectance);
  return ts_spectrum_to_lab (&reflectance, TS_LIGHT_D50);
}

#define MIX(...) mix_lab (set, (const char *const[3]){ __VA_ARGS__ }, parts)

static void
test_set (void **state)
{
  g_autoptr (TsPaintSet) set = load_demo ();
  g_autofree char *path = ts_test_source ("data/demo/lighthouse-paints.csv");
  g_autofree char *text = ts_paint_set_to_csv (set);
  g_autofree char *file = NULL;
  guint of_source[TS_SOURCE_CALIBRATED + 1] = { 0 };
  guint of_kind[TS_PAINT_VARNISH + 1] = { 0 };
  guint n_cautions = 0;

  assert_in_range (ts_paint_set_get_n_paints (set), 40, 60);
  for (guint i = 0; i < ts_paint_set_get_n_paints (set); i++)
    {
      const TsPaint *paint = ts_paint_set_get_paint (set, i);

      of_source[ts_paint_get_source (paint)]++;
      of_kind[ts_paint_get_kind (paint)]++;
      n_cautions += ts_paint_get_caution (paint) != NULL;
    }
  /* Every kind, and groups of columns mixed in one file. */
  for (guint kind = 0; kind <= TS_PAINT_VARNISH; kind++)
    assert_true (of_kind[kind] > 0);
  assert_true (of_source[TS_SOURCE_WORD] > 0);
  assert_true (of_source[TS_SOURCE_MASSTONE] > 0);
  assert_true (of_source[TS_SOURCE_FILMS_LAB] > 0);
  assert_true (of_source[TS_SOURCE_FILMS_SPECTRA] > 0);
  assert_true (of_source[TS_SOURCE_DIRECT] > 20);
  assert_true (n_cautions > 0);

  assert_true (g_file_get_contents (path, &file, NULL, NULL));
  assert_string_equal (text, file);
}

/* The word on the label and the film on the card say the same. */
static void
test_opacity_words (void **state)
{
  static const double least[] = { 0.0, 0.94, 0.70, 0.45, 0.0 };
  static const double most[] = { 1.0, 1.0, 0.999, 0.95, 0.95 };
  g_autoptr (TsPaintSet) set = load_demo ();

  for (guint i = 0; i < ts_paint_set_get_n_paints (set); i++)
    {
      const TsPaint *paint = ts_paint_set_get_paint (set, i);
      TsOpacity word = ts_paint_get_opacity (paint);
      double ratio = ts_mix_get_contrast_ratio (ts_paint_get_K (paint), ts_paint_get_S (paint),
                                                ts_paint_set_get_surface (set), 1.0);

      /* Two paints of which a word is all that is known carry no film to compare. */
      if (word == TS_OPACITY_UNKNOWN || ts_paint_get_source (paint) == TS_SOURCE_WORD)
        continue;
      if (!(ratio >= least[word] && ratio <= most[word]))
        fail_msg ("%s: %s, contrast ratio %.3f", ts_paint_get_name (paint),
                  ts_opacity_to_word (word), ratio);
      if (word == TS_OPACITY_TRANSPARENT)
        for (guint b = 0; b < TS_BANDS; b++)
          assert_true (ts_paint_get_S (paint)->band[b] < 0.5);
    }
}

/* The rest of this file: common practice, no source. It holds for the set as it is and where only
 * colours and words are known. */
static void
test_black_and_blue (void **state)
{
  g_autoptr (TsPaintSet) set = *state == NULL ? load_demo () : load_words ();
  static const double parts[] = { 2, 1, 0 };
  TsLab black = ts_paint_get_masstone (
    ts_paint_set_get_paint (set, (guint) ts_paint_set_find (set, "Lamp Black")));
  TsLab mix = MIX ("Lamp Black", "Night Blue");

  assert_true (mix.L < black.L + 3.0);
  assert_true (ts_lch_from_lab (mix).C < 6.0);
}

static void
test_blue_and_turquoise (void **state)
{
  g_autoptr (TsPaintSet) set = *state == NULL ? load_demo () : load_words ();
  static const double parts[] = { 1, 1, 0 };
  TsLab blue = MIX ("Deep Sea Blue");
  TsLab turquoise = MIX ("Shallow Turquoise");
  TsLab mix = MIX ("Deep Sea Blue", "Shallow Turquoise");

  assert_true (mix.L > blue.L && mix.L < turquoise.L);
  assert_true (ts_lch_from_lab (mix).h > ts_lch_from_lab (turquoise).h);
  assert_true (ts_lch_from_lab (mix).h < ts_lch_from_lab (blue).h);
}

static void
test_yellow_and_white_into_blue (void **state)
{
  g_autoptr (TsPaintSet) set = *state == NULL ? load_demo () : load_words ();
  static const double parts[] = { 2, 1, 2 };
  TsLab blue = MIX ("Strong Blue");
  TsLab mix = MIX ("Strong Blue", "Plain White", "Harbour Yellow");

  assert_true (mix.L > blue.L + 5.0);
  assert_true (ts_lch_from_lab (mix).h > 110.0 && ts_lch_from_lab (mix).h < 230.0);
}

static void
test_black_and_violet_darken (void **state)
{
  g_autoptr (TsPaintSet) set = *state == NULL ? load_demo () : load_words ();
  static const double parts[] = { 4, 1, 1 };

  assert_true (MIX ("Red Earth", "Lamp Black", "Dark Violet").L < MIX ("Red Earth").L - 5.0);
}

/* Lightness of a film over a neutral ground. */
static TsLab
over (const TsPaintSet *set, const char *const *names, const double *parts, double coats,
      double ground)
{
  TsAmount amounts[3];
  TsSpectrum K, S, under, film;

  for (guint b = 0; b < TS_BANDS; b++)
    under.band[b] = ground;
  ts_mix_get_K_S (set, amounts, amounts_of (set, names, parts, amounts), &K, &S);
  ts_mix_get_film (&K, &S, ts_paint_set_get_surface (set), coats, &under, &film);
  return ts_spectrum_to_lab (&film, TS_LIGHT_D50);
}

static void
test_glaze_tints (void **state)
{
  static const char *const glaze[] = { "Clear Rose", "Gloss Medium", NULL };
  static const double parts[] = { 1, 3, 0 };
  g_autoptr (TsPaintSet) set = *state == NULL ? load_demo () : load_words ();
  TsLab light = over (set, glaze, parts, 1.0, 0.7);
  TsLab dark = over (set, glaze, parts, 1.0, 0.1);

  assert_true (light.a > 10.0);
  /* A paint hides where this ratio is 0.98 (ISO 6504-3); bare, these grounds have 0.14. */
  assert_true (ts_luminance_from_lightness (dark.L) / ts_luminance_from_lightness (light.L) < 0.5);
}

static void
test_two_coats_cover_better (void **state)
{
  g_autoptr (TsPaintSet) set = *state == NULL ? load_demo () : load_words ();

  for (guint i = 0; i < ts_paint_set_get_n_paints (set); i++)
    {
      const TsPaint *paint = ts_paint_set_get_paint (set, i);
      const TsSpectrum *K = ts_paint_get_K (paint);
      const TsSpectrum *S = ts_paint_get_S (paint);
      TsSurfaceReflection surface = ts_paint_set_get_surface (set);

      assert_true (ts_mix_get_contrast_ratio (K, S, surface, 2.0) >=
                   ts_mix_get_contrast_ratio (K, S, surface, 1.0));
      assert_true (ts_mix_get_contrast_ratio (K, S, surface, 1.0) >
                   ts_mix_get_contrast_ratio (K, S, surface, 0.1) - 1e-12);
    }
}

static void
test_white_is_the_lightest (void **state)
{
  g_autoptr (TsPaintSet) set = *state == NULL ? load_demo () : load_words ();
  int white = ts_paint_set_find (set, "Plain White");

  for (guint i = 0; i < ts_paint_set_get_n_paints (set); i++)
    if ((int) i != white)
      assert_true (ts_paint_get_masstone (ts_paint_set_get_paint (set, i)).L <=
                   ts_paint_get_masstone (ts_paint_set_get_paint (set, (guint) white)).L + 1e-9);
}

/* Stairs of five steps for a skin, a waxed dark-yellow coat, a cream scarf, brown leather and
 * brass. */
static const TsLab targets[] = {
  { 34, 14, 12 }, { 47, 20, 20 }, { 60, 20, 23 }, { 71, 17, 22 }, { 82, 9, 17 },
  { 30, 1, 7 },   { 36, 2, 16 },  { 44, 3, 24 },  { 53, 4, 30 },  { 64, 3, 32 },
  { 44, 5, 12 },  { 57, 4, 16 },  { 70, 2, 18 },  { 80, 1, 16 },  { 90, 0, 12 },
  { 28, 5, 4 },   { 34, 11, 10 }, { 41, 16, 17 }, { 50, 18, 23 }, { 61, 16, 26 },
  { 32, 4, 10 },  { 42, 7, 22 },  { 54, 8, 34 },  { 68, 5, 42 },  { 84, 1, 30 },
};

static int
compare_doubles (const void *one, const void *other)
{
  double a = *(const double *) one;
  double b = *(const double *) other;

  return (a > b) - (a < b);
}

static guint
list_mixable (const TsPaintSet *set, guint *paints)
{
  guint n = 0;

  for (guint i = 0; i < ts_paint_set_get_n_paints (set); i++)
    if (ts_paint_get_kind (ts_paint_set_get_paint (set, i)) == TS_PAINT_PAINT)
      paints[n++] = i;
  return n;
}

/* Every whole-part mix of the three paints up to eight parts. */
static void
try_three (const TsPaintSet *set, const guint *paints, double *best)
{
  for (guint total = 1; total <= 8; total++)
    for (guint i = 0; i <= total; i++)
      for (guint j = 0; i + j <= total; j++)
        {
          TsAmount amounts[] = { { paints[0], i }, { paints[1], j }, { paints[2], total - i - j } };
          TsSpectrum K, S, reflectance;
          TsLab lab;

          ts_mix_get_K_S (set, amounts, 3, &K, &S);
          ts_mix_get_masstone (&K, &S, ts_paint_set_get_surface (set), &reflectance);
          lab = ts_spectrum_to_lab (&reflectance, TS_LIGHT_D50);
          for (gsize t = 0; t < G_N_ELEMENTS (targets); t++)
            if (ts_delta_e_76 (lab, targets[t]) < 12.0)
              best[t] = MIN (best[t], ts_delta_e_2000 (lab, targets[t]));
        }
}

/* Typical stairs can be mixed. To keep it short, each pair of paints is tried with white alone as
 * the third: more paints could only come nearer. */
static void
test_stairs_are_in_reach (void **state)
{
  g_autoptr (TsPaintSet) set = load_demo ();
  guint paints[64];
  guint n = list_mixable (set, paints);
  double best[G_N_ELEMENTS (targets)];

  for (gsize t = 0; t < G_N_ELEMENTS (targets); t++)
    best[t] = 1000.0;
  for (guint i = 0; i < n; i++)
    for (guint j = i + 1; j < n; j++)
      try_three (set, (guint[]){ paints[0], paints[i], paints[j] }, best);

  qsort (best, G_N_ELEMENTS (best), sizeof *best, compare_doubles);
  print_message ("best dE2000: median %.2f, worst %.2f\n", best[G_N_ELEMENTS (best) / 2],
                 best[G_N_ELEMENTS (best) - 1]);
  assert_true (best[G_N_ELEMENTS (best) / 2] < 1.0);
  assert_true (best[G_N_ELEMENTS (best) - 1] < 4.0);
}

int
main (void)
{
  static char words[] = "words";
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_set),
    cmocka_unit_test (test_opacity_words),
    cmocka_unit_test (test_black_and_blue),
    { "test_black_and_blue, by word", test_black_and_blue, NULL, NULL, words },
    cmocka_unit_test (test_blue_and_turquoise),
    { "test_blue_and_turquoise, by word", test_blue_and_turquoise, NULL, NULL, words },
    cmocka_unit_test (test_yellow_and_white_into_blue),
    { "test_yellow_and_white_into_blue, by word", test_yellow_and_white_into_blue, NULL, NULL,
      words },
    cmocka_unit_test (test_black_and_violet_darken),
    { "test_black_and_violet_darken, by word", test_black_and_violet_darken, NULL, NULL, words },
    cmocka_unit_test (test_glaze_tints),
    { "test_glaze_tints, by word", test_glaze_tints, NULL, NULL, words },
    cmocka_unit_test (test_two_coats_cover_better),
    { "test_two_coats_cover_better, by word", test_two_coats_cover_better, NULL, NULL, words },
    cmocka_unit_test (test_white_is_the_lightest),
    { "test_white_is_the_lightest, by word", test_white_is_the_lightest, NULL, NULL, words },
    cmocka_unit_test (test_stairs_are_in_reach),
  };

  return cmocka_run_group_tests_name ("paint/demo", tests, NULL, NULL);
}
