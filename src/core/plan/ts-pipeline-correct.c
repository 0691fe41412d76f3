/* ts-pipeline-correct.c: from the painter's settings to a correction
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "plan/ts-pipeline.h"

#include <glib/gi18n.h>

#include "base/ts-error.h"
#include "correction/ts-light-guess.h"

/* A card with more of its pixels at an end of the range cannot be trusted. */
#define MOST_CLIPPED 0.01

static gboolean
read_card (const TsImage *image, const TsCardPlace *place, TsXyz *xyz, GError **error)
{
  double clipped;

  if (!ts_spot_measure_xyz (image, place->x, place->y, place->radius, xyz, &clipped, error))
    return FALSE;
  if (clipped <= MOST_CLIPPED)
    return TRUE;
  g_set_error (
    error, TS_ERROR, TS_ERROR_BAD_VALUE,
    _ ("The card is overexposed or black: %.0f %% of it is clipped. Use another card or another "
       "photograph."),
    100.0 * clipped);
  return FALSE;
}

static TsCorrection *
correct_by_cards (const TsCorrectionSettings *settings, const TsImage *image, GError **error)
{
  TsNeutral cards[TS_CORRECTION_MAX_CARDS];
  guint n = MIN (settings->n_more_cards, TS_CORRECTION_MAX_CARDS - 1) + 1;

  for (guint i = 0; i < n; i++)
    {
      TsCardPlace place = { settings->card_x, settings->card_y, settings->card_radius,
                            settings->card_lightness };

      if (i > 0)
        place = settings->more_card[i - 1];
      if (!read_card (image, &place, &cards[i].xyz, error))
        return NULL;
      cards[i].lightness = place.lightness;
    }
  return ts_correction_new_cards (cards, n, error);
}

static TsCorrection *
correct_by_chart (const TsCorrectionSettings *settings, const TsImage *image,
                  TsChartReading *reading, GError **error)
{
  const char *name = settings->chart != NULL ? settings->chart : "later";
  TsChartReading unused;
  TsChartReference reference;
  gboolean found;

  if (g_str_equal (name, "earlier") || g_str_equal (name, "later"))
    found = ts_chart_reference_get (name, &reference, error);
  else
    found = ts_chart_reference_load (name, &reference, error);
  if (!found)
    return NULL;
  return ts_chart_fit (image, settings->corner, &reference, reading != NULL ? reading : &unused,
                       error);
}

static TsCorrection *
correct_by_guess (const TsImage *image, GError **error)
{
  TsLightGuess guess;

  return ts_light_guess (image, &guess, error) ? ts_correction_new_guess (guess.light) : NULL;
}

/* By what @image itself shows. */
static TsCorrection *
correct_by_own (const TsCorrectionSettings *settings, const TsImage *image, TsChartReading *reading,
                GError **error)
{
  switch (settings->kind)
    {
    case TS_CORRECTION_CARD:
      return correct_by_cards (settings, image, error);
    case TS_CORRECTION_CHART:
      return correct_by_chart (settings, image, reading, error);
    case TS_CORRECTION_GUESS:
      return correct_by_guess (image, error);
    case TS_CORRECTION_NONE:
    default:
      return ts_correction_new_none ();
    }
}

static TsCorrection *
correct_by_other (const TsCorrectionSettings *settings, const TsImage *image, const TsImage *source,
                  TsChartReading *reading, GError **error)
{
  g_autoptr (TsCorrection) other = correct_by_own (settings, source, reading, error);
  TsXyz there, here;

  if (other == NULL)
    return NULL;
  if (!(settings->match_here.radius > 0.0 && settings->match_there.radius > 0.0))
    return ts_correction_new_shared (other, NULL, NULL, error);
  if (!read_card (source, &settings->match_there, &there, error) ||
      !read_card (image, &settings->match_here, &here, error))
    return NULL;
  return ts_correction_new_shared (other, &there, &here, error);
}

/**
 * ts_pipeline_correct_with:
 * @settings: what the painter chose
 * @image: the photograph
 * @source: (nullable): the pixels of the other photograph that @settings name, where they are at
 *   hand; else they are read from its file
 * @reading: (out) (optional): filled where the choice is the chart
 * @error: return location for an error, or %NULL
 *
 * Returns: (transfer full) (nullable): the correction, or %NULL with a #TsError
 */
TsCorrection *
ts_pipeline_correct_with (const TsCorrectionSettings *settings, const TsImage *image,
                          const TsImage *source, TsChartReading *reading, GError **error)
{
  g_autoptr (TsImage) opened = NULL;

  if (settings->source == NULL || settings->kind == TS_CORRECTION_NONE ||
      settings->kind == TS_CORRECTION_GUESS)
    return correct_by_own (settings, image, reading, error);
  if (source != NULL)
    return correct_by_other (settings, image, source, reading, error);
  opened = ts_image_open (settings->source, NULL, NULL, NULL, error);
  if (opened == NULL)
    {
      g_prefix_error (error, _ ("The photograph with the chart or the cards cannot be read: "));
      return NULL;
    }
  return correct_by_other (settings, image, opened, reading, error);
}

/**
 * ts_pipeline_correct:
 * @settings: what the painter chose
 * @image: the photograph
 * @reading: (out) (optional): filled where the choice is the chart
 * @error: return location for an error, or %NULL
 *
 * Reads the other photograph that @settings may name from its file.
 *
 * Returns: (transfer full) (nullable): the correction, or %NULL with a #TsError
 */
TsCorrection *
ts_pipeline_correct (const TsCorrectionSettings *settings, const TsImage *image,
                     TsChartReading *reading, GError **error)
{
  return ts_pipeline_correct_with (settings, image, NULL, reading, error);
}
