/* ts-lbfgs.h: the least value of a smooth function of many numbers
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

/* The function's value at @x, and its gradient. */
typedef double (*TsLbfgsFunc) (const double *x,
                               double       *gradient,
                               gpointer      user_data);

/* Moves @x downhill; FALSE only when it was stopped. */
gboolean ts_lbfgs_minimise (double         *x,
                            guint           n,
                            TsLbfgsFunc     function,
                            gpointer        user_data,
                            guint           max_iterations,
                            GCancellable   *cancellable,
                            double         *least,
                            GError        **error);

G_END_DECLS
