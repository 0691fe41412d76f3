/* ts-finish-view.c: one of the two pictures of the finish check, with the selected surface's runs
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/finish/ts-finish-view-private.h"

#include <glib/gi18n.h>
#include <math.h>

#include "gui/widgets/ts-draw.h"
#include "gui/pixels/ts-look.h"
#include "gui/widgets/ts-palette.h"

#define MOST_FACTOR 24.0
#define PILL_FROM_EDGE 8.0

enum
{
  MOVED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (TsFinishView, ts_finish_view, TS_TYPE_VIEW)

/* The zoom that shows the whole picture. */
static double
get_fit (TsFinishView *self)
{
  double width = gtk_widget_get_width (GTK_WIDGET (self));
  double height = gtk_widget_get_height (GTK_WIDGET (self));

  if (self->image == NULL)
    return 1.0;
  return MAX (1e-3, MIN (width / ts_image_get_full_width (self->image),
                         height / ts_image_get_full_height (self->image)));
}

/**
 * ts_finish_view_get_zoom:
 * @self: the view
 *
 * Returns: screen pixels to one of the picture
 */
double
ts_finish_view_get_zoom (TsFinishView *self)
{
  return get_fit (self) * self->factor;
}

/* Where the picture's corner lies, widget pixels: on a whole pixel of the screen. */
static TsPoint
get_origin (TsFinishView *self)
{
  double zoom = ts_finish_view_get_zoom (self);
  double scale = gtk_widget_get_scale_factor (GTK_WIDGET (self));
  double x = gtk_widget_get_width (GTK_WIDGET (self)) / 2.0 -
             self->middle_x * ts_image_get_full_width (self->image) * zoom;
  double y = gtk_widget_get_height (GTK_WIDGET (self)) / 2.0 -
             self->middle_y * ts_image_get_full_height (self->image) * zoom;

  return (TsPoint){ round (x * scale) / scale, round (y * scale) / scale };
}

TsPoint
ts_finish_view_to_widget (TsFinishView *self, TsPoint place)
{
  double zoom = ts_finish_view_get_zoom (self);
  TsPoint origin = get_origin (self);

  return (TsPoint){ origin.x + place.x * zoom, origin.y + place.y * zoom };
}

TsPoint
ts_finish_view_to_picture (TsFinishView *self, double x, double y)
{
  double zoom = ts_finish_view_get_zoom (self);
  TsPoint origin = get_origin (self);

  return (TsPoint){ (x - origin.x) / zoom, (y - origin.y) / zoom };
}

/* The finished figure's picture, or the one that the selected surface's run or outline lies on.
 */
static int
find_picture (TsFinishView *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  const TsPlan *plan = ts_document_get_plan (document);
  const TsSurface *surface = ts_view_get_surface (TS_VIEW (self));

  if (plan == NULL)
    return -1;
  if (self->role == TS_ROLE_REFERENCE && surface != NULL && surface->runs->len > 0)
    return (int) ts_surface_get_run (surface, 0)->picture;
  if (self->role == TS_ROLE_REFERENCE && surface != NULL && surface->outline != NULL)
    return (int) surface->outline->picture;
  return ts_plan_find_picture (plan, self->role);
}

static gboolean
tell_moved (gpointer data)
{
  TsFinishView *self = data;

  self->moved_idle = 0;
  g_signal_emit (self, signals[MOVED], 0);
  return G_SOURCE_REMOVE;
}

/* Told later: this is also called while sizes are being given out. */
static void
tell_later (TsFinishView *self)
{
  if (self->role == TS_ROLE_FINISHED && self->moved_idle == 0)
    self->moved_idle = g_idle_add (tell_moved, self);
}

static void
take_image (TsFinishView *self)
{
  TsImage *image = NULL;

  self->picture = find_picture (self);
  if (self->picture >= 0)
    image = ts_document_get_image (ts_view_get_document (TS_VIEW (self)), (guint) self->picture);
  if (image == self->image)
    return;
  g_clear_pointer (&self->image, ts_image_unref);
  self->image = image != NULL ? ts_image_ref (image) : NULL;
  ts_texture_set_image (self->texture, image, self->look);
  self->fitted = get_fit (self);
  tell_later (self);
}

