/* ts-paints-pane.c: the set of paints, and the choice of another
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-paints-pane.h"

#include <glib/gi18n.h>

#include "ts-accessible.h"
#include "ts-format.h"
#include "ts-strip.h"

struct _TsPaintsPane
{
  TsView parent_instance;

  TsPaintSet *shown; /* owned, nullable */

  /* Template children */
  GtkWidget *box, *search, *count, *list, *stack;
};

G_DEFINE_FINAL_TYPE (TsPaintsPane, ts_paints_pane, TS_TYPE_VIEW)

static const char *
get_opacity_words (TsOpacity opacity)
{
  switch (opacity)
    {
    case TS_OPACITY_OPAQUE:
      return _ ("opaque");
    case TS_OPACITY_SEMI_OPAQUE:
      return _ ("semi-opaque");
    case TS_OPACITY_SEMI_TRANSPARENT:
      return _ ("semi-transparent");
    case TS_OPACITY_TRANSPARENT:
      return _ ("transparent");
    case TS_OPACITY_UNKNOWN:
    default:
      return _ ("opacity not known");
    }
}

static void
on_stock_chosen (GtkDropDown *choice, GParamSpec *pspec, TsPaintsPane *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  guint index = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (choice), "paint"));
  TsStock stock = (TsStock) gtk_drop_down_get_selected (choice);

  if (ts_document_get_has_plan (document) &&
      ts_paint_get_stock (ts_paint_set_get_paint (self->shown, index)) != stock)
    ts_document_set_stock (document, index, stock);
}

static GtkWidget *
new_stock_choice (TsPaintsPane *self, guint index, TsPaint *paint)
{
  const char *words[] = { C_ ("stock", "full"), C_ ("stock", "low"), C_ ("stock", "out"), NULL };
  GtkWidget *choice = gtk_drop_down_new_from_strings (words);
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  g_autofree char *name = g_strdup_printf (_ ("Stock of %s"), ts_paint_get_name (paint));

  gtk_drop_down_set_selected (GTK_DROP_DOWN (choice), ts_paint_get_stock (paint));
  ts_accessible_name_inner (choice, name);
  g_object_set_data (G_OBJECT (choice), "paint", GUINT_TO_POINTER (index));
  gtk_widget_set_valign (choice, GTK_ALIGN_CENTER);
  gtk_widget_set_sensitive (choice, ts_document_get_has_plan (document));
  g_signal_connect (choice, "notify::selected", G_CALLBACK (on_stock_chosen), self);
  return choice;
}

static GtkWidget *
new_label (const char *text, const char *class, int width)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0.0F);
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_label_set_width_chars (GTK_LABEL (label), width);
  gtk_widget_add_css_class (label, class);
  return label;
}

static GtkWidget *
new_row (TsPaintsPane *self, guint index)
{
  TsPaint *paint = ts_paint_set_get_paint (self->shown, index);
  TsLab lab = ts_paint_get_masstone (paint);
  GtkWidget *row = gtk_list_box_row_new (), *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 16);
  GtkWidget *strip = ts_strip_new (102, 26, 4), *opacity, *error;
  g_autofree char *colour = ts_format_lab (lab);
  g_autofree char *within = ts_format_error (ts_paint_get_error (paint));
  const char *name = ts_paint_get_name (paint);

  ts_strip_set_colours (TS_STRIP (strip), &lab, 1, 1);
  ts_strip_describe (TS_STRIP (strip), name, colour);
  gtk_widget_set_valign (strip, GTK_ALIGN_CENTER);
  opacity = new_label (get_opacity_words (ts_paint_get_opacity (paint)), "small", 16);
  error = new_label (within, "small", 18);
  gtk_widget_add_css_class (opacity, "dim");
  gtk_widget_add_css_class (error, "dim");
  gtk_box_append (GTK_BOX (box), strip);
  gtk_box_append (GTK_BOX (box), new_label (name, "body", 22));
  gtk_box_append (GTK_BOX (box), opacity);
  gtk_box_append (GTK_BOX (box), error);
  gtk_widget_set_hexpand (error, TRUE);
  gtk_box_append (GTK_BOX (box), new_stock_choice (self, index, paint));
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, colour, -1);
  return row;
}

static gboolean
is_found (GtkListBoxRow *row, gpointer user_data)
{
  TsPaintsPane *self = TS_PAINTS_PANE (user_data);
  const char *text = gtk_editable_get_text (GTK_EDITABLE (self->search));
  TsPaint *paint;

  if (*text == '\0' || self->shown == NULL)
    return TRUE;
  paint = ts_paint_set_get_paint (self->shown, (guint) gtk_list_box_row_get_index (row));
  return g_str_match_string (text, ts_paint_get_name (paint), TRUE);
}

static void
on_search_changed (TsPaintsPane *self)
{
  gtk_list_box_invalidate_filter (GTK_LIST_BOX (self->list));
}

static void
show_set (TsPaintsPane *self, TsPaintSet *paints, const char *name)
{
  guint n = paints != NULL ? ts_paint_set_get_n_paints (paints) : 0;
  g_autofree char *hint =
    g_strdup_printf (ngettext ("Find among %u paint", "Find among %u paints", n), n);
  GtkWidget *row;

  while ((row = gtk_widget_get_first_child (self->list)) != NULL)
    gtk_list_box_remove (GTK_LIST_BOX (self->list), row);
  g_clear_pointer (&self->shown, ts_paint_set_unref);
  self->shown = paints != NULL ? ts_paint_set_ref (paints) : NULL;
  for (guint i = 0; i < n; i++)
    gtk_list_box_append (GTK_LIST_BOX (self->list), new_row (self, i));
  g_object_set (self->search, "placeholder-text", hint, NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->search), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  hint, -1);
  gtk_label_set_label (GTK_LABEL (self->count), name != NULL ? name : "");
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), n > 0 ? "list" : "empty");
}

static void
ts_paints_pane_update (TsView *view, TsChange change)
{
  TsPaintsPane *self = TS_PAINTS_PANE (view);
  TsDocument *document = ts_view_get_document (view);
  TsPaintSet *paints = ts_document_get_paints (document);

  if (paints != self->shown || change == TS_CHANGE_ALL)
    show_set (self, paints, ts_document_get_paints_name (document));
}

static void
ts_paints_pane_finalize (GObject *object)
{
  g_clear_pointer (&TS_PAINTS_PANE (object)->shown, ts_paint_set_unref);
  G_OBJECT_CLASS (ts_paints_pane_parent_class)->finalize (object);
}

static void
ts_paints_pane_class_init (TsPaintsPaneClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = ts_paints_pane_finalize;
  TS_VIEW_CLASS (class)->update = ts_paints_pane_update;
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/io/github/tonestair/Tonestair/ts-paints-pane.ui");
  gtk_widget_class_bind_template_child (widget_class, TsPaintsPane, box);
  gtk_widget_class_bind_template_child (widget_class, TsPaintsPane, search);
  gtk_widget_class_bind_template_child (widget_class, TsPaintsPane, count);
  gtk_widget_class_bind_template_child (widget_class, TsPaintsPane, list);
  gtk_widget_class_bind_template_child (widget_class, TsPaintsPane, stack);
  gtk_widget_class_bind_template_callback (widget_class, on_search_changed);
}

static void
ts_paints_pane_init (TsPaintsPane *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_list_box_set_filter_func (GTK_LIST_BOX (self->list), is_found, self, NULL);
}
