/* ts-draw.h: text and small shapes for own drawings
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

#include "card/ts-mark.h"
#include "spots/ts-run.h"
#include "gui/widgets/ts-palette.h"

G_BEGIN_DECLS

/* Sizes of type in em of the window's text. */
#define TS_EM_TITLE   1.16
#define TS_EM_BODY    0.95
#define TS_EM_RECIPE  0.89
#define TS_EM_SMALL   0.82
#define TS_EM_AXIS    0.75

#define TS_DRAW_MARK  11 /* pixels */

/* The whole of a widget in the neutral colour behind pictures, to draw on; @palette gets its colours. */
cairo_t     *ts_draw_field      (GtkWidget      *widget,
                                 GtkSnapshot    *snapshot,
                                 TsPalette      *palette);
PangoLayout *ts_draw_new_layout (GtkWidget      *widget,
                                 double          em,
                                 gboolean        bold,
                                 const char     *text);
/* The point x, y of the text is where its box is @align_x, @align_y (0 to 1) across and down. */
void         ts_draw_layout     (cairo_t        *cr,
                                 PangoLayout    *layout,
                                 double          x,
                                 double          y,
                                 double          align_x,
                                 double          align_y,
                                 const GdkRGBA  *colour);
void         ts_draw_text       (cairo_t        *cr,
                                 GtkWidget      *widget,
                                 double          em,
                                 gboolean        bold,
                                 const char     *text,
                                 double          x,
                                 double          y,
                                 double          align_x,
                                 double          align_y,
                                 const GdkRGBA  *colour);
/* Height of one line of text, pixels. */
int          ts_draw_get_line   (GtkWidget      *widget,
                                 double          em);
/* White text in a dark pill about the middle x, y: for words over a picture. */
void         ts_draw_pill       (cairo_t        *cr,
                                 GtkWidget      *widget,
                                 const char     *text,
                                 double          x,
                                 double          y);
void         ts_draw_pill_size  (GtkWidget      *widget,
                                 const char     *text,
                                 double         *width,
                                 double         *height);
/* How much larger than usual the painter's text is, 1 or more. */
double       ts_draw_get_text_scale (GtkWidget  *widget);
/* A verdict's shape about the middle x, y, in the source colour of @cr. */
void         ts_draw_mark       (cairo_t        *cr,
                                 TsMark          mark,
                                 double          x,
                                 double          y);
/* A path, not yet filled. */
void         ts_draw_rounded    (cairo_t        *cr,
                                 double          x,
                                 double          y,
                                 double          width,
                                 double          height,
                                 double          radius);
/* The outline of keyboard focus, within the rectangle. */
void         ts_draw_focus      (cairo_t        *cr,
                                 const GdkRGBA  *text,
                                 double          x,
                                 double          y,
                                 double          width,
                                 double          height);
/* Over a picture: white within black. */
void         ts_draw_stroke_over (cairo_t       *cr,
                                  double         width);
/* Of a whole surface, closed, of dashes. */
void         ts_draw_outline    (cairo_t        *cr,
                                 const TsPoint  *points,
                                 guint           n_points);
void         ts_draw_ring       (cairo_t        *cr,
                                 TsPoint         at,
                                 double          radius,
                                 double          width);
double       ts_draw_get_crowding (const TsPoint *at,
                                 guint           n);
/* A line between two rings that goes into neither; a path, not yet stroked. */
void         ts_draw_segment    (cairo_t        *cr,
                                 TsPoint         from,
                                 TsPoint         to,
                                 double          from_radius,
                                 double          to_radius);

G_END_DECLS
