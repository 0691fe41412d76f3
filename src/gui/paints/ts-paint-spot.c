/* ts-paint-spot.c: the shown picture, small, to measure one spot of it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/paints/ts-paint-spot.h"

#include <glib/gi18n.h>
#include <math.h>

#include "gui/widgets/ts-draw.h"
#include "gui/widgets/ts-format.h"
#include "gui/widgets/ts-palette.h"
#include "gui/pixels/ts-texture.h"

#define SPOT_RADIUS 5.0 /* of the measured disc on the screen */
#define KEY_STEP 1.0    /* screen pixels a key moves; ten with Shift */
#define LEAST_HEIGHT 150

struct _TsPaintSpot
{
  TsView parent_instance;

  /* Owned */
  TsTexture *texture;
  TsImage *image; /* nullable */
  char *question; /* nullable */

  gboolean measured;
  TsSpot spot;
  TsPoint cross; /* picture, for the keyboard */
};

enum
{
  MEASURED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (TsPaintSpot, ts_paint_spot, TS_TYPE_VIEW)

static double
get_zoom (TsPaintSpot *self)
{
  double width = gtk_widget_get_width (GTK_WIDGET (self));
  double height = gtk_widget_get_height (GTK_WIDGET (self));

  return MAX (1e-4, MIN (width / ts_image_get_width (self->image),
                         height / ts_image_get_height (self->image)));
}

static TsPoint
get_origin (TsPaintSpot *self)
{
  double zoom = get_zoom (self);

  return (TsPoint){
    (gtk_widget_get_width (GTK_WIDGET (self)) - zoom * ts_image_get_width (self->image)) / 2.0,
    (gtk_widget_get_height (GTK_WIDGET (self)) - zoom * ts_image_get_height (self->image)) / 2.0
  };
}

static TsPoint
to_widget (TsPaintSpot *self, double x, double y)
{
  TsPoint origin = get_origin (self);
  double zoom = get_zoom (self);

  return (TsPoint){ origin.x + x * zoom, origin.y + y * zoom };
}

static void
describe (TsPaintSpot *self)
{
  g_autofree char *colour = self->measured ? ts_format_lab (self->spot.lab) : NULL;
  g_autofree char *words =
    self->measured
      ? g_strdup_printf (_ ("spot at %.0f, %.0f: %s"), self->spot.x, self->spot.y, colour)
      : g_strdup_printf (_ ("cross at %.0f, %.0f; Return measures"), self->cross.x, self->cross.y);

  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Picture to measure a spot of"),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words, -1);
}

static void
measure (TsPaintSpot *self, double x, double y)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  TsCorrection *correction =
    ts_document_get_correction (document, ts_document_get_shown_picture (document));
  double radius = CLAMP (SPOT_RADIUS / get_zoom (self), 1.5, 1000.0);
  g_autoptr (GError) error = NULL;

