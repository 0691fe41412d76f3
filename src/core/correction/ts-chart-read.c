/* ts-chart-read.c: the patches of a chart as a picture shows them
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "correction/ts-chart-read.h"

#include <glib/gi18n.h>

#include "base/ts-error.h"
#include "correction/ts-quad.h"
#include "correction/ts-sample.h"

/* The inner 60 % of a patch; patches take about seven eighths of the way to their neighbours
 * (common practice, no source). */
#define HALF_SIDE 0.26
/* Fewer pixels say too little about a patch; more than these say nothing new. */
#define FEWEST_PIXELS 12
#define MOST_PIXELS 20000
#define MOST_CLIPPED 0.1

static void
set_corners (TsChartPatch *patch, const TsMat3 *map, guint index, guint n_columns)
{
  static const double side[4][2] = { { -1, -1 }, { 1, -1 }, { 1, 1 }, { -1, 1 } };
  guint n_rows = TS_CHART_PATCHES / n_columns;

  for (int k = 0; k < 4; k++)
    {
      double u = (index % n_columns + HALF_SIDE * side[k][0]) / (n_columns - 1);
      double v = (index / n_columns + HALF_SIDE * side[k][1]) / (n_rows - 1);

      ts_quad_place (map, u, v, &patch->x[k], &patch->y[k]);
    }
}

static TsQuad
quad_of (const TsChartPatch *patch)
{
  TsQuad quad;

  for (int k = 0; k < 4; k++)
    {
      quad.x[k] = patch->x[k];
      quad.y[k] = patch->y[k];
    }
  return quad;
}

static gboolean
read_patch (TsChartPatch *patch, const TsImage *image, GError **error)
{
  g_autoptr (GArray) xyz = g_array_new (FALSE, FALSE, sizeof (TsXyz));
  g_autoptr (GByteArray) clipped = g_byte_array_new ();
  TsQuad quad = quad_of (patch);
  TsSample sample;

  ts_quad_collect (&quad, image, MOST_PIXELS, xyz, clipped);
  if (xyz->len < FEWEST_PIXELS)
    {
      g_set_error (
        error, TS_ERROR, TS_ERROR_TOO_FEW,
        _ ("The chart is too small in the picture to measure; take it from nearer, or check "
           "the corners"));
      return FALSE;
    }
  sample = ts_sample_trim ((TsXyz *) (void *) xyz->data, clipped->data, xyz->len);
  patch->xyz = sample.mean;
  patch->clipped_share = sample.clipped_share;
  patch->used = sample.clipped_share <= MOST_CLIPPED;
  patch->why = patch->used ? NULL : "clipped";
  return TRUE;
}

/**
 * ts_chart_lay_out:
 * @corners: centres of the corner patches, in turn round the chart, upright pixels
 * @n_columns: patches along the way from the first corner to the second: 6 or 4
 * @patches: (out): in the order of the picture; only the corners of the measured areas are set
 *
 * Says where the patches lie without looking at the picture.
 *
 * Returns: %FALSE where the corners do not go round a chart, and @patches are untouched
 */
gboolean
ts_chart_lay_out (const double corners[4][2], guint n_columns,
                  TsChartPatch patches[TS_CHART_PATCHES])
{
  TsMat3 map;

  if (!ts_quad_find_perspective (corners, &map))
    return FALSE;
  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    {
      patches[i] = (TsChartPatch){ 0 };
      set_corners (&patches[i], &map, i, n_columns);
    }
  return TRUE;
}

/**
 * ts_chart_read:
 * @image: a picture
 * @corners: centres of the corner patches, in turn round the chart
 * @n_columns: patches along the way from the first corner to the second: 6, or 4 on a chart on its
 *   side
 * @patches: (out): the patches in the order of the picture, row by row from the first corner
 * @error: return location for an error, or %NULL
 *
 * Measures the inner part of each patch; of a large one some 20,000 pixels evenly spread.
 *
 * Returns: %TRUE, or %FALSE with %TS_ERROR_BAD_VALUE (no four corners) or %TS_ERROR_TOO_FEW (too
 *   small) set
 */
gboolean
ts_chart_read (const TsImage *image, const double corners[4][2], guint n_columns,
               TsChartPatch patches[TS_CHART_PATCHES], GError **error)
{
  if (!ts_chart_lay_out (corners, n_columns, patches))
    {
      g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE,
                   _ ("The four corners do not go round the chart; mark the centres of its corner "
                      "patches in turn"));
      return FALSE;
    }
  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    {
      TsQuad quad = quad_of (&patches[i]);

      if (!ts_quad_lies_inside (&quad, image))
        {
          g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE,
                       _ ("The chart reaches over the edge of the picture; check the corners"));
          return FALSE;
        }
      if (!read_patch (&patches[i], image, error))
        return FALSE;
    }
  return TRUE;
}
