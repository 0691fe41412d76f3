/* ts-paint-teach.h: which test mixes would teach most about a set's paints
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gio/gio.h>

#include "paint/ts-swatch.h"

G_BEGIN_DECLS

/* One mix to paint next, hiding all. */
typedef struct
{
  guint    n_amounts;
  TsAmount amounts[2];
  double   before; /* root mean square CIEDE2000 by which the wanted mixes are open before it */
  double   after;  /* and with this one and those before it painted and measured */
} TsTeachMix;

/* The @n_mixes that teach most, an array of TsTeachMix. @known: swatches there are, which the set may
 * have been refined by. @wanted (may be empty): mixes that are to come out, as the recipes of a plan;
 * without, all pairs of paints that are in stock. */
GArray *ts_paint_teach (const TsPaintSet  *set,
                        const TsSwatch    *known,
                        guint              n_known,
                        const TsSwatch    *wanted,
                        guint              n_wanted,
                        guint              n_mixes,
                        GCancellable      *cancellable,
                        GError           **error);

G_END_DECLS
