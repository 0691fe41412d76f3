/* ts-tone-fit.c: white balance and tone curve from the grey row of a chart
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "correction/ts-correction-fit.h"

#include <math.h>

#include "colour/ts-colour-convert.h"
#include "correction/ts-least-squares-fit.h"

#define FIRST_GREY (TS_CHART_PATCHES - TS_CHART_COLUMNS)
#define FEWEST_GREYS 3
#define DARKEST 1e-5
#define BENDS 2
#define UNKNOWNS (3 + BENDS) /* a gain for each channel, then the curve they share */
#define ROWS (3 * TS_CHART_COLUMNS + BENDS)
/* Towards a straight curve, so that six greys do not draw noise. */
#define RIDGE 0.03

static gboolean
is_bright (TsRgb rgb)
{
  return rgb.r > DARKEST && rgb.g > DARKEST && rgb.b > DARKEST;
}

/* A row for each channel of each grey, those lighter counting more. */
static guint
fill_rows (double *a, double *b, const TsFitPatches *patches)
{
  guint row = 0;

  for (guint i = FIRST_GREY; i < TS_CHART_PATCHES; i++)
    {
      TsRgb rgb = patches->rgb[i];
      const double seen[3] = { rgb.r, rgb.g, rgb.b };
      double Y = ts_luminance_from_lightness (patches->lab[i].L);
      double w = cbrt (Y) * sqrt (patches->weight[i]);

      if (!(w > 0.0 && is_bright (rgb)))
        continue;
      for (guint c = 0; c < 3; c++, row++)
        {
          double v = ts_srgb_encode (seen[c]);

          a[row * UNKNOWNS + c] = w;
          a[row * UNKNOWNS + 3] = w * (v - 1.0);
          a[row * UNKNOWNS + 4] = w * (v * v - 1.0);
          b[row] = w * log (Y / seen[c]);
        }
    }
  return row;
}

/**
 * ts_tone_fit:
 * @model: (inout): gets its tone curves
 * @patches: the patches, of which the grey row counts
 *
 * A gain for each channel and one curve for all, in log, through the greys.
 *
 * Returns: %TRUE, or %FALSE where there are too few greys or the curve is no camera's
 */
gboolean
ts_tone_fit (TsCorrectionModel *model, const TsFitPatches *patches)
{
  double a[ROWS * UNKNOWNS] = { 0 }, b[ROWS] = { 0 }, x[UNKNOWNS];
  guint rows = fill_rows (a, b, patches);

  if (rows < 3 * FEWEST_GREYS)
    return FALSE;
  for (guint k = 0; k < BENDS; k++)
    a[(rows + k) * UNKNOWNS + 3 + k] = RIDGE;
  if (!ts_least_squares_solve (a, b, rows + BENDS, UNKNOWNS, x))
    return FALSE;
  for (int c = 0; c < 3; c++)
    model->tone[c] = (TsTone){ .gain = exp (x[c]), .bend = { x[3], x[4] } };
  return ts_tone_rises (&model->tone[0]);
}
