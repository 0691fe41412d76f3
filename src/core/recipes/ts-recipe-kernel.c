/* ts-recipe-kernel.c: the loop that colours one mix after another
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "recipes/ts-recipe-kernel-private.h"

#include "colour/ts-colour-convert.h"

#include <math.h>
#include <string.h>

/**
 * ts_mix_rows_new:
 * @set: the set
 * @paints: (array length=n_paints): indices in it
 * @n_paints: how many
 *
 * Returns: (transfer full): their K and S, packed
 */
TsMixRows *
ts_mix_rows_new (const TsPaintSet *set, const guint *paints, guint n_paints)
{
  TsMixRows *self = g_new0 (TsMixRows, 1);

  self->n_paints = n_paints;
  self->paint = g_memdup2 (paints, n_paints * sizeof (guint));
  self->K = g_malloc_n (n_paints, sizeof *self->K);
  self->S = g_malloc_n (n_paints, sizeof *self->S);
  self->surface = ts_paint_set_get_surface (set);
  for (guint i = 0; i < n_paints; i++)
    {
      const TsPaint *paint = ts_paint_set_get_paint (set, paints[i]);

      memcpy (self->K[i], ts_paint_get_K (paint)->band, sizeof *self->K);
      memcpy (self->S[i], ts_paint_get_S (paint)->band, sizeof *self->S);
    }
  return self;
}

void
ts_mix_rows_free (TsMixRows *self)
{
  if (self == NULL)
    return;
  g_free (self->paint);
  g_free (self->K);
  g_free (self->S);
  g_free (self);
}

/* Reflectance of K and S with Saunderson's surface over it needs one root and one division:
 * k1 + (1 - k1) (1 - k2) S / (K + S (1 - k2) + sqrt (K (K + 2 S))). */
static TsXyz
colour_of (const double *K, const double *S, TsSurfaceReflection surface)
{
  const double (*weights)[3] = ts_light_get_weights (TS_LIGHT_D50);
  double scale = (1.0 - surface.k1) * (1.0 - surface.k2);
  double out = 1.0 - surface.k2;
  TsXyz sum = { 0 };

  for (guint b = 0; b < TS_BANDS; b++)
    {
      double under = K[b] + out * S[b] + sqrt (K[b] * (K[b] + 2.0 * S[b]));
      double R = surface.k1 + (under > 0.0 ? scale * S[b] / under : 0.0);

      sum.X += weights[b][0] * R;
      sum.Y += weights[b][1] * R;
      sum.Z += weights[b][2] * R;
    }
  return sum;
}

/**
 * ts_recipe_kernel:
 * @self: the paints in use
 * @rows: (array length=n_paints): which of them
 * @n_paints: how many
 * @parts: (array length=n_mixes): parts of each in each mix
 * @n_mixes: how many mixes
 * @lab: (out) (array length=n_mixes): their colours, D50, equal to ts_recipe_predict()'s within
 * 1e-9
 */
void
ts_recipe_kernel (const TsMixRows *self, const guint *rows, guint n_paints, const TsParts *parts,
                  guint n_mixes, TsLab *lab)
{
  for (guint m = 0; m < n_mixes; m++)
    {
      double K[TS_BANDS] = { 0.0 };
      double S[TS_BANDS] = { 0.0 };

      for (guint i = 0; i < n_paints; i++)
        for (guint b = 0; b < TS_BANDS; b++)
          {
            K[b] += parts[m].parts[i] * self->K[rows[i]][b];
            S[b] += parts[m].parts[i] * self->S[rows[i]][b];
          }
      lab[m] = ts_lab_from_xyz (colour_of (K, S, self->surface));
    }
}
