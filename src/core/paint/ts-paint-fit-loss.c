/* ts-paint-fit-loss.c: how badly K and S explain the measured swatches, and which way is better
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "paint/ts-paint-fit-loss.h"

#include <math.h>
#include <string.h>

/* Set on measured watercolours (tests/fixtures/published/watercolour_*.csv), cross-validated over
 * pairs of paints: the size of a usual miss, and from which miss on a swatch counts by its distance
 * and no longer by the square. */
#define SIGMA 2.0
#define BEND 2.0
#define SMOOTH_K 0.1 /* of second differences of log K */
#define SMOOTH_S 5.0 /* of second differences of log S */
#define FLAT_S 1.0   /* of first differences of log S */
#define LEAST_R 1e-4 /* held off 0, where the cube root has no slope */

/* Inside reflectance of a layer that hides all, and its slopes. */
static double
thick_layer (double K, double S, double *dK, double *dS)
{
  double m = K / S;
  double root = sqrt (m * (m + 2.0));
  double R = 1.0 / (1.0 + m + root);
  double dm = -R / root;

  *dK = dm / S;
  *dS = -dm * m / S;
  return R;
}

/* Kubelka's film as in ts_km_film(), and its slopes; with q = K (K + 2 S), T = tanh (sqrt q) / sqrt
 * q. */
static double
film_over (double K, double S, double ground, double *dK, double *dS)
{
  double q = K * (K + 2.0 * S);
  double r = sqrt (q);
  double t, dt, a, top, bottom, top_K, top_S, bottom_K, bottom_S, tK, tS;

  if (r < 0.01)
    {
      t = 1.0 - q / 3.0 + 2.0 * q * q / 15.0;
      dt = -1.0 / 3.0 + 4.0 * q / 15.0;
    }
  else
    {
      double tanh_r = tanh (r);

      t = tanh_r / r;
      dt = ((1.0 - tanh_r * tanh_r) * r - tanh_r) / (2.0 * q * r);
    }
  tK = dt * 2.0 * (K + S);
  tS = dt * 2.0 * K;
  a = K + S;
  top = S * t - ground * (a * t - 1.0);
  bottom = a * t - ground * S * t + 1.0;
  top_K = S * tK - ground * (t + a * tK);
  top_S = t + S * tS - ground * (t + a * tS);
  bottom_K = t + a * tK - ground * S * tK;
  bottom_S = t + a * tS - ground * (t + S * tS);
  *dK = (top_K - top / bottom * bottom_K) / bottom;
  *dS = (top_S - top / bottom * bottom_S) / bottom;
  return top / bottom;
}

/**
 * ts_fit_film:
 * @K: absorption of the whole film
 * @S: scattering of the whole film, above 0
 * @surface: what its surface sends back
 * @hides: whether nothing under it shows
 * @ground: inside reflectance of what lies under it, where that shows
 * @R: (out): measured reflectance
 * @dK: (out): its slope with @K
 * @dS: (out): its slope with @S
 */
void
ts_fit_film (double K, double S, TsSurfaceReflection surface, gboolean hides, double ground,
             double *R, double *dK, double *dS)
{
  double k1 = surface.k1, k2 = surface.k2;
  double inside = hides ? thick_layer (K, S, dK, dS) : film_over (K, S, ground, dK, dS);
  double slope = (1.0 - k1) * (1.0 - k2) / ((1.0 - k2 * inside) * (1.0 - k2 * inside));

  *R = k1 + (1.0 - k1) * (1.0 - k2) * inside / (1.0 - k2 * inside);
  *dK *= slope;
  *dS *= slope;
}

/* What the swatch looks like with the K and S of @values, which are no logarithms. */
static void
predict (const TsFitProblem *problem, const TsFitSwatch *swatch, const double *values,
         TsFitFilm *film)
{
  for (guint b = 0; b < TS_BANDS; b++)
    {
      double K = 0.0, S = 0.0;

      for (guint i = 0; i < swatch->n_paints; i++)
        {
          const double *paint = values + (gsize) swatch->paint[i] * TS_FIT_UNKNOWNS;

          K += swatch->coats[i] * paint[b];
          S += swatch->coats[i] * paint[TS_BANDS + b];
        }
      ts_fit_film (K, S, problem->surface, swatch->hides, swatch->ground[b], &film->R[b],
                   &film->dK[b], &film->dS[b]);
    }
}

/* CIE 15's f and its slope. */
static double
lab_f (double t, double *slope)
{
  const double edge = 6.0 / 29.0;
  double root;

  if (t <= edge * edge * edge)
    {
      *slope = 1.0 / (3.0 * edge * edge);
      return t * *slope + 4.0 / 29.0;
    }
  root = cbrt (t);
  *slope = 1.0 / (3.0 * root * root);
  return root;
}

/* Miss of the colour, squared and bent over, in units of SIGMA; adds its slope with each R to @dR.
 */
