/* ts-beside-view.c: a second picture beside the first, or the same with other eyes
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/picture/ts-beside-view.h"

#include <glib/gi18n.h>
#include <math.h>

#include "gui/widgets/ts-draw.h"
#include "gui/pixels/ts-look.h"
#include "gui/widgets/ts-palette.h"

#define ZOOM_STEP 1.25
#define PAN_STEP 40.0
#define RING 6.5

struct _TsBesideView
{
  TsView parent_instance;

  /* Owned */
  TsTexture *texture;
  TsImage *image;

  TsImageView *followed; /* borrowed: outlives it */
  TsBeside look;
  TsLook shown; /* what the texture has */
  int picture;  /* index, or -1: the same */

  gboolean has_pointer;
  TsPoint pointer, last; /* widget */
  double pinched;
};

enum
{
  POINTER_MOVED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (TsBesideView, ts_beside_view, TS_TYPE_VIEW)

/* widget = picture * zoom + x, y */
typedef struct
{
  double zoom, x, y;
} Place;

static gboolean
is_same (TsBesideView *self)
{
  return self->picture < 0;
}

static double
get_fit (TsBesideView *self, const TsImage *image)
{
  return MIN (gtk_widget_get_width (GTK_WIDGET (self)) / (double) ts_image_get_full_width (image),
              gtk_widget_get_height (GTK_WIDGET (self)) /
                (double) ts_image_get_full_height (image));
}

/* Where the followed picture stands in the middle of its view, 0 to 1 each way. */
static TsPoint
get_middle (TsBesideView *self, const TsImage *followed)
{
  TsPoint middle =
    ts_image_view_to_picture (self->followed, gtk_widget_get_width (GTK_WIDGET (self)) / 2.0,
                              gtk_widget_get_height (GTK_WIDGET (self)) / 2.0);

  return (TsPoint){ middle.x / ts_image_get_full_width (followed),
                    middle.y / ts_image_get_full_height (followed) };
}

/* The same pixels in the same place; of another picture the same part of the whole. */
static Place
get_place (TsBesideView *self)
{
  TsPoint corner = ts_image_view_to_widget (self->followed, (TsPoint){ 0.0, 0.0 });
  Place place = { ts_image_view_get_zoom (self->followed), corner.x, corner.y };
  TsImage *followed = ts_image_view_get_image (self->followed);
  TsPoint middle;

  if (is_same (self) || followed == NULL)
    return place;
  middle = get_middle (self, followed);
  place.zoom *= get_fit (self, self->image) / get_fit (self, followed);
  place.x = gtk_widget_get_width (GTK_WIDGET (self)) / 2.0 -
            middle.x * ts_image_get_full_width (self->image) * place.zoom;
  place.y = gtk_widget_get_height (GTK_WIDGET (self)) / 2.0 -
            middle.y * ts_image_get_full_height (self->image) * place.zoom;
  return place;
}

/* The place of the followed view that shows what stands at @x, @y here. */
static TsPoint
to_followed (TsBesideView *self, double x, double y)
{
  TsImage *followed = ts_image_view_get_image (self->followed);
  Place place;

  if (is_same (self) || followed == NULL || self->image == NULL)
    return (TsPoint){ x, y };
  place = get_place (self);
  x = (x - place.x) / place.zoom / ts_image_get_full_width (self->image);
  y = (y - place.y) / place.zoom / ts_image_get_full_height (self->image);
  return ts_image_view_to_widget (
    self->followed,
    (TsPoint){ x * ts_image_get_full_width (followed), y * ts_image_get_full_height (followed) });
}

static TsPoint
to_picture (TsBesideView *self, double x, double y)
{
  Place place = get_place (self);

  return (TsPoint){ (x - place.x) / place.zoom, (y - place.y) / place.zoom };
}

/* Another picture is looked at with the same eyes as the first. */
static TsLook
get_look (TsBesideView *self)
{
  if (!is_same (self))
    return ts_image_view_get_look (self->followed);
  switch (self->look)
    {
    case TS_BESIDE_VALUES:
    case TS_BESIDE_STEPS:
      return TS_LOOK_VALUES;
    case TS_BESIDE_ARMS_LENGTH:
      return TS_LOOK_ARMS_LENGTH;
    case TS_BESIDE_AS_IT_IS:
    case TS_BESIDE_N_LOOKS:
    default:
      return TS_LOOK_COLOUR;
    }
}

static guint
get_index (TsBesideView *self)
{
  return is_same (self) ? ts_document_get_shown_picture (ts_view_get_document (TS_VIEW (self)))
                        : (guint) self->picture;
}

/* A plan that has no such picture any more shows the same again. */
static void
hold_picture (TsBesideView *self)
{
  const TsPlan *plan = ts_document_get_plan (ts_view_get_document (TS_VIEW (self)));

  if (plan == NULL || self->picture >= (int) plan->pictures->len)
    self->picture = -1;
}

static void
describe (TsBesideView *self)
{
  const TsPlan *plan = ts_document_get_plan (ts_view_get_document (TS_VIEW (self)));
  g_autofree char *what = NULL, *name = NULL;

  if (is_same (self) || plan == NULL)
    what = ts_look_dup_words (TS_VIEW (self), get_look (self), self->look == TS_BESIDE_STEPS);
  else
    what = ts_look_dup_picture (ts_plan_get_picture (plan, (guint) self->picture));
  name = g_strdup_printf (_ ("Beside it: %s"), what);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  _ ("It moves and zooms with the picture."), -1);
}

