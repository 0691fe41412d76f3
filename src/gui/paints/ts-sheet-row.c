/* ts-sheet-row.c: one cell of a swatch sheet: its colours, its name, what is wrong with it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/paints/ts-sheet-row.h"

#include <glib/gi18n.h>
#include <string.h>

#include "gui/widgets/ts-format.h"
#include "gui/widgets/ts-mark-icon.h"
#include "gui/widgets/ts-strip.h"

struct _TsSheetRow
{
  GtkListBoxRow parent_instance;

  /* Children */
  GtkWidget *number, *strip, *name, *word, *mark;
};

enum
{
  RENAMED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (TsSheetRow, ts_sheet_row, GTK_TYPE_LIST_BOX_ROW)

/**
 * ts_sheet_row_get_word:
 * @cell: a cell that was read
 *
 * Returns: (transfer none) (nullable): what is wrong with it, in a word
 */
const char *
ts_sheet_row_get_word (const TsSheetCell *cell)
{
  if (cell->why == NULL)
    return NULL;
  if (strcmp (cell->why, "clipped") == 0)
    /* A spot of light, or the whole of it: too bright or too vivid for the picture's colours. */
    return MAX (cell->white.clipped_share, cell->black.clipped_share) < 0.95 ? _ ("glossy spot")
                                                                             : _ ("clipped");
  if (strcmp (cell->why, "uneven") == 0)
    return _ ("uneven");
  return strcmp (cell->why, "empty") == 0 ? C_ ("cell", "empty") : _ ("too small");
}

static void
on_changed (TsSheetRow *self)
{
  g_signal_emit (self, signals[RENAMED], 0);
}

/* To type in a cell's name is to choose the cell. */
static void
on_focused (TsSheetRow *self)
{
  GtkWidget *list = gtk_widget_get_parent (GTK_WIDGET (self));

  if (GTK_IS_LIST_BOX (list))
    gtk_list_box_select_row (GTK_LIST_BOX (list), GTK_LIST_BOX_ROW (self));
}

static void
on_activate (TsSheetRow *self)
{
  gtk_widget_child_focus (GTK_WIDGET (gtk_widget_get_root (GTK_WIDGET (self))),
                          GTK_DIR_TAB_FORWARD);
}

static void
ts_sheet_row_class_init (TsSheetRowClass *class)
{
  signals[RENAMED] = g_signal_new ("renamed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                   NULL, NULL, G_TYPE_NONE, 0);
}

static void
ts_sheet_row_init (TsSheetRow *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkEventController *focus = gtk_event_controller_focus_new ();

  self->number = gtk_label_new (NULL);
  gtk_label_set_width_chars (GTK_LABEL (self->number), 2);
  gtk_label_set_xalign (GTK_LABEL (self->number), 1.0F);
  gtk_widget_add_css_class (self->number, "small");
  gtk_widget_add_css_class (self->number, "dim");
  self->strip = ts_strip_new (56, 24, 3);
  gtk_widget_set_valign (self->strip, GTK_ALIGN_CENTER);
  self->name = gtk_entry_new ();
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->name), _ ("no name"));
  gtk_editable_set_width_chars (GTK_EDITABLE (self->name), 10);
  gtk_widget_set_hexpand (self->name, TRUE);
  gtk_widget_add_css_class (self->name, "flat");
  self->word = gtk_label_new (NULL);
  gtk_widget_add_css_class (self->word, "small");
  self->mark = ts_mark_icon_new ();
  gtk_box_append (GTK_BOX (box), self->number);
  gtk_box_append (GTK_BOX (box), self->strip);
  gtk_box_append (GTK_BOX (box), self->name);
  gtk_box_append (GTK_BOX (box), self->word);
  gtk_box_append (GTK_BOX (box), self->mark);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (self), box);
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (self), FALSE);
  g_signal_connect_swapped (self->name, "changed", G_CALLBACK (on_changed), self);
  g_signal_connect_swapped (self->name, "activate", G_CALLBACK (on_activate), self);
  g_signal_connect_swapped (focus, "enter", G_CALLBACK (on_focused), self);
  gtk_widget_add_controller (self->name, focus);
}

