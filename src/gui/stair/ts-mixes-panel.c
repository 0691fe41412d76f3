/* ts-mixes-panel.c: other mixes for the selected step, each with its reason
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/stair/ts-mixes-panel.h"

#include <glib/gi18n.h>

#include "recipes/ts-recipe-choice.h"
#include "gui/stair/ts-accents-box.h"
#include "gui/widgets/ts-accessible.h"
#include "gui/widgets/ts-format.h"
#include "gui/stair/ts-limits-panel.h"
#include "gui/stair/ts-reach-view.h"
#include "gui/widgets/ts-strip.h"

#define PAIR_HEIGHT 64
#define PAIR_EDGE 8
#define MAX_OFFERS 7
#define MOST_OTHERS 2

/* One mix and why it is offered. */
typedef struct
{
  guint choice;
  char *reason; /* owned */
} Offer;

struct _TsMixesPanel
{
  TsView parent_instance;

  gboolean trying;   /* offers are tried on: one gesture of the document */
  gboolean changed;  /* an offer has been put on */
  gboolean updating; /* offers are shown, not chosen */
  int surface, step;
  GArray *offers;  /* owned, Offer */
  GArray *choices; /* owned, TsRecipe: as they were when the panel opened */
  TsStrip *strip;  /* child */

  /* Template children */
  GtkWidget *back, *title, *role, *pair, *mixed, *list, *note, *limits, *keep;
  TsReachView *reach;
};

