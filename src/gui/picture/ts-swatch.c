/* ts-swatch.c: a comparison swatch: a step's colour laid on the picture
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/picture/ts-swatch.h"

#include <glib/gi18n.h>
#include <math.h>

#include "gui/widgets/ts-draw.h"
#include "gui/widgets/ts-format.h"
#include "gui/widgets/ts-palette.h"

#define RADIUS 22.0      /* of the disc, pixels of the window */
#define RING 26.0        /* of the mark of focus: it does not touch the colour */
#define MOST_RADIUS 60.0 /* of what is measured, pixels of the picture: enough to be sure */
#define FAR_STEP 10.0
#define PILL_GAP 6.0

struct _TsSwatch
{
  GtkWidget parent_instance;

  TsImageView *view; /* borrowed: the parent */
  TsPoint place;     /* upright pixels */
  gboolean wanted;   /* not what is mixed */

  gboolean hovered;
  char *words; /* owned */
};

enum
{
  MOVED,
  REMOVED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (TsSwatch, ts_swatch, GTK_TYPE_WIDGET)

static TsDocument *
get_document (TsSwatch *self)
{
  return ts_view_get_document (TS_VIEW (self->view));
}

typedef struct
{
  int step;
  gboolean wanted;
  TsLab lab;
  double error; /* 95 % radius of what is mixed */
} Colour;

/* FALSE without a step. */
static gboolean
find_colour (TsSwatch *self, Colour *colour)
{
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (self->view));
  guint step;

  colour->step = ts_document_get_selected_step (get_document (self));
  if (result == NULL || colour->step < 0 ||
      colour->step >= (int) ts_surface_result_get_n_steps (result))
    return FALSE;
  step = (guint) colour->step;
  colour->wanted = self->wanted || ts_surface_result_get_recipe (result, step) == NULL;
  colour->lab = colour->wanted
                  ? ts_stair_get_step (ts_surface_result_get_stair (result), step)->wanted
                  : ts_surface_result_get_colour (result, step);
  colour->error = colour->wanted ? 0.0 : ts_surface_result_get_error (result, step);
  return TRUE;
}

/* What the disc covers. */
static gboolean
measure (TsSwatch *self, TsSpot *spot)
{
  TsDocument *document = get_document (self);
  guint shown = ts_document_get_shown_picture (document);
  double radius = CLAMP (RADIUS / ts_image_view_get_zoom (self->view), 0.5, MOST_RADIUS);

  return ts_document_get_image (document, shown) != NULL &&
         ts_document_get_correction (document, shown) != NULL &&
         ts_spot_measure (ts_document_get_image (document, shown),
                          ts_document_get_correction (document, shown), self->place.x,
                          self->place.y, radius, spot, NULL);
}

static void
describe (TsSwatch *self)
{
  g_autofree char *name = NULL, *here = NULL, *laid = NULL, *description = NULL;
  Colour colour;
  TsSpot spot;

  g_clear_pointer (&self->words, g_free);
  if (!find_colour (self, &colour))
    self->words = g_strdup (_ ("choose a step of a stair"));
  else if (!measure (self, &spot))
    self->words = g_strdup (_ ("nothing to compare here"));
  else
    {
      self->words =
        ts_format_swatch ((guint) colour.step, colour.wanted, colour.lab, colour.error, &spot);
      laid = ts_format_lab (colour.lab);
      here = ts_format_lab (spot.lab);
    }
  description = here != NULL
                  ? g_strdup_printf (_ ("At %.0f, %.0f: %s. Laid: %s; the picture: %s."),
                                     self->place.x, self->place.y, self->words, laid, here)
                  : g_strdup_printf ("%s.", self->words);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Comparison swatch"), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  description, -1);
}

