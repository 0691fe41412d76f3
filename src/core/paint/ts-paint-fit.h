/* ts-paint-fit.h: refining a set's paints by the painter's own test swatches
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gio/gio.h>

#include "base/ts-progress.h"
#include "paint/ts-swatch.h"

G_BEGIN_DECLS

/* How far predictions lie from the measured swatches, CIEDE2000. */
typedef struct
{
  double before_median;   /* with the set as it was */
  double before_90;       /* 90 of 100 lie below */
  double after_median;    /* with the refined set */
  double after_90;
  guint  n_left_out;      /* mixes predicted by a fit that had not seen any mix of those paints */
  double left_out_median; /* not a number where there are none */
  double left_out_90;
} TsFitReport;

/* One paint that the swatches refined. */
typedef struct
{
  guint  paint;
  guint  n_swatches; /* with this paint in them */
  double moved;      /* its masstone, CIEDE2000 */
  double K_factor;   /* absorption after over before, geometric mean of the bands */
  double S_factor;   /* the same for scattering */
  double error;      /* 95 % radius of its mixes from now on, CIEDE2000 */
} TsFitMove;

/* One swatch, in the order given. */
typedef struct
{
  double   before;   /* CIEDE2000 from the measured colour */
  double   after;
  double   left_out; /* predicted without any mix of these paints, or not a number */
  gboolean suspect;  /* it disagrees with all the others: measure it or read its recipe again */
} TsFitResidual;

/* A refined set and how it came about. It never changes; threads may share it. */
typedef struct _TsPaintFit TsPaintFit;

TsPaintFit          *ts_paint_fit_new           (const TsPaintSet   *set,
                                                 const TsSwatch     *swatches,
                                                 guint               n_swatches,
                                                 GCancellable       *cancellable,
                                                 TsProgressFunc      progress,
                                                 gpointer            progress_data,
                                                 GError            **error);
TsPaintFit          *ts_paint_fit_ref           (TsPaintFit         *self);
void                 ts_paint_fit_unref         (TsPaintFit         *self);
TsPaintSet          *ts_paint_fit_get_set       (const TsPaintFit   *self);
const TsFitReport   *ts_paint_fit_get_report    (const TsPaintFit   *self);
const TsFitMove     *ts_paint_fit_get_moves     (const TsPaintFit   *self,
                                                 guint              *n_moves);
const TsFitResidual *ts_paint_fit_get_residuals (const TsPaintFit   *self,
                                                 guint              *n_residuals);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsPaintFit, ts_paint_fit_unref)

G_END_DECLS
