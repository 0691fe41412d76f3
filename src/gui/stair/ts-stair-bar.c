/* ts-stair-bar.c: the bar over the stair: how many steps, how they lie, what could be done
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/stair/ts-stair-bar.h"

#include <glib/gi18n.h>

#include "gui/widgets/ts-accessible.h"
#include "gui/stair/ts-bottles-panel.h"
#include "gui/widgets/ts-format.h"

#define LEAST_STEPS 2

struct _TsStairBar
{
  TsView parent_instance;

  gboolean compact;
  gboolean updating;       /* a choice is shown, not made */
  int too_wide, too_close; /* the first of its kind, or -1 */

  /* Template children */
  GtkWidget *box, *name, *surfaces, *n_steps, *spacing, *range, *bottles, *bottles_label, *summary,
    *stop, *other, *polish, *add, *merge;
};

G_DEFINE_FINAL_TYPE (TsStairBar, ts_stair_bar, TS_TYPE_VIEW)

static void ts_stair_bar_update (TsView *view, TsChange change);

static guint
get_selected (TsStairBar *self)
{
  return (guint) ts_document_get_selected_surface (ts_view_get_document (TS_VIEW (self)));
}

static gboolean
can_choose (TsStairBar *self)
{
  return !self->updating && ts_view_get_surface (TS_VIEW (self)) != NULL;
}

static void
on_surface_chosen (TsStairBar *self)
{
  guint chosen = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->surfaces));

  if (can_choose (self) && chosen != GTK_INVALID_LIST_POSITION)
    ts_document_select_surface (ts_view_get_document (TS_VIEW (self)), (int) chosen);
}

static void
on_n_steps_chosen (TsStairBar *self)
{
  guint chosen = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->n_steps));

  if (can_choose (self) && chosen == TS_STAIR_MAX_STEPS - LEAST_STEPS + 1)
    {
      ts_document_set_fewest_steps (ts_view_get_document (TS_VIEW (self)), get_selected (self));
      ts_stair_bar_update (TS_VIEW (self), TS_CHANGE_ALL);
    }
  else if (can_choose (self) && chosen != GTK_INVALID_LIST_POSITION)
    ts_document_set_n_steps (ts_view_get_document (TS_VIEW (self)), get_selected (self),
                             chosen + LEAST_STEPS);
}

static void
on_spacing_chosen (TsStairBar *self)
{
  guint chosen = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->spacing));

  if (can_choose (self) && chosen != GTK_INVALID_LIST_POSITION)
    ts_document_set_spacing (ts_view_get_document (TS_VIEW (self)), get_selected (self),
                             (TsSpacing) chosen);
}

static void
on_add_clicked (TsStairBar *self)
{
  if (can_choose (self) && self->too_wide >= 0)
    ts_document_add_step (ts_view_get_document (TS_VIEW (self)), get_selected (self),
                          (guint) self->too_wide);
}

static void
on_merge_clicked (TsStairBar *self)
{
  if (can_choose (self) && self->too_close >= 0)
    ts_document_merge_step (ts_view_get_document (TS_VIEW (self)), get_selected (self),
                            (guint) self->too_close);
}

static void
on_polish_clicked (TsStairBar *self)
{
  if (can_choose (self))
    ts_document_set_polished (ts_view_get_document (TS_VIEW (self)), get_selected (self), TRUE);
}

static void
find_reasons (TsStairBar *self)
{
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (self));
  guint n = result != NULL ? ts_surface_result_get_n_steps (result) : 0;

  self->too_wide = self->too_close = -1;
  for (guint i = 0; i + 1 < n; i++)
    {
      TsVerdict verdict = ts_surface_result_get_contrast (result, i).verdict;

      if (verdict == TS_VERDICT_TOO_WIDE && self->too_wide < 0 && n < TS_STAIR_MAX_STEPS)
        self->too_wide = (int) i;
      if (verdict == TS_VERDICT_TOO_CLOSE && self->too_close < 0 && n > LEAST_STEPS)
        self->too_close = (int) i;
    }
}

