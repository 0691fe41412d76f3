/* ts-stair-view.c: the steps side by side: wanted over mixed, verdicts between, recipes under
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/stair/ts-stair-view.h"

#include <glib/gi18n.h>
#include <math.h>

#include "gui/widgets/ts-draw.h"
#include "gui/widgets/ts-format.h"
#include "gui/widgets/ts-palette.h"
#include "gui/stair/ts-stair-step.h"

#define CELL_MIN 84
#define EDGE 7
#define CHIP 36
#define CHIP_COMPACT 25
#define TICK 5.0
#define LABEL_GAP 10
#define MIN_LINES 4
#define AREA_BAR 11
#define AREA_EDGE 3

struct _TsStairView
{
  TsView parent_instance;

  TsHover *hover; /* owned */
  gboolean compact, grey;
  gboolean painted[TS_STAIR_MAX_STEPS];
  guint n_cells;
  int n_lines, areas;
};

G_DEFINE_FINAL_TYPE (TsStairView, ts_stair_view, TS_TYPE_VIEW)

static int
get_width (GtkWidget *widget, const char *text)
{
  g_autoptr (PangoLayout) layout = ts_draw_new_layout (widget, TS_EM_SMALL, FALSE, text);
  int width;

  pango_layout_get_pixel_size (layout, &width, NULL);
  return width;
}

/* The bar, and over it in a large window a line of what each step covers. */
static int
get_areas_height (TsStairView *self, int small)
{
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (self));

  if (result == NULL || ts_surface_result_get_area (result, 0) < 0.0)
    return 0;
  return AREA_BAR + 2 * AREA_EDGE + (self->compact ? 0 : small + 4);
}

TsStairMetrics
ts_stair_view_get_metrics (TsStairView *self)
{
  GtkWidget *widget = GTK_WIDGET (self);
  int small = ts_draw_get_line (widget, TS_EM_SMALL);

  return (TsStairMetrics){
    .caption = small + 8,
    .edge = EDGE,
    .chip = self->compact ? CHIP_COMPACT : CHIP,
    .verdict = small + 14,
    .line = ts_draw_get_line (widget, TS_EM_RECIPE) + 1,
    .n_lines = self->compact ? 0 : self->n_lines,
    .areas = get_areas_height (self, small),
    .label = MAX (get_width (widget, _ ("wanted")), get_width (widget, _ ("mixed"))) + LABEL_GAP
  };
}

static int
get_height (TsStairView *self)
{
  TsStairMetrics m = ts_stair_view_get_metrics (self);

  return m.caption + 2 * (m.edge + m.chip) + m.verdict + m.n_lines * m.line + 4 + m.areas;
}

static void
ts_stair_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                       int *natural, int *minimum_baseline, int *natural_baseline)
{
  TsStairView *self = TS_STAIR_VIEW (widget);

  if (orientation == GTK_ORIENTATION_VERTICAL)
    *minimum = *natural = get_height (self);
  else
    {
      TsStairMetrics m = ts_stair_view_get_metrics (self);

      *minimum = m.label + 2 * EDGE + (int) self->n_cells * CELL_MIN;
      *natural = m.label + 2 * EDGE + (int) self->n_cells * 2 * CELL_MIN;
    }
}

/* Where cell @index begins, from the start side; whole pixels, so that neighbours touch. */
static int
get_cell_x (TsStairView *self, const TsStairMetrics *m, int width, guint index)
{
  int room = width - m->label - 2 * m->edge;

  return m->label + m->edge + (int) ((gint64) room * index / MAX (1, self->n_cells));
}

static void
ts_stair_view_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  TsStairView *self = TS_STAIR_VIEW (widget);
  TsStairMetrics m = ts_stair_view_get_metrics (self);
  gboolean mirror = gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL;
  GtkWidget *child = gtk_widget_get_first_child (widget);

  for (guint i = 0; i < self->n_cells && child != NULL; i++)
    {
      int from = get_cell_x (self, &m, width, i), to = get_cell_x (self, &m, width, i + 1);
      GtkAllocation place = { mirror ? width - to : from, 0, to - from, height };

      gtk_widget_size_allocate (child, &place, -1);
      child = gtk_widget_get_next_sibling (child);
    }
}