enum
{
  CLOSED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (TsMixesPanel, ts_mixes_panel, TS_TYPE_VIEW)

static void
offer_clear (Offer *offer)
{
  g_free (offer->reason);
}

static const TsRecipe *
get_choice (TsMixesPanel *self, guint index)
{
  return &g_array_index (self->choices, TsRecipe, index);
}

static TsSurfaceResult *
get_result (TsMixesPanel *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  TsSurfaceResult *result =
    self->surface >= 0 ? ts_document_get_result (document, (guint) self->surface) : NULL;

  return result != NULL && self->step >= 0 &&
             self->step < (int) ts_surface_result_get_n_steps (result)
           ? result
           : NULL;
}

static gboolean
is_offered (TsMixesPanel *self, guint choice)
{
  for (guint i = 0; i < self->offers->len; i++)
    if (g_array_index (self->offers, Offer, i).choice == choice)
      return TRUE;
  return FALSE;
}

/* Takes @reason. One mix is offered once: the first reason stands. */
static void
offer (TsMixesPanel *self, guint choice, char *reason)
{
  Offer one = { choice, reason };

  if (is_offered (self, choice) || self->offers->len >= MAX_OFFERS)
    g_free (reason);
  else
    g_array_append_val (self->offers, one);
}

static guint
count_shared (TsMixesPanel *self, const TsRecipe *recipe, TsSurfaceResult *result, int step)
{
  const TsRecipe *other = step >= 0 && step < (int) ts_surface_result_get_n_steps (result)
                            ? ts_surface_result_get_recipe (result, (guint) step)
                            : NULL;
  guint n = 0;

  for (guint i = 0; other != NULL && i < recipe->n_paints; i++)
    for (guint j = 0; j < other->n_paints; j++)
      n += recipe->paint[i] == other->paint[j];
  return n;
}

static double
get_sharing (TsMixesPanel *self, guint i)
{
  TsSurfaceResult *result = get_result (self);
  const TsRecipe *recipe = get_choice (self, i);

  return (double) (count_shared (self, recipe, result, self->step - 1) +
                   count_shared (self, recipe, result, self->step + 1)) /
         recipe->n_paints;
}

/* The nearest of those that share most; the nearest of all where none shares more. */
static guint
find_sharing (TsMixesPanel *self)
{
  guint found = 0;

  for (guint i = 1; i < self->choices->len; i++)
    if (get_sharing (self, i) > get_sharing (self, found) + 1e-9)
      found = i;
  return found;
}

static char *
dup_sharing_reason (TsMixesPanel *self)
{
  guint n = ts_surface_result_get_n_steps (get_result (self));

  if (self->step == 0)
    return g_strdup_printf (_ ("Shares its paints with step %d"), 2);
  if (self->step + 1 == (int) n)
    return g_strdup_printf (_ ("Shares its paints with step %d"), self->step);
  return g_strdup_printf (_ ("Shares its paints with steps %d and %d"), self->step, self->step + 2);
}

/* The words for why the core offers a mix; one of those that have a reason. */
static char *
dup_reason (const TsChoice *choice)
{
  guint n = choice->recipe.n_paints;

  switch (choice->reason)
    {
    case TS_CHOICE_NEAREST:
      return g_strdup (_ ("Nearest"));
    case TS_CHOICE_SIMPLEST:
      return g_strdup_printf (ngettext ("Simplest: %u paint", "Simplest: %u paints", n), n);
    case TS_CHOICE_FORGIVING:
      return g_strdup (_ ("Forgives a drop too many"));
    case TS_CHOICE_WARM_LAMP:
      return g_strdup (_ ("Holds under a warm lamp"));
    case TS_CHOICE_WHITE_LED:
    case TS_CHOICE_OTHER:
    default:
      return g_strdup (_ ("Holds under a white LED"));
    }
}

static guint
find_choice (TsMixesPanel *self, const TsRecipe *recipe)
{
  guint i = 0;

  while (i + 1 < self->choices->len && !ts_recipe_is_same (get_choice (self, i), recipe))
    i++;
  return i;
}

/* Those with a reason, what shares most with the steps beside it, and a few more. */
static void
find_offers (TsMixesPanel *self)
{
  g_autoptr (GArray) chosen = ts_recipe_choose (self->choices, MAX_OFFERS);
  /* What would help has more to say than further mixes that do not. */
  gboolean far =
    ts_surface_result_get_reach (get_result (self), (guint) self->step) != TS_REACH_WITHIN;
  guint others = 0;

  g_array_set_size (self->offers, 0);
  if (self->choices->len == 0)
    return;
  for (guint i = 0; i < chosen->len; i++)
    {
      const TsChoice *choice = &g_array_index (chosen, TsChoice, i);

      if (choice->reason == TS_CHOICE_OTHER)
        break;
      offer (self, find_choice (self, &choice->recipe), dup_reason (choice));
    }
  offer (self, find_sharing (self), dup_sharing_reason (self));
  for (guint i = 1; i < self->choices->len && others < (far ? 0 : MOST_OTHERS); i++)
    if (!is_offered (self, i))
      {
        offer (self, i, g_strdup (_ ("Other paints")));
        others++;
      }
}

static TsLab
get_wanted (TsMixesPanel *self)
{
  TsStair *stair = ts_surface_result_get_stair (get_result (self));

  return ts_stair_get_step (stair, (guint) self->step)->wanted;
}

static GtkWidget *
new_row (TsMixesPanel *self, const Offer *of)
{
  const TsRecipe *recipe = get_choice (self, of->choice);
  TsPaintSet *paints = ts_surface_result_get_paints (get_result (self));
  GtkWidget *row = gtk_list_box_row_new (), *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *first = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *strip = ts_strip_new (54, 36, 4), *reason, *error, *text;
  g_autofree char *far = g_strdup_printf (_ ("dE %.0f ± %.0f"), recipe->delta_e, recipe->error);
  g_autofree char *parts = ts_recipe_to_text (paints, recipe);
  TsLab pair[2] = { get_wanted (self), recipe->lab };

  reason = gtk_label_new (of->reason);
  error = gtk_label_new (far);
  text = gtk_label_new (parts);
  gtk_widget_add_css_class (reason, "heading");
  gtk_widget_add_css_class (error, "small");
  gtk_widget_add_css_class (error, "dim");
  gtk_widget_add_css_class (text, "small");
  gtk_label_set_xalign (GTK_LABEL (reason), 0.0F);
  gtk_label_set_xalign (GTK_LABEL (text), 0.0F);
  gtk_label_set_wrap (GTK_LABEL (reason), TRUE);
  gtk_label_set_wrap (GTK_LABEL (text), TRUE);
  gtk_widget_set_hexpand (reason, TRUE);
  ts_strip_set_colours (TS_STRIP (strip), pair, 1, 2);
  ts_strip_describe (TS_STRIP (strip), _ ("Wanted and mixed"), far);
  gtk_box_append (GTK_BOX (first), reason);
  gtk_box_append (GTK_BOX (first), error);
  gtk_box_append (GTK_BOX (words), first);
  gtk_box_append (GTK_BOX (words), text);
  gtk_box_append (GTK_BOX (box), strip);
  gtk_box_append (GTK_BOX (box), words);
  gtk_widget_set_valign (words, GTK_ALIGN_CENTER);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, of->reason,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, parts, -1);
  return row;
}