static double
colour_loss (const TsFitSwatch *swatch, const TsFitFilm *film, double *dR)
{
  static const double white[3] = { TS_D50_X, 1.0, TS_D50_Z };
  const double (*weights)[3] = ts_light_get_weights (TS_LIGHT_D50);
  double xyz[3] = { 0.0, 0.0, 0.0 }, f[3], df[3], off[3], push[3], d2 = 0.0, root, d_xyz[3];

  for (guint b = 0; b < TS_BANDS; b++)
    for (guint c = 0; c < 3; c++)
      xyz[c] += weights[b][c] * film->R[b];
  for (guint c = 0; c < 3; c++)
    f[c] = lab_f (xyz[c] / white[c], &df[c]);
  off[0] = 116.0 * f[1] - 16.0 - swatch->lab.L;
  off[1] = 500.0 * (f[0] - f[1]) - swatch->lab.a;
  off[2] = 200.0 * (f[1] - f[2]) - swatch->lab.b;
  for (guint c = 0; c < 3; c++)
    {
      push[c] = 0.0;
      for (guint e = 0; e < 3; e++)
        push[c] += swatch->metric[c][e] * off[e];
      d2 += push[c] * off[c];
    }
  d2 = MAX (d2, 0.0) / (SIGMA * SIGMA);
  root = sqrt (1.0 + d2 / (BEND * BEND));

  for (guint c = 0; c < 3; c++)
    push[c] *= swatch->weight * 2.0 / (SIGMA * SIGMA * root);
  d_xyz[0] = 500.0 * push[1] * df[0] / white[0];
  d_xyz[1] = (116.0 * push[0] - 500.0 * push[1] + 200.0 * push[2]) * df[1] / white[1];
  d_xyz[2] = -200.0 * push[2] * df[2] / white[2];
  for (guint b = 0; b < TS_BANDS; b++)
    for (guint c = 0; c < 3; c++)
      dR[b] += d_xyz[c] * weights[b][c];
  return swatch->weight * 2.0 * BEND * BEND * (root - 1.0);
}

/* Miss of the spectrum on a scale even to the eye, mean square over the bands. */
static double
spectrum_loss (const TsFitSwatch *swatch, const TsFitFilm *film, double *dR)
{
  const double scale = 116.0 / SIGMA;
  const double weight = swatch->spectrum_weight / TS_BANDS;
  double sum = 0.0;

  for (guint b = 0; b < TS_BANDS; b++)
    {
      double held = MAX (film->R[b], LEAST_R);
      double root = cbrt (held);
      double off = scale * (root - swatch->cube_root[b]);

      sum += weight * off * off;
      if (film->R[b] > LEAST_R)
        dR[b] += weight * 2.0 * off * scale * root / (3.0 * held);
    }
  return sum;
}

static double
swatch_loss (const TsFitProblem *problem, const TsFitSwatch *swatch, const double *values,
             double *gradient)
{
  double dR[TS_BANDS] = { 0.0 };
  double loss;
  TsFitFilm film;

  predict (problem, swatch, values, &film);
  loss = colour_loss (swatch, &film, dR) + spectrum_loss (swatch, &film, dR);
  for (guint i = 0; i < swatch->n_paints; i++)
    {
      const double *paint = values + (gsize) swatch->paint[i] * TS_FIT_UNKNOWNS;
      double *slope = gradient + (gsize) swatch->paint[i] * TS_FIT_UNKNOWNS;

      /* d/d log K = K d/dK */
      for (guint b = 0; b < TS_BANDS; b++)
        {
          slope[b] += dR[b] * film.dK[b] * swatch->coats[i] * paint[b];
          slope[TS_BANDS + b] += dR[b] * film.dS[b] * swatch->coats[i] * paint[TS_BANDS + b];
        }
    }
  return loss;
}

/* @weight times the sum of squared differences of the given order (1 or 2) along the bands. */
static double
roughness (const double *x, double *gradient, guint order, double weight)
{
  double sum = 0.0;

  for (guint b = 0; b + order < TS_BANDS; b++)
    {
      double off = order == 1 ? x[b + 1] - x[b] : x[b + 2] - 2.0 * x[b + 1] + x[b];

      sum += weight * off * off;
      gradient[b] += 2.0 * weight * off * (order == 1 ? -1.0 : 1.0);
      gradient[b + 1] += 2.0 * weight * off * (order == 1 ? 1.0 : -2.0);
      if (order == 2)
        gradient[b + 2] += 2.0 * weight * off;
    }
  return sum;
}

static double
distance (const double *x, const double *expected, double *gradient, double weight)
{
  double sum = 0.0;

  for (guint b = 0; b < TS_BANDS; b++)
    {
      double off = x[b] - expected[b];

      sum += weight * off * off;
      gradient[b] += 2.0 * weight * off;
    }
  return sum;
}

static double
paint_loss (const TsFitPaint *paint, const double *x, double *gradient)
{
  return roughness (x, gradient, 2, SMOOTH_K) +
         roughness (x + TS_BANDS, gradient + TS_BANDS, 2, SMOOTH_S) +
         roughness (x + TS_BANDS, gradient + TS_BANDS, 1, FLAT_S) +
         distance (x, paint->log_K, gradient, paint->weight_K) +
         distance (x + TS_BANDS, paint->log_S, gradient + TS_BANDS, paint->weight_S);
}

/**
 * ts_fit_loss:
 * @x: log K and log S of each paint
 * @gradient: (out): slope of the loss with each of @x
 * @problem: (type TsFitProblem): paints and swatches
 *
 * The colours' misses by CIEDE2000's local metric, the spectra's by cube roots, and what is
 * expected of K and S beforehand: smooth, S nearly flat and of a usual level. Time linear in
 * swatches times paints in each.
 *
 * Returns: the loss
 */
double
ts_fit_loss (const double *x, double *gradient, gpointer problem)
{
  const TsFitProblem *self = problem;
  gsize n = (gsize) self->n_paints * TS_FIT_UNKNOWNS;
  g_autofree double *values = g_new (double, n);
  double loss = 0.0;

  memset (gradient, 0, n * sizeof *gradient);
  for (gsize i = 0; i < n; i++)
    values[i] = exp (x[i]);
  for (guint s = 0; s < self->n_swatches; s++)
    loss += swatch_loss (self, &self->swatches[s], values, gradient);
  for (guint p = 0; p < self->n_paints; p++)
    loss += paint_loss (&self->paints[p], x + (gsize) p * TS_FIT_UNKNOWNS,
                        gradient + (gsize) p * TS_FIT_UNKNOWNS);
  return loss;
}