typedef struct
{
  TsStairView *self;
  GtkWidget *widget;
  cairo_t *cr;
  TsPalette palette;
  TsStairMetrics metrics;
  int width;
  gboolean mirror;
} Drawing;

static double
get_field_bottom (const TsStairMetrics *m)
{
  return m->caption + 2 * (m->edge + m->chip);
}

static void
draw_field (Drawing *d)
{
  const TsStairMetrics *m = &d->metrics;
  double x = d->mirror ? 0.0 : m->label,
         end = d->mirror ? d->width - m->label : m->label - LABEL_GAP;
  double align = d->mirror ? 0.0 : 1.0, middle = m->caption + m->edge + m->chip / 2.0;

  gdk_cairo_set_source_rgba (d->cr, &d->palette.field);
  cairo_rectangle (d->cr, x, m->caption, d->width - m->label, 2 * (m->edge + m->chip));
  cairo_fill (d->cr);
  end = d->mirror ? end + LABEL_GAP : end;
  ts_draw_text (d->cr, d->widget, TS_EM_SMALL, FALSE, _ ("wanted"), end, middle, align, 0.5,
                &d->palette.dim);
  ts_draw_text (d->cr, d->widget, TS_EM_SMALL, FALSE, _ ("mixed"), end, middle + m->chip, align,
                0.5, &d->palette.dim);
}

/* Shape and word about the line between two steps. */
static void
draw_verdict (Drawing *d, TsVerdict verdict, double x)
{
  gboolean problem = ts_format_verdict_is_problem (verdict);
  const GdkRGBA *colour = problem ? &d->palette.text : &d->palette.dim;
  double top = get_field_bottom (&d->metrics), y = top + d->metrics.verdict / 2.0;
  g_autoptr (PangoLayout) layout =
    ts_draw_new_layout (d->widget, TS_EM_SMALL, problem, ts_format_verdict (verdict));
  double s = d->mirror ? -1.0 : 1.0, start;
  int width;

  gdk_cairo_set_source_rgba (d->cr, &d->palette.dim);
  cairo_set_line_width (d->cr, 1.0);
  cairo_move_to (d->cr, x + 0.5, top);
  cairo_line_to (d->cr, x + 0.5, top + TICK);
  cairo_stroke (d->cr);

  pango_layout_get_pixel_size (layout, &width, NULL);
  start = x - s * (width + 18.0) / 2.0;
  gdk_cairo_set_source_rgba (d->cr, colour);
  ts_draw_mark (d->cr, ts_mark_of_verdict (verdict), start + s * 5.5, y + 1.0);
  ts_draw_layout (d->cr, layout, start + s * 18.0, y, d->mirror ? 1.0 : 0.0, 0.5, colour);
}

static void
draw_verdicts (Drawing *d)
{
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (d->self));

  if (result == NULL)
    return;
  for (guint i = 0; i + 1 < ts_surface_result_get_n_steps (result); i++)
    {
      int x = get_cell_x (d->self, &d->metrics, d->width, i + 1);

      draw_verdict (d, ts_surface_result_get_contrast (result, i).verdict,
                    d->mirror ? d->width - x : x);
    }
}

