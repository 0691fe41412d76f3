/* ts-correction-cards.c: the neutral cards that are laid on the picture, beside it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/correction/ts-correction-cards.h"

#include <glib/gi18n.h>

typedef struct
{
  GtkWidget *aim, *place, *lightness, *remove; /* borrowed: children; lightness: or NULL */
} Line;

struct _TsCorrectionCards
{
  GtkWidget parent_instance;

  TsCorrectionDraft *draft; /* owned, or NULL */
  TsDraftDisc first, last;
  Line line[TS_N_DISCS];
  gboolean updating;
};

G_DEFINE_FINAL_TYPE (TsCorrectionCards, ts_correction_cards, GTK_TYPE_WIDGET)

static const char *
get_name (TsDraftDisc disc)
{
  switch (disc)
    {
    case TS_DISC_WHITE:
      return _ ("White card");
    case TS_DISC_BLACK:
      return _ ("Black card");
    case TS_DISC_HERE:
      return _ ("Grey card, in this photograph");
    case TS_DISC_THERE:
      return _ ("The same card, in the other one");
    case TS_DISC_GREY:
    case TS_N_DISCS:
    default:
      return _ ("Grey card");
    }
}

static TsDraftDisc
find_disc (TsCorrectionCards *self, GtkWidget *widget)
{
  for (guint i = self->first; i <= self->last; i++)
    if (self->line[i].aim == widget || self->line[i].lightness == widget ||
        self->line[i].remove == widget)
      return (TsDraftDisc) i;
  return self->first;
}

static void
on_aim (GtkCheckButton *button, TsCorrectionCards *self)
{
  if (!self->updating && self->draft != NULL && gtk_check_button_get_active (button))
    ts_correction_draft_set_aim (self->draft, find_disc (self, GTK_WIDGET (button)));
}

static void
on_lightness (GtkSpinButton *spin, TsCorrectionCards *self)
{
  if (!self->updating && self->draft != NULL)
    ts_correction_draft_set_lightness (self->draft, find_disc (self, GTK_WIDGET (spin)),
                                       gtk_spin_button_get_value (spin));
}

static void
on_remove (GtkButton *button, TsCorrectionCards *self)
{
  if (self->draft != NULL)
    ts_correction_draft_clear_disc (self->draft, find_disc (self, GTK_WIDGET (button)));
}

static void
show_line (TsCorrectionCards *self, TsDraftDisc disc)
{
  const TsCardPlace *place = ts_correction_draft_get_disc (self->draft, disc);
  gboolean laid = place->radius > 0.0, aim = ts_correction_draft_get_aim (self->draft) == disc;
  g_autofree char *words =
    laid  ? g_strdup_printf (_ ("at %.0f, %.0f, radius %.0f"), place->x, place->y, place->radius)
    : aim ? g_strdup (_ ("click on it in the picture, or draw a circle"))
          : g_strdup (_ ("not in the picture"));
  Line *line = &self->line[disc];

  gtk_check_button_set_active (GTK_CHECK_BUTTON (line->aim), aim);
  gtk_label_set_label (GTK_LABEL (line->place), words);
  if (line->lightness != NULL)
    gtk_spin_button_set_value (GTK_SPIN_BUTTON (line->lightness), place->lightness);
  gtk_widget_set_visible (line->remove, laid);
}

static void
on_changed (TsCorrectionCards *self)
{
  self->updating = TRUE;
  for (guint i = self->first; i <= self->last; i++)
    show_line (self, (TsDraftDisc) i);
  self->updating = FALSE;
}

