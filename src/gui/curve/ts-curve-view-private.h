/* ts-curve-view-private.h: what the files of the curve view share
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/curve/ts-curve-view.h"

G_BEGIN_DECLS

/* Where things lie, in widget pixels. Lit is at the start side. */
typedef struct
{
  double   left, right, top, bottom; /* of the plot */
  double   most;                     /* L* at the top */
  gboolean mirror;
} TsCurvePlot;

struct _TsCurveView
{
  TsView parent_instance;

  TsHover *hover; /* owned */

  /* A step that is dragged */
  GtkGesture *drag_gesture; /* borrowed from the widget's controllers */
  int dragged;
  gboolean moving, sideways;
  double start_position, start_lightness;
};

TsCurvePlot  ts_curve_view_get_plot     (TsCurveView           *self);
double       ts_curve_plot_x            (const TsCurvePlot     *plot,
                                         double                 position);
double       ts_curve_plot_y            (const TsCurvePlot     *plot,
                                         double                 lightness);
void         ts_curve_view_draw         (TsCurveView           *self,
                                         cairo_t               *cr);
/* Spots of the selected surface in the order of the curve's samples, or NULL past the last. */
const TsSpot *ts_curve_view_get_spot    (TsCurveView           *self,
                                         guint                  index);

G_END_DECLS
