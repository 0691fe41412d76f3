/* test-km.c: the optics at the ends of their ranges
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include <string.h>

#include "paint/ts-km.h"
#include "paint/ts-mix.h"
#include "ts-test.h"

/* The form with a difference of large numbers loses all digits here; ours must not. */
static void
test_no_cancellation (void **state)
{
  /* For large m, 1 + m - sqrt (m^2 + 2 m) = 1 / (2 m) (1 - 1 / m + ...). */
  assert_near (ts_km_reflectance (1e9, 1.0) * 2e9, 1.0, 1e-8);
  assert_near (ts_km_reflectance (1e-18, 1.0), 1.0 - sqrt (2e-18), 1e-15);
  assert_near (ts_km_reflectance (1e200, 1e200), 2.0 - sqrt (3.0), 1e-15);
  assert_near (ts_km_reflectance (0.0, 1.0), 1.0, 0.0);
  assert_near (ts_km_reflectance (1.0, 0.0), 0.0, 0.0);
  assert_near (ts_km_reflectance (0.0, 0.0), 0.0, 0.0);
  assert_true (isinf (ts_km_ratio (0.0)));
  assert_near (ts_km_ratio (1.0), 0.0, 0.0);
}

static void
test_film_ends (void **state)
{
  /* No paint at all, or paint that does nothing: the ground. */
  assert_near (ts_km_film (1.0, 2.0, 0.0, 0.37), 0.37, 1e-15);
  assert_near (ts_km_film (0.0, 0.0, 5.0, 0.37), 0.37, 1e-15);
  /* No scattering: light goes down and up once (Beer and Lambert). */
  assert_near (ts_km_film (0.3, 0.0, 2.0, 0.8), 0.8 * exp (-1.2), 1e-14);
  /* No absorption: the limit printed with the table of Kubelka's films. */
  assert_near (ts_km_film (0.0, 0.7, 3.0, 0.2), (0.2 + 0.8 * 2.1) / (1.0 + 0.8 * 2.1), 1e-14);
  /* So thick that nothing under it shows. */
  for (double coats = 1e2; coats < 1e30; coats *= 1e4)
    assert_near (ts_km_film (0.2, 1.0, coats, 0.9), ts_km_reflectance (0.2, 1.0), 1e-14);
  assert_near (ts_km_film (0.2, 1.0, (double) INFINITY, 0.9), ts_km_reflectance (0.2, 1.0), 0.0);
}

/* The series near 0 joins the closed form. */
static void
test_film_is_smooth (void **state)
{
  for (double q = 0.9e-4; q < 1.1e-4; q += 1e-7)
    {
      double K = sqrt (1.0 + q) - 1.0; /* K (K + 2 S) = q with S = 1 */
      double before = ts_km_film (K * (1.0 - 1e-9), 1.0, 1.0, 0.3);
      double after = ts_km_film (K * (1.0 + 1e-9), 1.0, 1.0, 0.3);

      assert_true (after < before + 1e-15);
      assert_near (after, before, 1e-12);
    }
}

/* Two thin films one over the other are one thick film. */
static void
test_films_add (void **state)
{
  for (double K = 0.01; K < 30.0; K *= 3.0)
    for (double S = 0.02; S < 30.0; S *= 3.0)
      {
        double under = ts_km_film (K, S, 0.4, 0.15);

        assert_near (ts_km_film (K, S, 0.6, under), ts_km_film (K, S, 1.0, 0.15), 1e-13);
      }
}

static void
test_invert_round (void **state)
{
  guint n_told = 0;

  for (double K = 0.003; K < 3.0; K *= 1.7)
    for (double S = 0.003; S < 3.0; S *= 1.7)
      {
        double got_K, got_S;

        assert_true (ts_km_invert_films (ts_km_film (K, S, 1.0, 0.0), ts_km_film (K, S, 1.0, 0.8),
                                         0.0, 0.8, &got_K, &got_S));
        assert_near (got_K / K, 1.0, 1e-6);
        assert_near (got_S / S, 1.0, 1e-6);
        n_told++;
      }
  assert_true (n_told > 100);
}

static void
test_invert_ends (void **state)
{
  double K, S;

  /* A film that does nothing; that only absorbs; that only scatters. */
  assert_true (ts_km_invert_films (0.0, 0.8, 0.0, 0.8, &K, &S));
  assert_near (K, 0.0, 0.0);
  assert_near (S, 0.0, 0.0);
  assert_true (ts_km_invert_films (0.05 * exp (-0.6), 0.8 * exp (-0.6), 0.05, 0.8, &K, &S));
  assert_near (K, 0.3, 1e-12);
  assert_near (S, 0.0, 1e-12);
  assert_true (ts_km_invert_films (ts_km_film (0.0, 0.5, 1.0, 0.1), ts_km_film (0.0, 0.5, 1.0, 0.8),
                                   0.1, 0.8, &K, &S));
  assert_near (K, 0.0, 1e-7);
  assert_near (S, 0.5, 1e-6);
  /* Readings off by noise: no negative numbers. */
  assert_true (ts_km_invert_films (0.30, 0.86, 0.0, 0.8, &K, &S));
  assert_near (K, 0.0, 0.0);
  assert_true (S > 0.0);
  assert_true (ts_km_invert_films (0.02, 0.5, 0.05, 0.8, &K, &S));
  assert_near (S, 0.0, 0.0);
  assert_true (K > 0.0);
  /* It hides; it was lighter over black. */
  assert_false (ts_km_invert_films (0.4, 0.4, 0.0, 0.8, &K, &S));
  assert_false (ts_km_invert_films (0.5, 0.4, 0.0, 0.8, &K, &S));
  assert_false (ts_km_invert_films (0.1, 0.4, 0.8, 0.8, &K, &S));
  assert_false (ts_km_invert_films ((double) NAN, 0.4, 0.0, 0.8, &K, &S));
}

