/* ts-limits-panel.c: limits of mixes: paints, parts, what is left out and what must be in
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/stair/ts-limits-panel.h"

#include <glib/gi18n.h>

#include "gui/widgets/ts-accessible.h"

struct _TsLimitsPanel
{
  TsView parent_instance;

  gboolean updating;         /* settings are shown, not made */
  TsPaintSet *shown;         /* owned, nullable: whose names the list has */
  TsPaintRules *shown_rules; /* owned, nullable */
  GtkStringList *names;      /* owned */
  GtkStringFilter *filter;   /* owned */

  /* Template children */
  GtkAdjustment *paints, *parts, *stair;
  GtkWidget *paints_spin, *parts_spin, *stair_spin, *opaque, *search, *list, *clear;
};

G_DEFINE_FINAL_TYPE (TsLimitsPanel, ts_limits_panel, TS_TYPE_VIEW)

static const TsPlan *
get_plan (TsLimitsPanel *self)
{
  return ts_document_get_plan (ts_view_get_document (TS_VIEW (self)));
}

static void
on_changed (TsLimitsPanel *self)
{
  TsMixSettings mix;

  if (self->updating || get_plan (self) == NULL)
    return;
  mix = get_plan (self)->mix;
  mix.max_paints = (guint) gtk_adjustment_get_value (self->paints);
  mix.max_parts = (guint) gtk_adjustment_get_value (self->parts);
  mix.most_paints = (guint) gtk_adjustment_get_value (self->stair);
  mix.opaque_only = gtk_check_button_get_active (GTK_CHECK_BUTTON (self->opaque));
  ts_document_set_mix (ts_view_get_document (TS_VIEW (self)), &mix);
}

static void
on_search_changed (TsLimitsPanel *self)
{
  gtk_string_filter_set_search (self->filter, gtk_editable_get_text (GTK_EDITABLE (self->search)));
}

/* Lets every paint in again. */
static void
on_clear (TsLimitsPanel *self)
{
  if (get_plan (self) != NULL)
    ts_document_clear_rules (ts_view_get_document (TS_VIEW (self)));
}

/* 0 reads as no limit. */
static gboolean
on_stair_output (GtkSpinButton *spin, TsLimitsPanel *self)
{
  if (gtk_adjustment_get_value (self->stair) >= 0.5)
    return FALSE;
  gtk_editable_set_text (GTK_EDITABLE (spin), C_ ("how many paints", "any"));
  return TRUE;
}

static int
on_stair_input (GtkSpinButton *spin, double *value, TsLimitsPanel *self)
{
  const char *text = gtk_editable_get_text (GTK_EDITABLE (spin));

  if (g_utf8_collate (text, C_ ("how many paints", "any")) != 0)
    return FALSE;
  *value = 0.0;
  return TRUE;
}

static void
on_rule_chosen (GtkDropDown *choice, GParamSpec *pspec, GtkListItem *item)
{
  TsLimitsPanel *self =
    TS_LIMITS_PANEL (gtk_widget_get_ancestor (GTK_WIDGET (choice), TS_TYPE_LIMITS_PANEL));
  GtkStringObject *name = gtk_list_item_get_item (item);

  if (self != NULL && !self->updating && name != NULL && get_plan (self) != NULL)
    ts_document_set_rule (ts_view_get_document (TS_VIEW (self)),
                          gtk_string_object_get_string (name),
                          (TsPaintRule) gtk_drop_down_get_selected (choice));
}

static void
on_row_setup (GtkSignalListItemFactory *factory, GtkListItem *item)
{
  const char *words[] = { C_ ("paint in mixes", "may be in"), C_ ("paint in mixes", "only these"),
                          C_ ("paint in mixes", "left out"), C_ ("paint in mixes", "in every mix"),
                          NULL };
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8), *label = gtk_label_new (NULL);
  GtkWidget *choice = gtk_drop_down_new_from_strings (words);

  gtk_label_set_xalign (GTK_LABEL (label), 0.0F);
  ts_accessible_may_be_cut (label);
  gtk_widget_set_hexpand (label, TRUE);
  gtk_widget_set_valign (choice, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (box), label);
  gtk_box_append (GTK_BOX (box), choice);
  gtk_list_item_set_activatable (item, FALSE);
  gtk_list_item_set_child (item, box);
  g_signal_connect (choice, "notify::selected", G_CALLBACK (on_rule_chosen), item);
}

static void
on_row_bind (GtkSignalListItemFactory *factory, GtkListItem *item, TsLimitsPanel *self)
{
  GtkStringObject *name = gtk_list_item_get_item (item);
  const char *text = gtk_string_object_get_string (name);
  GtkWidget *label = gtk_widget_get_first_child (gtk_list_item_get_child (item));
  GtkWidget *choice = gtk_widget_get_next_sibling (label);
  gboolean was = self->updating;

  self->updating = TRUE;
  gtk_label_set_label (GTK_LABEL (label), text);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (choice), ts_paint_rules_get (self->shown_rules, text));
  ts_accessible_name_inner (choice, text);
  self->updating = was;
}

