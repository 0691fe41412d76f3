/* ts-bottles-panel.c: whether the mixes of a stair are chosen apart or together, and of how many
 * paints
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/stair/ts-bottles-panel.h"

#include <glib/gi18n.h>

struct _TsBottlesPanel
{
  TsView parent_instance;

  gboolean updating;         /* a choice is shown, not made */
  GCancellable *cancellable; /* owned, NULL: offers are not being looked for */
  TsSurfaceResult *base;     /* owned, NULL: what the offers are made from */
  GPtrArray *offers;         /* owned, NULL: TsJointPlan */

  /* Template children */
  GtkWidget *apart, *truest, *between, *fewest, *list, *note;
};

/* What the thread works from and what it finds. */
typedef struct
{
  TsSurfaceResult *result; /* owned */
  TsPlan *plan;            /* owned */
  guint surface;
} OfferJob;

G_DEFINE_FINAL_TYPE (TsBottlesPanel, ts_bottles_panel, TS_TYPE_VIEW)

static void
offer_job_free (gpointer data)
{
  OfferJob *job = data;

  ts_surface_result_unref (job->result);
  ts_plan_unref (job->plan);
  g_free (job);
}

static GtkWidget *
get_choice (TsBottlesPanel *self, TsTogether together)
{
  GtkWidget *choices[] = { self->apart, self->truest, self->between, self->fewest };

  return choices[together];
}

static guint
get_selected (TsBottlesPanel *self)
{
  return (guint) ts_document_get_selected_surface (ts_view_get_document (TS_VIEW (self)));
}

static void
on_chosen (TsBottlesPanel *self)
{
  if (self->updating || ts_view_get_surface (TS_VIEW (self)) == NULL)
    return;
  for (guint i = 0; i < TS_N_TOGETHER; i++)
    if (gtk_check_button_get_active (GTK_CHECK_BUTTON (get_choice (self, (TsTogether) i))))
      ts_document_set_together (ts_view_get_document (TS_VIEW (self)), get_selected (self),
                                (TsTogether) i, 0);
}

static void
on_row_activated (TsBottlesPanel *self, GtkListBoxRow *row)
{
  const TsJointPlan *offer;

  if (self->updating || ts_view_get_surface (TS_VIEW (self)) == NULL)
    return;
  offer = g_ptr_array_index (self->offers, (guint) gtk_list_box_row_get_index (row));
  ts_document_set_together (ts_view_get_document (TS_VIEW (self)), get_selected (self),
                            TS_TOGETHER_TRUEST, offer->n_paints);
}

/* What the colours come to as drops fall, on the average of the steps. */
static char *
dup_offer (const TsJointPlan *offer)
{
  return g_strdup_printf (
    ngettext ("%u paint, about dE %.1f a step", "%u paints, about dE %.1f a step", offer->n_paints),
    offer->n_paints, offer->delta_e / MAX (offer->recipes->len, 1));
}

static GtkWidget *
new_row (const TsJointPlan *offer)
{
  GtkWidget *row = gtk_list_box_row_new (), *label;
  g_autofree char *text = dup_offer (offer);

  label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), 0.0F);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
  return row;
}

/* The row in use is the one with as many paints as the surface asks for. */
static void
select_row (TsBottlesPanel *self)
{
  const TsSurface *surface = ts_view_get_stair_surface (TS_VIEW (self));
  GtkListBoxRow *row = NULL;

  for (guint i = 0; surface != NULL && self->offers != NULL && i < self->offers->len; i++)
    if (((const TsJointPlan *) g_ptr_array_index (self->offers, i))->n_paints ==
        surface->most_paints)
      row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), (int) i);
  gtk_list_box_select_row (GTK_LIST_BOX (self->list), row);
}

static void
show_offers (TsBottlesPanel *self)
{
  GtkWidget *row;

  self->updating = TRUE;
  while ((row = gtk_widget_get_first_child (self->list)) != NULL)
    gtk_list_box_remove (GTK_LIST_BOX (self->list), row);
  for (guint i = 0; self->offers != NULL && i < self->offers->len; i++)
    gtk_list_box_append (GTK_LIST_BOX (self->list), new_row (g_ptr_array_index (self->offers, i)));
  gtk_widget_set_visible (self->list, self->offers != NULL && self->offers->len > 0);
  select_row (self);
  self->updating = FALSE;
}

static void
show_note (TsBottlesPanel *self)
{
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (self));
  const char *problem = result != NULL ? ts_surface_result_get_joint_problem (result) : NULL;
  const char *note = _ (
    "Fewer bottles cost some truth. Figures are what to expect when each drop varies by a tenth.");

  if (problem != NULL)
    note = problem;
  else if (self->offers == NULL)
    note = self->cancellable != NULL ? _ ("Looking for stairs of few paints…")
                                     : _ ("No mixes are known yet.");
  gtk_label_set_label (GTK_LABEL (self->note), note);
}

static void
stop (TsBottlesPanel *self)
{
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
}

static void
offer_thread (GTask *task, gpointer source, gpointer task_data, GCancellable *cancellable)
{
  OfferJob *job = task_data;
  GError *error = NULL;
  GPtrArray *offers =
    ts_surface_result_offer_paints (job->result, job->plan, job->surface, cancellable, &error);

  if (offers != NULL)
    g_task_return_pointer (task, offers, (GDestroyNotify) g_ptr_array_unref);
  else
    g_task_return_error (task, error);
}

