/* ts-paint-chart.c: the colours of a set, and the edge of what they can mix
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/paints/ts-paint-chart.h"

#include <glib/gi18n.h>
#include <math.h>

#include "gui/widgets/ts-draw.h"
#include "gui/paints/ts-paint-item.h"
#include "gui/widgets/ts-palette.h"

#define EDGE_START 34.0 /* room for the axis' numbers */
#define EDGE_END 4.0
#define EDGE_BOTTOM 20.0
#define DOT 4.4
#define CHOSEN_DOT 7.0
#define REACH 12.0 /* pixels from a dot to what still means it */
#define MARGIN 6.0 /* of the axes beyond the farthest colour */

struct _TsPaintChart
{
  GtkWidget parent_instance;

  TsPaintChartKind kind;
  int chosen;
  GListModel *items; /* owned, nullable */
  GArray *outline;   /* owned: double[2] */
  gboolean has_gap;
  TsLab gap;
};

/* The axes: values at the edges of the field, and the field itself. */
typedef struct
{
  double low_x, high_x, low_y, high_y;
  double left, right, top, bottom;
} Axes;

enum
{
  CHOSEN,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (TsPaintChart, ts_paint_chart, GTK_TYPE_WIDGET)

static void
place_lab (TsPaintChart *self, TsLab lab, double *x, double *y)
{
  *x = self->kind == TS_PAINT_CHART_HUES ? lab.a : hypot (lab.a, lab.b);
  *y = self->kind == TS_PAINT_CHART_HUES ? lab.b : lab.L;
}

static guint
count (TsPaintChart *self)
{
  return self->items != NULL ? g_list_model_get_n_items (self->items) : 0;
}

/* Borrowed: the model holds it. */
static TsPaintItem *
get_item (TsPaintChart *self, guint index)
{
  g_autoptr (TsPaintItem) item = g_list_model_get_item (self->items, index);

  return item;
}

static void
widen (Axes *axes, double x, double y)
{
  axes->low_x = MIN (axes->low_x, x - MARGIN);
  axes->high_x = MAX (axes->high_x, x + MARGIN);
  axes->low_y = MIN (axes->low_y, y - MARGIN);
  axes->high_y = MAX (axes->high_y, y + MARGIN);
}

/* a* and b* have one scale, so that hues are seen as they are. */
static void
even_scales (Axes *axes)
{
  double width = axes->right - axes->left, height = axes->bottom - axes->top;
  double scale = MIN (width / (axes->high_x - axes->low_x), height / (axes->high_y - axes->low_y));
  double more_x = width / scale - (axes->high_x - axes->low_x);
  double more_y = height / scale - (axes->high_y - axes->low_y);

  axes->low_x -= more_x / 2.0;
  axes->high_x += more_x / 2.0;
  axes->low_y -= more_y / 2.0;
  axes->high_y += more_y / 2.0;
}

static Axes
get_axes (TsPaintChart *self)
{
  gboolean hues = self->kind == TS_PAINT_CHART_HUES;
  Axes axes = { hues ? -50.0 : -3.0, hues ? 50.0 : 60.0, hues ? -50.0 : 0.0, hues ? 50.0 : 100.0 };
  double x, y;

  axes.left = EDGE_START;
  axes.right = gtk_widget_get_width (GTK_WIDGET (self)) - EDGE_END;
  axes.top = 0.0;
  axes.bottom = gtk_widget_get_height (GTK_WIDGET (self)) - EDGE_BOTTOM;
  for (guint i = 0; i < count (self); i++)
    {
      place_lab (self, ts_paint_item_get_samples (get_item (self, i))->masstone, &x, &y);
      widen (&axes, x, y);
    }
  for (guint i = 0; i < self->outline->len; i++)
    {
      const double *point =
        (const double *) (gconstpointer) (self->outline->data + i * 2 * sizeof (double));

      widen (&axes, point[0], point[1]);
    }
  if (hues)
    even_scales (&axes);
  else
    {
      axes.low_x = -3.0;
      axes.low_y = 0.0;
      axes.high_y = 100.0;
    }
  return axes;
}

static double
to_x (const Axes *axes, double value)
{
  return axes->left +
         (axes->right - axes->left) * (value - axes->low_x) / (axes->high_x - axes->low_x);
}

static double
to_y (const Axes *axes, double value)
{
  return axes->bottom -
         (axes->bottom - axes->top) * (value - axes->low_y) / (axes->high_y - axes->low_y);
}

static TsPoint
get_place (TsPaintChart *self, const Axes *axes, guint index)
{
  double x, y;

  place_lab (self, ts_paint_item_get_samples (get_item (self, index))->masstone, &x, &y);
  return (TsPoint){ to_x (axes, x), to_y (axes, y) };
}

/* Numbers outside the field: no text on L* 50. */
static void
draw_numbers (TsPaintChart *self, cairo_t *cr, const Axes *axes, const TsPalette *palette)
{
  GtkWidget *widget = GTK_WIDGET (self);
  gboolean hues = self->kind == TS_PAINT_CHART_HUES;
  double step_x = hues ? 50.0 : 25.0;

  for (double v = step_x * ceil (axes->low_x / step_x); v <= axes->high_x; v += step_x)
    {
      g_autofree char *number = g_strdup_printf ("%s%.0f", v < -0.5 ? "−" : "", fabs (v));
      double x = to_x (axes, v);

      if (x < axes->right - (hues ? 24.0 : 60.0) && x > axes->left - 1.0)
        ts_draw_text (cr, widget, TS_EM_AXIS, FALSE, number, x, axes->bottom + 3.0, 0.5, 0.0,
                      &palette->dim);
    }
  for (double v = 50.0 * ceil (axes->low_y / 50.0); v <= axes->high_y; v += 50.0)
    {
      g_autofree char *number = g_strdup_printf ("%s%.0f", v < -0.5 ? "−" : "", fabs (v));
      double y = CLAMP (to_y (axes, v), 7.0, axes->bottom - 6.0);

      if (y > 20.0 || !hues)
        ts_draw_text (cr, widget, TS_EM_AXIS, FALSE, number, axes->left - 6.0, y, 1.0, 0.5,
                      &palette->dim);
    }
  ts_draw_text (cr, widget, TS_EM_AXIS, FALSE, hues ? "a*" : _ ("chroma"), axes->right,
                axes->bottom + 3.0, 1.0, 0.0, &palette->dim);
  if (hues)
    ts_draw_text (cr, widget, TS_EM_AXIS, FALSE, "b*", axes->left - 6.0, 0.0, 1.0, 0.0,
                  &palette->dim);
}

static void
draw_ground (TsPaintChart *self, cairo_t *cr, const Axes *axes, const TsPalette *palette)
{
  gdk_cairo_set_source_rgba (cr, &palette->field);
  cairo_rectangle (cr, axes->left, axes->top, axes->right - axes->left, axes->bottom - axes->top);
  cairo_fill (cr);
  if (self->kind != TS_PAINT_CHART_HUES)
    return;
  cairo_set_source_rgba (cr, 0.0, 0.0, 0.0, 0.35);
  cairo_set_line_width (cr, 1.0);
  cairo_move_to (cr, axes->left, floor (to_y (axes, 0.0)) + 0.5);
  cairo_line_to (cr, axes->right, floor (to_y (axes, 0.0)) + 0.5);
  cairo_move_to (cr, floor (to_x (axes, 0.0)) + 0.5, axes->top);
  cairo_line_to (cr, floor (to_x (axes, 0.0)) + 0.5, axes->bottom);
  cairo_stroke (cr);
}

static void
draw_outline (TsPaintChart *self, cairo_t *cr, const Axes *axes)
{
  if (self->outline->len == 0)
    return;
  cairo_new_path (cr);
  for (guint i = 0; i < self->outline->len; i++)
    {
      const double *point =
        (const double *) (gconstpointer) (self->outline->data + i * 2 * sizeof (double));

      cairo_line_to (cr, to_x (axes, point[0]), to_y (axes, point[1]));
    }
  cairo_close_path (cr);
  cairo_set_source_rgba (cr, 1.0, 1.0, 1.0, 0.07);
  cairo_fill_preserve (cr);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  ts_draw_stroke_over (cr, 1.2);
}

/* A ring with a cross of gaps: there is nothing to mix it from. */
static void
draw_gap (TsPaintChart *self, cairo_t *cr, const Axes *axes)
{
  double x, y;

  if (!self->has_gap)
    return;
  place_lab (self, self->gap, &x, &y);
  cairo_new_path (cr);
  cairo_arc (cr, to_x (axes, x), to_y (axes, y), 9.0, 0.0, 2.0 * G_PI);
  cairo_set_dash (cr, (const double[]){ 3.0, 3.0 }, 2, 0.0);
  ts_draw_stroke_over (cr, 1.4);
  cairo_set_dash (cr, NULL, 0, 0.0);
}

static void
draw_dot (TsPaintChart *self, cairo_t *cr, const Axes *axes, guint index)
{
  gboolean chosen = (int) index == self->chosen;
  TsPoint at = get_place (self, axes, index);

  cairo_new_path (cr);
  cairo_arc (cr, at.x, at.y, chosen ? CHOSEN_DOT : DOT, 0.0, 2.0 * G_PI);
  ts_palette_set_lab (cr, ts_paint_item_get_samples (get_item (self, index))->masstone);
  cairo_fill_preserve (cr);
  if (chosen)
    {
      ts_draw_stroke_over (cr, 2.0);
      return;
    }
  cairo_set_source_rgba (cr, 0.0, 0.0, 0.0, 0.8);
  cairo_set_line_width (cr, 1.2);
  cairo_stroke (cr);
}

static void
ts_paint_chart_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TsPaintChart *self = TS_PAINT_CHART (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height));
  Axes axes = get_axes (self);
  TsPalette palette;

  ts_palette_get (widget, &palette);
  draw_ground (self, cr, &axes, &palette);
  draw_numbers (self, cr, &axes, &palette);
  cairo_save (cr);
  cairo_rectangle (cr, axes.left, axes.top, axes.right - axes.left, axes.bottom - axes.top);
  cairo_clip (cr);
  draw_outline (self, cr, &axes);
  draw_gap (self, cr, &axes);
  for (guint i = 0; i < count (self); i++)
    if ((int) i != self->chosen)
      draw_dot (self, cr, &axes, i);
  if (self->chosen >= 0 && self->chosen < (int) count (self))
    draw_dot (self, cr, &axes, (guint) self->chosen);
  cairo_restore (cr);
  if (gtk_widget_has_visible_focus (widget))
    ts_draw_focus (cr, &palette.text, 0, 0, width, height);
  cairo_destroy (cr);
}

