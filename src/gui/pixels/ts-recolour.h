/* ts-recolour.h: pixels of the screen as a correction makes them
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gio/gio.h>

#include "correction/ts-correction.h"

G_BEGIN_DECLS

/* A correction made into a table of the screen's colours, on another thread. Emits "changed". For the
 * eye alone: nothing is measured through it. */
#define TS_TYPE_RECOLOUR (ts_recolour_get_type ())
G_DECLARE_FINAL_TYPE (TsRecolour, ts_recolour, TS, RECOLOUR, GObject)

TsRecolour *ts_recolour_new            (void);
void        ts_recolour_set_correction (TsRecolour    *self,
                                        TsCorrection  *correction);
/* Whether there is anything to change. */
gboolean    ts_recolour_is_ready       (TsRecolour    *self);
void        ts_recolour_apply          (TsRecolour    *self,
                                        guint32       *words,
                                        gsize          n);

G_END_DECLS
