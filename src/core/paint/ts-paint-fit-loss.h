/* ts-paint-fit-loss.h: how badly K and S explain the measured swatches, and which way is better
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "paint/ts-swatch.h"

G_BEGIN_DECLS

/* Unknowns of one paint: log K of each band, then log S. */
#define TS_FIT_UNKNOWNS (2 * TS_BANDS)

/* One paint to be fitted, and what is expected of it beforehand. */
typedef struct
{
  double log_K[TS_BANDS];
  double log_S[TS_BANDS];
  double weight_K; /* of the expected log K, at least 0 */
  double weight_S;
} TsFitPaint;

/* One swatch made ready. */
typedef struct
{
  guint    n_paints;
  guint    paint[TS_SWATCH_MAX_PAINTS]; /* index of a TsFitPaint */
  double   coats[TS_SWATCH_MAX_PAINTS]; /* of that paint in the film; parts where it hides */
  gboolean hides;
  double   ground[TS_BANDS];            /* inside reflectance */
  double   cube_root[TS_BANDS];         /* of the measured reflectance */
  TsLab    lab;
  double   metric[3][3];                /* of CIEDE2000 about lab */
  double   weight;                      /* of the colour */
  double   spectrum_weight;
} TsFitSwatch;

typedef struct
{
  const TsFitPaint   *paints;
  guint               n_paints;
  const TsFitSwatch  *swatches;
  guint               n_swatches;
  TsSurfaceReflection surface;
} TsFitProblem;

/* Reflectance of a film as it is measured, and its slopes with K and S of the whole film. */
typedef struct
{
  double R[TS_BANDS];
  double dK[TS_BANDS];
  double dS[TS_BANDS];
} TsFitFilm;

/* One band of it: of a film over an inside reflectance @ground, or one that hides. */
void   ts_fit_film (double               K,
                    double               S,
                    TsSurfaceReflection  surface,
                    gboolean             hides,
                    double               ground,
                    double              *R,
                    double              *dK,
                    double              *dS);
/* The loss at @x, n_paints * TS_FIT_UNKNOWNS numbers, and its gradient; a TsLbfgsFunc. */
double ts_fit_loss (const double *x,
                    double       *gradient,
                    gpointer      problem);

G_END_DECLS
