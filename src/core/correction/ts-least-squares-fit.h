/* ts-least-squares-fit.h: small linear least squares
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

gboolean ts_least_squares_solve (const double *a,
                                 const double *b,
                                 gsize         n_rows,
                                 gsize         n_unknowns,
                                 double       *x);

G_END_DECLS