static GtkWidget *
new_lightness (TsCorrectionCards *self, const char *of)
{
  GtkWidget *spin = gtk_spin_button_new_with_range (5.0, 100.0, 0.5);
  g_autofree char *name = g_strdup_printf (_ ("L* of the %s"), of);

  gtk_spin_button_set_digits (GTK_SPIN_BUTTON (spin), 1);
  gtk_editable_set_width_chars (GTK_EDITABLE (spin), 5);
  gtk_widget_set_tooltip_text (spin, _ ("The card’s own L*, as its maker gives it"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (spin), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_signal_connect (spin, "value-changed", G_CALLBACK (on_lightness), self);
  return spin;
}

static GtkWidget *
new_remove (TsCorrectionCards *self, const char *of)
{
  GtkWidget *remove = gtk_button_new_with_label (_ ("Remove"));
  g_autofree char *name = g_strdup_printf (_ ("Remove the %s"), of);

  gtk_widget_set_valign (remove, GTK_ALIGN_CENTER);
  gtk_accessible_update_property (GTK_ACCESSIBLE (remove), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_signal_connect (remove, "clicked", G_CALLBACK (on_remove), self);
  return remove;
}

static void
add_line (TsCorrectionCards *self, GtkGrid *grid, TsDraftDisc disc, gboolean lightness)
{
  Line *line = &self->line[disc];
  const char *name = get_name (disc);
  int row = 2 * (int) (disc - self->first);

  line->aim = gtk_check_button_new_with_label (name);
  gtk_widget_set_hexpand (line->aim, TRUE);
  if (disc != self->first)
    gtk_check_button_set_group (GTK_CHECK_BUTTON (line->aim),
                                GTK_CHECK_BUTTON (self->line[self->first].aim));
  line->place = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (line->place), 0.0F);
  gtk_widget_set_margin_start (line->place, 26);
  gtk_widget_set_margin_bottom (line->place, 8);
  gtk_widget_add_css_class (line->place, "small");
  gtk_widget_add_css_class (line->place, "dim");
  line->remove = new_remove (self, name);
  gtk_grid_attach (grid, line->aim, 0, row, 1, 1);
  gtk_grid_attach (grid, line->place, 0, row + 1, 3, 1);
  gtk_grid_attach (grid, line->remove, 2, row, 1, 1);
  if (lightness)
    {
      GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

      line->lightness = new_lightness (self, name);
      gtk_box_append (GTK_BOX (box), gtk_label_new (_ ("L*")));
      gtk_box_append (GTK_BOX (box), line->lightness);
      gtk_grid_attach (grid, box, 1, row, 1, 1);
    }
  g_signal_connect (line->aim, "toggled", G_CALLBACK (on_aim), self);
}

static void
ts_correction_cards_dispose (GObject *object)
{
  TsCorrectionCards *self = TS_CORRECTION_CARDS (object);
  GtkWidget *child;

  ts_correction_cards_set_draft (self, NULL);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))) != NULL)
    gtk_widget_unparent (child);
  G_OBJECT_CLASS (ts_correction_cards_parent_class)->dispose (object);
}

static void
ts_correction_cards_class_init (TsCorrectionCardsClass *class)
{
  G_OBJECT_CLASS (class)->dispose = ts_correction_cards_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BIN_LAYOUT);
}

static void
ts_correction_cards_init (TsCorrectionCards *self)
{
}

/**
 * ts_correction_cards_new:
 * @first: the first disc of the list
 * @last: the last one
 * @lightness: whether each has an L* of its own
 *
 * Returns: (transfer floating): the list, without a draft
 */
GtkWidget *
ts_correction_cards_new (TsDraftDisc first, TsDraftDisc last, gboolean lightness)
{
  TsCorrectionCards *self = g_object_new (TS_TYPE_CORRECTION_CARDS, NULL);
  GtkWidget *grid = gtk_grid_new ();

  self->first = first;
  self->last = last;
  gtk_grid_set_column_spacing (GTK_GRID (grid), 8);
  gtk_widget_set_parent (grid, GTK_WIDGET (self));
  for (guint i = first; i <= last; i++)
    add_line (self, GTK_GRID (grid), (TsDraftDisc) i, lightness);
  return GTK_WIDGET (self);
}

/**
 * ts_correction_cards_set_draft:
 * @self: the list
 * @draft: (nullable): whose discs it shows
 */
void
ts_correction_cards_set_draft (TsCorrectionCards *self, TsCorrectionDraft *draft)
{
  g_return_if_fail (TS_IS_CORRECTION_CARDS (self));

  if (self->draft != NULL)
    g_signal_handlers_disconnect_by_data (self->draft, self);
  g_set_object (&self->draft, draft);
  if (draft == NULL)
    return;
  g_signal_connect_swapped (draft, "changed", G_CALLBACK (on_changed), self);
  on_changed (self);
}
