/* ts-patch-grid.c: the chart's colours in its own arrangement, wanted over corrected
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/correction/ts-patch-grid.h"

#include <glib/gi18n.h>

#include "colour/ts-colour-convert.h"
#include "gui/widgets/ts-draw.h"
#include "gui/widgets/ts-palette.h"

#define EDGE 9
#define GAP 6
#define HEIGHT 178

struct _TsPatchGrid
{
  GtkWidget parent_instance;

  TsLab wanted[TS_CHART_PATCHES], corrected[TS_CHART_PATCHES];
  gboolean used[TS_CHART_PATCHES];
  gboolean known;
};

G_DEFINE_FINAL_TYPE (TsPatchGrid, ts_patch_grid, GTK_TYPE_WIDGET)

/* As data/charts/later.txt names them. */
static const char *const patch_names[TS_CHART_PATCHES] = {
  N_ ("dark skin"),    N_ ("light skin"),   N_ ("blue sky"),     N_ ("foliage"),
  N_ ("blue flower"),  N_ ("bluish green"), N_ ("orange"),       N_ ("purplish blue"),
  N_ ("moderate red"), N_ ("purple"),       N_ ("yellow green"), N_ ("orange yellow"),
  N_ ("blue"),         N_ ("green"),        N_ ("red"),          N_ ("yellow"),
  N_ ("magenta"),      N_ ("cyan"),         N_ ("white"),        N_ ("neutral 8"),
  N_ ("neutral 6.5"),  N_ ("neutral 5"),    N_ ("neutral 3.5"),  N_ ("black"),
};

/**
 * ts_patch_name:
 * @patch: index of a patch, 0 to 23
 *
 * Returns: (transfer none): what it is called
 */
const char *
ts_patch_name (guint patch)
{
  g_return_val_if_fail (patch < TS_CHART_PATCHES, "");

  return _ (patch_names[patch]);
}

/**
 * ts_patch_reason:
 * @patch: a patch that was left out
 *
 * Returns: (transfer none): why
 */
const char *
ts_patch_reason (const TsChartPatch *patch)
{
  if (g_strcmp0 (patch->why, "clipped") == 0)
    return _ ("clipped");
  if (g_strcmp0 (patch->why, "dirt or glare") == 0)
    return _ ("dirt or glare");
  return patch->why != NULL ? patch->why : "";
}

/* Both halves touch; a neutral of L* 50 keeps its place by the thin line. */
static void
draw_patch (TsPatchGrid *self, cairo_t *cr, guint index, int width, int height)
{
  int column = (int) (index % TS_CHART_COLUMNS), row = (int) (index / TS_CHART_COLUMNS);
  int left = EDGE + (width - 2 * EDGE + GAP) * column / TS_CHART_COLUMNS;
  int right = EDGE + (width - 2 * EDGE + GAP) * (column + 1) / TS_CHART_COLUMNS - GAP;
  int top = EDGE + (height - 2 * EDGE + GAP) * row / TS_CHART_ROWS;
  int bottom = EDGE + (height - 2 * EDGE + GAP) * (row + 1) / TS_CHART_ROWS - GAP;
  int middle = (top + bottom) / 2;

  ts_palette_set_lab (cr, self->wanted[index]);
  cairo_rectangle (cr, left, top, right - left, middle - top);
  cairo_fill (cr);
  if (self->used[index])
    {
      ts_palette_set_lab (cr, self->corrected[index]);
      cairo_rectangle (cr, left, middle, right - left, bottom - middle);
      cairo_fill (cr);
    }
  cairo_set_source_rgba (cr, 0.0, 0.0, 0.0, 0.16);
  cairo_set_line_width (cr, 1.0);
  cairo_rectangle (cr, left + 0.5, top + 0.5, right - left - 1.0, bottom - top - 1.0);
  cairo_stroke (cr);
}

static void
ts_patch_grid_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TsPatchGrid *self = TS_PATCH_GRID (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  TsPalette palette;
  cairo_t *cr = ts_draw_field (widget, snapshot, &palette);

  for (guint i = 0; self->known && i < TS_CHART_PATCHES; i++)
    draw_patch (self, cr, i, width, height);
  cairo_destroy (cr);
}

static void
ts_patch_grid_class_init (TsPatchGridClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  widget_class->snapshot = ts_patch_grid_snapshot;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
ts_patch_grid_init (TsPatchGrid *self)
{
  gtk_widget_set_size_request (GTK_WIDGET (self), 200, HEIGHT);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Wanted over corrected, patch by patch"), -1);
}

/**
 * ts_patch_grid_set:
 * @self: the grid
 * @reading: (nullable): what was found of each patch; %NULL shows nothing
 * @reference: the chart's own colours
 * @correction: what came of it
 *
 * Shows each patch as it is and as it is corrected; of one that was left out the first alone.
 */
void
ts_patch_grid_set (TsPatchGrid *self, const TsChartReading *reading,
                   const TsChartReference *reference, const TsCorrection *correction)
{
  g_autofree char *words = NULL;

  g_return_if_fail (TS_IS_PATCH_GRID (self));

  self->known = reading != NULL;
  for (guint i = 0; reading != NULL && i < TS_CHART_PATCHES; i++)
    {
      self->wanted[i] = reference->lab[i];
      self->corrected[i] =
        ts_lab_from_xyz (ts_correction_apply (correction, reading->patch[i].xyz));
      self->used[i] = reading->patch[i].used;
    }
  words = reading != NULL ? g_strdup_printf (_ ("%u of 24 patches used"), reading->n_used)
                          : g_strdup (_ ("nothing measured yet"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words,
                                  -1);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