static void
draw_picture (TsFinishView *self, cairo_t *cr)
{
  double zoom = ts_finish_view_get_zoom (self);
  TsPoint origin = get_origin (self), from = ts_finish_view_to_picture (self, 0, 0);
  TsPoint to = ts_finish_view_to_picture (self, gtk_widget_get_width (GTK_WIDGET (self)),
                                          gtk_widget_get_height (GTK_WIDGET (self)));

  cairo_save (cr);
  cairo_translate (cr, origin.x, origin.y);
  cairo_scale (cr, zoom, zoom);
  ts_texture_draw (
    self->texture, cr, from.x, from.y, to.x - from.x, to.y - from.y,
    zoom * gtk_widget_get_scale_factor (GTK_WIDGET (self)),
    self->look == TS_LOOK_ARMS_LENGTH ? ts_look_get_blur (TS_VIEW (self), self->image) : 1);
  cairo_restore (cr);
}

static void
draw_words (TsFinishView *self, cairo_t *cr)
{
  GtkWidget *widget = GTK_WIDGET (self);
  gboolean finished = self->role == TS_ROLE_FINISHED;
  const char *text = finished ? _ ("finished") : _ ("reference");
  double width, height;

  if (self->placing_card)
    text = _ ("click on the grey card");
  else if (self->image == NULL)
    text = finished ? _ ("the photo cannot be read") : _ ("the reference cannot be read");
  ts_draw_pill_size (widget, text, &width, &height);
  ts_draw_pill (cr, widget, text, PILL_FROM_EDGE + width / 2.0, PILL_FROM_EDGE + height / 2.0);
}

static void
ts_finish_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TsFinishView *self = TS_FINISH_VIEW (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height));
  TsPalette palette;

  ts_palette_get (widget, &palette);
  gdk_cairo_set_source_rgba (cr, &palette.field);
  cairo_paint (cr);
  if (self->image != NULL)
    {
      draw_picture (self, cr);
      ts_finish_view_draw_lines (self, cr);
    }
  draw_words (self, cr);
  if (gtk_widget_has_visible_focus (widget))
    ts_draw_focus (cr, &palette.text, 0, 0, width, height);
  cairo_destroy (cr);
}

static void
ts_finish_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                        int *natural, int *minimum_baseline, int *natural_baseline)
{
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 100 : 120;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 300 : 400;
}

/* From the whole picture on; pixel by pixel it may be smaller than its view, or very much larger.
 */
double
ts_finish_view_hold_factor (TsFinishView *self, double factor)
{
  double one = 1.0 / get_fit (self);

  return CLAMP (factor, MIN (1.0, one), MAX (MOST_FACTOR, one));
}

void
ts_finish_view_move_to (TsFinishView *self, double factor, double middle_x, double middle_y)
{
  self->factor = ts_finish_view_hold_factor (self, factor);
  self->middle_x = self->factor > 1.0 ? CLAMP (middle_x, 0.0, 1.0) : 0.5;
  self->middle_y = self->factor > 1.0 ? CLAMP (middle_y, 0.0, 1.0) : 0.5;
  gtk_widget_queue_draw (GTK_WIDGET (self));
  g_signal_emit (self, signals[MOVED], 0);
}

/* What is enlarged keeps its zoom in a view of another size; told when sizes have been given out.
 */
static void
ts_finish_view_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  TsFinishView *self = TS_FINISH_VIEW (widget);
  double fit = get_fit (self);

  if (self->image == NULL || fit == self->fitted)
    return;
  if (self->factor != 1.0 && self->fitted > 0.0)
    self->factor *= self->fitted / fit;
  self->fitted = fit;
  tell_later (self);
}