static void
take_image (TsBesideView *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  TsImage *image = NULL;
  guint8 codes[256];

  if (document == NULL || self->followed == NULL)
    return;
  hold_picture (self);
  image = is_same (self) ? ts_image_view_get_image (self->followed)
                         : ts_document_get_image (document, (guint) self->picture);
  if (image != self->image || self->shown != get_look (self))
    {
      if (image != NULL)
        ts_image_ref (image);
      g_clear_pointer (&self->image, ts_image_unref);
      self->image = image;
      self->shown = get_look (self);
      ts_texture_set_image (self->texture, image, self->shown);
    }
  if (is_same (self) && self->look == TS_BESIDE_STEPS &&
      ts_look_find_steps (TS_VIEW (self), get_index (self), codes))
    ts_texture_set_steps (self->texture, codes);
  else
    ts_texture_set_steps (self->texture, NULL);
}

static void
draw_picture (TsBesideView *self, cairo_t *cr, int width, int height)
{
  int scale = gtk_widget_get_scale_factor (GTK_WIDGET (self));
  Place place = get_place (self);

  cairo_save (cr);
  cairo_translate (cr, round (place.x * scale) / scale, round (place.y * scale) / scale);
  cairo_scale (cr, place.zoom, place.zoom);
  ts_texture_draw (
    self->texture, cr, -place.x / place.zoom, -place.y / place.zoom, width / place.zoom,
    height / place.zoom, place.zoom * scale,
    get_look (self) == TS_LOOK_ARMS_LENGTH ? ts_look_get_blur (TS_VIEW (self), self->image) : 1);
  cairo_restore (cr);
}

/* Where the pointer is in the picture that is followed. */
static void
draw_pointer (TsBesideView *self, cairo_t *cr)
{
  TsImage *followed = ts_image_view_get_image (self->followed);
  Place place = get_place (self);
  TsPoint at;

  if (followed == NULL || !ts_image_view_get_pointer (self->followed, &at))
    return;
  if (!is_same (self))
    {
      at.x *= ts_image_get_full_width (self->image) / (double) ts_image_get_full_width (followed);
      at.y *= ts_image_get_full_height (self->image) / (double) ts_image_get_full_height (followed);
    }
  ts_draw_ring (cr, (TsPoint){ at.x * place.zoom + place.x, at.y * place.zoom + place.y }, RING,
                1.4);
}

static void
ts_beside_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TsBesideView *self = TS_BESIDE_VIEW (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  TsPalette palette;
  cairo_t *cr = ts_draw_field (widget, snapshot, &palette);

  if (self->image != NULL && self->followed != NULL)
    {
      draw_picture (self, cr, width, height);
      draw_pointer (self, cr);
    }
  if (gtk_widget_has_visible_focus (widget))
    ts_draw_focus (cr, &palette.text, 0, 0, width, height);
  cairo_destroy (cr);
}

static void
ts_beside_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                        int *natural, int *minimum_baseline, int *natural_baseline)
{
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 200 : 120;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 600 : 400;
}

static void
ts_beside_view_update (TsView *view, TsChange change)
{
  if (change == TS_CHANGE_BUSY || !gtk_widget_get_mapped (GTK_WIDGET (view)))
    return;
  take_image (TS_BESIDE_VIEW (view));
  describe (TS_BESIDE_VIEW (view));
  gtk_widget_queue_draw (GTK_WIDGET (view));
}

/* What nobody sees costs nothing. */
static void
ts_beside_view_map (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (ts_beside_view_parent_class)->map (widget);
  if (ts_view_get_document (TS_VIEW (widget)) != NULL)
    ts_beside_view_update (TS_VIEW (widget), TS_CHANGE_ALL);
}

static void
ts_beside_view_dispose (GObject *object)
{
  TsBesideView *self = TS_BESIDE_VIEW (object);

  g_clear_object (&self->texture);
  g_clear_pointer (&self->image, ts_image_unref);
  G_OBJECT_CLASS (ts_beside_view_parent_class)->dispose (object);
}