static void
show_offers (TsMixesPanel *self)
{
  GtkWidget *row;

  self->updating = TRUE;
  while ((row = gtk_widget_get_first_child (self->list)) != NULL)
    gtk_list_box_remove (GTK_LIST_BOX (self->list), row);
  for (guint i = 0; i < self->offers->len; i++)
    gtk_list_box_append (GTK_LIST_BOX (self->list),
                         new_row (self, &g_array_index (self->offers, Offer, i)));
  self->updating = FALSE;
}

/* A simpler mix stands before the nearest where no prediction tells them apart. */
static void
show_note (TsMixesPanel *self)
{
  const char *note = "";

  if (self->offers->len >= 2 && g_array_index (self->offers, Offer, 0).choice != 0)
    note = _ ("The first two are equal within their error; take the simpler.");
  if (self->offers->len == 0)
    note = _ ("No other mixes are known yet.");
  gtk_label_set_label (GTK_LABEL (self->note), note);
}

static void
show_pair (TsMixesPanel *self, TsSurfaceResult *result)
{
  TsLab pair[2] = { get_wanted (self), ts_surface_result_get_colour (result, (guint) self->step) };
  g_autofree char *error =
    ts_format_error (ts_surface_result_get_error (result, (guint) self->step));
  g_autofree char *mixed = g_strdup_printf (_ ("mixed, %s"), error);
  g_autofree char *one = ts_format_lab (pair[0]), *two = ts_format_lab (pair[1]);
  g_autofree char *words = g_strdup_printf (_ ("%s, and %s, %s"), one, two, error);

  ts_strip_set_colours (self->strip, pair, 2, 1);
  ts_strip_describe (self->strip, _ ("Wanted and mixed"), words);
  gtk_label_set_label (GTK_LABEL (self->mixed), mixed);
}

static void
show_title (TsMixesPanel *self, TsSurfaceResult *result)
{
  const TsPlan *plan = ts_document_get_plan (ts_view_get_document (TS_VIEW (self)));
  g_autofree char *title = g_strdup_printf (
    _ ("%s, step %d"), ts_plan_get_surface (plan, (guint) self->surface)->name, self->step + 1);

  gtk_label_set_label (GTK_LABEL (self->title), title);
  gtk_label_set_label (GTK_LABEL (self->role),
                       ts_format_role (ts_surface_result_get_stair (result), (guint) self->step));
}

static void
close_panel (TsMixesPanel *self)
{
  self->surface = self->step = -1;
  g_signal_emit (self, signals[CLOSED], 0);
}

static void
end_trying (TsMixesPanel *self, gboolean keep)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));

  if (!self->trying)
    return;
  self->trying = FALSE;
  if (keep || !self->changed)
    ts_document_end_gesture (document);
  else
    ts_document_cancel_gesture (document);
}

static void
on_back (TsMixesPanel *self)
{
  end_trying (self, FALSE);
  close_panel (self);
}

static void
on_keep (TsMixesPanel *self)
{
  end_trying (self, TRUE);
  close_panel (self);
}

