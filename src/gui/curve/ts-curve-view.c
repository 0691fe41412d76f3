/* ts-curve-view.c: lightness along the run: what the photo has, and what is wanted
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/curve/ts-curve-view-private.h"

#include <glib/gi18n.h>
#include <math.h>

#include "gui/widgets/ts-draw.h"
#include "gui/widgets/ts-format.h"
#include "gui/widgets/ts-palette.h"

#define REACH 11.0 /* pixels from a step or spot that still take hold of it */
#define GRID_STEP 20.0
#define KEY_POSITION 0.01

G_DEFINE_FINAL_TYPE (TsCurveView, ts_curve_view, TS_TYPE_VIEW)

const TsSpot *
ts_curve_view_get_spot (TsCurveView *self, guint index)
{
  /* Of the spots that the curve goes through, whoever's they are. */
  const TsSurface *surface = ts_view_get_stair_surface (TS_VIEW (self));

  for (guint i = 0; surface != NULL && i < surface->runs->len; i++)
    {
      const GArray *spots = ts_surface_get_run (surface, i)->spots;

      if (index < spots->len)
        return &g_array_index (spots, TsSpot, index);
      index -= spots->len;
    }
  return NULL;
}

/* The next line of the grid above all that is shown. */
static double
get_most (TsCurveView *self)
{
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (self));
  double most = 60.0;
  const TsSpot *spot;

  for (guint i = 0; (spot = ts_curve_view_get_spot (self, i)) != NULL; i++)
    most = MAX (most, spot->lab.L);
  for (guint i = 0; result != NULL && i < ts_surface_result_get_n_steps (result); i++)
    most = MAX (most, ts_stair_get_step (ts_surface_result_get_stair (result), i)->wanted.L);
  return MIN (100.0, ceil ((most + 5.0) / GRID_STEP) * GRID_STEP);
}

TsCurvePlot
ts_curve_view_get_plot (TsCurveView *self)
{
  GtkWidget *widget = GTK_WIDGET (self);
  double line = ts_draw_get_line (widget, TS_EM_AXIS);
  gboolean mirror = gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL;
  double start = 26.0 + line, end = 28.0 + line;

  return (TsCurvePlot){ .left = mirror ? end : start,
                        .right = gtk_widget_get_width (widget) - (mirror ? start : end),
                        .top = line / 2.0 + 1.0,
                        .bottom = gtk_widget_get_height (widget) - line - 8.0,
                        .most = get_most (self),
                        .mirror = mirror };
}

double
ts_curve_plot_x (const TsCurvePlot *plot, double position)
{
  double along = (plot->right - plot->left) * position;

  return plot->mirror ? plot->right - along : plot->left + along;
}

double
ts_curve_plot_y (const TsCurvePlot *plot, double lightness)
{
  return plot->bottom - (plot->bottom - plot->top) * lightness / plot->most;
}

static void
ts_curve_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height));
  TsPalette palette;

  ts_curve_view_draw (TS_CURVE_VIEW (widget), cr);
  if (gtk_widget_has_visible_focus (widget))
    {
      ts_palette_get (widget, &palette);
      ts_draw_focus (cr, &palette.text, 0, 0, width, height);
    }
  cairo_destroy (cr);
}

static void
ts_curve_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                       int *natural, int *minimum_baseline, int *natural_baseline)
{
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 160 : 110;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 298 : 148;
}

static int
hit_step (TsCurveView *self, double x, double y)
{
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (self));
  TsCurvePlot plot = ts_curve_view_get_plot (self);
  double least = REACH;
  int found = -1;

  for (guint i = 0; result != NULL && i < ts_surface_result_get_n_steps (result); i++)
    {
      const TsStep *step = ts_stair_get_step (ts_surface_result_get_stair (result), i);
      double off = hypot (ts_curve_plot_x (&plot, step->position) - x,
                          ts_curve_plot_y (&plot, step->wanted.L) - y);

      if (off < least)
        {
          least = off;
          found = (int) i;
        }
    }
  return found;
}

static int
hit_spot (TsCurveView *self, double x, double y)
{
  TsCurvePlot plot = ts_curve_view_get_plot (self);
  double least = REACH;
  int found = -1;
  const TsSpot *spot;

  for (guint i = 0; (spot = ts_curve_view_get_spot (self, i)) != NULL; i++)
    {
      double off = hypot (ts_curve_plot_x (&plot, spot->position) - x,
                          ts_curve_plot_y (&plot, spot->lab.L) - y);

      if (off < least)
        {
          least = off;
          found = (int) i;
        }
    }
  return found;
}