static int
find_nearest (TsPaintChart *self, double x, double y, double within)
{
  Axes axes = get_axes (self);
  int nearest = -1;

  for (guint i = 0; i < count (self); i++)
    {
      TsPoint at = get_place (self, &axes, i);
      double far = hypot (at.x - x, at.y - y);

      if (far < within)
        {
          within = far;
          nearest = (int) i;
        }
    }
  return nearest;
}

static void
choose (TsPaintChart *self, int paint)
{
  if (paint >= 0 && paint != self->chosen)
    g_signal_emit (self, signals[CHOSEN], 0, (guint) paint);
}

static void
on_pressed (GtkGestureClick *gesture, int n_press, double x, double y, TsPaintChart *self)
{
  gtk_widget_grab_focus (GTK_WIDGET (self));
  choose (self, find_nearest (self, x, y, REACH));
}

/* The nearest dot that lies more that way than aside. */
static int
find_towards (TsPaintChart *self, double dx, double dy)
{
  Axes axes = get_axes (self);
  TsPoint from;
  double best = HUGE_VAL;
  int found = -1;

  if (self->chosen < 0 || self->chosen >= (int) count (self))
    return count (self) > 0 ? 0 : -1;
  from = get_place (self, &axes, (guint) self->chosen);
  for (guint i = 0; i < count (self); i++)
    {
      TsPoint at = get_place (self, &axes, i);
      double along = (at.x - from.x) * dx + (at.y - from.y) * dy;
      double aside = fabs ((at.x - from.x) * dy - (at.y - from.y) * dx);

      if ((int) i != self->chosen && along > 0.5 && aside <= along && along + aside < best)
        {
          best = along + aside;
          found = (int) i;
        }
    }
  return found;
}