/* Below it, or above where there is no room; held within the view. */
static void
draw_words (TsSwatch *self, cairo_t *cr)
{
  TsPoint at = ts_image_view_to_widget (self->view, self->place);
  double width, height, x, y = RING + PILL_GAP;

  ts_draw_pill_size (GTK_WIDGET (self), self->words, &width, &height);
  if (at.y + y + height > gtk_widget_get_height (GTK_WIDGET (self->view)))
    y = -y - height;
  x = CLAMP (
    at.x, width / 2.0 + 4.0,
    MAX (width / 2.0 + 4.0, gtk_widget_get_width (GTK_WIDGET (self->view)) - width / 2.0 - 4.0));
  ts_draw_pill (cr, GTK_WIDGET (self), self->words, x - at.x + TS_SWATCH_SIDE / 2.0,
                y + height / 2.0 + TS_SWATCH_SIDE / 2.0);
  cairo_new_path (cr);
}

static void
ts_swatch_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TsSwatch *self = TS_SWATCH (widget);
  int width = gtk_widget_get_width (GTK_WIDGET (self->view));
  int height = gtk_widget_get_height (GTK_WIDGET (self->view));
  double middle = TS_SWATCH_SIDE / 2.0;
  cairo_t *cr = gtk_snapshot_append_cairo (
    snapshot, &GRAPHENE_RECT_INIT (-width, -height, 2 * width, 2 * height));
  Colour colour;

  if (find_colour (self, &colour))
    {
      if (ts_image_view_get_look (self->view) == TS_LOOK_VALUES)
        colour.lab.a = colour.lab.b = 0.0;
      cairo_arc (cr, middle, middle, RADIUS, 0.0, 2.0 * G_PI);
      ts_palette_set_lab (cr, colour.lab);
      cairo_fill (cr);
    }
  if (gtk_widget_has_focus (widget) || self->hovered)
    ts_draw_ring (cr, (TsPoint){ middle, middle }, RING, gtk_widget_has_focus (widget) ? 2.0 : 1.2);
  draw_words (self, cr);
  cairo_destroy (cr);
}

static void
ts_swatch_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                   int *natural, int *minimum_baseline, int *natural_baseline)
{
  *minimum = *natural = TS_SWATCH_SIDE;
}

static void
ts_swatch_finalize (GObject *object)
{
  g_free (TS_SWATCH (object)->words);
  G_OBJECT_CLASS (ts_swatch_parent_class)->finalize (object);
}

static void
ts_swatch_class_init (TsSwatchClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = ts_swatch_finalize;
  widget_class->snapshot = ts_swatch_snapshot;
  widget_class->measure = ts_swatch_measure;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
  gtk_widget_class_set_css_name (widget_class, "swatch");
  signals[MOVED] =
    g_signal_new ("moved", TS_TYPE_SWATCH, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[REMOVED] = g_signal_new ("removed", TS_TYPE_SWATCH, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                   NULL, G_TYPE_NONE, 0);
}

/* Its middle stays on the picture. */
static void
move_to (TsSwatch *self, TsPoint place)
{
  TsImage *image = ts_image_view_get_image (self->view);

  if (image == NULL)
    return;
  self->place.x = CLAMP (place.x, 0.5, ts_image_get_full_width (image) - 0.5);
  self->place.y = CLAMP (place.y, 0.5, ts_image_get_full_height (image) - 0.5);
  ts_swatch_refresh (self);
  g_signal_emit (self, signals[MOVED], 0);
}

static void
on_drag_begin (GtkGestureDrag *gesture, double x, double y, TsSwatch *self)
{
  gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_CLAIMED);
  gtk_widget_grab_focus (GTK_WIDGET (self));
}

/* The widget goes with the hand, so that a way counted from its corner would be counted twice. */
static void
on_drag_update (GtkGestureDrag *gesture, double dx, double dy, TsSwatch *self)
{
  double x, y, to_x, to_y;

  gtk_gesture_drag_get_start_point (gesture, &x, &y);
  gtk_widget_translate_coordinates (GTK_WIDGET (self), GTK_WIDGET (self->view), x + dx, y + dy,
                                    &to_x, &to_y);
  move_to (self, ts_image_view_to_picture (self->view, to_x - (x - TS_SWATCH_SIDE / 2.0),
                                           to_y - (y - TS_SWATCH_SIDE / 2.0)));
}

