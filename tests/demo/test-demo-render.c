/* test-demo-render.c: the parts of the demo's renderer held to what is known without it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include "demo-illuminant.h"
#include "demo-sampler.h"
#include "demo-scene.h"
#include "demo-sdf.h"

/* The first 16 points of Sobol's first two dimensions put one into each of 16 boxes of every shape
 * (a (0, 4, 2)-net in base 2: Niederreiter 1987), and Owen's scrambling keeps that (Owen 1995). */
static void
test_sampler_is_a_net (void **state)
{
  static const int shapes[][2] = { { 16, 1 }, { 8, 2 }, { 4, 4 }, { 2, 8 }, { 1, 16 } };
  float first = -1.0f;
  int varied = 0;

  for (guint32 seed = 1; seed <= 50; seed++)
    for (gsize s = 0; s < G_N_ELEMENTS (shapes); s++)
      {
        guint boxes = 0;

        for (guint32 i = 0; i < 16; i++)
          {
            DemoSampler sampler = { seed, i, 0 };
            float u, v;

            demo_sampler_next (&sampler, &u, &v);
            assert_true (u >= 0.0f && u < 1.0f && v >= 0.0f && v < 1.0f);
            boxes |= 1u << ((int) (u * shapes[s][0]) * shapes[s][1] + (int) (v * shapes[s][1]));
            varied += i == 0 && u != first;
            first = i == 0 ? u : first;
          }
        assert_int_equal (boxes, 0xffff);
      }
  assert_in_range (varied, 45, 50);
}

/* CIE 15: illuminant A is Planck's law at 2855.5 K with today's constant; x, y 0.44758, 0.40745
 * (tests/fixtures/published/white_points.csv). Bands end at 400 and 700 nm: hence 0.0005. */
static void
test_black_body_is_illuminant_a (void **state)
{
  DemoIlluminant light;
  DemoBands white;
  float xyz[3], sum;

  demo_illuminant_init (&light, 2855.5);
  demo_bands_fill (&white, 1.0f);
  demo_illuminant_to_xyz (&light, &white, 1.0f, xyz);
  sum = xyz[0] + xyz[1] + xyz[2];
  assert_near ((double) xyz[1], 1.0, 1e-5);
  assert_near ((double) (xyz[0] / sum), 0.44758, 0.0005);
  assert_near ((double) (xyz[1] / sum), 0.40745, 0.0005);
}

/* A square parallel to a small surface and centred over it: share of the hemisphere's light by the
 * closed formula of radiation catalogues (Howell, B-4, four corners). */
static void
test_lamp_has_its_solid_angle (void **state)
{
  DemoLamp lamp;
  const Vec middle = vec (-6.0f, 7.0f, 9.0f);
  double mean = 0.0, half, a, factor, radiance;
  const int n = 4096;

  demo_lamp_init (&lamp, middle);
  for (guint32 i = 0; i < (guint32) n; i++)
    {
      DemoSampler sampler = { 7, i, 0 };
      float u, v;

      demo_sampler_next (&sampler, &u, &v);
      mean += (double) demo_lamp_share (&lamp, vec (0, 0, 0), vec_unit (middle),
                                        demo_lamp_point (&lamp, u, v)) /
              n;
    }
  half = (double) vec_length (lamp.across);
  a = half / (double) vec_length (middle);
  factor = 4.0 / G_PI * a / sqrt (1.0 + a * a) * atan (a / sqrt (1.0 + a * a));
  radiance = (double) demo_lamp_seen (&lamp, vec (0, 0, 0), vec_unit (middle), TRUE);
  assert_true (factor > 0.05);
  assert_near (mean, radiance * factor, 1e-3);
}

/* Distances that anyone can work out by hand. */
static void
test_solids (void **state)
{
  const Vec p = vec (3.0f, 4.0f, 0.0f), o = vec (0.0f, 0.0f, 0.0f);

  assert_near ((double) sdf_sphere (p, o, 2.0f), 3.0, 1e-5);
  assert_near ((double) sdf_ellipsoid (p, o, vec (2.0f, 2.0f, 2.0f)), 3.0, 1e-5);
  assert_near ((double) sdf_box (p, o, vec (1.0f, 1.0f, 1.0f), 0.0f), sqrt (13.0), 1e-5);
  assert_near ((double) sdf_box (p, o, vec (5.0f, 7.0f, 9.0f), 0.5f), -2.0, 1e-5);
  assert_near (
    (double) sdf_capsule (p, vec (-5.0f, 0.0f, 0.0f), vec (5.0f, 0.0f, 0.0f), 1.0f, 1.0f), 3.0,
    1e-5);
  assert_near ((double) sdf_cylinder_y (p, o, 1.0f, 6.0f, 0.1f), 2.0, 1e-5);
  assert_near ((double) sdf_ring_y (p, o, 3.0f, 1.0f), 3.0, 1e-5);
  assert_near ((double) sdf_join (1.0f, 5.0f, 0.5f), 1.0, 0.0);
  assert_near ((double) sdf_carve (-1.0f, -3.0f, 0.5f), 3.0, 0.0);
}

/* A ray that is said to meet the figure ends on it, and one that is not never comes near. */
static void
test_rays_end_on_the_figure (void **state)
{
  g_autoptr (DemoField) field = demo_field_new (0.1f);
  int met = 0;

  for (guint32 i = 0; i < 400; i++)
    {
      DemoSampler sampler = { 3, i, 0 };
      Vec from = vec (0.0f, 0.0f, 20.0f), direction;
      float u, v, t;

      demo_sampler_next (&sampler, &u, &v);
      direction = vec_unit (vec (u * 8.0f - 4.5f, v * 8.0f - 4.2f, -20.0f));
      if (demo_field_meet (field, from, direction, 100.0f, TRUE, &t))
        {
          met++;
          assert_true (fabsf (demo_figure_at (vec_along (from, direction, t)).distance) < 0.005f);
          continue;
        }
      for (t = 17.0f; t < 23.0f; t += 0.05f)
        assert_true (demo_figure_at (vec_along (from, direction, t)).distance > -0.01f);
    }
  assert_in_range (met, 120, 320);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_sampler_is_a_net),
    cmocka_unit_test (test_black_body_is_illuminant_a),
    cmocka_unit_test (test_lamp_has_its_solid_angle),
    cmocka_unit_test (test_solids),
    cmocka_unit_test (test_rays_end_on_the_figure),
  };

  return cmocka_run_group_tests_name ("demo/render", tests, NULL, NULL);
}
