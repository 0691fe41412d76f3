/* ts-paint-plot.h: reflectance of a paint against wavelength
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

#include "colour/ts-spectrum.h"

G_BEGIN_DECLS

#define TS_TYPE_PAINT_PLOT (ts_paint_plot_get_type ())
G_DECLARE_FINAL_TYPE (TsPaintPlot, ts_paint_plot, TS, PAINT_PLOT, GtkWidget)

/* @low and @high (nullable, both or neither) are the edges of what it may be. */
void ts_paint_plot_show (TsPaintPlot       *self,
                         const TsSpectrum  *reflectance,
                         const TsSpectrum  *low,
                         const TsSpectrum  *high,
                         const char        *name);

G_END_DECLS
