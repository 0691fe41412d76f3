/* demo-clothes.c: the waxed coat with its cape and collar, the scarf, the leather strap
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "demo-figure.h"

#define BOTTOM -4.95f

/* Soft folds across the direction of the pull, here deeper, there gone; faded out off the surface.
 */
static float
folds (Vec p, Vec across, float d, float strength)
{
  const float warp = sdf_noise (vec_scale (p, 0.9f)) + 0.4f * sdf_noise (vec_scale (p, 2.1f));
  const float wave = vec_dot (p, across) + 2.2f * warp;
  const float crest = 0.5f + 0.5f * sinf (wave + 0.45f * sinf (wave));
  const float depth =
    0.55f + 0.6f * sdf_noise (vec_add (vec_scale (p, 0.8f), vec (7.0f, 3.0f, 1.0f)));

  return smoothf (0.30f, 0.14f, d) * strength *
         (fmaxf (depth, 0.12f) * (crest * crest - 0.35f) + 0.16f * sdf_noise (vec_scale (p, 3.4f)));
}

static float
arms (Vec p)
{
  const float side = p.x < 0.0f ? -1.0f : 1.0f;
  const Vec s = vec (fabsf (p.x), p.y, p.z);
  float d = sdf_capsule (s, vec (1.62f, -2.55f, -0.15f), vec (2.02f, -4.0f, -0.05f), 0.60f, 0.57f);

  d = sdf_join (
    d, sdf_capsule (s, vec (2.02f, -4.0f, -0.05f), vec (1.98f, -5.4f, 0.25f), 0.57f, 0.54f), 0.15f);
  if (d > 0.30f)
    return d;
  return d - folds (vec (s.x, s.y, s.z + (side < 0.0f ? 5.0f : 0.0f)),
                    vec (2.0f * side, 4.8f, 1.2f), d, 0.16f * smoothf (-2.5f, -3.4f, p.y));
}

static float
torso (Vec p)
{
  float d = sdf_ellipsoid (p, vec (0.0f, -3.6f, -0.10f), vec (1.62f, 2.2f, 1.12f));

  d = sdf_join (
    d, sdf_capsule (p, vec (-1.35f, -2.5f, -0.18f), vec (1.35f, -2.5f, -0.18f), 0.60f, 0.60f),
    0.5f);
  d = sdf_join (d, sdf_ellipsoid (p, vec (0.0f, -2.15f, -0.28f), vec (0.85f, 0.85f, 0.75f)), 0.35f);
  d = sdf_join (d, sdf_ellipsoid (p, vec (0.0f, -5.1f, -0.05f), vec (1.62f, 1.0f, 1.14f)), 0.4f);
  if (d > 0.30f)
    return d;
  return d - folds (p, vec (p.x * 1.2f, 4.2f, 0.6f), d, 0.12f * smoothf (-2.7f, -3.6f, p.y));
}

/* The overlap that hides the closing of the coat: a strip laid on the chest. */
static float
overlap (Vec p, float body)
{
  const float edge = fabsf (p.x - 0.10f - 0.02f * sinf (p.y * 4.0f)) - 0.36f;

  return sdf_common (body - 0.055f, fmaxf (edge, -p.z), 0.04f);
}

/* Flaps of two slanted pockets. */
static float
pockets (Vec p, float body)
{
  const Vec s =
    vec_turn_z (vec_sub (vec (fabsf (p.x), p.y, p.z), vec (0.98f, -4.22f, 0.0f)), 0.16f);
  const float shape = fmaxf (fabsf (s.x) - 0.36f, fabsf (s.y) - 0.15f - 0.03f * cosf (s.x * 8.0f));

  return p.z < 0.0f ? 1.0f : sdf_common (body - 0.06f, shape, 0.04f);
}

static float
cape (Vec p, float body)
{
  const float drape = 0.045f * sinf (atan2f (p.x, p.z) * 9.0f + 1.2f * sinf (p.x * 1.7f)) *
                      smoothf (-2.1f, -3.2f, p.y);
  const float hem = -3.12f - 0.16f * cosf (p.x * 1.1f) + 0.05f * sinf (p.x * 5.0f) - p.y;
  const float opening =
    p.z > 0.0f ? 0.30f - 0.28f * (p.y + 2.2f) * 0.8f - fabsf (p.x - 0.10f) : -1.0f;
  float d = body - 0.13f - drape;

  d = fmaxf (d, -(body - 0.035f));
  d = sdf_common (d, hem, 0.05f);
  return sdf_common (d, opening, 0.05f);
}

/* Stands around the neck, open in front, flaring outwards; its front corners fold down. */
static float
collar (Vec p)
{
  const float tilt = 0.22f * p.z;
  const float angle = atan2f (p.x - 0.05f, p.z + 0.15f);
  const float r = hypotf (p.x - 0.02f, (p.z + 0.15f) * 1.02f);
  const float flare = smoothf (1.25f, 0.55f, fabsf (angle));
  const float top_r = 1.18f + 0.30f * flare, top_y = -1.36f - 0.30f * flare + tilt;
  const float base_r = 0.98f, base_y = -2.25f + tilt;
  const float ux = top_r - base_r, uy = top_y - base_y;
  const float t =
    clampf (((r - base_r) * ux + (p.y - base_y) * uy) / (ux * ux + uy * uy), 0.0f, 1.0f);
  const float bulge = 0.06f * sinf (t * 3.14159f);
  const float d = hypotf (r - base_r - t * ux - bulge, p.y - base_y - t * uy) - 0.075f;
  const float gap = (0.50f - fabsf (angle)) * r;

  return 0.9f * sdf_common (d - 0.012f * sdf_noise (vec_scale (p, 4.0f)), gap, 0.06f);
}