/* How much of the surface each step covers, as widths; neighbours touch. */
static void
draw_areas (Drawing *d)
{
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (d->self));
  double height = AREA_BAR + 2 * AREA_EDGE;
  double top = gtk_widget_get_height (d->widget) - height;
  double room = d->width - d->metrics.label - 2 * AREA_EDGE, before = 0.0;
  double x = d->mirror ? 0.0 : d->metrics.label;
  double label_x =
    d->mirror ? d->width - d->metrics.label + LABEL_GAP : d->metrics.label - LABEL_GAP;

  gdk_cairo_set_source_rgba (d->cr, &d->palette.field);
  cairo_rectangle (d->cr, x, top, d->width - d->metrics.label, height);
  cairo_fill (d->cr);
  ts_draw_text (d->cr, d->widget, TS_EM_SMALL, FALSE, _ ("area"), label_x, top + height / 2.0,
                d->mirror ? 0.0 : 1.0, 0.5, &d->palette.dim);
  for (guint i = 0; i < ts_surface_result_get_n_steps (result); i++)
    {
      TsLab lab = ts_stair_get_step (ts_surface_result_get_stair (result), i)->wanted;
      double until = before + ts_surface_result_get_area (result, i);
      double from = floor (before * room + 0.5), to = floor (until * room + 0.5);

      if (d->self->grey)
        lab.a = lab.b = 0.0;
      ts_palette_set_lab (d->cr, lab);
      cairo_rectangle (d->cr, d->mirror ? AREA_EDGE + room - to : x + AREA_EDGE + from,
                       top + AREA_EDGE, to - from, AREA_BAR);
      cairo_fill (d->cr);
      before = until;
    }
}

static void
ts_stair_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TsStairView *self = TS_STAIR_VIEW (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  Drawing d = { .self = self, .widget = widget, .width = width };
  GtkWidget *child;

  ts_palette_get (widget, &d.palette);
  d.metrics = ts_stair_view_get_metrics (self);
  d.mirror = gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL;
  d.cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height));
  draw_field (&d);
  draw_verdicts (&d);
  if (d.metrics.areas > 0)
    draw_areas (&d);
  cairo_destroy (d.cr);
  for (child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    gtk_widget_snapshot_child (widget, child, snapshot);
}

/* A verdict's numbers, where the pointer rests on it. */
static gboolean
on_query_tooltip (GtkWidget *widget, int x, int y, gboolean keyboard, GtkTooltip *tooltip,
                  gpointer user_data)
{
  TsStairView *self = TS_STAIR_VIEW (widget);
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (self));
  TsStairMetrics m = ts_stair_view_get_metrics (self);
  int width = gtk_widget_get_width (widget);

  if (result == NULL || y < get_field_bottom (&m) || y > get_field_bottom (&m) + m.verdict)
    return FALSE;
  if (gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL)
    x = width - x;
  for (guint i = 0; i + 1 < ts_surface_result_get_n_steps (result); i++)
    if (ABS (get_cell_x (self, &m, width, i + 1) - x) < CELL_MIN / 2)
      {
        g_autofree char *text =
          ts_format_contrast (ts_surface_result_get_contrast (result, i),
                              ts_surface_result_get_settings (result).distance);

        gtk_tooltip_set_text (tooltip, text);
        return TRUE;
      }
  return FALSE;
}

/* As many widgets as steps; those that are there stay, and keep the keyboard's focus. */
static void
match_children (TsStairView *self, guint n)
{
  while (self->n_cells > n)
    {
      gtk_widget_unparent (gtk_widget_get_last_child (GTK_WIDGET (self)));
      self->n_cells--;
    }
  while (self->n_cells < n)
    {
      gtk_widget_set_parent (ts_stair_step_new (self, self->n_cells), GTK_WIDGET (self));
      self->n_cells++;
    }
}

static int
count_accents (const TsSurface *surface, guint step)
{
  int n = 0;

  for (guint i = 0; i < surface->accents->len; i++)
    n += ((const TsAccent *) g_ptr_array_index (surface->accents, i))->step == step;
  return n;
}

static int
count_lines (const TsSurface *surface, TsSurfaceResult *result)
{
  int lines = MIN_LINES;

  for (guint i = 0; result != NULL && i < ts_surface_result_get_n_steps (result); i++)
    {
      const TsRecipe *recipe = ts_surface_result_get_recipe (result, i);

      if (recipe != NULL)
        lines = MAX (lines, (int) recipe->n_paints + 1 + count_accents (surface, i));
    }
  return lines;
}

