/* ts-image-view-private.h: what the files of the image view share
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/pixels/ts-clip-mask.h"
#include "gui/picture/ts-image-view.h"
#include "gui/pixels/ts-recolour.h"

G_BEGIN_DECLS

#define TS_END_RADIUS   7.0
#define TS_SPOT_RADIUS  3.6
#define TS_HOVER_RADIUS 6.5

typedef enum
{
  TS_GRIP_NONE,
  TS_GRIP_POINT, /* a point of the run's line, ends included */
  TS_GRIP_SPOT,
  TS_GRIP_LINE
} TsGripKind;

/* Something of a run that can be taken hold of. */
typedef struct
{
  TsGripKind kind;
  int        surface;
  guint      run;
  guint      index; /* of the point or the spot */
} TsGrip;

typedef enum
{
  TS_DRAG_NONE,
  TS_DRAG_PENDING, /* pressed, not yet far enough */
  TS_DRAG_NEW,
  TS_DRAG_MOVE,
  TS_DRAG_OUTLINE,
  TS_DRAG_LIGHT,
  TS_DRAG_BAND, /* what lies in it is chosen */
  TS_DRAG_PAN
} TsDrag;

/* What the next click, or arrows and Return, point at. */
typedef enum
{
  TS_POINTING_NOTHING,
  TS_POINTING_CARD, /* a grey card: all measurements follow */
  TS_POINTING_BRIEF /* a colour that is asked for: a line of the brief */
} TsPointing;

struct _TsImageView
{
  TsView parent_instance;

  /* Owned */
  TsTexture *texture;
  TsHover *hover;
  TsImage *image;
  gboolean preview; /* it stands in for one that opens: only to be looked at */
  GArray *trail; /* TsPoint, the outline that is being drawn, or NULL */
  GtkGesture *drag_gesture; /* borrowed from the widget's controllers */

  /* What is to be seen: widget = picture * zoom + x, y */
  TsLook look;
  gboolean flat; /* lightness in the steps of the stair */
  double zoom, x, y;
  gboolean fit;
  guint fitted_idle;

  /* Pointer and keyboard */
  gboolean has_pointer;
  TsPoint pointer; /* widget */
  gboolean space;
  TsDrag drag;
  TsGrip grip;
  gboolean shift;
  TsPoint start, last; /* picture */
  double start_x, start_y;
  double pinch_zoom;
  TsGrip focus; /* spot or end that the keyboard moves */

  /* Spots that are moved and removed together, of one surface */
  GArray *chosen; /* owned, TsSpotRef */
  int chosen_surface;
  gboolean moving_chosen; /* by the drag that is under way */

  /* A run drawn by keys, or something in the picture that is being pointed at */
  gboolean crossing, cross_started;
  TsPointing pointing;
  TsPoint cross; /* picture */

  /* What the trail outlines, and whether the cross or the next drag tells where the light is */
  gboolean outline_selected, lighting;

  gboolean magnify;

  GtkWidget *swatch; /* borrowed: a child, or NULL */

  /* The picture beside it */
  gboolean captioned, has_mark;
  TsPoint mark; /* picture */

  /* What stands over the picture, and how else it is shown */
  GtkWidget *over;             /* borrowed: a child, or NULL */
  TsRecolour *recolour;        /* owned */
  cairo_surface_t *recoloured; /* owned: the last that was drawn, or NULL */
  double recoloured_for[6];    /* zoom, x, y, width, height, scale */
  TsClipMask *clip;            /* owned */
  gboolean clipping;
};

/* Recoloured, or hatched: see ts-image-view-over.c. */
gboolean ts_image_view_draw_recoloured (TsImageView  *self,
                                        cairo_t      *cr,
                                        int           width,
                                        int           height);
void     ts_image_view_draw_clipping (TsImageView    *self,
                                      cairo_t        *cr,
                                      int             width,
                                      int             height);
void     ts_image_view_append_clipping (TsImageView  *self,
                                        GString      *words);
