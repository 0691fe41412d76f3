/* ts-finish-view-private.h: what the files of the finish view share
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/finish/ts-finish-view.h"

G_BEGIN_DECLS

/* What is moved: an index of a point of the line, or one of these. */
#define TS_FINISH_NOTHING -1
#define TS_FINISH_LINE    -2
#define TS_FINISH_GROUND  -3

struct _TsFinishView
{
  TsView parent_instance;

  /* Owned */
  TsTexture *texture;
  TsImage *image;

  TsPictureRole role;
  TsLook look;
  int picture; /* index, or -1 */

  /* What is to be seen: how much larger than fitted, and which place (0 to 1) is in the middle. */
  double factor, middle_x, middle_y;
  double fitted; /* zoom that shows the whole picture, as it was when the view had its size */
  guint moved_idle;

  int held, focus;      /* what is dragged, and what the keyboard moves */
  guint held_line, focus_line; /* of which line */
  TsPoint start, last;  /* pictures' pixels */
  double start_x, start_y;
  TsPoint pointer; /* widget */
  double pinched;
  gboolean space; /* arrows and drags pan */
  gboolean placing_card;
};

/* The selected surface's lines, counted from 0: its runs, or where it has none its outline. */
guint        ts_finish_view_count_lines (TsFinishView *self);
/* Corners (TsPoint) of one, or %NULL where that lies on another picture. */
const GArray *ts_finish_view_get_points (TsFinishView *self,
                                         guint         line);
/* The outline, where that is the line; or %NULL. */
const TsOutline *ts_finish_view_get_outline (TsFinishView *self);
void         ts_finish_view_draw_lines (TsFinishView  *self,
                                        cairo_t       *cr);
TsPoint      ts_finish_view_to_widget  (TsFinishView  *self,
                                        TsPoint        place);
TsPoint      ts_finish_view_to_picture (TsFinishView  *self,
                                        double         x,
                                        double         y);
double       ts_finish_view_hold_factor (TsFinishView *self,
                                         double        factor);
/* Holds it within the picture, draws it and tells the other view. */
void         ts_finish_view_move_to    (TsFinishView  *self,
                                        double         factor,
                                        double         middle_x,
                                        double         middle_y);
void         ts_finish_view_describe   (TsFinishView  *self);
void         ts_finish_view_add_input  (TsFinishView  *self);

G_END_DECLS