static void
ts_finish_view_update (TsView *view, TsChange change)
{
  TsFinishView *self = TS_FINISH_VIEW (view);
  const GArray *points;

  take_image (self);
  if (self->focus_line >= ts_finish_view_count_lines (self))
    self->focus_line = 0;
  points = ts_finish_view_get_points (self, self->focus_line);
  if (points != NULL && self->focus >= (int) points->len)
    self->focus = 0;
  ts_finish_view_describe (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
ts_finish_view_dispose (GObject *object)
{
  TsFinishView *self = TS_FINISH_VIEW (object);

  g_clear_handle_id (&self->moved_idle, g_source_remove);
  g_clear_object (&self->texture);
  g_clear_pointer (&self->image, ts_image_unref);
  G_OBJECT_CLASS (ts_finish_view_parent_class)->dispose (object);
}

static void
ts_finish_view_class_init (TsFinishViewClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ts_finish_view_dispose;
  widget_class->snapshot = ts_finish_view_snapshot;
  widget_class->measure = ts_finish_view_measure;
  widget_class->size_allocate = ts_finish_view_size_allocate;
  TS_VIEW_CLASS (class)->update = ts_finish_view_update;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
  signals[MOVED] = g_signal_new ("moved", TS_TYPE_FINISH_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                 NULL, G_TYPE_NONE, 0);
}

static void
ts_finish_view_init (TsFinishView *self)
{
  GtkWidget *widget = GTK_WIDGET (self);

  self->factor = 1.0;
  self->middle_x = self->middle_y = 0.5;
  self->picture = -1;
  self->held = TS_FINISH_NOTHING;
  self->texture = ts_texture_new ();
  g_signal_connect_object (self->texture, "changed", G_CALLBACK (gtk_widget_queue_draw), self,
                           G_CONNECT_SWAPPED);
  gtk_widget_set_focusable (widget, TRUE);
  gtk_widget_set_overflow (widget, GTK_OVERFLOW_HIDDEN);
  gtk_widget_set_hexpand (widget, TRUE);
  gtk_widget_set_vexpand (widget, TRUE);
  ts_finish_view_add_input (self);
}

/**
 * ts_finish_view_set_role:
 * @self: the view
 * @role: which of the two it shows
 */
void
ts_finish_view_set_role (TsFinishView *self, TsPictureRole role)
{
  g_return_if_fail (TS_IS_FINISH_VIEW (self));

  self->role = role;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/**
 * ts_finish_view_set_look:
 * @self: the view
 * @look: as it is, by lightness alone, or as from arm's length
 */
void
ts_finish_view_set_look (TsFinishView *self, TsLook look)
{
  g_return_if_fail (TS_IS_FINISH_VIEW (self));

  self->look = look;
  ts_texture_set_image (self->texture, self->image, look);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/**
 * ts_finish_view_follow:
 * @self: the view
 * @other: the view beside it
 *
 * Shows the same part of its picture as the other does.
 */
void
ts_finish_view_follow (TsFinishView *self, TsFinishView *other)
{
  self->factor = other->factor;
  self->middle_x = other->middle_x;
  self->middle_y = other->middle_y;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/**
 * ts_finish_view_fit:
 * @self: the view
 *
 * Shows the whole picture.
 */
void
ts_finish_view_fit (TsFinishView *self)
{
  g_return_if_fail (TS_IS_FINISH_VIEW (self));

  ts_finish_view_move_to (self, 1.0, 0.5, 0.5);
}

/**
 * ts_finish_view_is_fitted:
 * @self: the view
 *
 * Returns: whether the whole picture is shown
 */
gboolean
ts_finish_view_is_fitted (TsFinishView *self)
{
  g_return_val_if_fail (TS_IS_FINISH_VIEW (self), FALSE);

  return self->factor == 1.0;
}

/**
 * ts_finish_view_set_zoom:
 * @self: the view
 * @zoom: screen pixels to one of the picture
 *
 * Shows the picture larger or smaller about the middle.
 */
void
ts_finish_view_set_zoom (TsFinishView *self, double zoom)
{
  g_return_if_fail (TS_IS_FINISH_VIEW (self));

  ts_finish_view_move_to (self, zoom / get_fit (self), self->middle_x, self->middle_y);
}

/**
 * ts_finish_view_place_card:
 * @self: the view
 *
 * Lets the painter point at a grey card.
 */
void
ts_finish_view_place_card (TsFinishView *self)
{
  g_return_if_fail (TS_IS_FINISH_VIEW (self));

  self->placing_card = self->image != NULL;
  gtk_widget_grab_focus (GTK_WIDGET (self));
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