static void
ts_beside_view_class_init (TsBesideViewClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ts_beside_view_dispose;
  widget_class->snapshot = ts_beside_view_snapshot;
  widget_class->measure = ts_beside_view_measure;
  widget_class->map = ts_beside_view_map;
  TS_VIEW_CLASS (class)->update = ts_beside_view_update;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
  gtk_widget_class_set_css_name (widget_class, "besideview");
  signals[POINTER_MOVED] = g_signal_new ("pointer-moved", TS_TYPE_BESIDE_VIEW, G_SIGNAL_RUN_LAST, 0,
                                         NULL, NULL, NULL, G_TYPE_NONE, 0);
}

/* The followed view marks the same place. */
static void
tell_pointer (TsBesideView *self)
{
  TsPoint at = to_followed (self, self->pointer.x, self->pointer.y);
  gboolean on = self->has_pointer && self->image != NULL;

  at = ts_image_view_to_picture (self->followed, at.x, at.y);
  ts_image_view_set_mark (self->followed, on ? &at : NULL);
  g_signal_emit (self, signals[POINTER_MOVED], 0);
}

static void
on_motion (GtkEventControllerMotion *motion, double x, double y, TsBesideView *self)
{
  self->pointer = (TsPoint){ x, y };
  self->has_pointer = TRUE;
  tell_pointer (self);
}

static void
on_leave (GtkEventControllerMotion *motion, TsBesideView *self)
{
  self->has_pointer = FALSE;
  tell_pointer (self);
}

/* About the same part of the picture as is under @x, @y here. */
static void
zoom_at (TsBesideView *self, double by, double x, double y)
{
  TsPoint at = to_followed (self, x, y);

  ts_image_view_zoom_at (self->followed, ts_image_view_get_zoom (self->followed) * by, at.x, at.y);
}

static void
pan (TsBesideView *self, double dx, double dy)
{
  TsImage *followed = ts_image_view_get_image (self->followed);
  double by = 1.0;

  if (self->image == NULL || followed == NULL)
    return;
  if (!is_same (self))
    by = get_fit (self, followed) * ts_image_get_full_height (followed) /
         (get_fit (self, self->image) * ts_image_get_full_height (self->image));
  ts_image_view_pan (self->followed, dx * by, dy * by);
}

static void
on_drag_begin (GtkGestureDrag *gesture, double x, double y, TsBesideView *self)
{
  gtk_widget_grab_focus (GTK_WIDGET (self));
  self->last = (TsPoint){ 0.0, 0.0 };
}

static void
on_drag_update (GtkGestureDrag *gesture, double dx, double dy, TsBesideView *self)
{
  pan (self, dx - self->last.x, dy - self->last.y);
  self->last = (TsPoint){ dx, dy };
}

static gboolean
on_scroll (GtkEventControllerScroll *scroll, double dx, double dy, TsBesideView *self)
{
  GdkModifierType state =
    gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (scroll));
  gboolean fingers = gtk_event_controller_scroll_get_unit (scroll) == GDK_SCROLL_UNIT_SURFACE;

  if (self->image == NULL)
    return FALSE;
  if (fingers && !(state & GDK_CONTROL_MASK))
    pan (self, -dx, -dy);
  else
    zoom_at (self, pow (ZOOM_STEP, fingers ? -dy / 20.0 : -dy), self->pointer.x, self->pointer.y);
  return TRUE;
}

static void
on_pinch_begin (GtkGesture *gesture, GdkEventSequence *sequence, TsBesideView *self)
{
  self->pinched = 1.0;
}

static void
on_pinch (GtkGestureZoom *gesture, double scale, TsBesideView *self)
{
  double x, y;

  if (gtk_gesture_get_bounding_box_center (GTK_GESTURE (gesture), &x, &y) && scale > 0.0)
    zoom_at (self, scale / self->pinched, x, y);
  self->pinched = scale > 0.0 ? scale : self->pinched;
}

static gboolean
on_key_pressed (GtkEventControllerKey *keys, guint keyval, guint code, GdkModifierType state,
                TsBesideView *self)
{
  if (state & (GDK_CONTROL_MASK | GDK_ALT_MASK) || self->image == NULL)
    return FALSE;
  switch (keyval)
    {
    case GDK_KEY_Left:
      pan (self, PAN_STEP, 0.0);
      return TRUE;
    case GDK_KEY_Right:
      pan (self, -PAN_STEP, 0.0);
      return TRUE;
    case GDK_KEY_Up:
      pan (self, 0.0, PAN_STEP);
      return TRUE;
    case GDK_KEY_Down:
      pan (self, 0.0, -PAN_STEP);
      return TRUE;
    default:
      return ts_image_view_zoom_key (self->followed, keyval) ||
             ts_image_view_look_key (GTK_WIDGET (self), keyval);
    }
}

