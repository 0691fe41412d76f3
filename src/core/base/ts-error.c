/* ts-error.c: the one error domain of the core
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/ts-error.h"

G_DEFINE_QUARK (ts - error - quark, ts_error)
