/* ts-chart-table.c: what the chart tells, beside the picture
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/correction/ts-chart-table.h"

#include <glib/gi18n.h>
#include <math.h>

#include "colour/ts-colour-convert.h"
#include "gui/widgets/ts-accessible.h"
#include "gui/widgets/ts-bar.h"
#include "gui/correction/ts-chart-make.h"
#include "gui/widgets/ts-mark-icon.h"
#include "gui/correction/ts-patch-grid.h"

#define NAME_WIDTH 112

/* One line of the table. */
typedef struct
{
  GtkWidget *row, *number, *name, *bar, *left; /* borrowed: children */
} Line;

/* One form of the correction, and how far it is off. */
typedef struct
{
  GtkWidget *name, *bar, *error; /* borrowed: children */
} Form;

struct _TsChartTable
{
  GtkWidget parent_instance;

  TsCorrectionDraft *draft; /* owned, or NULL */
  Line line[TS_CHART_PATCHES];
  Form linear, root;

  /* Template children */
  TsChartMake *make;
  GtkWidget *box, *told, *forms, *out_box, *out, *list, *outside;
  TsPatchGrid *grid;
};

G_DEFINE_FINAL_TYPE (TsChartTable, ts_chart_table, GTK_TYPE_WIDGET)

static void
on_make (TsChartTable *self)
{
  if (self->draft != NULL)
    ts_correction_draft_set_chart (self->draft, ts_chart_make_get (self->make));
}

static void
show_form (Form *form, double error, double most, gboolean kept)
{
  g_autofree char *text = isnan (error) ? g_strdup (_ ("too few patches"))
                          : kept        ? g_strdup_printf (_ ("dE %.1f, kept"), error)
                                        : g_strdup_printf (_ ("dE %.1f"), error);

  ts_bar_set (TS_BAR (form->bar), isnan (error) ? 0.0 : error / most, kept);
  gtk_label_set_label (GTK_LABEL (form->error), text);
  for (GtkWidget *w = form->name; w != NULL; w = w == form->name ? form->error : NULL)
    {
      gtk_widget_remove_css_class (w, kept ? "dim" : "problem");
      gtk_widget_add_css_class (w, kept ? "problem" : "dim");
    }
}

static void
show_forms (TsChartTable *self, const TsChartReading *reading)
{
  double linear = reading->leave_one_out_linear, root = reading->leave_one_out_root;
  double most = 1.35 * MAX (isnan (linear) ? 0.0 : linear, isnan (root) ? 0.0 : root);
  gboolean kept =
    !isnan (root) && fabs (root - reading->leave_one_out) <
                       fabs ((isnan (linear) ? 1e9 : linear) - reading->leave_one_out);

  show_form (&self->linear, linear, MAX (most, 1e-6), !kept);
  show_form (&self->root, root, MAX (most, 1e-6), kept);
}

static int
compare_left (gconstpointer a, gconstpointer b, gpointer data)
{
  const TsChartReading *reading = data;
  const TsChartPatch *one = &reading->patch[*(const guint *) a];
  const TsChartPatch *other = &reading->patch[*(const guint *) b];

  if (one->used != other->used)
    return one->used ? -1 : 1;
  return one->residual < other->residual ? 1 : one->residual > other->residual ? -1 : 0;
}

static void
show_line (Line *line, guint index, const TsChartPatch *patch, double most)
{
  g_autofree char *number = g_strdup_printf ("%u", index + 1);
  g_autofree char *left = patch->used ? g_strdup_printf (_ ("dE %.1f"), patch->residual)
                                      : g_strdup (ts_patch_reason (patch));
  g_autofree char *words = patch->used ? g_strdup_printf (_ ("%u, %s, error %.1f"), index + 1,
                                                          ts_patch_name (index), patch->residual)
                                       : g_strdup_printf (_ ("%u, %s, left out: %s"), index + 1,
                                                          ts_patch_name (index), left);

  gtk_label_set_label (GTK_LABEL (line->number), number);
  gtk_label_set_label (GTK_LABEL (line->name), ts_patch_name (index));
  gtk_label_set_label (GTK_LABEL (line->left), left);
  ts_bar_set (TS_BAR (line->bar), patch->used ? patch->residual / most : 0.0, TRUE);
  gtk_widget_set_visible (line->bar, patch->used);
  gtk_accessible_update_property (GTK_ACCESSIBLE (line->row), GTK_ACCESSIBLE_PROPERTY_LABEL, words,
                                  -1);
}

