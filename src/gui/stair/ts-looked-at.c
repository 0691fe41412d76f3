/* ts-looked-at.c: how one surface is lit and looked at, and whose stair it has
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/stair/ts-looked-at.h"

#include <glib/gi18n.h>
#include <string.h>

#include "gui/widgets/ts-accessible.h"
#include "gui/widgets/ts-distance.h"
#include "gui/widgets/ts-format.h"

struct _TsLookedAt
{
  TsView parent_instance;

  gboolean updating; /* settings are shown, not made */

  /* Children */
  GtkWidget *box, *own, *distance, *unit, *band, *stair, *light, *fall;
};

G_DEFINE_FINAL_TYPE (TsLookedAt, ts_looked_at, TS_TYPE_VIEW)

static guint
get_selected (TsLookedAt *self)
{
  return (guint) ts_document_get_selected_surface (ts_view_get_document (TS_VIEW (self)));
}

static void
on_looked_at (TsLookedAt *self)
{
  gboolean own = gtk_check_button_get_active (GTK_CHECK_BUTTON (self->own));

  if (self->updating || ts_view_get_surface (TS_VIEW (self)) == NULL)
    return;
  ts_document_set_looked_at (ts_view_get_document (TS_VIEW (self)), get_selected (self),
                             own ? ts_distance_get (self->distance) : 0.0,
                             own ? gtk_spin_button_get_value (GTK_SPIN_BUTTON (self->band)) : 0.0);
}

/* The first row is the surface's own stair; the surface itself is not in the list. */
static int
surface_of_row (TsLookedAt *self, guint row)
{
  if (row == 0)
    return -1;
  return row - 1 < get_selected (self) ? (int) row - 1 : (int) row;
}

static guint
row_of_surface (TsLookedAt *self, int surface)
{
  if (surface < 0)
    return 0;
  return (guint) surface < get_selected (self) ? (guint) surface + 1 : (guint) surface;
}

static void
on_stair_chosen (TsLookedAt *self)
{
  guint row = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->stair));

  if (!self->updating && ts_view_get_surface (TS_VIEW (self)) != NULL &&
      row != GTK_INVALID_LIST_POSITION)
    ts_document_set_stair_of (ts_view_get_document (TS_VIEW (self)), get_selected (self),
                              surface_of_row (self, row));
}

static gboolean
has_same_rows (GListModel *rows, GStrv wanted)
{
  if (rows == NULL || g_list_model_get_n_items (rows) != g_strv_length (wanted))
    return FALSE;
  for (guint i = 0; wanted[i] != NULL; i++)
    if (strcmp (gtk_string_list_get_string (GTK_STRING_LIST (rows), i), wanted[i]) != 0)
      return FALSE;
  return TRUE;
}

/* Other rows only where they are others: this is also called while a row is being chosen. */
static void
show_stair (TsLookedAt *self, const TsPlan *plan, const TsSurface *surface)
{
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();
  g_auto (GStrv) rows = NULL;

  g_strv_builder_add (builder, _ ("a stair of its own"));
  for (guint i = 0; i < plan->surfaces->len; i++)
    {
      g_autofree char *words =
        g_strdup_printf (_ ("the stair of %s"), ts_plan_get_surface (plan, i)->name);

      if (i != get_selected (self))
        g_strv_builder_add (builder, words);
    }
  rows = g_strv_builder_end (builder);
  if (!has_same_rows (gtk_drop_down_get_model (GTK_DROP_DOWN (self->stair)), rows))
    {
      g_autoptr (GtkStringList) names = gtk_string_list_new ((const char *const *) rows);

      gtk_drop_down_set_model (GTK_DROP_DOWN (self->stair), G_LIST_MODEL (names));
    }
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->stair),
                              row_of_surface (self, surface->stair_of));
}

static void
show_light (TsLookedAt *self, const TsPlan *plan, const TsSurface *surface)
{
  guint picture = surface->runs->len > 0 ? ts_surface_get_run (surface, 0)->picture : 0;
  const char *fall = ts_format_fall (ts_surface_get_fall (plan, get_selected (self)),
                                     picture < plan->pictures->len &&
                                       ts_plan_get_picture (plan, picture)->has_light);

  gtk_label_set_label (GTK_LABEL (self->fall), fall);
  gtk_widget_set_visible (self->fall, *fall != '\0');
}

