/* ts-chart-prior.c: how far cameras are off in the chart and in paints, before a picture is seen
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "correction/ts-chart-prior.h"

#include <math.h>

#include "base/ts-linalg.h"
#include "correction/ts-usual.h"

#define CAMERAS 1500
#define SEED 24
#define UNKNOWNS (3 * TS_BANDS)
#define DARK 0.02 /* Y: errors count by the square root of this and the patch's own */

/* What the linear correction makes of light of one band, off from what the eye makes of it: for
 * each band 3 numbers, so that a reflectance times these is its error in XYZ. */
typedef struct
{
  double mean[UNKNOWNS];
  double covariance[UNKNOWNS][UNKNOWNS];
} Moments;

/* The camera under the light, each channel scaled to 1 for white. */
static void
draw_sensor (GRand *random, double sensor[TS_BANDS][3])
{
  double camera[3][TS_BANDS], light[TS_BANDS];

  ts_usual_camera (random, camera);
  ts_usual_light (random, light);
  for (int c = 0; c < 3; c++)
    {
      double white = 0.0;

      for (guint i = 0; i < TS_BANDS; i++)
        white += camera[c][i] * light[i];
      for (guint i = 0; i < TS_BANDS; i++)
        sensor[i][c] = camera[c][i] * light[i] / white;
    }
}

/* The 3 x 3 matrix from the sensor to XYZ that fits the chart best; the sums of its normal
 * equations are formed at once. */
static gboolean
fit_linear (double sensor[TS_BANDS][3], TsMat3 *matrix)
{
  TsMat3 square = { { { 0 } } }, product = { { { 0 } } }, inverse;

  for (guint p = 0; p < TS_CHART_PATCHES; p++)
    {
      TsXyz xyz = ts_spectrum_to_xyz (&ts_chart_spectra[p], TS_LIGHT_D50);
      const double want[3] = { xyz.X, xyz.Y, xyz.Z };
      double seen[3] = { 0 }, w = 1.0 / (xyz.Y + DARK);

      for (guint i = 0; i < TS_BANDS; i++)
        for (int c = 0; c < 3; c++)
          seen[c] += ts_chart_spectra[p].band[i] * sensor[i][c];
      for (int j = 0; j < 3; j++)
        for (int k = 0; k < 3; k++)
          {
            square.m[j][k] += w * seen[j] * seen[k];
            product.m[j][k] += w * want[j] * seen[k];
          }
    }
  if (!ts_mat3_invert (&square, &inverse))
    return FALSE;
  *matrix = ts_mat3_multiply (&product, &inverse);
  return TRUE;
}

static void
add_camera (Moments *self, double sensor[TS_BANDS][3], const TsMat3 *matrix)
{
  const double (*eye)[3] = ts_light_get_weights (TS_LIGHT_D50);
  double off[UNKNOWNS];

  for (guint i = 0; i < TS_BANDS; i++)
    {
      TsVec3 seen =
        ts_mat3_apply (matrix, (TsVec3){ { sensor[i][0], sensor[i][1], sensor[i][2] } });

      for (guint c = 0; c < 3; c++)
        off[3 * i + c] = seen.v[c] - eye[i][c];
    }
  for (guint j = 0; j < UNKNOWNS; j++)
    {
      self->mean[j] += off[j];
      for (guint k = 0; k < UNKNOWNS; k++)
        self->covariance[j][k] += off[j] * off[k];
    }
}

static Moments *
find_moments (GRand *random)
{
  Moments *self = g_new0 (Moments, 1);
  guint n = 0;

  while (n < CAMERAS)
    {
      double sensor[TS_BANDS][3];
      TsMat3 matrix;

      draw_sensor (random, sensor);
      if (!fit_linear (sensor, &matrix))
        continue;
      add_camera (self, sensor, &matrix);
      n++;
    }
  for (guint j = 0; j < UNKNOWNS; j++)
    self->mean[j] /= n;
  for (guint j = 0; j < UNKNOWNS; j++)
    for (guint k = 0; k < UNKNOWNS; k++)
      self->covariance[j][k] = self->covariance[j][k] / n - self->mean[j] * self->mean[k];
  return self;
}

/* The rows of @spectrum: what it is off by, and how that goes with each patch of the chart.
 * @through has the covariance of each band with each patch. */
static void
project (const Moments *moments, double through[UNKNOWNS][TS_PRIOR_ROWS],
         const TsSpectrum *spectrum, double mean[3], double rows[3][TS_PRIOR_ROWS])
{
  for (guint c = 0; c < 3; c++)
    {
      mean[c] = 0.0;
      for (guint k = 0; k < TS_PRIOR_ROWS; k++)
        rows[c][k] = 0.0;
      for (guint i = 0; i < TS_BANDS; i++)
        {
          mean[c] += spectrum->band[i] * moments->mean[3 * i + c];
          for (guint k = 0; k < TS_PRIOR_ROWS; k++)
            rows[c][k] += spectrum->band[i] * through[3 * i + c][k];
        }
    }
}

static void
find_through (const Moments *moments, double through[UNKNOWNS][TS_PRIOR_ROWS])
{
  for (guint j = 0; j < UNKNOWNS; j++)
    for (guint p = 0; p < TS_CHART_PATCHES; p++)
      for (guint c = 0; c < 3; c++)
        {
          double sum = 0.0;

          for (guint i = 0; i < TS_BANDS; i++)
            sum += moments->covariance[j][3 * i + c] * ts_chart_spectra[p].band[i];
          through[j][3 * p + c] = sum;
        }
}

/**
 * ts_chart_prior_new:
 *
 * Draws cameras, lights and paints (always the same ones) and works out how the errors of paints go
 * with those of the chart. Takes some hundredths of a second.
 *
 * Returns: (transfer full): the prior
 */
TsChartPrior *
ts_chart_prior_new (void)
{
  TsChartPrior *self = g_new (TsChartPrior, 1);
  g_autoptr (GRand) random = g_rand_new_with_seed (SEED);
  g_autofree Moments *moments = find_moments (random);
  g_autofree double *room = g_new (double, UNKNOWNS *TS_PRIOR_ROWS);
  double (*through)[TS_PRIOR_ROWS] = (double (*)[TS_PRIOR_ROWS]) room;

  find_through (moments, through);
  for (guint p = 0; p < TS_CHART_PATCHES; p++)
    {
      self->chart[p] = ts_spectrum_to_lab (&ts_chart_spectra[p], TS_LIGHT_D50);
      project (moments, through, &ts_chart_spectra[p], self->mean + 3 * p,
               self->covariance + 3 * p);
    }
  for (guint p = 0; p < TS_PRIOR_PAINTS; p++)
    {
      TsSpectrum paint = ts_usual_paint (random);

      self->paint[p] = ts_spectrum_to_xyz (&paint, TS_LIGHT_D50);
      project (moments, through, &paint, self->paint_mean + 3 * p, self->paint_covariance + 3 * p);
    }
  return self;
}