  if (self->image == NULL || correction == NULL)
    return;
  if (!ts_spot_measure (self->image, correction, x, y, radius, &self->spot, &error))
    {
      g_signal_emit_by_name (document, "message", error->message, NULL, NULL);
      return;
    }
  self->measured = TRUE;
  describe (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
  g_signal_emit (self, signals[MEASURED], 0);
}

static void
on_pressed (GtkGestureClick *gesture, int n_press, double x, double y, TsPaintSpot *self)
{
  TsPoint origin;

  gtk_widget_grab_focus (GTK_WIDGET (self));
  if (self->image == NULL)
    return;
  origin = get_origin (self);
  self->cross = (TsPoint){ (x - origin.x) / get_zoom (self), (y - origin.y) / get_zoom (self) };
  measure (self, self->cross.x, self->cross.y);
}

static gboolean
on_key (GtkEventControllerKey *keys, guint key, guint code, GdkModifierType state,
        TsPaintSpot *self)
{
  double step = (state & GDK_SHIFT_MASK ? 10.0 : 1.0) * KEY_STEP;

  if (self->image == NULL || state & (GDK_CONTROL_MASK | GDK_ALT_MASK))
    return FALSE;
  step /= get_zoom (self);
  if (key == GDK_KEY_Left || key == GDK_KEY_Right)
    self->cross.x += key == GDK_KEY_Left ? -step : step;
  else if (key == GDK_KEY_Up || key == GDK_KEY_Down)
    self->cross.y += key == GDK_KEY_Up ? -step : step;
  else if (key == GDK_KEY_Return || key == GDK_KEY_KP_Enter)
    measure (self, self->cross.x, self->cross.y);
  else
    return FALSE;
  self->cross.x = CLAMP (self->cross.x, 0.5, ts_image_get_width (self->image) - 0.5);
  self->cross.y = CLAMP (self->cross.y, 0.5, ts_image_get_height (self->image) - 0.5);
  describe (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
  return TRUE;
}

static void
draw_picture (TsPaintSpot *self, cairo_t *cr)
{
  double zoom = get_zoom (self);
  TsPoint origin = get_origin (self);

  cairo_save (cr);
  cairo_translate (cr, origin.x, origin.y);
  cairo_scale (cr, zoom, zoom);
  ts_texture_draw (self->texture, cr, 0.0, 0.0, ts_image_get_width (self->image),
                   ts_image_get_height (self->image),
                   zoom * gtk_widget_get_scale_factor (GTK_WIDGET (self)), 1);
  cairo_restore (cr);
  if (self->measured)
    ts_draw_ring (cr, to_widget (self, self->spot.x, self->spot.y),
                  MAX (SPOT_RADIUS, self->spot.radius * zoom), 1.6);
  if (gtk_widget_has_visible_focus (GTK_WIDGET (self)))
    {
      TsPoint at = to_widget (self, self->cross.x, self->cross.y);

      cairo_move_to (cr, at.x - 9.0, at.y);
      cairo_line_to (cr, at.x + 9.0, at.y);
      cairo_move_to (cr, at.x, at.y - 9.0);
      cairo_line_to (cr, at.x, at.y + 9.0);
      ts_draw_stroke_over (cr, 1.2);
    }
}

static void
ts_paint_spot_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TsPaintSpot *self = TS_PAINT_SPOT (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  TsPalette palette;
  cairo_t *cr = ts_draw_field (widget, snapshot, &palette);

  if (self->image != NULL)
    draw_picture (self, cr);
  if (self->question != NULL)
    ts_draw_pill (cr, widget, self->question, width / 2.0, 16.0);
  if (gtk_widget_has_visible_focus (widget))
    ts_draw_focus (cr, &palette.text, 0, 0, width, height);
  cairo_destroy (cr);
}

static void
ts_paint_spot_update (TsView *view, TsChange change)
{
  TsPaintSpot *self = TS_PAINT_SPOT (view);
  TsDocument *document = ts_view_get_document (view);
  TsImage *image = ts_document_get_image (document, ts_document_get_shown_picture (document));

  if (image == self->image)
    return;
  g_clear_pointer (&self->image, ts_image_unref);
  self->image = image != NULL ? ts_image_ref (image) : NULL;
  self->measured = FALSE;
  if (image != NULL)
    self->cross = (TsPoint){ ts_image_get_width (image) / 2.0, ts_image_get_height (image) / 2.0 };
  ts_texture_set_image (self->texture, image, TS_LOOK_COLOUR);
  describe (self);
}

static void
ts_paint_spot_finalize (GObject *object)
{
  TsPaintSpot *self = TS_PAINT_SPOT (object);

  g_clear_object (&self->texture);
  g_clear_pointer (&self->image, ts_image_unref);
  g_free (self->question);
  G_OBJECT_CLASS (ts_paint_spot_parent_class)->finalize (object);
}

static void
ts_paint_spot_class_init (TsPaintSpotClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = ts_paint_spot_finalize;
  widget_class->snapshot = ts_paint_spot_snapshot;
  TS_VIEW_CLASS (class)->update = ts_paint_spot_update;
  signals[MEASURED] = g_signal_new ("measured", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                                    NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
ts_paint_spot_init (TsPaintSpot *self)
{
  GtkGesture *click = gtk_gesture_click_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->texture = ts_texture_new ();
  g_signal_connect_object (self->texture, "changed", G_CALLBACK (gtk_widget_queue_draw), self,
                           G_CONNECT_SWAPPED);
  gtk_widget_set_size_request (GTK_WIDGET (self), 160, LEAST_HEIGHT);
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  g_signal_connect (click, "pressed", G_CALLBACK (on_pressed), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (click));
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  describe (self);
}

/**
 * ts_paint_spot_get:
 * @self: the view
 *
 * Returns: (transfer none) (nullable): the spot that was measured last on this picture
 */
const TsSpot *
ts_paint_spot_get (TsPaintSpot *self)
{
  g_return_val_if_fail (TS_IS_PAINT_SPOT (self), NULL);

  return self->measured ? &self->spot : NULL;
}

/**
 * ts_paint_spot_clear:
 * @self: the view
 *
 * Forgets the spot.
 */
void
ts_paint_spot_clear (TsPaintSpot *self)
{
  g_return_if_fail (TS_IS_PAINT_SPOT (self));

  self->measured = FALSE;
  describe (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/**
 * ts_paint_spot_ask:
 * @self: the view
 * @text: (nullable): what a click is for
 */
void
ts_paint_spot_ask (TsPaintSpot *self, const char *text)
{
  g_return_if_fail (TS_IS_PAINT_SPOT (self));

  g_free (self->question);
  self->question = g_strdup (text);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