static void
ts_looked_at_update (TsView *view, TsChange change)
{
  TsLookedAt *self = TS_LOOKED_AT (view);
  const TsPlan *plan = ts_document_get_plan (ts_view_get_document (view));
  const TsSurface *surface = ts_view_get_surface (view);
  gboolean own;

  if (surface == NULL || !(change & (TS_CHANGE_PLAN | TS_CHANGE_SELECTION)))
    return;
  own = surface->distance > 0.0 || surface->band > 0.0;
  self->updating = TRUE;
  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->own), own);
  gtk_widget_set_sensitive (self->distance, own);
  gtk_widget_set_sensitive (self->band, own);
  ts_distance_show (self->distance,
                    surface->distance > 0.0 ? surface->distance : plan->contrast.distance);
  gtk_label_set_label (GTK_LABEL (self->unit), ts_format_get_length_unit () == TS_LENGTH_INCHES
                                                 ? _ ("inches away, bands of")
                                                 : _ ("cm away, bands of"));
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (self->band),
                             surface->band > 0.0 ? surface->band : plan->contrast.band);
  show_stair (self, plan, surface);
  show_light (self, plan, surface);
  self->updating = FALSE;
}

static void
ts_looked_at_class_init (TsLookedAtClass *class)
{
  TS_VIEW_CLASS (class)->update = ts_looked_at_update;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BIN_LAYOUT);
}

/* The arrow is drawn on the picture, which the popover would hide. */
static void
on_light_clicked (GtkWidget *button)
{
  GtkWidget *popover = gtk_widget_get_ancestor (button, GTK_TYPE_POPOVER);

  if (popover != NULL)
    gtk_popover_popdown (GTK_POPOVER (popover));
}

static void
add_spins (TsLookedAt *self)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);

  self->distance = ts_distance_new ();
  self->band = gtk_spin_button_new_with_range (0.1, 50.0, 0.1);
  self->unit = gtk_label_new ("");
  gtk_spin_button_set_digits (GTK_SPIN_BUTTON (self->band), 1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->band), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Width of a step's band, mm"), -1);
  g_signal_connect_swapped (self->distance, "value-changed", G_CALLBACK (on_looked_at), self);
  g_signal_connect_swapped (self->band, "value-changed", G_CALLBACK (on_looked_at), self);
  gtk_box_append (GTK_BOX (line), self->distance);
  gtk_box_append (GTK_BOX (line), self->unit);
  gtk_box_append (GTK_BOX (line), self->band);
  gtk_box_append (GTK_BOX (line), gtk_label_new (_ ("mm")));
  gtk_box_append (GTK_BOX (self->box), line);
}

static void
ts_looked_at_init (TsLookedAt *self)
{
  self->updating = TRUE;
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  self->own = gtk_check_button_new_with_label (_ ("looked at otherwise than the figure:"));
  self->stair = gtk_drop_down_new (NULL, NULL);
  self->light = gtk_button_new_with_label (_ ("Show where the light is"));
  self->fall = gtk_label_new ("");
  gtk_actionable_set_action_name (GTK_ACTIONABLE (self->light), "picture.place-light");
  g_signal_connect (self->light, "clicked", G_CALLBACK (on_light_clicked), NULL);
  gtk_widget_set_halign (self->light, GTK_ALIGN_START);
  gtk_label_set_xalign (GTK_LABEL (self->fall), 0.0F);
  gtk_widget_add_css_class (self->fall, "small");
  ts_accessible_name_inner (self->stair, _ ("Whose stair it has"));
  g_signal_connect_swapped (self->own, "toggled", G_CALLBACK (on_looked_at), self);
  g_signal_connect_swapped (self->stair, "notify::selected", G_CALLBACK (on_stair_chosen), self);
  gtk_box_append (GTK_BOX (self->box), self->light);
  gtk_box_append (GTK_BOX (self->box), self->fall);
  gtk_box_append (GTK_BOX (self->box), self->stair);
  gtk_box_append (GTK_BOX (self->box), self->own);
  add_spins (self);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  self->updating = FALSE;
}