/* An action is offered where its reason is. */
static void
show_offers (TsStairBar *self)
{
  int step = ts_document_get_selected_step (ts_view_get_document (TS_VIEW (self)));
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (self));
  g_autofree char *add = NULL, *merge = NULL, *other = NULL;

  find_reasons (self);
  add =
    g_strdup_printf (_ ("Add a step between %d and %d"), self->too_wide + 1, self->too_wide + 2);
  merge = g_strdup_printf (_ ("Merge %d and %d"), self->too_close + 1, self->too_close + 2);
  other = g_strdup_printf (_ ("Other mixes for %d…"), step + 1);
  gtk_button_set_label (GTK_BUTTON (self->add), add);
  gtk_button_set_label (GTK_BUTTON (self->merge), merge);
  gtk_button_set_label (GTK_BUTTON (self->other), other);
  gtk_widget_set_visible (self->polish,
                          result != NULL && !ts_view_get_stair_surface (TS_VIEW (self))->polished &&
                            ts_curve_seems_polished (ts_surface_result_get_curve (result)));
  gtk_widget_set_visible (self->add, self->too_wide >= 0);
  gtk_widget_set_visible (self->merge, self->too_close >= 0);
  gtk_widget_set_visible (self->other,
                          !self->compact && result != NULL && step >= 0 &&
                            step < (int) ts_surface_result_get_n_steps (result) &&
                            ts_surface_result_get_recipe (result, (guint) step) != NULL);
}

static void
show_bottles (TsStairBar *self)
{
  g_autofree char *label = ts_bottles_panel_dup_label (ts_view_get_result (TS_VIEW (self)));

  if (strcmp (gtk_label_get_label (GTK_LABEL (self->bottles_label)), label) == 0)
    return;
  gtk_label_set_label (GTK_LABEL (self->bottles_label), label);
  ts_accessible_name_inner (self->bottles, label);
}

/* Beside what could be done there is room for the verdict, and not for every number. */
static gboolean
has_little_room (TsStairBar *self)
{
  return self->compact || gtk_widget_get_visible (self->add) ||
         gtk_widget_get_visible (self->merge) || gtk_widget_get_visible (self->polish);
}

static void
show_summary (TsStairBar *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (self));
  const TsPlan *plan = ts_document_get_plan (document);
  g_autofree char *text = NULL;
  gboolean busy = ts_document_get_busy (document) && !ts_document_get_opening (document);

  if (busy)
    g_object_get (document, "busy-text", &text, NULL);
  else if (result != NULL)
    text = ts_format_range (result, plan->contrast.least_range, has_little_room (self));
  else if (ts_view_get_surface (TS_VIEW (self)) != NULL)
    text = g_strdup (ts_document_get_problem (document, get_selected (self)));
  gtk_label_set_label (GTK_LABEL (self->summary), text != NULL ? text : "");
  gtk_widget_set_visible (self->stop, busy);
}

static gboolean
has_same_names (TsStairBar *self, const TsPlan *plan, GtkStringList *names)
{
  if (names == NULL || g_list_model_get_n_items (G_LIST_MODEL (names)) != plan->surfaces->len)
    return FALSE;
  for (guint i = 0; i < plan->surfaces->len; i++)
    if (strcmp (gtk_string_list_get_string (names, i), ts_plan_get_surface (plan, i)->name) != 0)
      return FALSE;
  return TRUE;
}

static void
show_surfaces (TsStairBar *self, const TsPlan *plan)
{
  GListModel *model = gtk_drop_down_get_model (GTK_DROP_DOWN (self->surfaces));
  g_autoptr (GtkStringList) names = NULL;
  int selected = ts_document_get_selected_surface (ts_view_get_document (TS_VIEW (self)));

  if (model == NULL || !has_same_names (self, plan, GTK_STRING_LIST (model)))
    {
      names = gtk_string_list_new (NULL);
      for (guint i = 0; i < plan->surfaces->len; i++)
        gtk_string_list_append (names, ts_plan_get_surface (plan, i)->name);
      gtk_drop_down_set_model (GTK_DROP_DOWN (self->surfaces), G_LIST_MODEL (names));
    }
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->surfaces),
                              selected >= 0 ? (guint) selected : GTK_INVALID_LIST_POSITION);
}

/* What is changed here is changed for all that share the stair: so it says whose it is. */
static void
show_name (TsStairBar *self, const TsSurface *surface)
{
  const TsSurface *of = ts_view_get_stair_surface (TS_VIEW (self));
  g_autofree char *both = g_strdup_printf (_ ("%s, as %s"), surface->name, of->name);

  gtk_label_set_label (GTK_LABEL (self->name), of != surface ? both : surface->name);
}

static void
ts_stair_bar_update (TsView *view, TsChange change)
{
  TsStairBar *self = TS_STAIR_BAR (view);
  const TsPlan *plan = ts_document_get_plan (ts_view_get_document (view));
  const TsSurface *surface = ts_view_get_surface (view);
  const TsSurface *of = ts_view_get_stair_surface (view);

  self->updating = TRUE;
  gtk_widget_set_visible (self->box, surface != NULL);
  if (surface != NULL)
    {
      show_name (self, surface);
      gtk_drop_down_set_selected (GTK_DROP_DOWN (self->n_steps), of->stair.n_steps - LEAST_STEPS);
      gtk_drop_down_set_selected (GTK_DROP_DOWN (self->spacing), of->stair.spacing);
      show_surfaces (self, plan);
      show_offers (self);
      show_bottles (self);
      show_summary (self);
    }
  self->updating = FALSE;
}