static gboolean
on_key (GtkEventControllerKey *keys, guint key, guint code, GdkModifierType state,
        TsPaintChart *self)
{
  if (state & (GDK_CONTROL_MASK | GDK_ALT_MASK))
    return FALSE;
  switch (key)
    {
    case GDK_KEY_Left:
      choose (self, find_towards (self, -1.0, 0.0));
      return TRUE;
    case GDK_KEY_Right:
      choose (self, find_towards (self, 1.0, 0.0));
      return TRUE;
    case GDK_KEY_Up:
      choose (self, find_towards (self, 0.0, -1.0));
      return TRUE;
    case GDK_KEY_Down:
      choose (self, find_towards (self, 0.0, 1.0));
      return TRUE;
    default:
      return FALSE;
    }
}

static gboolean
ts_paint_chart_query_tooltip (GtkWidget *widget, int x, int y, gboolean keyboard,
                              GtkTooltip *tooltip)
{
  TsPaintChart *self = TS_PAINT_CHART (widget);
  int paint = keyboard ? self->chosen : find_nearest (self, x, y, REACH);

  if (paint < 0 || paint >= (int) count (self))
    return FALSE;
  gtk_tooltip_set_text (
    tooltip, ts_paint_get_name (ts_paint_item_get_paint (get_item (self, (guint) paint))));
  return TRUE;
}

