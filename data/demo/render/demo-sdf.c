/* demo-sdf.c: signed distances of simple solids and how they are joined
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "demo-sdf.h"

#include <stdint.h>

float
sdf_sphere (Vec p, Vec centre, float radius)
{
  return vec_length (vec_sub (p, centre)) - radius;
}

float
sdf_ellipsoid (Vec p, Vec centre, Vec radii)
{
  const Vec q = vec_sub (p, centre);
  const Vec u = vec (q.x / radii.x, q.y / radii.y, q.z / radii.z);
  const Vec g = vec (u.x / radii.x, u.y / radii.y, u.z / radii.z);
  const float k = vec_length (u), slope = vec_length (g);

  /* first-order distance: the implicit function over the length of its gradient */
  return slope < 1e-6f ? -fminf (radii.x, fminf (radii.y, radii.z)) : k * (k - 1.0f) / slope;
}

float
sdf_capsule (Vec p, Vec a, Vec b, float radius_a, float radius_b)
{
  const Vec pa = vec_sub (p, a), ba = vec_sub (b, a);
  const float t = clampf (vec_dot (pa, ba) / vec_dot (ba, ba), 0.0f, 1.0f);

  return vec_length (vec_along (pa, ba, -t)) - mixf (radius_a, radius_b, t);
}

float
sdf_box (Vec p, Vec centre, Vec half, float rounding)
{
  const float x = fabsf (p.x - centre.x) - half.x + rounding;
  const float y = fabsf (p.y - centre.y) - half.y + rounding;
  const float z = fabsf (p.z - centre.z) - half.z + rounding;
  const Vec out = vec (fmaxf (x, 0.0f), fmaxf (y, 0.0f), fmaxf (z, 0.0f));

  return vec_length (out) + fminf (fmaxf (x, fmaxf (y, z)), 0.0f) - rounding;
}

float
sdf_cylinder_y (Vec p, Vec centre, float radius, float half_height, float rounding)
{
  const float r = hypotf (p.x - centre.x, p.z - centre.z) - radius + rounding;
  const float y = fabsf (p.y - centre.y) - half_height + rounding;

  return hypotf (fmaxf (r, 0.0f), fmaxf (y, 0.0f)) + fminf (fmaxf (r, y), 0.0f) - rounding;
}

float
sdf_ring_y (Vec p, Vec centre, float radius, float thickness)
{
  const float r = hypotf (p.x - centre.x, p.z - centre.z) - radius;

  return hypotf (r, p.y - centre.y) - thickness;
}

float
sdf_join (float a, float b, float softness)
{
  const float h = fmaxf (softness - fabsf (a - b), 0.0f);

  return fminf (a, b) - h * h / (4.0f * softness);
}

float
sdf_common (float a, float b, float softness)
{
  return -sdf_join (-a, -b, softness);
}

float
sdf_carve (float a, float b, float softness)
{
  return sdf_common (a, -b, softness);
}

static float
lattice (int x, int y, int z)
{
  uint32_t h = (uint32_t) x * 0x8da6b343u ^ (uint32_t) y * 0xd8163841u ^ (uint32_t) z * 0xcb1ab31fu;

  h ^= h >> 15;
  h *= 0x2c1b3c6du;
  h ^= h >> 12;
  h *= 0x297a2d39u;
  h ^= h >> 15;
  return (float) h * (2.0f / 4294967296.0f) - 1.0f;
}

float
sdf_noise (Vec p)
{
  const float fx = floorf (p.x), fy = floorf (p.y), fz = floorf (p.z);
  const int x = (int) fx, y = (int) fy, z = (int) fz;
  const float u = smoothf (0.0f, 1.0f, p.x - fx);
  const float v = smoothf (0.0f, 1.0f, p.y - fy);
  const float w = smoothf (0.0f, 1.0f, p.z - fz);
  float plane[2];

  for (int k = 0; k < 2; k++)
    plane[k] = mixf (mixf (lattice (x, y, z + k), lattice (x + 1, y, z + k), u),
                     mixf (lattice (x, y + 1, z + k), lattice (x + 1, y + 1, z + k), u), v);
  return mixf (plane[0], plane[1], w);
}