static gboolean
is_in_use (TsMixesPanel *self, const TsRecipe *recipe)
{
  const TsRecipe *used = ts_surface_result_get_recipe (get_result (self), (guint) self->step);

  return used != NULL && ts_recipe_is_same (used, recipe);
}

/* Up and Down try an offer on at once. */
static void
on_row_selected (TsMixesPanel *self, GtkListBoxRow *row)
{
  const TsRecipe *recipe;

  if (self->updating || row == NULL || get_result (self) == NULL)
    return;
  recipe = get_choice (
    self, g_array_index (self->offers, Offer, (guint) gtk_list_box_row_get_index (row)).choice);
  /* The offer that is in use already is selected when the panel opens; that chooses nothing. */
  if (!self->trying && is_in_use (self, recipe))
    return;
  if (!self->trying)
    ts_document_begin_gesture (ts_view_get_document (TS_VIEW (self)), _ ("Take Another Mix"));
  self->trying = self->changed = TRUE;
  ts_document_lock_recipe (ts_view_get_document (TS_VIEW (self)), (guint) self->surface,
                           (guint) self->step, recipe);
}

static void
on_row_activated (TsMixesPanel *self, GtkListBoxRow *row)
{
  on_keep (self);
}

static gboolean
on_key_pressed (GtkEventControllerKey *keys, guint keyval, guint code, GdkModifierType state,
                TsMixesPanel *self)
{
  if (keyval != GDK_KEY_Escape)
    return FALSE;
  on_back (self);
  return TRUE;
}

/* From row to row go the arrows, which try them on; Tab leaves the list as it is. */
static gboolean
on_list_key (GtkEventControllerKey *keys, guint keyval, guint code, GdkModifierType state,
             TsMixesPanel *self)
{
  gboolean back = keyval == GDK_KEY_ISO_Left_Tab || (state & GDK_SHIFT_MASK) != 0;

  if (keyval != GDK_KEY_Tab && keyval != GDK_KEY_ISO_Left_Tab)
    return FALSE;
  return gtk_widget_child_focus (back ? self->limits : self->keep,
                                 back ? GTK_DIR_TAB_BACKWARD : GTK_DIR_TAB_FORWARD);
}

static void
ts_mixes_panel_update (TsView *view, TsChange change)
{
  TsMixesPanel *self = TS_MIXES_PANEL (view);
  TsDocument *document = ts_view_get_document (view);
  TsSurfaceResult *result = get_result (self);

  if (self->surface < 0)
    return;
  if (result == NULL || ts_document_get_selected_surface (document) != self->surface)
    {
      on_keep (self);
      return;
    }
  if (ts_document_get_selected_step (document) != self->step)
    {
      end_trying (self, TRUE);
      if (ts_document_get_selected_step (document) >= 0)
        ts_mixes_panel_open (self);
      else
        close_panel (self);
      return;
    }
  show_title (self, result);
  show_pair (self, result);
  ts_reach_view_show (self->reach, self->step);
}

static void
ts_mixes_panel_finalize (GObject *object)
{
  TsMixesPanel *self = TS_MIXES_PANEL (object);

  g_array_unref (self->offers);
  g_array_unref (self->choices);
  G_OBJECT_CLASS (ts_mixes_panel_parent_class)->finalize (object);
}

