/* ts-surface-curve.c: from what was measured of a surface to its curve and its stair
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "plan/ts-surface-curve.h"

#include <glib/gi18n.h>

#include "base/ts-error.h"
#include "plan/ts-surface-result.h"
#include "steps/ts-stair-area.h"

/* A spot with more clipped pixels than this tells little: its error is raised by the factor. */
#define CLIPPED_SHARE 0.1
#define CLIPPED_FACTOR 4.0

static TsCurveSample
sample_of_spot (const TsSpot *spot)
{
  double factor = spot->clipped_share > CLIPPED_SHARE ? CLIPPED_FACTOR : 1.0;

  return (TsCurveSample){ spot->position, spot->lab, spot->standard_error * factor };
}

/* Dragging a step leaves the samples as they are, and most of the time of a change is the fit's. */
static TsCurve *
fit_or_keep (TsCurve *before, const TsCurveSample *samples, gsize n, TsCurveRule rule,
             GError **error)
{
  if (before != NULL && ts_curve_is_of (before, samples, n, rule))
    return ts_curve_ref (before);
  return ts_curve_fit (samples, n, rule, error);
}

/* The curve through the tones of an outline: how much of the surface is lighter stands for the way
 * along a run. */
static TsCurve *
fit_outline (const TsSurface *surface, TsCurve *before, GError **error)
{
  const GArray *tones = surface->outline->tones;
  g_autofree TsCurveSample *samples = g_new (TsCurveSample, tones->len);

  for (guint i = 0; i < tones->len; i++)
    {
      const TsTone *tone = &g_array_index (tones, TsTone, i);

      samples[i] = (TsCurveSample){ (i + 0.5) / tones->len, tone->lab, tone->standard_error };
    }
  return fit_or_keep (before, samples, tones->len, TS_CURVE_RULE_SURFACE, error);
}

/**
 * ts_surface_result_fit_curve:
 * @surface: a surface with measured runs
 * @before: (nullable): an earlier curve, which is given back where nothing was measured anew
 * @error: return location for an error, or %NULL
 *
 * Returns: (transfer full) (nullable): the curve through the spots of all its runs, or without runs
 *   through the tones of its outline; %NULL with a #TsError where they are too few
 */
TsCurve *
ts_surface_result_fit_curve (const TsSurface *surface, TsCurve *before, GError **error)
{
  g_autoptr (GArray) samples = g_array_new (FALSE, FALSE, sizeof (TsCurveSample));

  for (guint i = 0; i < surface->runs->len; i++)
    {
      const GArray *spots = ts_surface_get_run (surface, i)->spots;

      for (guint j = 0; j < spots->len; j++)
        {
          TsCurveSample sample = sample_of_spot (&g_array_index (spots, TsSpot, j));

          g_array_append_val (samples, sample);
        }
    }
  if (samples->len == 0 && ts_surface_is_measured (surface))
    return fit_outline (surface, before, error);
  if (samples->len == 0)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_TOO_FEW,
                   _ ("“%s” has no spots; drag a line across it, from lit to shadow"),
                   surface->name);
      return NULL;
    }
  return fit_or_keep (before, (const TsCurveSample *) samples->data, samples->len,
                      surface->polished ? TS_CURVE_RULE_POLISHED : TS_CURVE_RULE_SURFACE, error);
}

/**
 * ts_surface_cut_stair:
 * @of: a surface
 * @curve: its lightness curve
 * @error: return location for an error, or %NULL
 *
 * Steps of equal area know the surface's areas from its outline, where it has one.
 *
 * Returns: (transfer full) (nullable): its stair, or %NULL with a #TsError
 */
TsStair *
ts_surface_cut_stair (const TsSurface *of, const TsCurve *curve, GError **error)
{
  const GArray *tones = of->outline != NULL ? of->outline->tones : NULL;
  TsStairSettings settings = of->stair;

  if (settings.spacing == TS_SPACING_AREA && tones != NULL && tones->len > 0)
    ts_stair_space_by_area (curve, (const TsTone *) tones->data, tones->len, &settings);
  return ts_stair_new (curve, &settings, error);
}

/* Neighbours of a stair that do not read, or do not blend. */
static guint
count_problems (const TsStair *stair, const TsContrastSettings *settings)
{
  guint n = 0;

  for (guint i = 0; i + 1 < ts_stair_get_n_steps (stair); i++)
    if (ts_contrast_check (ts_stair_get_step (stair, i)->wanted,
                           ts_stair_get_step (stair, i + 1)->wanted, 0.0, settings)
          .verdict != TS_VERDICT_READS)
      n++;
  return n;
}

/**
 * ts_surface_get_fewest_steps:
 * @of: a surface
 * @curve: its lightness curve
 * @settings: how it is looked at
 *
 * Tries the wanted colours, since mixes are not known for steps that nobody has asked for. Steps
 * placed by hand are tried at equal lightness.
 *
 * Returns: the fewest steps whose neighbours all read and blend, or the number with the fewest that
 *   do not
 */
guint
ts_surface_get_fewest_steps (const TsSurface *of, const TsCurve *curve,
                             const TsContrastSettings *settings)
{
  g_autoptr (TsSurface) tried = ts_surface_copy (of);
  guint best = tried->stair.n_steps, least = G_MAXUINT;

  if (tried->stair.spacing == TS_SPACING_BY_HAND)
    tried->stair.spacing = TS_SPACING_LIGHTNESS;
  tried->stair.base = 0;
  for (guint n = 2; n <= TS_STAIR_MAX_STEPS && least > 0; n++)
    {
      g_autoptr (TsStair) stair = NULL;

      tried->stair.n_steps = n;
      stair = ts_surface_cut_stair (tried, curve, NULL);
      if (stair != NULL && count_problems (stair, settings) < least)
        {
          least = count_problems (stair, settings);
          best = n;
        }
    }
  return best;
}
