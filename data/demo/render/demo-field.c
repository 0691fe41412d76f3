/* demo-field.c: the figure's distances on a lattice, so that a ray passes quickly
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "demo-field.h"

#define BLOCK 8

struct _DemoField
{
  float spacing, per_unit;
  int nx, ny, nz;
  float *values;
};

typedef struct
{
  DemoField *field;
  int next; /* atomic */
} Filling;

static inline float *
value_at (const DemoField *self, int x, int y, int z)
{
  return self->values + ((gsize) z * self->ny + y) * self->nx + x;
}

static Vec
place_of (const DemoField *self, float x, float y, float z)
{
  return vec_along (demo_figure_low, vec (x, y, z), self->spacing);
}

/* Far from the surface one distance serves a whole block, less the way to each point of it. */
static void
fill_block (DemoField *self, int x0, int y0, int z0)
{
  const float half = 0.5f * (BLOCK - 1);
  const Vec middle = place_of (self, (float) x0 + half, (float) y0 + half, (float) z0 + half);
  const float at_middle = demo_figure_at (middle).distance;
  const gboolean far = fabsf (at_middle) > 2.0f * half * self->spacing * 1.7321f;

  for (int z = z0; z < MIN (z0 + BLOCK, self->nz); z++)
    for (int y = y0; y < MIN (y0 + BLOCK, self->ny); y++)
      for (int x = x0; x < MIN (x0 + BLOCK, self->nx); x++)
        {
          const Vec p = place_of (self, (float) x, (float) y, (float) z);
          const float off = vec_length (vec_sub (p, middle));

          *value_at (self, x, y, z) = !far               ? demo_figure_at (p).distance
                                      : at_middle > 0.0f ? at_middle - off
                                                         : at_middle + off;
        }
}

static gpointer
fill_slabs (gpointer data)
{
  Filling *filling = data;
  DemoField *self = filling->field;

  while (TRUE)
    {
      const int z = g_atomic_int_add (&filling->next, 1) * BLOCK;

      if (z >= self->nz)
        return NULL;
      for (int y = 0; y < self->ny; y += BLOCK)
        for (int x = 0; x < self->nx; x += BLOCK)
          fill_block (self, x, y, z);
    }
}

/**
 * demo_field_new:
 * @spacing: distance of the lattice's points, in the figure's unit
 *
 * Returns: (transfer full): the figure's distances on a lattice
 */
DemoField *
demo_field_new (float spacing)
{
  DemoField *self = g_new0 (DemoField, 1);
  const Vec size = vec_sub (demo_figure_high, demo_figure_low);
  Filling filling = { self, 0 };
  GThread *other;

  self->spacing = spacing;
  self->per_unit = 1.0f / spacing;
  self->nx = (int) ceilf (size.x / spacing) + 1;
  self->ny = (int) ceilf (size.y / spacing) + 1;
  self->nz = (int) ceilf (size.z / spacing) + 1;
  self->values = g_new (float, (gsize) self->nx * self->ny * self->nz);
  other = g_thread_new ("fill", fill_slabs, &filling);
  fill_slabs (&filling);
  g_thread_join (other);
  return self;
}

void
demo_field_free (DemoField *self)
{
  g_free (self->values);
  g_free (self);
}

/* Between the lattice's points the distance is linear in each direction. */
static float
distance_at (const DemoField *self, Vec p)
{
  const Vec q = vec_scale (vec_sub (p, demo_figure_low), self->per_unit);
  const int x = CLAMP ((int) q.x, 0, self->nx - 2);
  const int y = CLAMP ((int) q.y, 0, self->ny - 2);
  const int z = CLAMP ((int) q.z, 0, self->nz - 2);
  const float u = clampf (q.x - (float) x, 0.0f, 1.0f);
  const float v = clampf (q.y - (float) y, 0.0f, 1.0f);
  const float w = clampf (q.z - (float) z, 0.0f, 1.0f);
  const float *a = value_at (self, x, y, z), *b = value_at (self, x, y + 1, z);
  const float *c = value_at (self, x, y, z + 1), *d = value_at (self, x, y + 1, z + 1);

  return mixf (mixf (mixf (a[0], a[1], u), mixf (b[0], b[1], u), v),
               mixf (mixf (c[0], c[1], u), mixf (d[0], d[1], u), v), w);
}

Vec
demo_field_normal (const DemoField *self, Vec p)
{
  const float h = self->spacing;
  const Vec slope =
    vec (distance_at (self, vec (p.x + h, p.y, p.z)) - distance_at (self, vec (p.x - h, p.y, p.z)),
         distance_at (self, vec (p.x, p.y + h, p.z)) - distance_at (self, vec (p.x, p.y - h, p.z)),
         distance_at (self, vec (p.x, p.y, p.z + h)) - distance_at (self, vec (p.x, p.y, p.z - h)));

  return vec_dot (slope, slope) > 0.0f ? vec_unit (slope) : vec (0.0f, 0.0f, 1.0f);
}

static void
clip (float from, float direction, float low, float high, float *enter, float *leave)
{
  const float inverse = 1.0f / (fabsf (direction) < 1e-9f ? 1e-9f : direction);
  const float a = (low - from) * inverse, b = (high - from) * inverse;

  *enter = fmaxf (*enter, fminf (a, b));
  *leave = fminf (*leave, fmaxf (a, b));
}

gboolean
demo_field_meet (const DemoField *self, Vec from, Vec direction, float limit, gboolean exact,
                 float *distance)
{
  const float near = 1.5f * self->spacing;
  float t = 0.0f;

  clip (from.x, direction.x, demo_figure_low.x, demo_figure_high.x, &t, &limit);
  clip (from.y, direction.y, demo_figure_low.y, demo_figure_high.y, &t, &limit);
  clip (from.z, direction.z, demo_figure_low.z, demo_figure_high.z, &t, &limit);
  while (t < limit)
    {
      const Vec p = vec_along (from, direction, t);
      float d = distance_at (self, p);

      if (exact && d < near)
        d = demo_figure_at (p).distance;
      if (d < (exact ? 0.0008f : 0.1f * self->spacing))
        {
          *distance = t;
          return TRUE;
        }
      t += exact ? fmaxf (0.75f * d, 0.0006f) : fmaxf (0.92f * d, 0.45f * self->spacing);
    }
  return FALSE;
}