static gboolean
on_key_pressed (GtkEventControllerKey *keys, guint keyval, guint code, GdkModifierType state,
                TsSwatch *self)
{
  double by = state & GDK_SHIFT_MASK ? FAR_STEP : 1.0;

  if (state & (GDK_CONTROL_MASK | GDK_ALT_MASK) || ts_image_view_is_panning (self->view))
    return FALSE;
  switch (keyval)
    {
    case GDK_KEY_Left:
      move_to (self, (TsPoint){ self->place.x - by, self->place.y });
      return TRUE;
    case GDK_KEY_Right:
      move_to (self, (TsPoint){ self->place.x + by, self->place.y });
      return TRUE;
    case GDK_KEY_Up:
      move_to (self, (TsPoint){ self->place.x, self->place.y - by });
      return TRUE;
    case GDK_KEY_Down:
      move_to (self, (TsPoint){ self->place.x, self->place.y + by });
      return TRUE;
    case GDK_KEY_Delete:
    case GDK_KEY_BackSpace:
      g_signal_emit (self, signals[REMOVED], 0);
      return TRUE;
    case GDK_KEY_Escape:
      return gtk_widget_grab_focus (GTK_WIDGET (self->view));
    default:
      return FALSE;
    }
}

static void
on_enter (GtkEventControllerMotion *motion, double x, double y, TsSwatch *self)
{
  self->hovered = TRUE;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
on_leave (GtkEventControllerMotion *motion, TsSwatch *self)
{
  self->hovered = FALSE;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
ts_swatch_init (TsSwatch *self)
{
  GtkWidget *widget = GTK_WIDGET (self);
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkEventController *motion = gtk_event_controller_motion_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();
  GtkGesture *drag = gtk_gesture_drag_new ();

  gtk_widget_set_focusable (widget, TRUE);
  gtk_widget_set_cursor_from_name (widget, "move");
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key_pressed), self);
  gtk_widget_add_controller (widget, keys);
  g_signal_connect (motion, "enter", G_CALLBACK (on_enter), self);
  g_signal_connect (motion, "leave", G_CALLBACK (on_leave), self);
  gtk_widget_add_controller (widget, motion);
  g_signal_connect_swapped (focus, "enter", G_CALLBACK (gtk_widget_queue_draw), self);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (gtk_widget_queue_draw), self);
  gtk_widget_add_controller (widget, focus);
  g_signal_connect (drag, "drag-begin", G_CALLBACK (on_drag_begin), self);
  g_signal_connect (drag, "drag-update", G_CALLBACK (on_drag_update), self);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (drag));
}

/**
 * ts_swatch_new:
 * @view: the picture that it lies on, and its parent to be
 * @place: where its middle lies, upright pixels
 *
 * Returns: (transfer floating): a swatch of the selected step's mix
 */
GtkWidget *
ts_swatch_new (TsImageView *view, TsPoint place)
{
  TsSwatch *self = g_object_new (TS_TYPE_SWATCH, NULL);

  self->view = view;
  self->place = place;
  describe (self);
  return GTK_WIDGET (self);
}

/**
 * ts_swatch_get_place:
 * @self: the swatch
 *
 * Returns: where its middle lies, upright pixels
 */
TsPoint
ts_swatch_get_place (TsSwatch *self)
{
  g_return_val_if_fail (TS_IS_SWATCH (self), ((TsPoint){ 0.0, 0.0 }));

  return self->place;
}

/**
 * ts_swatch_refresh:
 * @self: the swatch
 *
 * Compares anew.
 */
void
ts_swatch_refresh (TsSwatch *self)
{
  g_return_if_fail (TS_IS_SWATCH (self));

  describe (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/**
 * ts_swatch_set_wanted:
 * @self: the swatch
 * @wanted: whether it shows what is wanted, and not what is mixed
 */
void
ts_swatch_set_wanted (TsSwatch *self, gboolean wanted)
{
  g_return_if_fail (TS_IS_SWATCH (self));

  self->wanted = wanted;
  ts_swatch_refresh (self);
}

/**
 * ts_swatch_turn:
 * @self: the swatch
 *
 * Shows what is wanted in place of what is mixed, or the other way round.
 */
void
ts_swatch_turn (TsSwatch *self)
{
  g_return_if_fail (TS_IS_SWATCH (self));

  ts_swatch_set_wanted (self, !self->wanted);
}