static void
ts_paint_chart_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                        int *natural, int *minimum_baseline, int *natural_baseline)
{
  TsPaintChart *self = TS_PAINT_CHART (widget);
  gboolean hues = self->kind == TS_PAINT_CHART_HUES;

  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 180 : hues ? 200 : 110;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 320 : hues ? 380 : 145;
}

static void
ts_paint_chart_finalize (GObject *object)
{
  TsPaintChart *self = TS_PAINT_CHART (object);

  g_clear_object (&self->items);
  g_array_unref (self->outline);
  G_OBJECT_CLASS (ts_paint_chart_parent_class)->finalize (object);
}

static void
ts_paint_chart_class_init (TsPaintChartClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = ts_paint_chart_finalize;
  widget_class->snapshot = ts_paint_chart_snapshot;
  widget_class->measure = ts_paint_chart_measure;
  widget_class->query_tooltip = ts_paint_chart_query_tooltip;
  signals[CHOSEN] = g_signal_new ("chosen", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                  NULL, NULL, G_TYPE_NONE, 1, G_TYPE_UINT);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
ts_paint_chart_init (TsPaintChart *self)
{
  GtkGesture *click = gtk_gesture_click_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->chosen = -1;
  self->outline = g_array_new (FALSE, FALSE, 2 * sizeof (double));
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_has_tooltip (GTK_WIDGET (self), TRUE);
  g_signal_connect (click, "pressed", G_CALLBACK (on_pressed), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (click));
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}

/**
 * ts_paint_chart_set_kind:
 * @self: the chart
 * @kind: which axes
 */
void
ts_paint_chart_set_kind (TsPaintChart *self, TsPaintChartKind kind)
{
  g_return_if_fail (TS_IS_PAINT_CHART (self));

  self->kind = kind;
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

/**
 * ts_paint_chart_set_items:
 * @self: the chart
 * @items: TsPaintItem in the order of the set
 *
 * Shows these paints, and follows what is put in their place.
 */
void
ts_paint_chart_set_items (TsPaintChart *self, GListModel *items)
{
  g_return_if_fail (TS_IS_PAINT_CHART (self));

  g_set_object (&self->items, items);
  g_signal_connect_object (items, "items-changed", G_CALLBACK (gtk_widget_queue_draw), self,
                           G_CONNECT_SWAPPED);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/**
 * ts_paint_chart_set_outline:
 * @self: the chart
 * @points: (array length=n_points): round the edge of what can be mixed, in the chart's axes
 * @n_points: how many; 0 shows no edge
 */
void
ts_paint_chart_set_outline (TsPaintChart *self, const double (*points)[2], guint n_points)
{
  g_return_if_fail (TS_IS_PAINT_CHART (self));

  g_array_set_size (self->outline, 0);
  if (n_points > 0)
    g_array_append_vals (self->outline, points, n_points);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/**
 * ts_paint_chart_set_gap:
 * @self: the chart
 * @gap: (nullable): a colour that the set cannot mix
 *
 * Marks where it lies.
 */
void
ts_paint_chart_set_gap (TsPaintChart *self, const TsLab *gap)
{
  g_return_if_fail (TS_IS_PAINT_CHART (self));

  self->has_gap = gap != NULL;
  if (gap != NULL)
    self->gap = *gap;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/**
 * ts_paint_chart_choose:
 * @self: the chart
 * @paint: index of a paint, or -1
 *
 * Marks it; does not emit.
 */
void
ts_paint_chart_choose (TsPaintChart *self, int paint)
{
  g_return_if_fail (TS_IS_PAINT_CHART (self));

  self->chosen = paint;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/**
 * ts_paint_chart_describe:
 * @self: the chart
 * @name: what it is
 * @description: what it shows
 */
void
ts_paint_chart_describe (TsPaintChart *self, const char *name, const char *description)
{
  g_return_if_fail (TS_IS_PAINT_CHART (self));

  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, description, -1);
}