void     ts_image_view_init_over     (TsImageView    *self);
void     ts_image_view_dispose_over  (TsImageView    *self);
/* The picture lies or looks otherwise in the view. */
void     ts_image_view_changed       (TsImageView    *self);
/* The whole picture in a view of that size, pixels. */
void     ts_image_view_place_fitted  (TsImageView    *self,
                                      int             width,
                                      int             height);
void     ts_image_view_describe      (TsImageView    *self);
gboolean ts_image_view_is_dragging   (TsImageView    *self);
void     ts_image_view_added         (TsImageView    *self,
                                      int             surface);
void     ts_image_view_pointer_moved (TsImageView    *self);

/* Runs: how they lie, and what is under a place. */
TsPoint  ts_image_view_point_along   (const TsRun    *run,
                                      double          position);
guint    ts_image_view_count_spots   (const TsSurface *surface,
                                      guint           run);
TsGrip   ts_image_view_hit           (TsImageView    *self,
                                      double          x,
                                      double          y);
int      ts_image_view_find_step     (TsImageView    *self,
                                      const char     *role);

void     ts_image_view_draw_overlay  (TsImageView    *self,
                                      cairo_t        *cr);
void     ts_image_view_draw_magnifier (TsImageView   *self,
                                       cairo_t       *cr);
void     ts_image_view_begin_outline (TsImageView   *self,
                                      gboolean        of_selected);
void     ts_image_view_extend_outline (TsImageView  *self,
                                       TsPoint       place,
                                       gboolean      near);
void     ts_image_view_end_outline   (TsImageView    *self);
void     ts_image_view_draw_outlines (TsImageView    *self,
                                      cairo_t        *cr);
int      ts_image_view_find_outline  (TsImageView    *self,
                                      TsPoint         place);
void     ts_image_view_set_light     (TsImageView    *self,
                                      TsPoint         from,
                                      TsPoint         to);
void     ts_image_view_append_outline (TsImageView   *self,
                                       GString       *words);
/* Several spots at once: see ts-image-view-choose.c. */
void     ts_image_view_init_choose   (TsImageView    *self);
void     ts_image_view_hold_chosen   (TsImageView    *self);
gboolean ts_image_view_is_chosen     (TsImageView    *self,
                                      guint           run,
                                      guint           spot);
gboolean ts_image_view_choose_none   (TsImageView    *self);
void     ts_image_view_choose_all    (TsImageView    *self);
gboolean ts_image_view_choose_focused (TsImageView   *self);
gboolean ts_image_view_choose_grip   (TsImageView    *self,
                                      TsGrip          grip);
gboolean ts_image_view_holds_chosen  (TsImageView    *self,
                                      TsGrip          grip);
void     ts_image_view_move_chosen   (TsImageView    *self,
                                      double          dx,
                                      double          dy);
void     ts_image_view_remove_chosen (TsImageView    *self);
void     ts_image_view_append_chosen (TsImageView    *self,
                                      GString        *words);
void     ts_image_view_draw_chosen   (TsImageView    *self,
                                      cairo_t        *cr,
                                      TsPoint         at,
                                      double          radius);
void     ts_image_view_draw_band     (TsImageView    *self,
                                      cairo_t        *cr);
/* A comparison swatch: see ts-image-view-swatch.c. */
void     ts_image_view_lay_swatch    (TsImageView    *self,
                                      TsPoint         place);
void     ts_image_view_remove_swatch (TsImageView    *self);
gboolean ts_image_view_swatch_key    (TsImageView    *self,
                                      gboolean        turn);
void     ts_image_view_place_swatch  (TsImageView    *self);
void     ts_image_view_add_swatch_drop (TsImageView  *self);
/* What is pointed at lies at @place. */
void     ts_image_view_take_point    (TsImageView    *self,
                                      TsPoint         place);
void     ts_image_view_add_pointer   (TsImageView    *self);
void     ts_image_view_add_keys      (TsImageView    *self);
void     ts_image_view_cancel_drag   (TsImageView    *self);

G_END_DECLS