static void
on_offered (GObject *source, GAsyncResult *result, gpointer data)
{
  TsBottlesPanel *self = TS_BOTTLES_PANEL (source);
  g_autoptr (GError) error = NULL;
  GPtrArray *offers = g_task_propagate_pointer (G_TASK (result), &error);

  /* Others may have been asked for since. */
  if (self->cancellable != g_task_get_cancellable (G_TASK (result)))
    {
      g_clear_pointer (&offers, g_ptr_array_unref);
      return;
    }
  g_clear_object (&self->cancellable);
  self->offers = offers;
  show_offers (self);
  show_note (self);
}

/* Looks for offers anew where the stair is another. It is the wanted colours that count: a choice
 * among the offers changes none of them. */
static void
look_for_offers (TsBottlesPanel *self)
{
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (self));
  g_autoptr (GTask) task = NULL;
  OfferJob *job;

  if (result == NULL || ts_surface_result_is_stale (result) ||
      (self->base != NULL && ts_surface_result_wants_same (self->base, result)))
    return;
  stop (self);
  g_clear_pointer (&self->base, ts_surface_result_unref);
  g_clear_pointer (&self->offers, g_ptr_array_unref);
  self->base = ts_surface_result_ref (result);
  job = g_new0 (OfferJob, 1);
  job->result = ts_surface_result_ref (result);
  job->plan = ts_plan_ref ((TsPlan *) ts_document_get_plan (ts_view_get_document (TS_VIEW (self))));
  job->surface = get_selected (self);
  self->cancellable = g_cancellable_new ();
  task = g_task_new (self, self->cancellable, on_offered, NULL);
  g_task_set_task_data (task, job, offer_job_free);
  g_task_run_in_thread (task, offer_thread);
  show_offers (self);
}

static void
ts_bottles_panel_update (TsView *view, TsChange change)
{
  TsBottlesPanel *self = TS_BOTTLES_PANEL (view);
  const TsSurface *surface = ts_view_get_stair_surface (view);

  /* Work is done for who looks at it. */
  if (surface == NULL || !gtk_widget_get_mapped (GTK_WIDGET (self)))
    return;
  self->updating = TRUE;
  gtk_check_button_set_active (GTK_CHECK_BUTTON (get_choice (self, surface->together)), TRUE);
  select_row (self);
  self->updating = FALSE;
  look_for_offers (self);
  show_note (self);
}

static void
ts_bottles_panel_map (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (ts_bottles_panel_parent_class)->map (widget);
  ts_bottles_panel_update (TS_VIEW (widget), TS_CHANGE_ALL);
}

static void
ts_bottles_panel_dispose (GObject *object)
{
  TsBottlesPanel *self = TS_BOTTLES_PANEL (object);

  stop (self);
  g_clear_pointer (&self->base, ts_surface_result_unref);
  g_clear_pointer (&self->offers, g_ptr_array_unref);
  G_OBJECT_CLASS (ts_bottles_panel_parent_class)->dispose (object);
}

static void
ts_bottles_panel_class_init (TsBottlesPanelClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ts_bottles_panel_dispose;
  TS_VIEW_CLASS (class)->update = ts_bottles_panel_update;
  widget_class->map = ts_bottles_panel_map;
  gtk_widget_class_set_template_from_resource (
    widget_class, "/io/github/tonestair/Tonestair/ts-bottles-panel.ui");
  gtk_widget_class_bind_template_child (widget_class, TsBottlesPanel, apart);
  gtk_widget_class_bind_template_child (widget_class, TsBottlesPanel, truest);
  gtk_widget_class_bind_template_child (widget_class, TsBottlesPanel, between);
  gtk_widget_class_bind_template_child (widget_class, TsBottlesPanel, fewest);
  gtk_widget_class_bind_template_child (widget_class, TsBottlesPanel, list);
  gtk_widget_class_bind_template_child (widget_class, TsBottlesPanel, note);
  gtk_widget_class_bind_template_callback (widget_class, on_chosen);
  gtk_widget_class_bind_template_callback (widget_class, on_row_activated);
}

static void
ts_bottles_panel_init (TsBottlesPanel *self)
{
  self->updating = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  self->updating = FALSE;
}

/**
 * ts_bottles_panel_dup_label:
 * @result: (nullable): of the selected surface
 *
 * Returns: (transfer full): how many unlike paints its stair takes
 */
char *
ts_bottles_panel_dup_label (TsSurfaceResult *result)
{
  g_autoptr (GHashTable) paints = g_hash_table_new (NULL, NULL);
  guint n;

  for (guint i = 0; result != NULL && i < ts_surface_result_get_n_steps (result); i++)
    {
      const TsRecipe *recipe = ts_surface_result_get_recipe (result, i);

      for (guint j = 0; recipe != NULL && j < recipe->n_paints; j++)
        g_hash_table_add (paints, GUINT_TO_POINTER (recipe->paint[j]));
    }
  n = g_hash_table_size (paints);
  return n > 0 ? g_strdup_printf (ngettext ("%u paint", "%u paints", n), n)
               : g_strdup (_ ("Paints"));
}