static void
fill_choices (TsStairBar *self)
{
  g_autoptr (GtkStringList) numbers = gtk_string_list_new (NULL);
  g_autoptr (GtkStringList) spacings = gtk_string_list_new (NULL);

  for (guint i = LEAST_STEPS; i <= TS_STAIR_MAX_STEPS; i++)
    gtk_string_list_take (numbers, ts_format_n_steps (i));
  gtk_string_list_append (numbers, _ ("fewest that read"));
  for (int i = TS_SPACING_LIGHTNESS; i <= TS_SPACING_BY_HAND; i++)
    gtk_string_list_append (spacings, ts_format_spacing ((TsSpacing) i));
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->n_steps), G_LIST_MODEL (numbers));
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->spacing), G_LIST_MODEL (spacings));
}

static void
ts_stair_bar_class_init (TsStairBarClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  TS_VIEW_CLASS (class)->update = ts_stair_bar_update;
  g_type_ensure (TS_TYPE_BOTTLES_PANEL);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/io/github/tonestair/Tonestair/ts-stair-bar.ui");
  gtk_widget_class_bind_template_child (widget_class, TsStairBar, box);
  gtk_widget_class_bind_template_child (widget_class, TsStairBar, name);
  gtk_widget_class_bind_template_child (widget_class, TsStairBar, surfaces);
  gtk_widget_class_bind_template_child (widget_class, TsStairBar, n_steps);
  gtk_widget_class_bind_template_child (widget_class, TsStairBar, spacing);
  gtk_widget_class_bind_template_child (widget_class, TsStairBar, range);
  gtk_widget_class_bind_template_child (widget_class, TsStairBar, bottles);
  gtk_widget_class_bind_template_child (widget_class, TsStairBar, bottles_label);
  gtk_widget_class_bind_template_child (widget_class, TsStairBar, summary);
  gtk_widget_class_bind_template_child (widget_class, TsStairBar, stop);
  gtk_widget_class_bind_template_child (widget_class, TsStairBar, other);
  gtk_widget_class_bind_template_child (widget_class, TsStairBar, polish);
  gtk_widget_class_bind_template_child (widget_class, TsStairBar, add);
  gtk_widget_class_bind_template_child (widget_class, TsStairBar, merge);
  gtk_widget_class_bind_template_callback (widget_class, on_surface_chosen);
  gtk_widget_class_bind_template_callback (widget_class, on_n_steps_chosen);
  gtk_widget_class_bind_template_callback (widget_class, on_spacing_chosen);
  gtk_widget_class_bind_template_callback (widget_class, on_polish_clicked);
  gtk_widget_class_bind_template_callback (widget_class, on_add_clicked);
  gtk_widget_class_bind_template_callback (widget_class, on_merge_clicked);
}

static void
ts_stair_bar_init (TsStairBar *self)
{
  self->updating = TRUE;
  self->too_wide = self->too_close = -1;
  gtk_widget_init_template (GTK_WIDGET (self));
  ts_accessible_may_be_cut (self->name);
  ts_accessible_may_be_cut (self->summary);
  fill_choices (self);
  ts_accessible_name_inner (self->surfaces, _ ("Surface"));
  ts_accessible_name_inner (self->n_steps, _ ("Number of steps"));
  ts_accessible_name_inner (self->spacing, _ ("Spacing of steps"));
  ts_accessible_name_inner (self->range, _ ("Range and light…"));
  self->updating = FALSE;
}

/**
 * ts_stair_bar_set_compact:
 * @self: the bar
 * @compact: whether the window is small
 *
 * Lets surfaces be chosen here, and says less.
 */
void
ts_stair_bar_set_compact (TsStairBar *self, gboolean compact)
{
  g_return_if_fail (TS_IS_STAIR_BAR (self));

  self->compact = compact;
  gtk_widget_set_visible (self->name, !compact);
  gtk_widget_set_visible (self->surfaces, compact);
  gtk_widget_set_visible (self->spacing, !compact);
  if (ts_view_get_document (TS_VIEW (self)) != NULL)
    ts_stair_bar_update (TS_VIEW (self), TS_CHANGE_ALL);
}