static void
test_surface (void **state)
{
  static const TsSurfaceReflection surface = { 0.04, 0.6 };

  assert_near (ts_saunderson_inside (surface, 0.01), 0.0, 0.0);
  assert_near (ts_saunderson_inside (surface, 1.0), 1.0, 1e-15);
  assert_near (ts_saunderson_measured (surface, 0.0), 0.04, 0.0);
  for (double inside = 0.0; inside <= 1.0; inside += 0.01)
    assert_near (ts_saunderson_inside (surface, ts_saunderson_measured (surface, inside)), inside,
                 1e-12);
}

static void
test_hiding (void **state)
{
  static const TsSurfaceReflection surface = { 0.04, 0.6 };
  TsSpectrum K, S;
  double coats;

  for (guint b = 0; b < TS_BANDS; b++)
    K.band[b] = S.band[b] = 0.002;
  assert_true (isinf (ts_mix_get_coats_to_hide (&K, &S, surface)));
  for (guint b = 0; b < TS_BANDS; b++)
    K.band[b] = S.band[b] = 1.5;
  coats = ts_mix_get_coats_to_hide (&K, &S, surface);
  assert_near (ts_mix_get_contrast_ratio (&K, &S, surface, coats), 0.98, 1e-9);
  assert_true (ts_mix_get_contrast_ratio (&K, &S, surface, 0.99 * coats) < 0.98);
}

/* Parts weigh K and S (Duncan 1940), and only their shares count. */
static void
test_parts (void **state)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TsPaintSet) set =
    ts_paint_set_parse ("name,L,a,b\nA,40,20,10\nB,80,0,20\n", -1, "set", &error);
  static const TsAmount amounts[] = { { 0, 1.0 }, { 1, 3.0 } };
  static const TsAmount doubled[] = { { 0, 2.0 }, { 1, 6.0 } };
  TsSpectrum K, S, K2, S2;

  assert_no_error (error);
  ts_mix_get_K_S (set, amounts, 2, &K, &S);
  ts_mix_get_K_S (set, doubled, 2, &K2, &S2);
  assert_memory_equal (&K, &K2, sizeof K);
  assert_memory_equal (&S, &S2, sizeof S);
  for (guint b = 0; b < TS_BANDS; b++)
    assert_near (K.band[b],
                 0.25 * ts_paint_get_K (ts_paint_set_get_paint (set, 0))->band[b] +
                   0.75 * ts_paint_get_K (ts_paint_set_get_paint (set, 1))->band[b],
                 1e-12 * K.band[b]);
}

/* A primer sprayed black to white, and a coat over it: the ends are the plain films, the ground
 * rises evenly, and a coat that hides leaves nothing of it. */
static void
test_sprayed (void **state)
{
  const TsSurfaceReflection surface = { 0.02, 0.6 };
  TsSpectrum K, S, dark, light, over_dark, over_light;
  TsSprayed thin[5], thick[5];
  double L_before = -1.0, ends;

  for (guint b = 0; b < TS_BANDS; b++)
    {
      K.band[b] = b < 15 ? 0.2 : 1.5;
      S.band[b] = 1.2;
      dark.band[b] = 0.05;
      light.band[b] = 0.85;
    }
  ts_mix_get_film (&K, &S, surface, 0.5, &dark, &over_dark);
  ts_mix_get_film (&K, &S, surface, 0.5, &light, &over_light);
  ts_mix_get_sprayed (&K, &S, surface, 0.5, &dark, &light, thin, 5);
  ts_mix_get_sprayed (&K, &S, surface, 60.0, &dark, &light, thick, 5);
  ends = ts_spectrum_to_lab (&light, TS_LIGHT_D50).L - ts_spectrum_to_lab (&dark, TS_LIGHT_D50).L;
  for (guint b = 0; b < TS_BANDS; b++)
    {
      assert_near (thin[0].film.band[b], over_dark.band[b], 1e-12);
      assert_near (thin[4].film.band[b], over_light.band[b], 1e-12);
      for (guint i = 0; i < 5; i++)
        assert_near (thick[i].film.band[b], thick[0].film.band[b], 1e-9);
    }
  for (guint i = 0; i < 5; i++)
    {
      assert_near (ts_spectrum_to_lab (&thin[i].ground, TS_LIGHT_D50).L,
                   ts_spectrum_to_lab (&dark, TS_LIGHT_D50).L + ends * i / 4.0, 1e-9);
      assert_true (ts_spectrum_to_lab (&thin[i].film, TS_LIGHT_D50).L > L_before);
      L_before = ts_spectrum_to_lab (&thin[i].film, TS_LIGHT_D50).L;
    }
  /* One ground all over. */
  ts_mix_get_sprayed (&K, &S, surface, 0.5, &dark, &dark, thick, 3);
  assert_near (thick[1].film.band[3], over_dark.band[3], 1e-12);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_no_cancellation), cmocka_unit_test (test_film_ends),
    cmocka_unit_test (test_film_is_smooth),  cmocka_unit_test (test_films_add),
    cmocka_unit_test (test_invert_round),    cmocka_unit_test (test_invert_ends),
    cmocka_unit_test (test_surface),         cmocka_unit_test (test_hiding),
    cmocka_unit_test (test_parts),           cmocka_unit_test (test_sprayed),
  };

  return cmocka_run_group_tests_name ("paint/km", tests, NULL, NULL);
}