static void
show_names (TsLimitsPanel *self, TsPaintSet *paints)
{
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();
  g_auto (GStrv) names = NULL;
  guint n = g_list_model_get_n_items (G_LIST_MODEL (self->names));

  for (guint i = 0; paints != NULL && i < ts_paint_set_get_n_paints (paints); i++)
    {
      const TsPaint *paint = ts_paint_set_get_paint (paints, i);

      if (ts_paint_is_for_mixing (paint))
        g_strv_builder_add (builder, ts_paint_get_name (paint));
    }
  names = g_strv_builder_end (builder);
  gtk_string_list_splice (self->names, 0, n, (const char *const *) names);
  g_clear_pointer (&self->shown, ts_paint_set_unref);
  self->shown = paints != NULL ? ts_paint_set_ref (paints) : NULL;
}

/* Rows are bound anew where the rules are others. */
static void
show_rules (TsLimitsPanel *self, const TsPlan *plan)
{
  gboolean same = ts_paint_rules_is_equal (self->shown_rules, plan->rules);

  gtk_widget_set_sensitive (self->clear, plan->rules != NULL);
  if (same && self->shown == plan->paints)
    return;
  g_clear_pointer (&self->shown_rules, ts_paint_rules_unref);
  self->shown_rules = plan->rules != NULL ? ts_paint_rules_ref (plan->rules) : NULL;
  show_names (self, plan->paints);
}

static void
ts_limits_panel_update (TsView *view, TsChange change)
{
  TsLimitsPanel *self = TS_LIMITS_PANEL (view);
  const TsPlan *plan = get_plan (self);

  if (plan == NULL || !gtk_widget_get_mapped (GTK_WIDGET (self)))
    return;
  self->updating = TRUE;
  gtk_adjustment_set_value (self->paints, plan->mix.max_paints);
  gtk_adjustment_set_value (self->parts, plan->mix.max_parts);
  gtk_adjustment_set_value (self->stair, plan->mix.most_paints);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->opaque), plan->mix.opaque_only);
  show_rules (self, plan);
  self->updating = FALSE;
}

static void
ts_limits_panel_map (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (ts_limits_panel_parent_class)->map (widget);
  ts_limits_panel_update (TS_VIEW (widget), TS_CHANGE_ALL);
}

static void
ts_limits_panel_dispose (GObject *object)
{
  TsLimitsPanel *self = TS_LIMITS_PANEL (object);

  g_clear_pointer (&self->shown, ts_paint_set_unref);
  g_clear_pointer (&self->shown_rules, ts_paint_rules_unref);
  g_clear_object (&self->names);
  g_clear_object (&self->filter);
  G_OBJECT_CLASS (ts_limits_panel_parent_class)->dispose (object);
}

static void
ts_limits_panel_class_init (TsLimitsPanelClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ts_limits_panel_dispose;
  TS_VIEW_CLASS (class)->update = ts_limits_panel_update;
  widget_class->map = ts_limits_panel_map;
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/io/github/tonestair/Tonestair/ts-limits-panel.ui");
  gtk_widget_class_bind_template_child (widget_class, TsLimitsPanel, paints);
  gtk_widget_class_bind_template_child (widget_class, TsLimitsPanel, parts);
  gtk_widget_class_bind_template_child (widget_class, TsLimitsPanel, stair);
  gtk_widget_class_bind_template_child (widget_class, TsLimitsPanel, paints_spin);
  gtk_widget_class_bind_template_child (widget_class, TsLimitsPanel, parts_spin);
  gtk_widget_class_bind_template_child (widget_class, TsLimitsPanel, stair_spin);
  gtk_widget_class_bind_template_child (widget_class, TsLimitsPanel, opaque);
  gtk_widget_class_bind_template_child (widget_class, TsLimitsPanel, search);
  gtk_widget_class_bind_template_child (widget_class, TsLimitsPanel, list);
  gtk_widget_class_bind_template_child (widget_class, TsLimitsPanel, clear);
  gtk_widget_class_bind_template_callback (widget_class, on_changed);
  gtk_widget_class_bind_template_callback (widget_class, on_search_changed);
  gtk_widget_class_bind_template_callback (widget_class, on_clear);
  gtk_widget_class_bind_template_callback (widget_class, on_stair_output);
  gtk_widget_class_bind_template_callback (widget_class, on_stair_input);
}

static void
init_list (TsLimitsPanel *self)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
  GtkFilterListModel *filtered;
  GtkExpression *name = gtk_property_expression_new (GTK_TYPE_STRING_OBJECT, NULL, "string");

  self->names = gtk_string_list_new (NULL);
  self->filter = gtk_string_filter_new (name);
  filtered = gtk_filter_list_model_new (G_LIST_MODEL (g_object_ref (self->names)),
                                        GTK_FILTER (g_object_ref (self->filter)));
  g_signal_connect (factory, "setup", G_CALLBACK (on_row_setup), NULL);
  g_signal_connect (factory, "bind", G_CALLBACK (on_row_bind), self);
  gtk_list_view_set_factory (GTK_LIST_VIEW (self->list), factory);
  gtk_list_view_set_model (
    GTK_LIST_VIEW (self->list),
    GTK_SELECTION_MODEL (g_object_ref_sink (gtk_no_selection_new (G_LIST_MODEL (filtered)))));
  g_object_unref (factory);
}

static void
ts_limits_panel_init (TsLimitsPanel *self)
{
  self->updating = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  init_list (self);
  self->updating = FALSE;
}
