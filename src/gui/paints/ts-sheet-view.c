/* ts-sheet-view.c: the photograph of a swatch sheet with the grid laid over it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/paints/ts-sheet-view.h"

#include <glib/gi18n.h>
#include <math.h>

#include "gui/widgets/ts-draw.h"
#include "gui/widgets/ts-palette.h"
#include "gui/paints/ts-sheet-corner.h"
#include "gui/paints/ts-sheet-row.h"
#include "gui/pixels/ts-texture.h"

#define N_RINGS 8 /* 4 of the grid; 4 of the chart, or 1 of the card */
#define REACH 18.0
#define MARGIN 10.0
#define CARD_SHARE 0.02 /* radius of the card's disc, of the picture's shorter side */

struct _TsSheetView
{
  GtkWidget parent_instance;

  /* Owned */
  TsTexture *texture;
  TsImage *image; /* nullable */
  TsSheet *sheet; /* nullable */

  TsSheetGrid grid;
  TsCorrectionKind kind;
  TsPoint other[4]; /* the chart's corners, or the card */
  int chosen;       /* cell, or -1 */
  int held;         /* ring that is dragged, or -1 */
  TsPoint start;
  GtkWidget *rings[N_RINGS];
};

enum
{
  CHANGED,
  CHOSEN,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (TsSheetView, ts_sheet_view, GTK_TYPE_WIDGET)

static double
get_zoom (TsSheetView *self)
{
  double width = gtk_widget_get_width (GTK_WIDGET (self)) - 2.0 * MARGIN;
  double height = gtk_widget_get_height (GTK_WIDGET (self)) - 2.0 * MARGIN;

  return MAX (1e-4, MIN (width / ts_image_get_width (self->image),
                         height / ts_image_get_height (self->image)));
}

static TsPoint
to_widget (TsSheetView *self, double x, double y)
{
  double zoom = get_zoom (self);

  return (TsPoint){
    (gtk_widget_get_width (GTK_WIDGET (self)) - zoom * ts_image_get_width (self->image)) / 2.0 +
      x * zoom,
    (gtk_widget_get_height (GTK_WIDGET (self)) - zoom * ts_image_get_height (self->image)) / 2.0 +
      y * zoom
  };
}

static TsPoint
to_picture (TsSheetView *self, double x, double y)
{
  TsPoint origin = to_widget (self, 0.0, 0.0);
  double zoom = get_zoom (self);

  return (TsPoint){ (x - origin.x) / zoom, (y - origin.y) / zoom };
}

static guint
count_rings (TsSheetView *self)
{
  if (self->image == NULL)
    return 0;
  return 4 + (self->kind == TS_CORRECTION_CHART ? 4 : self->kind == TS_CORRECTION_CARD ? 1 : 0);
}

static TsPoint
get_ring (TsSheetView *self, guint ring)
{
  if (ring >= 4)
    return self->other[ring - 4];
  return (TsPoint){ self->grid.corner[ring][0], self->grid.corner[ring][1] };
}

static void
describe_ring (TsSheetView *self, guint ring)
{
  TsPoint at = get_ring (self, ring);
  g_autofree char *name = NULL;
  g_autofree char *place = g_strdup_printf ("%.0f, %.0f", at.x, at.y);

  if (ring < 4)
    name = g_strdup_printf (_ ("corner %u of 4 of the swatches"), ring + 1);
  else if (self->kind == TS_CORRECTION_CHART)
    name = g_strdup_printf (_ ("corner patch %u of 4 of the chart"), ring - 3);
  else
    name = g_strdup (_ ("grey card"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->rings[ring]), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  name, GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, place, -1);
}

static void
show_rings (TsSheetView *self)
{
  for (guint i = 0; i < N_RINGS; i++)
    {
      gtk_widget_set_child_visible (self->rings[i], i < count_rings (self));
      gtk_widget_set_focusable (self->rings[i], i < count_rings (self));
      describe_ring (self, i);
    }
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
move_ring (TsSheetView *self, guint ring, TsPoint place)
{
  place.x = CLAMP (place.x, 0.5, ts_image_get_width (self->image) - 0.5);
  place.y = CLAMP (place.y, 0.5, ts_image_get_height (self->image) - 0.5);
  if (ring >= 4)
    self->other[ring - 4] = place;
  else
    {
      self->grid.corner[ring][0] = place.x;
      self->grid.corner[ring][1] = place.y;
    }
  show_rings (self);
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
on_ring_moved (TsSheetCorner *corner, double dx, double dy, TsSheetView *self)
{
  for (guint i = 0; i < count_rings (self); i++)
    if (self->rings[i] == GTK_WIDGET (corner))
      {
        TsPoint at = get_ring (self, i);

        at.x += dx / MAX (get_zoom (self), 1e-4);
        at.y += dy / MAX (get_zoom (self), 1e-4);
        move_ring (self, i, at);
      }
}

static int
find_ring (TsSheetView *self, double x, double y)
{
  double best = REACH;
  int found = -1;

  for (guint i = 0; i < count_rings (self); i++)
    {
      TsPoint at = get_ring (self, i), on = to_widget (self, at.x, at.y);

      if (hypot (on.x - x, on.y - y) < best)
        {
          best = hypot (on.x - x, on.y - y);
          found = (int) i;
        }
    }
  return found;
}

static int
find_cell (TsSheetView *self, double x, double y)
{
  TsPoint place = to_picture (self, x, y);

  return ts_sheet_grid_find_cell (&self->grid, place.x, place.y);
}

static void
on_drag_begin (GtkGestureDrag *gesture, double x, double y, TsSheetView *self)
{
  int cell;

  self->held = self->image != NULL ? find_ring (self, x, y) : -1;
  if (self->held >= 0)
    {
      TsPoint at = get_ring (self, (guint) self->held);

      self->start = to_widget (self, at.x, at.y);
      gtk_widget_grab_focus (self->rings[self->held]);
      return;
    }
  cell = self->image != NULL ? find_cell (self, x, y) : -1;
  if (cell >= 0)
    g_signal_emit (self, signals[CHOSEN], 0, (guint) cell);
}

static void
on_drag_update (GtkGestureDrag *gesture, double dx, double dy, TsSheetView *self)
{
  if (self->held >= 0)
    move_ring (self, (guint) self->held, to_picture (self, self->start.x + dx, self->start.y + dy));
}

static void
on_drag_end (GtkGestureDrag *gesture, double dx, double dy, TsSheetView *self)
{
  self->held = -1;
}

static void
draw_picture (TsSheetView *self, cairo_t *cr)
{
  double zoom = get_zoom (self);
  TsPoint origin = to_widget (self, 0.0, 0.0);

  cairo_save (cr);
  cairo_translate (cr, origin.x, origin.y);
  cairo_scale (cr, zoom, zoom);
  ts_texture_draw (self->texture, cr, 0.0, 0.0, ts_image_get_width (self->image),
                   ts_image_get_height (self->image),
                   zoom * gtk_widget_get_scale_factor (GTK_WIDGET (self)), 1);
  cairo_restore (cr);
}

static void
add_quad (TsSheetView *self, cairo_t *cr, const double x[4], const double y[4])
{
  for (guint i = 0; i < 4; i++)
    {
      TsPoint at = to_widget (self, x[i], y[i]);

      cairo_line_to (cr, at.x, at.y);
    }
  cairo_close_path (cr);
}

static void
draw_cells (TsSheetView *self, cairo_t *cr)
{
  double x[4], y[4];

  for (guint row = 0; row < self->grid.n_rows; row++)
    for (guint column = 0; column < self->grid.n_columns; column++)
      {
        gboolean chosen = (int) (row * self->grid.n_columns + column) == self->chosen;

        if (!ts_sheet_grid_get_cell (&self->grid, row, column, x, y))
          return;
        cairo_new_path (cr);
        add_quad (self, cr, x, y);
        ts_draw_stroke_over (cr, chosen ? 3.0 : 0.8);
      }
}

/* What is measured, and the word of a cell that is in doubt. */
static void
draw_readings (TsSheetView *self, cairo_t *cr)
{
  for (guint i = 0; i < ts_sheet_get_n_cells (self->sheet); i++)
    {
      const TsSheetCell *cell = ts_sheet_get_cell (self->sheet, i);
      const char *word = ts_sheet_row_get_word (cell);

      cairo_new_path (cr);
      add_quad (self, cr, cell->white.x, cell->white.y);
      if (self->grid.halves)
        {
          cairo_new_sub_path (cr);
          add_quad (self, cr, cell->black.x, cell->black.y);
        }
      ts_draw_stroke_over (cr, 1.0);
      if (word != NULL)
        {
          double x[4], y[4];
          TsPoint at;

          if (!ts_sheet_grid_get_cell (&self->grid, cell->row, cell->column, x, y))
            continue;
          at = to_widget (self, (x[0] + x[1]) / 2.0, (y[0] + y[1]) / 2.0);
          ts_draw_pill (cr, GTK_WIDGET (self), word, at.x, at.y + 6.0);
        }
    }
}

static void
draw_chart_edge (TsSheetView *self, cairo_t *cr)
{
  if (self->kind != TS_CORRECTION_CHART)
    return;
  cairo_new_path (cr);
  for (guint i = 0; i < 4; i++)
    {
      TsPoint from = to_widget (self, self->other[i].x, self->other[i].y);
      TsPoint to = to_widget (self, self->other[(i + 1) % 4].x, self->other[(i + 1) % 4].y);

      ts_draw_segment (cr, from, to, 8.0, 8.0);
    }
  ts_draw_stroke_over (cr, 1.0);
}

static void
ts_sheet_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TsSheetView *self = TS_SHEET_VIEW (widget);
  TsPalette palette;
  cairo_t *cr = ts_draw_field (widget, snapshot, &palette);

  if (self->image != NULL)
    {
      draw_picture (self, cr);
      draw_cells (self, cr);
      draw_chart_edge (self, cr);
      if (self->sheet != NULL)
        draw_readings (self, cr);
    }
  cairo_destroy (cr);
  for (guint i = 0; i < N_RINGS; i++)
    if (gtk_widget_get_child_visible (self->rings[i]))
      gtk_widget_snapshot_child (widget, self->rings[i], snapshot);
}

static void
ts_sheet_view_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  TsSheetView *self = TS_SHEET_VIEW (widget);

  for (guint i = 0; i < count_rings (self); i++)
    {
      TsPoint at = get_ring (self, i), on = to_widget (self, at.x, at.y);
      GtkAllocation place = { (int) lround (on.x) - TS_SHEET_CORNER_SIZE / 2,
                              (int) lround (on.y) - TS_SHEET_CORNER_SIZE / 2, TS_SHEET_CORNER_SIZE,
                              TS_SHEET_CORNER_SIZE };

      gtk_widget_size_allocate (self->rings[i], &place, -1);
    }
}

static void
ts_sheet_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                       int *natural, int *minimum_baseline, int *natural_baseline)
{
  *minimum = 200;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 900 : 700;
}

