/* demo-head.c: the keeper's head: face, eyes, beard and wool cap
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "demo-figure.h"

static const Vec eye = { 0.295f, 0.085f, 0.60f };
static const float eye_radius = 0.165f;

/* The head looks a little towards the light and down. */
Vec
demo_head_turned (Vec p)
{
  const Vec pivot = vec (0.0f, -1.0f, -0.2f);
  Vec q = vec_sub (p, pivot);

  q = vec_turn_z (q, -0.04f);
  q = vec_turn_y (q, 0.26f);
  q = vec_turn_x (q, -0.03f);
  return vec_add (q, pivot);
}

/* Mirrored to the side of the left eye. */
static Vec
half (Vec p)
{
  return vec (fabsf (p.x), p.y, p.z);
}

static float
nose (Vec p, Vec s)
{
  float d = sdf_capsule (p, vec (0.0f, 0.22f, 0.84f), vec (0.0f, -0.16f, 1.09f), 0.085f, 0.115f);

  d = sdf_join (d, sdf_sphere (p, vec (0.0f, -0.19f, 1.10f), 0.135f), 0.08f);
  d = sdf_join (d, sdf_ellipsoid (s, vec (0.135f, -0.235f, 0.97f), vec (0.085f, 0.08f, 0.12f)),
                0.06f);
  return sdf_carve (d, sdf_ellipsoid (s, vec (0.065f, -0.325f, 1.02f), vec (0.045f, 0.04f, 0.06f)),
                    0.04f);
}

static float
ear (Vec s)
{
  const Vec q = vec_turn_z (vec_turn_y (vec_sub (s, vec (0.78f, -0.02f, -0.08f)), -0.45f), -0.1f);
  float d = sdf_ellipsoid (q, vec (0.0f, 0.0f, 0.0f), vec (0.10f, 0.27f, 0.17f));

  d = sdf_carve (d, sdf_ellipsoid (q, vec (0.09f, 0.03f, 0.03f), vec (0.08f, 0.18f, 0.10f)), 0.05f);
  return sdf_join (d, sdf_sphere (q, vec (0.03f, -0.02f, 0.10f), 0.045f), 0.04f);
}

/* Two lids over an eyeball: a slightly larger ball without the wedge between them. */
static float
lids (Vec s)
{
  const Vec q = vec_sub (s, eye);
  const float ball = vec_length (q) - eye_radius - 0.028f;
  const float across = q.x * q.x * 1.2f;
  const float upper = q.y - 0.046f * (1.0f - 9.0f * across) - 0.10f * q.z + 0.012f;
  const float lower = -q.y - 0.056f * (1.0f - 9.0f * across) + 0.02f * q.z;
  const float wedge = sdf_common (upper, lower, 0.01f);

  return sdf_carve (ball, fmaxf (wedge, -q.z), 0.016f);
}

static float
face (Vec p)
{
  const Vec s = half (p);
  float d = sdf_ellipsoid (p, vec (0.0f, 0.36f, -0.12f), vec (0.80f, 0.86f, 0.95f));

  d = sdf_join (d, sdf_ellipsoid (p, vec (0.0f, -0.15f, 0.16f), vec (0.60f, 0.86f, 0.68f)), 0.22f);
  d = sdf_join (d, sdf_ellipsoid (p, vec (0.0f, -0.66f, 0.26f), vec (0.44f, 0.34f, 0.48f)), 0.20f);
  d = sdf_join (d, sdf_ellipsoid (s, vec (0.43f, -0.13f, 0.56f), vec (0.20f, 0.15f, 0.20f)), 0.16f);
  d = sdf_carve (d, sdf_ellipsoid (s, vec (0.30f, 0.09f, 0.92f), vec (0.22f, 0.17f, 0.22f)), 0.14f);
  d = sdf_join (
    d, sdf_capsule (s, vec (0.10f, 0.285f, 0.83f), vec (0.52f, 0.25f, 0.60f), 0.085f, 0.09f),
    0.12f);
  /* the fold from the nose to the corner of the mouth, and the pouch under the eye */
  d = sdf_join (
    d, sdf_capsule (s, vec (0.20f, -0.22f, 0.82f), vec (0.36f, -0.50f, 0.72f), 0.09f, 0.10f),
    0.10f);
  d = sdf_join (
    d, sdf_capsule (s, vec (0.20f, -0.075f, 0.755f), vec (0.40f, -0.065f, 0.66f), 0.035f, 0.03f),
    0.06f);
  d = sdf_join (d, nose (p, s), 0.09f);
  d = sdf_join (d, lids (s), 0.035f);
  d = sdf_join (d, ear (s), 0.05f);
  d = sdf_join (
    d, sdf_capsule (p, vec (0.0f, -0.6f, -0.15f), vec (0.0f, -1.9f, -0.3f), 0.42f, 0.50f), 0.15f);
  if (s.x > 0.4f && d < 0.1f) /* crow's feet */
    {
      const float angle = atan2f (s.y - 0.06f, s.x - 0.36f);
      const float out = hypotf (s.y - 0.06f, s.x - 0.36f);
      d += 0.007f * cosf (angle * 11.0f) * smoothf (0.13f, 0.18f, out) *
           smoothf (0.33f, 0.22f, out) * smoothf (0.9f, 0.5f, fabsf (angle));
    }
  return d + 0.004f * sdf_noise (vec_scale (p, 9.0f));
}

/* Carved strands: waves across the direction in which the hair grows, faded out off the surface. */
static float
strands (float d, float across, float along)
{
  const float wave = across + 0.55f * sinf (along * 3.1f + across * 0.23f) +
                     0.2f * sinf (along * 7.3f + across * 0.7f);
  const float sine = sinf (wave);

  return smoothf (0.16f, 0.06f, d) *
         (0.030f * (sqrtf (sine * sine + 0.02f) - 0.6f) + 0.010f * sinf (wave * 2.7f + 1.0f));
}