static void
describe (TsStairView *self)
{
  const TsSurface *surface = ts_view_get_surface (TS_VIEW (self));
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (self));
  g_autofree char *name =
    surface != NULL ? g_strdup_printf (_ ("Stair of %s"), surface->name) : g_strdup (_ ("Stair"));
  g_autofree char *summary = NULL;
  gboolean problem;
  TsMark mark;

  summary = result != NULL ? ts_format_summary (result, &mark, &problem) : g_strdup ("");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, summary, -1);
}

static void
find_painted (TsStairView *self, TsSurfaceResult *result)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));

  if (result != NULL)
    ts_surface_result_find_painted (result, ts_document_get_plan (document),
                                    (guint) ts_document_get_selected_surface (document),
                                    self->painted);
}

static void
ts_stair_view_update (TsView *view, TsChange change)
{
  TsStairView *self = TS_STAIR_VIEW (view);
  TsSurfaceResult *result = ts_view_get_result (view);
  guint n = result != NULL ? ts_surface_result_get_n_steps (result) : 0;
  int n_lines = count_lines (ts_view_get_surface (view), result);
  int areas = get_areas_height (self, ts_draw_get_line (GTK_WIDGET (self), TS_EM_SMALL));

  if (n != self->n_cells || n_lines != self->n_lines || areas != self->areas)
    gtk_widget_queue_resize (GTK_WIDGET (self));
  self->areas = areas;
  self->n_lines = n_lines;
  find_painted (self, result);
  match_children (self, n);
  for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self)); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    ts_stair_step_refresh (TS_STAIR_STEP (child));
  describe (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
ts_stair_view_dispose (GObject *object)
{
  g_clear_object (&TS_STAIR_VIEW (object)->hover);
  G_OBJECT_CLASS (ts_stair_view_parent_class)->dispose (object);
}

static void
ts_stair_view_class_init (TsStairViewClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ts_stair_view_dispose;
  widget_class->measure = ts_stair_view_measure;
  widget_class->size_allocate = ts_stair_view_size_allocate;
  widget_class->snapshot = ts_stair_view_snapshot;
  TS_VIEW_CLASS (class)->update = ts_stair_view_update;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_LIST);
  gtk_widget_class_set_css_name (widget_class, "stairview");
}

static void
ts_stair_view_init (TsStairView *self)
{
  self->n_lines = MIN_LINES;
  gtk_widget_set_has_tooltip (GTK_WIDGET (self), TRUE);
  g_signal_connect (self, "query-tooltip", G_CALLBACK (on_query_tooltip), NULL);
}

static void
draw_children (TsStairView *self)
{
  for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self)); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    gtk_widget_queue_draw (child);
}

/* The step whose tone in the photo is nearest to what the spot measured. */
static int
find_step_of_spot (TsStairView *self, TsSurfaceResult *result, guint spot)
{
  const TsSurface *surface = ts_view_get_stair_surface (TS_VIEW (self));
  const TsStair *stair = ts_surface_result_get_stair (result);
  double L = -1.0, least = G_MAXDOUBLE;
  int found = -1;

  for (guint i = 0; i < surface->runs->len && L < 0.0; i++)
    {
      const GArray *spots = ts_surface_get_run (surface, i)->spots;

      if (spot < spots->len)
        L = MAX (g_array_index (spots, TsSpot, spot).lab.L, 0.0);
      else
        spot -= spots->len;
    }
  for (guint i = 0; L >= 0.0 && i < ts_stair_get_n_steps (stair); i++)
    {
      double far = fabs (ts_stair_get_step (stair, i)->photo.L - L);

      if (far < least)
        {
          least = far;
          found = (int) i;
        }
    }
  return found;
}