static void
add_drags (GtkWidget *widget, TsBesideView *self)
{
  const guint buttons[] = { GDK_BUTTON_PRIMARY, GDK_BUTTON_MIDDLE };

  for (guint i = 0; i < G_N_ELEMENTS (buttons); i++)
    {
      GtkGesture *drag = gtk_gesture_drag_new ();

      gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (drag), buttons[i]);
      g_signal_connect (drag, "drag-begin", G_CALLBACK (on_drag_begin), self);
      g_signal_connect (drag, "drag-update", G_CALLBACK (on_drag_update), self);
      gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (drag));
    }
}

static void
ts_beside_view_init (TsBesideView *self)
{
  GtkWidget *widget = GTK_WIDGET (self);
  GtkEventController *motion = gtk_event_controller_motion_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkEventController *scroll =
    gtk_event_controller_scroll_new (GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES);
  GtkGesture *pinch = gtk_gesture_zoom_new ();

  self->picture = -1;
  self->look = TS_BESIDE_VALUES;
  self->texture = ts_texture_new ();
  g_signal_connect_object (self->texture, "changed", G_CALLBACK (gtk_widget_queue_draw), self,
                           G_CONNECT_SWAPPED);
  gtk_widget_set_focusable (widget, TRUE);
  gtk_widget_set_overflow (widget, GTK_OVERFLOW_HIDDEN);
  gtk_widget_set_hexpand (widget, TRUE);
  gtk_widget_set_vexpand (widget, TRUE);
  gtk_widget_set_cursor_from_name (widget, "grab");
  add_drags (widget, self);
  g_signal_connect (motion, "enter", G_CALLBACK (on_motion), self);
  g_signal_connect (motion, "motion", G_CALLBACK (on_motion), self);
  g_signal_connect (motion, "leave", G_CALLBACK (on_leave), self);
  gtk_widget_add_controller (widget, motion);
  g_signal_connect (scroll, "scroll", G_CALLBACK (on_scroll), self);
  gtk_widget_add_controller (widget, scroll);
  g_signal_connect (pinch, "begin", G_CALLBACK (on_pinch_begin), self);
  g_signal_connect (pinch, "scale-changed", G_CALLBACK (on_pinch), self);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (pinch));
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key_pressed), self);
  gtk_widget_add_controller (widget, keys);
}

static void
on_followed (TsBesideView *self)
{
  if (!gtk_widget_get_mapped (GTK_WIDGET (self)))
    return;
  take_image (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/**
 * ts_beside_view_follow:
 * @self: a new view
 * @view: the view beside it, which outlives it
 *
 * Moves and zooms with the other from now on.
 */
void
ts_beside_view_follow (TsBesideView *self, TsImageView *view)
{
  g_return_if_fail (TS_IS_BESIDE_VIEW (self));

  self->followed = view;
  g_signal_connect_object (view, "view-changed", G_CALLBACK (on_followed), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (view, "pointer-moved", G_CALLBACK (gtk_widget_queue_draw), self,
                           G_CONNECT_SWAPPED);
}

/**
 * ts_beside_view_show:
 * @self: the view
 * @look: with which eyes; another picture is shown as it is
 * @picture: index of another picture of the plan, or -1 for the one that is followed
 */
void
ts_beside_view_show (TsBesideView *self, TsBeside look, int picture)
{
  g_return_if_fail (TS_IS_BESIDE_VIEW (self));

  self->look = look;
  self->picture = picture;
  if (ts_view_get_document (TS_VIEW (self)) != NULL)
    ts_beside_view_update (TS_VIEW (self), TS_CHANGE_ALL);
}

/**
 * ts_beside_view_get_pointer:
 * @self: the view
 * @picture: (out): index of the picture that it shows
 * @place: (out): where the pointer is on it, upright pixels
 *
 * Returns: whether the pointer is on the picture
 */
gboolean
ts_beside_view_get_pointer (TsBesideView *self, guint *picture, TsPoint *place)
{
  g_return_val_if_fail (TS_IS_BESIDE_VIEW (self), FALSE);

  if (!self->has_pointer || self->image == NULL || self->followed == NULL ||
      !gtk_widget_get_mapped (GTK_WIDGET (self)))
    return FALSE;
  *picture = get_index (self);
  *place = to_picture (self, self->pointer.x, self->pointer.y);
  return place->x >= 0.0 && place->y >= 0.0 && place->x < ts_image_get_full_width (self->image) &&
         place->y < ts_image_get_full_height (self->image);
}