static void
on_motion (GtkEventControllerMotion *motion, double x, double y, TsCurveView *self)
{
  int step = hit_step (self, x, y);

  if (self->hover != NULL)
    ts_hover_set (self->hover, step, step < 0 ? hit_spot (self, x, y) : -1);
  gtk_widget_set_cursor_from_name (GTK_WIDGET (self), step >= 0 ? "move" : NULL);
}

static void
on_leave (GtkEventControllerMotion *motion, TsCurveView *self)
{
  if (self->hover != NULL)
    ts_hover_set (self->hover, -1, -1);
}

/* Why a spot was left out, or what it measured. */
static gboolean
on_query_tooltip (GtkWidget *widget, int x, int y, gboolean keyboard, GtkTooltip *tooltip,
                  gpointer user_data)
{
  TsCurveView *self = TS_CURVE_VIEW (widget);
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (self));
  int spot = hit_step (self, x, y) < 0 ? hit_spot (self, x, y) : -1;
  g_autofree char *text = NULL;

  if (result == NULL || spot < 0)
    return FALSE;
  if (ts_curve_sample_is_outlier (ts_surface_result_get_curve (result), (gsize) spot))
    text =
      g_strdup (ts_format_outlier (ts_surface_result_get_curve (result), (gsize) spot,
                                   ts_curve_view_get_spot (self, (guint) spot)->clipped_share));
  else
    text = ts_format_spot (ts_curve_view_get_spot (self, (guint) spot));
  gtk_tooltip_set_text (tooltip, text);
  return TRUE;
}

static void
on_drag_begin (GtkGestureDrag *gesture, double x, double y, TsCurveView *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (self));
  const TsStep *step;

  gtk_widget_grab_focus (GTK_WIDGET (self));
  self->moving = FALSE;
  self->dragged = hit_step (self, x, y);
  if (self->dragged < 0)
    return;
  step = ts_stair_get_step (ts_surface_result_get_stair (result), (guint) self->dragged);
  self->start_position = step->position;
  self->start_lightness = step->wanted.L;
  ts_document_select_step (document, self->dragged);
}

/* Up and down is lightness, sideways is place; which of the two the first pixels tell. */
static void
on_drag_update (GtkGestureDrag *gesture, double dx, double dy, TsCurveView *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  TsCurvePlot plot = ts_curve_view_get_plot (self);
  int surface = ts_document_get_selected_surface (document);
  double position = self->start_position, lightness = self->start_lightness;

  if (self->dragged < 0 || surface < 0 || (!self->moving && hypot (dx, dy) < 3.0))
    return;
  if (!self->moving)
    {
      self->moving = TRUE;
      self->sideways = fabs (dx) > fabs (dy);
      ts_document_begin_gesture (document, _ ("Place a Step"));
    }
  if (self->sideways)
    position += (plot.mirror ? -dx : dx) / (plot.right - plot.left);
  else
    lightness -= dy * plot.most / (plot.bottom - plot.top);
  ts_document_place_step (document, (guint) surface, (guint) self->dragged,
                          CLAMP (position, 0.0, 1.0), CLAMP (lightness, 0.0, 100.0));
}

static void
on_drag_end (GtkGestureDrag *gesture, double dx, double dy, TsCurveView *self)
{
  if (self->moving)
    ts_document_end_gesture (ts_view_get_document (TS_VIEW (self)));
  self->moving = FALSE;
  self->dragged = -1;
}

static void
cancel_drag (TsCurveView *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));

  self->moving = FALSE;
  self->dragged = -1;
  ts_document_cancel_gesture (document);
  gtk_gesture_set_state (self->drag_gesture, GTK_EVENT_SEQUENCE_DENIED);
}

static void
nudge (TsCurveView *self, int step, double position, double lightness)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (self));
  const TsStep *now = ts_stair_get_step (ts_surface_result_get_stair (result), (guint) step);

  ts_document_place_step (document, (guint) ts_document_get_selected_surface (document),
                          (guint) step, CLAMP (now->position + position, 0.0, 1.0),
                          CLAMP (now->wanted.L + lightness, 0.0, 100.0));
}

