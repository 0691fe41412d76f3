/* ts-stair-area.c: how much of a surface each step covers
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "steps/ts-stair-area.h"

/* The share of the surface that is lighter than @L: each tone stands for the middle of its share.
 */
static double
share_lighter (const TsTone *tones, guint n, double L)
{
  guint i = 0;
  double above, below;

  while (i < n && tones[i].lab.L > L)
    i++;
  if (i == 0)
    return 0.0;
  if (i == n)
    return 1.0;
  above = tones[i - 1].lab.L;
  below = tones[i].lab.L;
  return (i - 0.5 + (above > below ? (above - L) / (above - below) : 0.0)) / n;
}

/* L* of the place with so much of the surface lighter than it. */
static double
lightness_at_share (const TsTone *tones, guint n, double share)
{
  double place = CLAMP (share * n - 0.5, 0.0, n - 1.0);
  guint above = MIN ((guint) place, n - 1), below = MIN (above + 1, n - 1);

  return tones[above].lab.L + (place - above) * (tones[below].lab.L - tones[above].lab.L);
}

/**
 * ts_stair_get_areas:
 * @stair: a stair
 * @tones: (array length=n_tones): equal shares of the surface, lightest first
 * @n_tones: at least 1
 * @areas: (out): the share of each step; they sum to 1
 *
 * A step's band reaches halfway to its neighbours in the photograph's lightness.
 */
void
ts_stair_get_areas (const TsStair *stair, const TsTone *tones, guint n_tones,
                    double areas[TS_STAIR_MAX_STEPS])
{
  guint n = ts_stair_get_n_steps (stair);
  double before = 0.0;

  for (guint i = 0; i + 1 < n; i++)
    {
      double edge =
        0.5 * (ts_stair_get_step (stair, i)->photo.L + ts_stair_get_step (stair, i + 1)->photo.L);
      double until = MAX (share_lighter (tones, n_tones, edge), before);

      areas[i] = until - before;
      before = until;
    }
  areas[n - 1] = 1.0 - before;
}

/**
 * ts_stair_space_by_area:
 * @curve: a lightness curve
 * @tones: (array length=n_tones): equal shares of the surface, lightest first
 * @n_tones: at least 1
 * @settings: (inout): its steps are placed by hand, without shifts
 *
 * Each step has the tone in the middle of its share of the surface.
 */
void
ts_stair_space_by_area (const TsCurve *curve, const TsTone *tones, guint n_tones,
                        TsStairSettings *settings)
{
  settings->spacing = TS_SPACING_BY_HAND;
  for (guint i = 0; i < settings->n_steps; i++)
    {
      double share = (i + 0.5) / settings->n_steps;

      settings->position[i] =
        ts_curve_find_lightness (curve, lightness_at_share (tones, n_tones, share));
      settings->shift[i] = 0.0;
    }
}