static float
beard (Vec p)
{
  const Vec s = half (p);
  float d = sdf_ellipsoid (p, vec (0.0f, -0.84f, 0.40f), vec (0.56f, 0.46f, 0.50f));

  d = sdf_join (
    d, sdf_capsule (s, vec (0.74f, 0.16f, 0.10f), vec (0.56f, -0.60f, 0.40f), 0.07f, 0.17f), 0.16f);
  d = sdf_join (d, sdf_ellipsoid (p, vec (0.02f, -1.14f, 0.58f), vec (0.36f, 0.52f, 0.30f)), 0.20f);
  if (d > 0.16f)
    return d - 0.04f;
  return d - strands (d, atan2f (p.x, p.z + 0.1f) * 19.0f, p.y) - 0.01f +
         smoothf (0.16f, 0.06f, d) * 0.025f * sdf_noise (vec (p.x * 5.0f, p.y * 1.6f, p.z * 5.0f)) -
         0.03f * smoothf (0.06f, 0.16f, d);
}

static float
moustache (Vec p)
{
  const Vec s = half (p);
  const float side = p.x < 0.0f ? 1.7f : 0.0f; /* so that the halves are not mirror images */
  const float droop = 0.55f * s.x + 0.5f * s.x * s.x;
  float d = sdf_capsule (s, vec (0.05f, -0.41f, 0.99f), vec (0.24f, -0.48f, 0.94f), 0.095f, 0.105f);

  d = sdf_join (
    d, sdf_capsule (s, vec (0.24f, -0.48f, 0.94f), vec (0.42f, -0.64f, 0.80f), 0.105f, 0.085f),
    0.08f);
  d = sdf_join (
    d, sdf_capsule (s, vec (0.42f, -0.64f, 0.80f), vec (0.52f, -0.84f, 0.70f), 0.085f, 0.03f),
    0.06f);
  if (d > 0.16f)
    return d - 0.02f;
  return d - 0.62f * strands (d, (s.y + droop) * 50.0f + side, s.x * 2.0f + side) -
         0.02f * smoothf (0.06f, 0.16f, d);
}

static float
lip (Vec p)
{
  return sdf_ellipsoid (p, vec (0.0f, -0.615f, 0.85f), vec (0.19f, 0.06f, 0.10f));
}

static float
brows (Vec p)
{
  const Vec s = half (p);
  float d = sdf_capsule (s, vec (0.13f, 0.275f, 0.92f), vec (0.33f, 0.335f, 0.84f), 0.05f, 0.065f);

  d = sdf_join (
    d, sdf_capsule (s, vec (0.33f, 0.335f, 0.84f), vec (0.56f, 0.24f, 0.65f), 0.06f, 0.03f), 0.05f);
  return d - 0.5f * strands (d, (s.x * 1.0f - s.y * 0.9f) * 46.0f, s.y * 3.0f);
}

/* The turned-up band hides the ribs' start; the crown sags back. */
static float
cap (Vec p)
{
  const Vec q = vec_turn_x (vec_sub (p, vec (0.0f, 0.42f, -0.12f)), 0.16f);
  const float angle = atan2f (q.x, q.z);
  const float oval = hypotf (q.x / 0.90f, q.z / 1.03f);
  const float ribs = cosf (angle * 42.0f);
  const float knit =
    0.004f * cosf (q.y * 62.0f + 1.6f * fabsf (sinf (angle * 21.0f))) * smoothf (-0.9f, 0.3f, ribs);
  const float sag = 0.03f * sdf_noise (vec (p.x * 2.5f + 3.0f, p.y * 5.0f, p.z * 2.5f));
  float crown = sdf_ellipsoid (q, vec (0.02f, 0.30f, -0.06f), vec (0.90f, 0.80f, 1.03f));
  float band;
  const float wall = fabsf ((oval - 1.0f) * 0.95f) - 0.05f;
  const float height = fabsf (q.y - 0.06f - 0.02f * sinf (angle * 2.0f + 1.0f)) - 0.13f;

  band =
    hypotf (fmaxf (wall, 0.0f), fmaxf (height, 0.0f)) + fminf (fmaxf (wall, height), 0.0f) - 0.085f;
  crown -= (0.02f * ribs + knit) * smoothf (0.06f, 0.5f, oval) + sag;
  band -= 0.022f * ribs + knit;
  crown = fmaxf (crown, -(q.y - 0.0f));
  return sdf_join (crown, band, 0.03f);
}

void
demo_head_add (DemoSurface *best, Vec p)
{
  const Vec q = demo_head_turned (p);

  if (sdf_sphere (p, vec (0.0f, -0.1f, 0.0f), 1.75f) > best->distance)
    return;
  demo_surface_add (best, face (q), DEMO_SKIN);
  demo_surface_add (best, sdf_sphere (half (q), eye, eye_radius), DEMO_EYE);
  demo_surface_add (best, lip (q), DEMO_LIP);
  demo_surface_add (best, beard (q), DEMO_BEARD);
  demo_surface_add (best, moustache (q), DEMO_BEARD);
  demo_surface_add (best, brows (q), DEMO_BROW);
  demo_surface_add (best, cap (q), DEMO_CAP);
}

float
demo_head_gaze (Vec p)
{
  const Vec q = demo_head_turned (p);
  const Vec look = vec_unit (vec (q.x < 0.0f ? -0.02f : 0.10f, -0.03f, 1.0f));
  const Vec out = vec_unit (vec_sub (q, vec (q.x < 0.0f ? -eye.x : eye.x, eye.y, eye.z)));

  return vec_dot (look, out);
}
