/* demo-lantern.c: the brass lantern and the plinth
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "demo-figure.h"

#define PI 3.14159265f

static float
frame (Vec q)
{
  const float angle = atan2f (q.z, q.x), sector = 2.0f * PI / 6.0f;
  const float folded = angle - sector * roundf (angle / sector - 0.25f) - 0.25f * sector;
  const float r = hypotf (q.x, q.z);
  const Vec s = vec (r * cosf (folded), q.y, r * sinf (folded));
  float d = sdf_capsule (s, vec (0.47f, 0.50f, 0.0f), vec (0.47f, 1.62f, 0.0f), 0.028f, 0.028f);

  d = sdf_join (d, sdf_ring_y (q, vec (0.0f, 0.86f, 0.0f), 0.47f, 0.030f), 0.03f);
  d = sdf_join (d, sdf_ring_y (q, vec (0.0f, 1.28f, 0.0f), 0.47f, 0.030f), 0.03f);
  return d;
}

static float
body (Vec q)
{
  float d = sdf_cylinder_y (q, vec (0.0f, 0.07f, 0.0f), 0.60f, 0.07f, 0.05f);

  d = sdf_join (d, sdf_cylinder_y (q, vec (0.0f, 0.28f, 0.0f), 0.50f, 0.20f, 0.08f), 0.06f);
  d = sdf_join (d, sdf_cylinder_y (q, vec (0.0f, 0.50f, 0.0f), 0.54f, 0.045f, 0.03f), 0.03f);
  d = sdf_join (d, sdf_cylinder_y (q, vec (0.0f, 1.63f, 0.0f), 0.54f, 0.05f, 0.03f), 0.03f);
  d = sdf_join (d, sdf_capsule (q, vec (0.0f, 1.62f, 0.0f), vec (0.0f, 1.95f, 0.0f), 0.40f, 0.20f),
                0.08f);
  d = sdf_join (d, sdf_cylinder_y (q, vec (0.0f, 2.14f, 0.0f), 0.20f, 0.16f, 0.04f), 0.04f);
  d = sdf_join (d, sdf_cylinder_y (q, vec (0.0f, 2.30f, 0.0f), 0.29f, 0.035f, 0.03f), 0.04f);
  return sdf_join (d, sdf_sphere (q, vec (0.0f, 2.34f, 0.0f), 0.16f), 0.05f);
}

/* The wire handle stands up over the cap. */
static float
handle (Vec q)
{
  const Vec s = vec_turn_y (q, 0.5f);
  const float arch = hypotf ((s.x) / 0.56f, fmaxf (s.y - 1.62f, 0.0f) / 1.12f);
  const float in_plane = (arch - 1.0f) * (s.y < 1.62f ? 0.56f : 0.66f);
  const float d = hypotf (in_plane, s.z) - 0.032f;

  return 0.8f * fmaxf (d, 1.60f - s.y);
}

static float
plinth (Vec p)
{
  float d = sdf_box (p, vec (0.55f, -5.11f, 0.10f), vec (3.18f, 0.14f, 1.55f), 0.05f);

  d =
    sdf_join (d, sdf_box (p, vec (0.55f, -5.42f, 0.10f), vec (3.04f, 0.25f, 1.42f), 0.03f), 0.05f);
  return sdf_join (d, sdf_box (p, vec (0.55f, -5.58f, 0.10f), vec (3.24f, 0.09f, 1.62f), 0.05f),
                   0.05f);
}

void
demo_lantern_add (DemoSurface *best, Vec p)
{
  const Vec q = vec_sub (p, vec (2.98f, -4.97f, 0.75f));

  demo_surface_add (best, plinth (p), DEMO_WOOD);
  if (sdf_box (q, vec (0.0f, 1.4f, 0.0f), vec (0.75f, 1.5f, 0.75f), 0.1f) > best->distance)
    return;
  demo_surface_add (best, fminf (frame (q), fminf (body (q), handle (q))), DEMO_BRASS);
  demo_surface_add (best, sdf_ellipsoid (q, vec (0.0f, 1.06f, 0.0f), vec (0.385f, 0.62f, 0.385f)),
                    DEMO_GLASS);
}
