/* ts-object-solid.c: which colours a surface can have under a light
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "colour/ts-object-solid.h"

#include <math.h>

#define N_SLABS (TS_BANDS * (TS_BANDS - 1) / 2)

/* The colours of all reflectances within 0..1 are the sum of 31 line segments, a solid whose faces
 * each run along two of the segments and come in opposite pairs about mid grey. Each pair bounds a
 * slab. */
typedef struct
{
  double normal[3]; /* of length 1 */
  double half;      /* from mid grey to either face */
} Slab;

typedef struct
{
  double middle[3];
  guint n_slabs;
  Slab slabs[N_SLABS];
} Solid;

static double
dot (const double a[3], const double b[3])
{
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

/* FALSE where the two segments point the same way and bound no face. */
static gboolean
fill_slab (Slab *slab, const double (*weights)[3], const double a[3], const double b[3])
{
  double normal[3] = { a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2],
                       a[0] * b[1] - a[1] * b[0] };
  double length = sqrt (dot (normal, normal));

  if (length <= 1e-12 * sqrt (dot (a, a) * dot (b, b)))
    return FALSE;
  slab->half = 0.0;
  for (int c = 0; c < 3; c++)
    slab->normal[c] = normal[c] / length;
  for (int i = 0; i < TS_BANDS; i++)
    slab->half += 0.5 * fabs (dot (slab->normal, weights[i]));
  return TRUE;
}

static void
fill_solid (Solid *solid, const double (*weights)[3])
{
  for (int i = 0; i < TS_BANDS; i++)
    for (int c = 0; c < 3; c++)
      solid->middle[c] += 0.5 * weights[i][c];
  for (int i = 0; i < TS_BANDS; i++)
    for (int j = 0; j < i; j++)
      if (fill_slab (&solid->slabs[solid->n_slabs], weights, weights[i], weights[j]))
        solid->n_slabs++;
}

static gpointer
make_solids (gpointer unused)
{
  Solid *solids = g_new0 (Solid, TS_N_LIGHTS);

  for (int light = 0; light < TS_N_LIGHTS; light++)
    fill_solid (&solids[light], ts_light_get_weights (light));
  return solids;
}

/**
 * ts_object_solid_margin:
 * @xyz: a colour on the scale of ts_spectrum_to_xyz()
 * @light: the light it is seen under
 *
 * Exact for the bands, whatever the shape of the reflectance (Schroedinger 1920, MacAdam 1935, from
 * memory, for the solid of object colours; here in its form for a finite number of bands).
 *
 * Returns: distance to the nearest face, negative where no surface can have the colour; NaN stays
 * NaN
 */
double
ts_object_solid_margin (TsXyz xyz, TsLight light)
{
  static GOnce once = G_ONCE_INIT;
  const Solid *solid;
  double from_middle[3];
  double margin = (double) INFINITY;

  g_return_val_if_fail ((guint) light < TS_N_LIGHTS, (double) NAN);

  solid = (const Solid *) g_once (&once, make_solids, NULL) + light;
  from_middle[0] = xyz.X - solid->middle[0];
  from_middle[1] = xyz.Y - solid->middle[1];
  from_middle[2] = xyz.Z - solid->middle[2];
  for (guint i = 0; i < solid->n_slabs; i++)
    {
      double left = solid->slabs[i].half - fabs (dot (solid->slabs[i].normal, from_middle));

      if (!(left >= margin))
        margin = left;
    }
  return margin;
}
