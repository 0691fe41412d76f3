/* ts-calibration.h: a set's test swatches refine its paints, on another thread
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "document/ts-document.h"
#include "paint/ts-paint-fit.h"

G_BEGIN_DECLS

#define TS_TYPE_CALIBRATION (ts_calibration_get_type ())

/* Lives on the main thread. Emits "changed" as it goes on and when it ends, well or not. A set that
 * is another meanwhile is left alone. */
G_DECLARE_FINAL_TYPE (TsCalibration, ts_calibration, TS, CALIBRATION, GObject)

TsCalibration    *ts_calibration_new          (TsDocument     *document);
/* All swatches of the document's set; what was under way is stopped. FALSE without any that counts. */
gboolean          ts_calibration_start        (TsCalibration  *self);
void              ts_calibration_stop         (TsCalibration  *self);
gboolean          ts_calibration_is_running   (TsCalibration  *self);
double            ts_calibration_get_progress (TsCalibration  *self);
/* The last fit, while the document has the set that it made; else %NULL. */
const TsPaintFit *ts_calibration_get_fit      (TsCalibration  *self);
/* Index in the set's swatches of the fit's @residual-th. */
guint             ts_calibration_get_swatch   (TsCalibration  *self,
                                               guint           residual);
/* Why the last one failed, or %NULL. */
const char       *ts_calibration_get_problem  (TsCalibration  *self);

G_END_DECLS
