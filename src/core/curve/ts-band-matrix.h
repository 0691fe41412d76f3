/* ts-band-matrix.h: symmetric matrices with three diagonals beside the main one
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define TS_BAND_MAX 43
#define TS_BAND_WIDTH 4

/* Row i holds the elements i, i to i, i + 3; those beyond @n are 0. Decomposed, as U'DU with ones on
 * the diagonal of U, the first of each row is that of D. */
typedef struct
{
  guint  n;
  double row[TS_BAND_MAX][TS_BAND_WIDTH];
} TsBand;

void     ts_band_init          (TsBand        *self,
                                guint          n);
double   ts_band_form          (const TsBand  *self,
                                const double  *x);
void     ts_band_multiply      (const TsBand  *self,
                                const double  *x,
                                double        *product);
gboolean ts_band_decompose     (TsBand        *self);
double   ts_band_log_det       (const TsBand  *decomposed);
void     ts_band_solve         (const TsBand  *decomposed,
                                double        *x);
void     ts_band_solve_half    (const TsBand  *decomposed,
                                double        *x);
void     ts_band_invert        (const TsBand  *decomposed,
                                TsBand        *inverse);
/* Trace of the product of two that are not decomposed. */
double   ts_band_product_trace (const TsBand  *one,
                                const TsBand  *other);

G_END_DECLS