static gboolean
on_key_pressed (GtkEventControllerKey *keys, guint keyval, guint code, GdkModifierType state,
                TsCurveView *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (self));
  int n = result != NULL ? (int) ts_surface_result_get_n_steps (result) : 0;
  int step = ts_document_get_selected_step (document);
  gboolean mirror = gtk_widget_get_direction (GTK_WIDGET (self)) == GTK_TEXT_DIR_RTL;
  int along = keyval == GDK_KEY_Right ? 1 : keyval == GDK_KEY_Left ? -1 : 0;
  int up = keyval == GDK_KEY_Up ? 1 : keyval == GDK_KEY_Down ? -1 : 0;

  if (keyval == GDK_KEY_Escape && self->moving)
    {
      cancel_drag (self);
      return TRUE;
    }
  if (n == 0 || (along == 0 && up == 0) || state & GDK_ALT_MASK)
    return FALSE;
  along = mirror ? -along : along;
  if (up != 0 && step >= 0)
    nudge (self, step, 0.0, up * (state & GDK_SHIFT_MASK ? 5.0 : 1.0));
  else if (state & GDK_CONTROL_MASK && step >= 0)
    nudge (self, step, along * KEY_POSITION, 0.0);
  else
    ts_document_select_step (document, CLAMP (step + along, 0, n - 1));
  return TRUE;
}

/* Why each was left out. */
static void
append_outliers (TsCurveView *self, GString *words, const TsCurve *curve)
{
  for (guint i = 0; i < ts_curve_get_n_samples (curve); i++)
    {
      const TsSpot *spot = ts_curve_view_get_spot (self, i);

      if (spot != NULL && ts_curve_sample_is_outlier (curve, i))
        g_string_append_printf (words, "; %s", ts_format_outlier (curve, i, spot->clipped_share));
    }
}

static void
describe (TsCurveView *self)
{
  const TsSurface *surface = ts_view_get_surface (TS_VIEW (self));
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (self));
  TsCurve *curve;
  g_autofree char *name = NULL, *words = NULL;
  g_autoptr (GString) all = NULL;

  if (surface == NULL || result == NULL)
    {
      gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                      _ ("Lightness curve"), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                      _ ("no surface"), -1);
      return;
    }
  curve = ts_surface_result_get_curve (result);
  name = g_strdup_printf (_ ("Lightness curve of %s"), surface->name);
  words = ts_format_course (curve);
  all = g_string_new (words);
  append_outliers (self, all, curve);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, all->str, -1);
}

static void
ts_curve_view_update (TsView *view, TsChange change)
{
  describe (TS_CURVE_VIEW (view));
  gtk_widget_queue_draw (GTK_WIDGET (view));
}

static void
ts_curve_view_dispose (GObject *object)
{
  g_clear_object (&TS_CURVE_VIEW (object)->hover);
  G_OBJECT_CLASS (ts_curve_view_parent_class)->dispose (object);
}

static void
ts_curve_view_class_init (TsCurveViewClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ts_curve_view_dispose;
  widget_class->snapshot = ts_curve_view_snapshot;
  widget_class->measure = ts_curve_view_measure;
  TS_VIEW_CLASS (class)->update = ts_curve_view_update;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_TABLE);
  gtk_widget_class_set_css_name (widget_class, "curveview");
}

static void
ts_curve_view_init (TsCurveView *self)
{
  GtkWidget *widget = GTK_WIDGET (self);
  GtkEventController *motion = gtk_event_controller_motion_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkGesture *drag = gtk_gesture_drag_new ();

  self->dragged = -1;
  self->drag_gesture = drag;
  gtk_widget_set_focusable (widget, TRUE);
  gtk_widget_set_has_tooltip (widget, TRUE);
  g_signal_connect (self, "query-tooltip", G_CALLBACK (on_query_tooltip), NULL);
  g_signal_connect (motion, "motion", G_CALLBACK (on_motion), self);
  g_signal_connect (motion, "leave", G_CALLBACK (on_leave), self);
  gtk_widget_add_controller (widget, motion);
  g_signal_connect (drag, "drag-begin", G_CALLBACK (on_drag_begin), self);
  g_signal_connect (drag, "drag-update", G_CALLBACK (on_drag_update), self);
  g_signal_connect (drag, "drag-end", G_CALLBACK (on_drag_end), self);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (drag));
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key_pressed), self);
  gtk_widget_add_controller (widget, keys);
}

/**
 * ts_curve_view_set_hover:
 * @self: the view
 * @hover: what is under the pointer, shared with picture and stair
 *
 * Marks what is hovered elsewhere, and tells what is hovered here.
 */
void
ts_curve_view_set_hover (TsCurveView *self, TsHover *hover)
{
  g_return_if_fail (TS_IS_CURVE_VIEW (self));

  if (g_set_object (&self->hover, hover))
    g_signal_connect_object (hover, "changed", G_CALLBACK (gtk_widget_queue_draw), self,
                             G_CONNECT_SWAPPED);
}
