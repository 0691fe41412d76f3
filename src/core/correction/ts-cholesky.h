/* ts-cholesky.h: factor and solutions of a small symmetric positive definite matrix
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

gboolean ts_cholesky_factor   (double       *a,
                               gsize         n);
void     ts_cholesky_forward  (const double *l,
                               gsize         n,
                               double       *b);
void     ts_cholesky_backward (const double *l,
                               gsize         n,
                               double       *b);

G_END_DECLS