/* A tube of cloth round the neck: knitted ribs follow the turn. */
static float
scarf_turn (Vec p, Vec centre, float tilt_x, float tilt_z, float radius, float thick, float twist)
{
  const Vec q = vec_turn_z (vec_turn_x (vec_sub (p, centre), tilt_x), tilt_z);
  const float turn = atan2f (q.x, q.z);
  const float r = hypotf (q.x * 0.98f, q.z) - radius;
  const float width = thick * (1.0f + 0.14f * sinf (turn * 3.0f + twist));
  const float ring = hypotf (r * 1.12f, q.y * 0.82f);
  const float round = atan2f (q.y, r) + twist + 0.7f * sinf (turn * 2.0f + twist);

  if (ring - width > 0.12f)
    return ring - width - 0.05f;
  return 0.85f * (ring - width - 0.020f * cosf (round * 12.0f) -
                  0.045f * sinf (round * 2.0f + turn * 3.0f));
}

/* The hanging end lies on the chest, ribbed along its length, with a fringe. */
static float
scarf_end (Vec p, float outer)
{
  const float u = p.x + 0.15f + 0.06f * sinf (p.y * 2.2f + 1.0f);
  const float fringe = smoothf (-3.52f, -3.58f, p.y);
  const float ribs = mixf (0.020f * cosf (u * 46.0f), 0.035f * cosf (u * 78.0f) - 0.05f, fringe);
  const float puff = 0.035f * sdf_noise (vec_scale (p, 2.4f));
  const float shape = fmaxf (fabsf (u) - 0.34f + 0.03f * fringe,
                             fabsf (p.y + 2.75f) - 1.02f - 0.03f * sinf (u * 9.0f));

  return p.z < 0.0f ? 1.0f : 0.8f * sdf_common (outer - 0.19f - ribs - puff, shape, 0.10f);
}

static float
scarf (Vec p, float outer)
{
  float d = scarf_turn (p, vec (0.0f, -1.42f, -0.08f), -0.20f, 0.05f, 0.66f, 0.27f, 0.4f);

  d = sdf_join (d, scarf_turn (p, vec (0.02f, -1.83f, 0.0f), -0.26f, -0.10f, 0.80f, 0.27f, 2.1f),
                0.04f);
  return sdf_join (d, scarf_end (p, outer), 0.06f);
}

static float
from_strap (Vec p)
{
  return 0.80f * p.x + 0.60f * p.y + 2.28f;
}

static float
strap (Vec p, float outer)
{
  const float across = from_strap (p);
  const float stitch = 0.02f * smoothf (0.03f, 0.0f, fabsf (fabsf (across) - 0.155f));
  const float edge = fmaxf (fabsf (across) - 0.21f, -p.z - 0.2f);

  return sdf_common (outer - 0.06f + stitch, edge, 0.035f);
}

static float
buckle (Vec p, float outer)
{
  const float across = from_strap (p);
  const float along = 0.60f * p.x - 0.80f * p.y - 3.02f;
  const float frame = fmaxf (fabsf (along) - 0.24f, fabsf (across) - 0.29f);
  const float rim = fabsf (frame + 0.05f) - 0.05f;
  const float tongue = fmaxf (fabsf (across) - 0.028f, fabsf (along + 0.02f) - 0.26f);
  const float shape = fminf (rim, tongue);

  return p.z < 0.0f ? 1.0f : sdf_common (fabsf (outer - 0.09f) - 0.06f, shape, 0.05f);
}

static float
buttons (Vec p, float body)
{
  static const float heights[] = { -3.28f, -3.92f, -4.56f };
  float d = 1.0f;

  if (p.z < 0.0f)
    return d;
  for (int i = 0; i < 3; i++)
    {
      const float r = hypotf (p.x - 0.12f, p.y - heights[i]);
      const float dome = 0.10f - 0.05f * (r / 0.13f) * (r / 0.13f) +
                         0.02f * smoothf (0.025f, 0.0f, fabsf (r - 0.1f));
      d = fminf (d, sdf_common (body - 0.055f - dome, r - 0.135f, 0.03f));
    }
  return d;
}

void
demo_clothes_add (DemoSurface *best, Vec p)
{
  float body, coat, under, outer;

  if (sdf_box (p, vec (0.0f, -3.2f, 0.0f), vec (2.8f, 2.1f, 1.6f), 0.3f) > best->distance)
    return;
  body = torso (p);
  coat = sdf_join (body, arms (p), 0.10f);
  under = fminf (cape (p, coat), fminf (overlap (p, body), pockets (p, coat)));
  coat = sdf_join (coat, under, 0.015f);
  under =
    sdf_join (body - 0.10f, coat, 0.15f); /* what strap and scarf lie on bridges the hollows */
  coat = sdf_join (coat, collar (p), 0.015f);
  outer = sdf_join (under, coat, 0.10f);
  demo_surface_add (best, scarf (p, under), DEMO_SCARF);
  demo_surface_add (best, 0.8f * sdf_common (coat, BOTTOM - p.y, 0.08f), DEMO_COAT);
  demo_surface_add (best, sdf_common (strap (p, outer), BOTTOM - p.y, 0.05f), DEMO_LEATHER);
  demo_surface_add (best, buckle (p, outer), DEMO_BRASS);
  demo_surface_add (best, buttons (p, body), DEMO_BRASS);
}