static void
ts_mixes_panel_class_init (TsMixesPanelClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = ts_mixes_panel_finalize;
  TS_VIEW_CLASS (class)->update = ts_mixes_panel_update;
  signals[CLOSED] = g_signal_new ("closed", TS_TYPE_MIXES_PANEL, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                  NULL, G_TYPE_NONE, 0);
  g_type_ensure (TS_TYPE_ACCENTS_BOX);
  g_type_ensure (TS_TYPE_LIMITS_PANEL);
  g_type_ensure (TS_TYPE_REACH_VIEW);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/io/github/tonestair/Tonestair/ts-mixes-panel.ui");
  gtk_widget_class_bind_template_child (widget_class, TsMixesPanel, limits);
  gtk_widget_class_bind_template_child (widget_class, TsMixesPanel, keep);
  gtk_widget_class_bind_template_child (widget_class, TsMixesPanel, back);
  gtk_widget_class_bind_template_child (widget_class, TsMixesPanel, title);
  gtk_widget_class_bind_template_child (widget_class, TsMixesPanel, role);
  gtk_widget_class_bind_template_child (widget_class, TsMixesPanel, pair);
  gtk_widget_class_bind_template_child (widget_class, TsMixesPanel, mixed);
  gtk_widget_class_bind_template_child (widget_class, TsMixesPanel, list);
  gtk_widget_class_bind_template_child (widget_class, TsMixesPanel, note);
  gtk_widget_class_bind_template_child (widget_class, TsMixesPanel, reach);
  gtk_widget_class_bind_template_callback (widget_class, on_back);
  gtk_widget_class_bind_template_callback (widget_class, on_keep);
  gtk_widget_class_bind_template_callback (widget_class, on_row_selected);
  gtk_widget_class_bind_template_callback (widget_class, on_row_activated);
}

static void
ts_mixes_panel_init (TsMixesPanel *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkEventController *list_keys = gtk_event_controller_key_new ();

  self->surface = self->step = -1;
  self->offers = g_array_new (FALSE, FALSE, sizeof (Offer));
  g_array_set_clear_func (self->offers, (GDestroyNotify) offer_clear);
  self->choices = g_array_new (FALSE, FALSE, sizeof (TsRecipe));
  gtk_widget_init_template (GTK_WIDGET (self));
  ts_accessible_name_inner (self->limits, _ ("Limits…"));
  self->strip = TS_STRIP (ts_strip_new (-1, PAIR_HEIGHT, PAIR_EDGE));
  ts_strip_describe (self->strip, _ ("Wanted and mixed"), _ ("no step"));
  gtk_box_prepend (GTK_BOX (self->pair), GTK_WIDGET (self->strip));
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key_pressed), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  gtk_event_controller_set_propagation_phase (list_keys, GTK_PHASE_CAPTURE);
  g_signal_connect (list_keys, "key-pressed", G_CALLBACK (on_list_key), self);
  gtk_widget_add_controller (self->list, list_keys);
}

/* Looking at the offers takes none of them, wherever the one in use stands. */
static void
focus_in_use (TsMixesPanel *self)
{
  GtkListBox *list = GTK_LIST_BOX (self->list);
  GtkListBoxRow *row = NULL;

  for (guint i = 0; i < self->offers->len && row == NULL; i++)
    if (is_in_use (self, get_choice (self, g_array_index (self->offers, Offer, i).choice)))
      row = gtk_list_box_get_row_at_index (list, (int) i);
  self->updating = TRUE;
  if (row != NULL)
    gtk_widget_grab_focus (GTK_WIDGET (row));
  else
    gtk_widget_child_focus (self->list, GTK_DIR_TAB_FORWARD);
  gtk_list_box_select_row (list, row);
  self->updating = FALSE;
}

/**
 * ts_mixes_panel_open:
 * @self: the panel
 *
 * Offers mixes for the selected step.
 */
void
ts_mixes_panel_open (TsMixesPanel *self)
{
  TsDocument *document;
  TsSurfaceResult *result;
  const GArray *choices = NULL;

  g_return_if_fail (TS_IS_MIXES_PANEL (self));

  document = ts_view_get_document (TS_VIEW (self));
  self->surface = ts_document_get_selected_surface (document);
  self->step = ts_document_get_selected_step (document);
  self->trying = self->changed = FALSE;
  result = get_result (self);
  if (result == NULL)
    {
      close_panel (self);
      return;
    }
  choices = ts_surface_result_get_choices (result, (guint) self->step);
  g_array_set_size (self->choices, 0);
  if (choices != NULL)
    g_array_append_vals (self->choices, choices->data, choices->len);
  find_offers (self);
  show_offers (self);
  show_note (self);
  ts_mixes_panel_update (TS_VIEW (self), TS_CHANGE_ALL);
  focus_in_use (self);
}