static void
show_table (TsChartTable *self, const TsChartReading *reading)
{
  guint order[TS_CHART_PATCHES];
  double most = 1.0;

  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    {
      order[i] = i;
      if (reading->patch[i].used)
        most = MAX (most, 1.1 * reading->patch[i].residual);
    }
  g_qsort_with_data (order, TS_CHART_PATCHES, sizeof *order, compare_left, (gpointer) reading);
  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    show_line (&self->line[i], order[i], &reading->patch[order[i]], most);
}

static void
show_left_out (TsChartTable *self, const TsChartReading *reading)
{
  g_autoptr (GString) words = g_string_new (NULL);

  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    if (!reading->patch[i].used)
      g_string_append_printf (words, "%s%s (%s)", words->len > 0 ? _ (", ") : "", ts_patch_name (i),
                              ts_patch_reason (&reading->patch[i]));
  gtk_widget_set_visible (self->out_box, words->len > 0);
  if (words->len == 0)
    return;
  g_string_prepend (words, _ ("Left out: "));
  gtk_label_set_label (GTK_LABEL (self->out), words->str);
}

/* The patches that a screen cannot show: they are measured all the same. */
static void
show_outside (TsChartTable *self, const TsChartReference *reference)
{
  g_autoptr (GString) numbers = g_string_new (NULL);
  g_autofree char *words = NULL;
  guint n = 0;

  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    {
      guint8 srgb[3];

      if (ts_lab_to_srgb8 (reference->lab[i], srgb))
        continue;
      g_string_append_printf (numbers, n++ > 0 ? ", %u" : "%u", i + 1);
    }
  gtk_widget_set_visible (self->outside, n > 0);
  words = g_strdup_printf (
    ngettext (
      "Patch %s lies outside what a screen can show; it is fitted, and shown as near as can "
      "be.",
      "Patches %s lie outside what a screen can show; they are fitted, and shown as near as "
      "can be.",
      n),
    numbers->str);
  gtk_label_set_label (GTK_LABEL (self->outside), words);
}

static void
on_changed (TsChartTable *self)
{
  const TsChartReading *reading = ts_correction_draft_get_reading (self->draft);
  const TsChartReference *reference = ts_correction_draft_get_reference (self->draft);

  ts_chart_make_set (self->make, ts_correction_draft_get_chart (self->draft));
  gtk_widget_set_visible (self->told, reading != NULL);
  if (reading == NULL)
    return;
  ts_patch_grid_set (self->grid, reading, reference,
                     ts_correction_draft_get_correction (self->draft));
  show_forms (self, reading);
  show_left_out (self, reading);
  show_table (self, reading);
  show_outside (self, reference);
}

static GtkWidget *
new_label (const char *style, float xalign)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), xalign);
  gtk_widget_add_css_class (label, style);
  return label;
}

static void
add_form (TsChartTable *self, Form *form, const char *name, int row)
{
  form->name = new_label ("small", 0.0F);
  form->bar = ts_bar_new ();
  form->error = new_label ("small", 0.0F);
  gtk_label_set_label (GTK_LABEL (form->name), name);
  gtk_widget_set_size_request (form->name, NAME_WIDTH, -1);
  gtk_widget_set_hexpand (form->bar, TRUE);
  gtk_widget_set_size_request (form->error, 86, -1);
  gtk_grid_attach (GTK_GRID (self->forms), form->name, 0, row, 1, 1);
  gtk_grid_attach (GTK_GRID (self->forms), form->bar, 1, row, 1, 1);
  gtk_grid_attach (GTK_GRID (self->forms), form->error, 2, row, 1, 1);
}