/**
 * ts_sheet_row_new:
 * @number: place in the sheet's order, from 1
 *
 * Returns: (transfer floating): a row for that cell
 */
GtkWidget *
ts_sheet_row_new (guint number)
{
  TsSheetRow *self = g_object_new (TS_TYPE_SHEET_ROW, NULL);
  g_autofree char *text = g_strdup_printf ("%u", number);
  g_autofree char *label = g_strdup_printf (_ ("Name of cell %u"), number);
  g_autofree char *cell = g_strdup_printf (_ ("Cell %u"), number);

  gtk_label_set_label (GTK_LABEL (self->number), text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->name), GTK_ACCESSIBLE_PROPERTY_LABEL, label,
                                  -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, cell, -1);
  ts_strip_describe (TS_STRIP (self->strip), cell, "");
  return GTK_WIDGET (self);
}

/**
 * ts_sheet_row_dup_name:
 * @self: the row
 *
 * Returns: (transfer full): the name that was typed
 */
char *
ts_sheet_row_dup_name (TsSheetRow *self)
{
  g_return_val_if_fail (TS_IS_SHEET_ROW (self), NULL);

  return g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->name))));
}

/**
 * ts_sheet_row_set_name:
 * @self: the row
 * @name: what its paint is called
 */
void
ts_sheet_row_set_name (TsSheetRow *self, const char *name)
{
  g_return_if_fail (TS_IS_SHEET_ROW (self));

  gtk_editable_set_text (GTK_EDITABLE (self->name), name);
}

static void
show_word (TsSheetRow *self, const char *word, TsMark mark, gboolean problem)
{
  gtk_label_set_label (GTK_LABEL (self->word), word != NULL ? word : "");
  gtk_widget_set_visible (self->mark, word != NULL);
  ts_mark_icon_set (TS_MARK_ICON (self->mark), mark);
  if (problem)
    gtk_widget_add_css_class (self->word, "problem");
  else
    gtk_widget_remove_css_class (self->word, "problem");
}

/**
 * ts_sheet_row_show:
 * @self: the row
 * @cell: (nullable): what was read
 * @halves: whether it has two halves
 * @name: what its name is among the others
 *
 * Shows the colours, and the same word that stands on the picture.
 */
void
ts_sheet_row_show (TsSheetRow *self, const TsSheetCell *cell, gboolean halves, TsSheetName name)
{
  const char *word = cell != NULL ? ts_sheet_row_get_word (cell) : NULL;
  TsLab colours[2] = { { 50.0, 0.0, 0.0 }, { 50.0, 0.0, 0.0 } };

  g_return_if_fail (TS_IS_SHEET_ROW (self));

  if (cell != NULL)
    {
      g_autofree char *said = ts_format_lab (cell->white.lab);
      g_autofree char *label =
        g_strdup_printf (_ ("Cell %d"), gtk_list_box_row_get_index (GTK_LIST_BOX_ROW (self)) + 1);

      colours[0] = cell->white.lab;
      colours[1] = halves ? cell->black.lab : cell->white.lab;
      ts_strip_describe (TS_STRIP (self->strip), label, said);
    }
  ts_strip_set_colours (TS_STRIP (self->strip), colours, 2, 1);
  if (name == TS_SHEET_NAME_TWICE)
    show_word (self, _ ("name is there twice"), TS_MARK_CROSS, TRUE);
  else if (name == TS_SHEET_NAME_KNOWN && cell != NULL && cell->usable && cell->why == NULL)
    show_word (self, _ ("measured again"), TS_MARK_RING, FALSE);
  else
    show_word (self, word, cell != NULL && cell->usable ? TS_MARK_RING : TS_MARK_OUT_OF_REACH,
               cell != NULL && !cell->usable);
}