/**
 * ts_stair_view_set_hover:
 * @self: the view
 * @hover: what is under the pointer, shared with picture and curve
 *
 * Tells what is hovered here.
 */
void
ts_stair_view_set_hover (TsStairView *self, TsHover *hover)
{
  g_return_if_fail (TS_IS_STAIR_VIEW (self));

  if (g_set_object (&self->hover, hover))
    g_signal_connect_object (hover, "changed", G_CALLBACK (draw_children), self, G_CONNECT_SWAPPED);
}

/**
 * ts_stair_view_is_painted:
 * @self: the stair
 * @step: index of a step
 *
 * Returns: whether it is ticked off as painted
 */
gboolean
ts_stair_view_is_painted (TsStairView *self, guint step)
{
  g_return_val_if_fail (TS_IS_STAIR_VIEW (self), FALSE);

  return step < TS_STAIR_MAX_STEPS && self->painted[step];
}

/**
 * ts_stair_view_get_hovered:
 * @self: the view
 *
 * Returns: the step that the pointer is on, in the stair, the curve or the picture, where a spot
 *   stands for the step whose tone is nearest; -1 for none
 */
int
ts_stair_view_get_hovered (TsStairView *self)
{
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (self));
  TsCurve *curve;
  int spot;

  g_return_val_if_fail (TS_IS_STAIR_VIEW (self), -1);

  if (self->hover == NULL || result == NULL)
    return -1;
  spot = ts_hover_get_spot (self->hover);
  curve = ts_surface_result_get_curve (result);
  if (spot < 0 || spot >= (int) ts_curve_get_n_samples (curve))
    return ts_hover_get_step (self->hover);
  return find_step_of_spot (self, result, (guint) spot);
}

/**
 * ts_stair_view_get_hover:
 * @self: the view
 *
 * Returns: (transfer none) (nullable): what is under the pointer
 */
TsHover *
ts_stair_view_get_hover (TsStairView *self)
{
  g_return_val_if_fail (TS_IS_STAIR_VIEW (self), NULL);

  return self->hover;
}

/**
 * ts_stair_view_set_compact:
 * @self: the view
 * @compact: whether the window is small
 *
 * Shows lower chips and no recipes.
 */
void
ts_stair_view_set_compact (TsStairView *self, gboolean compact)
{
  g_return_if_fail (TS_IS_STAIR_VIEW (self));

  self->compact = compact;
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

/**
 * ts_stair_view_set_grey:
 * @self: the view
 * @grey: whether to show lightness alone
 *
 * Turns the chips grey with the picture.
 */
void
ts_stair_view_set_grey (TsStairView *self, gboolean grey)
{
  g_return_if_fail (TS_IS_STAIR_VIEW (self));

  self->grey = grey;
  draw_children (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/**
 * ts_stair_view_copy:
 * @self: the view
 * @colour: whether the colour is wanted, and not the recipe
 *
 * Copies the selected step as text.
 *
 * Returns: %FALSE where there is nothing to copy
 */
gboolean
ts_stair_view_copy (TsStairView *self, gboolean colour)
{
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (self));
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  int step = document != NULL ? ts_document_get_selected_step (document) : -1;
  g_autofree char *text = NULL;

  g_return_val_if_fail (TS_IS_STAIR_VIEW (self), FALSE);

  if (result == NULL || step < 0 || step >= (int) ts_surface_result_get_n_steps (result))
    return FALSE;
  text = colour ? ts_format_colour_text (ts_surface_result_get_colour (result, (guint) step))
                : ts_format_recipe (result, (guint) step);
  if (text != NULL)
    gdk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (self)), text);
  return text != NULL;
}

/**
 * ts_stair_view_get_grey:
 * @self: the view
 *
 * Returns: whether chips show lightness alone
 */
gboolean
ts_stair_view_get_grey (TsStairView *self)
{
  g_return_val_if_fail (TS_IS_STAIR_VIEW (self), FALSE);

  return self->grey;
}