static void
add_line (TsChartTable *self, Line *line)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);

  line->row = gtk_list_box_row_new ();
  line->number = new_label ("small", 1.0F);
  line->name = new_label ("body", 0.0F);
  line->bar = ts_bar_new ();
  line->left = new_label ("small", 1.0F);
  gtk_widget_add_css_class (line->number, "dim");
  gtk_widget_set_size_request (line->number, 16, -1);
  gtk_widget_set_size_request (line->name, NAME_WIDTH - 10, -1);
  gtk_widget_set_hexpand (line->bar, TRUE);
  gtk_widget_set_size_request (line->left, 46, -1);
  gtk_box_append (GTK_BOX (box), line->number);
  gtk_box_append (GTK_BOX (box), line->name);
  gtk_box_append (GTK_BOX (box), line->bar);
  gtk_box_append (GTK_BOX (box), line->left);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (line->row), box);
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (line->row), FALSE);
  gtk_list_box_append (GTK_LIST_BOX (self->list), line->row);
  gtk_accessible_update_property (GTK_ACCESSIBLE (line->row), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("not measured yet"), -1);
}

static void
ts_chart_table_dispose (GObject *object)
{
  TsChartTable *self = TS_CHART_TABLE (object);

  ts_chart_table_set_draft (self, NULL);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS (ts_chart_table_parent_class)->dispose (object);
}

static void
ts_chart_table_class_init (TsChartTableClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  g_type_ensure (TS_TYPE_CHART_MAKE);
  g_type_ensure (TS_TYPE_PATCH_GRID);
  G_OBJECT_CLASS (class)->dispose = ts_chart_table_dispose;
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/io/github/tonestair/Tonestair/ts-chart-table.ui");
  gtk_widget_class_bind_template_child (widget_class, TsChartTable, box);
  gtk_widget_class_bind_template_child (widget_class, TsChartTable, make);
  gtk_widget_class_bind_template_child (widget_class, TsChartTable, told);
  gtk_widget_class_bind_template_child (widget_class, TsChartTable, forms);
  gtk_widget_class_bind_template_child (widget_class, TsChartTable, out_box);
  gtk_widget_class_bind_template_child (widget_class, TsChartTable, out);
  gtk_widget_class_bind_template_child (widget_class, TsChartTable, list);
  gtk_widget_class_bind_template_child (widget_class, TsChartTable, outside);
  gtk_widget_class_bind_template_child (widget_class, TsChartTable, grid);
  gtk_widget_class_bind_template_callback (widget_class, on_make);
}

static void
ts_chart_table_init (TsChartTable *self)
{
  GtkWidget *mark = ts_mark_icon_new ();

  gtk_widget_init_template (GTK_WIDGET (self));
  ts_accessible_tab_leaves (GTK_LIST_BOX (self->list));
  ts_mark_icon_set (TS_MARK_ICON (mark), TS_MARK_OUT_OF_REACH);
  gtk_box_prepend (GTK_BOX (self->out_box), mark);
  add_form (self, &self->linear, _ ("linear"), 0);
  add_form (self, &self->root, _ ("root-polynomial"), 1);
  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    add_line (self, &self->line[i]);
}

/**
 * ts_chart_table_set_draft:
 * @self: the widget
 * @draft: (nullable): whose chart it tells of
 */
void
ts_chart_table_set_draft (TsChartTable *self, TsCorrectionDraft *draft)
{
  g_return_if_fail (TS_IS_CHART_TABLE (self));

  if (self->draft != NULL)
    g_signal_handlers_disconnect_by_data (self->draft, self);
  g_set_object (&self->draft, draft);
  if (draft == NULL)
    return;
  g_signal_connect_swapped (draft, "changed", G_CALLBACK (on_changed), self);
  on_changed (self);
}