static void
ts_sheet_view_dispose (GObject *object)
{
  TsSheetView *self = TS_SHEET_VIEW (object);

  for (guint i = 0; i < N_RINGS; i++)
    g_clear_pointer (&self->rings[i], gtk_widget_unparent);
  G_OBJECT_CLASS (ts_sheet_view_parent_class)->dispose (object);
}

static void
ts_sheet_view_finalize (GObject *object)
{
  TsSheetView *self = TS_SHEET_VIEW (object);

  g_clear_object (&self->texture);
  g_clear_pointer (&self->image, ts_image_unref);
  g_clear_pointer (&self->sheet, ts_sheet_unref);
  G_OBJECT_CLASS (ts_sheet_view_parent_class)->finalize (object);
}

static void
ts_sheet_view_class_init (TsSheetViewClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  object_class->dispose = ts_sheet_view_dispose;
  object_class->finalize = ts_sheet_view_finalize;
  widget_class->snapshot = ts_sheet_view_snapshot;
  widget_class->size_allocate = ts_sheet_view_size_allocate;
  widget_class->measure = ts_sheet_view_measure;
  signals[CHANGED] = g_signal_new ("changed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                   NULL, NULL, G_TYPE_NONE, 0);
  signals[CHOSEN] = g_signal_new ("chosen", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                  NULL, NULL, G_TYPE_NONE, 1, G_TYPE_UINT);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
ts_sheet_view_init (TsSheetView *self)
{
  GtkGesture *drag = gtk_gesture_drag_new ();

  self->chosen = self->held = -1;
  self->grid.n_rows = 5;
  self->grid.n_columns = 8;
  self->texture = ts_texture_new ();
  g_signal_connect_object (self->texture, "changed", G_CALLBACK (gtk_widget_queue_draw), self,
                           G_CONNECT_SWAPPED);
  for (guint i = 0; i < N_RINGS; i++)
    {
      self->rings[i] = ts_sheet_corner_new ();
      g_signal_connect (self->rings[i], "moved", G_CALLBACK (on_ring_moved), self);
      gtk_widget_set_parent (self->rings[i], GTK_WIDGET (self));
    }
  show_rings (self);
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Swatch sheet"), -1);
  g_signal_connect (drag, "drag-begin", G_CALLBACK (on_drag_begin), self);
  g_signal_connect (drag, "drag-update", G_CALLBACK (on_drag_update), self);
  g_signal_connect (drag, "drag-end", G_CALLBACK (on_drag_end), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drag));
}

/* Where sheet and chart often lie: the swatches left, the chart to the right of them. */
static void
lay_rings (TsSheetView *self)
{
  static const double grid[4][2] = { { 0.1, 0.12 }, { 0.72, 0.12 }, { 0.72, 0.88 }, { 0.1, 0.88 } };
  static const double other[4][2] = {
    { 0.8, 0.45 }, { 0.92, 0.45 }, { 0.92, 0.85 }, { 0.8, 0.85 }
  };
  double width = ts_image_get_width (self->image), height = ts_image_get_height (self->image);

  for (guint i = 0; i < 4; i++)
    {
      self->grid.corner[i][0] = grid[i][0] * width;
      self->grid.corner[i][1] = grid[i][1] * height;
      self->other[i] = (TsPoint){ other[i][0] * width, other[i][1] * height };
    }
}

/**
 * ts_sheet_view_set_image:
 * @self: the view
 * @image: (nullable): the photograph
 */
void
ts_sheet_view_set_image (TsSheetView *self, TsImage *image)
{
  g_return_if_fail (TS_IS_SHEET_VIEW (self));

  g_clear_pointer (&self->image, ts_image_unref);
  g_clear_pointer (&self->sheet, ts_sheet_unref);
  self->image = image != NULL ? ts_image_ref (image) : NULL;
  self->chosen = -1;
  if (image != NULL)
    lay_rings (self);
  ts_texture_set_image (self->texture, image, TS_LOOK_COLOUR);
  show_rings (self);
}

/**
 * ts_sheet_view_get_grid:
 * @self: the view
 *
 * Returns: (transfer none): how the grid lies
 */
const TsSheetGrid *
ts_sheet_view_get_grid (TsSheetView *self)
{
  g_return_val_if_fail (TS_IS_SHEET_VIEW (self), NULL);

  return &self->grid;
}

/**
 * ts_sheet_view_set_cells:
 * @self: the view
 * @n_rows: 1 to %TS_SHEET_MAX_SIDE
 * @n_columns: 1 to %TS_SHEET_MAX_SIDE
 * @halves: whether each cell lies half on black and half on white card
 * @bare: share of each cell's height, at its top, left unpainted
 */
void
ts_sheet_view_set_cells (TsSheetView *self, guint n_rows, guint n_columns, gboolean halves,
                         double bare)
{
  g_return_if_fail (TS_IS_SHEET_VIEW (self));

  self->grid.n_rows = CLAMP (n_rows, 1, TS_SHEET_MAX_SIDE);
  self->grid.n_columns = CLAMP (n_columns, 1, TS_SHEET_MAX_SIDE);
  self->grid.halves = halves;
  self->grid.bare = bare;
  ts_sheet_view_set_sheet (self, NULL);
}

/**
 * ts_sheet_view_set_grid:
 * @self: the view with a picture
 * @grid: how the grid lies on it
 */
void
ts_sheet_view_set_grid (TsSheetView *self, const TsSheetGrid *grid)
{
  g_return_if_fail (TS_IS_SHEET_VIEW (self) && self->image != NULL);

  self->grid = *grid;
  ts_sheet_view_set_sheet (self, NULL);
  show_rings (self);
}

/**
 * ts_sheet_view_turn:
 * @self: the view
 *
 * Turns the grid by a quarter under its corners, for a sheet that was photographed sideways.
 */
void
ts_sheet_view_turn (TsSheetView *self)
{
  double first[2];

  g_return_if_fail (TS_IS_SHEET_VIEW (self));

  memcpy (first, self->grid.corner[0], sizeof first);
  memmove (self->grid.corner[0], self->grid.corner[1], 3 * sizeof first);
  memcpy (self->grid.corner[3], first, sizeof first);
  ts_sheet_view_set_sheet (self, NULL);
  show_rings (self);
  g_signal_emit (self, signals[CHANGED], 0);
}

/**
 * ts_sheet_view_set_kind:
 * @self: the view
 * @kind: what the colours are corrected with
 */
void
ts_sheet_view_set_kind (TsSheetView *self, TsCorrectionKind kind)
{
  g_return_if_fail (TS_IS_SHEET_VIEW (self));

  self->kind = kind;
  show_rings (self);
}

/**
 * ts_sheet_view_get_settings:
 * @self: the view with a picture
 * @settings: (inout): what is asked for; places are filled in
 */
void
ts_sheet_view_get_settings (TsSheetView *self, TsCorrectionSettings *settings)
{
  g_return_if_fail (TS_IS_SHEET_VIEW (self) && self->image != NULL);

  settings->kind = self->kind;
  settings->card_x = self->other[0].x;
  settings->card_y = self->other[0].y;
  settings->card_radius =
    CARD_SHARE * MIN (ts_image_get_width (self->image), ts_image_get_height (self->image));
  for (guint i = 0; i < 4; i++)
    {
      settings->corner[i][0] = self->other[i].x;
      settings->corner[i][1] = self->other[i].y;
    }
}

/**
 * ts_sheet_view_set_sheet:
 * @self: the view
 * @sheet: (nullable): what was read along this grid
 */
void
ts_sheet_view_set_sheet (TsSheetView *self, TsSheet *sheet)
{
  g_return_if_fail (TS_IS_SHEET_VIEW (self));

  g_clear_pointer (&self->sheet, ts_sheet_unref);
  self->sheet = sheet != NULL ? ts_sheet_ref (sheet) : NULL;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/**
 * ts_sheet_view_choose:
 * @self: the view
 * @cell: index of a cell, row by row, or -1
 */
void
ts_sheet_view_choose (TsSheetView *self, int cell)
{
  g_return_if_fail (TS_IS_SHEET_VIEW (self));

  self->chosen = cell;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
