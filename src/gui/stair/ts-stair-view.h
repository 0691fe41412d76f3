/* ts-stair-view.h: the steps side by side: wanted over mixed, verdicts between, recipes under
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/picture/ts-hover.h"
#include "gui/widgets/ts-view.h"

G_BEGIN_DECLS

#define TS_TYPE_STAIR_VIEW (ts_stair_view_get_type ())
G_DECLARE_FINAL_TYPE (TsStairView, ts_stair_view, TS, STAIR_VIEW, TsView)

/* Heights in pixels from the top of the view; they follow the size of the text. */
typedef struct
{
  int caption; /* of the row of captions, with the bar of the selected step */
  int edge;    /* of the field around the chips */
  int chip;    /* of one half: wanted, or mixed */
  int verdict; /* of the row of verdicts */
  int line;    /* of one line of a recipe */
  int n_lines; /* 0 where recipes stand elsewhere */
  int areas;   /* of the row that says what each step covers; 0 without an outline */
  int label;   /* width of the words at the start side */
} TsStairMetrics;

void           ts_stair_view_set_hover   (TsStairView  *self,
                                          TsHover      *hover);
TsHover       *ts_stair_view_get_hover   (TsStairView  *self);
/* The step that is under the pointer anywhere, or that a hovered spot belongs to; -1: none. */
int            ts_stair_view_get_hovered (TsStairView  *self);
/* Smaller, without recipes. */
void           ts_stair_view_set_compact (TsStairView  *self,
                                          gboolean      compact);
/* By lightness alone. */
void           ts_stair_view_set_grey    (TsStairView  *self,
                                          gboolean      grey);
gboolean       ts_stair_view_get_grey    (TsStairView  *self);
/* The selected step as text; FALSE where there is nothing to copy. */
gboolean       ts_stair_view_copy        (TsStairView  *self,
                                          gboolean      colour);
/* Whether the step is ticked off as painted. */
gboolean       ts_stair_view_is_painted  (TsStairView  *self,
                                          guint         step);
TsStairMetrics ts_stair_view_get_metrics (TsStairView  *self);

G_END_DECLS
