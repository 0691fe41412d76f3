/* ts-accents-box.c: the accents of the selected step: its mix and something more
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/stair/ts-accents-box.h"

#include <glib/gi18n.h>
#include <string.h>

#include "plan/ts-surface-accent.h"
#include "gui/widgets/ts-accessible.h"
#include "gui/widgets/ts-strip.h"

#define STRIP_WIDTH 54
#define STRIP_HEIGHT 26
#define STRIP_EDGE 3

struct _TsAccentsBox
{
  TsView parent_instance;

  gboolean updating;      /* accents are shown, not changed */
  TsPaintSet *paint_rows; /* owned, NULL: that the choice shows */
  char *key;              /* owned: of the accents that are shown */

  /* Children */
  GtkWidget *box, *rows, *name, *paint, *add;
};

G_DEFINE_FINAL_TYPE (TsAccentsBox, ts_accents_box, TS_TYPE_VIEW)

static guint
get_surface (TsAccentsBox *self)
{
  return (guint) ts_document_get_selected_surface (ts_view_get_document (TS_VIEW (self)));
}

static int
get_step (TsAccentsBox *self)
{
  return ts_document_get_selected_step (ts_view_get_document (TS_VIEW (self)));
}

static GtkWidget *
new_label (const char *text, const char *size, gboolean dim)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0.0F);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_widget_add_css_class (label, size);
  if (dim)
    gtk_widget_add_css_class (label, "dim");
  return label;
}

static guint
get_index (GtkWidget *widget)
{
  return GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (widget), "accent"));
}

static void
on_parts (GtkWidget *spin, TsAccentsBox *self)
{
  if (!self->updating && ts_view_get_surface (TS_VIEW (self)) != NULL)
    ts_document_set_accent_parts (
      ts_view_get_document (TS_VIEW (self)), get_surface (self), get_index (spin),
      (guint) gtk_spin_button_get_value_as_int (GTK_SPIN_BUTTON (spin)));
}

static void
on_removed (GtkWidget *button, TsAccentsBox *self)
{
  ts_document_remove_accent (ts_view_get_document (TS_VIEW (self)), get_surface (self),
                             get_index (button));
}

static void
update_add (TsAccentsBox *self)
{
  const char *name = gtk_editable_get_text (GTK_EDITABLE (self->name));

  gtk_widget_set_sensitive (self->add, *name != '\0' && self->paint_rows != NULL &&
                                         gtk_drop_down_get_selected (GTK_DROP_DOWN (self->paint)) !=
                                           GTK_INVALID_LIST_POSITION);
}

static void
on_add (TsAccentsBox *self)
{
  g_autofree char *name = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->name))));
  guint paint = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->paint));

  if (ts_view_get_surface (TS_VIEW (self)) == NULL || get_step (self) < 0 || *name == '\0' ||
      paint == GTK_INVALID_LIST_POSITION)
    return;
  ts_document_add_accent (ts_view_get_document (TS_VIEW (self)), get_surface (self), name,
                          (guint) get_step (self), paint, 1);
  gtk_editable_set_text (GTK_EDITABLE (self->name), "");
}

/* What a row shows and may be another at any time. */
static void
refresh_row (TsAccentsBox *self, GtkWidget *row, const TsAccent *accent)
{
  TsSurfaceResult *result = ts_view_get_result (TS_VIEW (self));
  GtkWidget *strip = g_object_get_data (G_OBJECT (row), "strip");
  GtkWidget *words = g_object_get_data (G_OBJECT (row), "words");
  g_autofree char *mix = ts_surface_result_describe_accent (result, accent);
  const char *text = mix != NULL ? mix : _ ("Its mix is not known.");
  TsRecipe recipe;

  gtk_label_set_label (GTK_LABEL (words), text);
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (g_object_get_data (G_OBJECT (row), "parts")),
                             accent->parts);
  if (ts_surface_result_mix_accent (result, accent, &recipe))
    {
      const TsLab pair[] = { ts_surface_result_get_colour (result, accent->step), recipe.lab };

      ts_strip_set_colours (TS_STRIP (strip), pair, 2, 1);
    }
  ts_strip_describe (TS_STRIP (strip), accent->name, text);
}

static void
prepare (GtkWidget *widget, guint index, const char *name)
{
  g_object_set_data (G_OBJECT (widget), "accent", GUINT_TO_POINTER (index));
  gtk_widget_set_valign (widget, GTK_ALIGN_CENTER);
  gtk_accessible_update_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
}

/* The step's colour beside the accent's, its name, and its whole mix. */
static GtkWidget *
new_row (TsAccentsBox *self, const TsAccent *accent, guint index)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *first = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *strip = ts_strip_new (STRIP_WIDTH, STRIP_HEIGHT, STRIP_EDGE);
  GtkWidget *name = new_label (accent->name, "heading", FALSE), *words;
  GtkWidget *spin = gtk_spin_button_new_with_range (1, TS_ACCENT_MOST_PARTS, 1);
  GtkWidget *remove = gtk_button_new_with_label (_ ("Remove"));
  g_autofree char *parts = g_strdup_printf (_ ("Parts of %s for %s"), accent->paint, accent->name);
  g_autofree char *away = g_strdup_printf (_ ("Remove %s"), accent->name);

  words = new_label ("", "small", FALSE);
  gtk_widget_set_hexpand (name, TRUE);
  gtk_widget_set_valign (strip, GTK_ALIGN_CENTER);
  gtk_editable_set_width_chars (GTK_EDITABLE (spin), 2);
  prepare (spin, index, parts);
  prepare (remove, index, away);
  g_signal_connect (spin, "value-changed", G_CALLBACK (on_parts), self);
  g_signal_connect (remove, "clicked", G_CALLBACK (on_removed), self);
  gtk_box_append (GTK_BOX (first), strip);
  gtk_box_append (GTK_BOX (first), name);
  gtk_box_append (GTK_BOX (first), spin);
  gtk_box_append (GTK_BOX (first), remove);
  gtk_box_append (GTK_BOX (row), first);
  gtk_box_append (GTK_BOX (row), words);
  g_object_set_data (G_OBJECT (row), "strip", strip);
  g_object_set_data (G_OBJECT (row), "words", words);
  g_object_set_data (G_OBJECT (row), "parts", spin);
  return row;
}

/* Which accents the step has, as a text: rows stay while that is the same. */
static char *
dup_key (TsAccentsBox *self, const TsSurface *surface)
{
  GString *key = g_string_new (NULL);

  for (guint i = 0; i < surface->accents->len; i++)
    {
      const TsAccent *accent = g_ptr_array_index (surface->accents, i);

      if ((int) accent->step == get_step (self))
        g_string_append_printf (key, "%u\t%s\t%s\n", i, accent->name, accent->paint);
    }
  return g_string_free (key, FALSE);
}

/* New rows only where the accents are others: this is also called while one is being changed. */
static void
show_accents (TsAccentsBox *self, const TsSurface *surface)
{
  g_autofree char *key = dup_key (self, surface);
  gboolean anew = g_strcmp0 (key, self->key) != 0;
  GtkWidget *row;

  while (anew && (row = gtk_widget_get_first_child (self->rows)) != NULL)
    gtk_box_remove (GTK_BOX (self->rows), row);
  row = gtk_widget_get_first_child (self->rows);
  for (guint i = 0; i < surface->accents->len; i++)
    {
      const TsAccent *accent = g_ptr_array_index (surface->accents, i);

      if ((int) accent->step != get_step (self))
        continue;
      if (anew)
        gtk_box_append (GTK_BOX (self->rows), row = new_row (self, accent, i));
      refresh_row (self, row, accent);
      row = gtk_widget_get_next_sibling (row);
    }
  gtk_widget_set_visible (self->rows, *key != '\0');
  g_free (self->key);
  self->key = g_steal_pointer (&key);
}

/* Other rows only where the paints are others: this is also called while one is being chosen. */
static void
show_paints (TsAccentsBox *self, TsPaintSet *paints)
{
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);

  if (paints == self->paint_rows)
    return;
  g_clear_pointer (&self->paint_rows, ts_paint_set_unref);
  self->paint_rows = paints != NULL ? ts_paint_set_ref (paints) : NULL;
  for (guint i = 0; paints != NULL && i < ts_paint_set_get_n_paints (paints); i++)
    gtk_string_list_append (names, ts_paint_get_name (ts_paint_set_get_paint (paints, i)));
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->paint), G_LIST_MODEL (names));
}

static void
ts_accents_box_update (TsView *view, TsChange change)
{
  TsAccentsBox *self = TS_ACCENTS_BOX (view);
  const TsSurface *surface = ts_view_get_surface (view);
  TsSurfaceResult *result = ts_view_get_result (view);
  gboolean shown = surface != NULL && result != NULL && get_step (self) >= 0 &&
                   ts_surface_result_get_paints (result) != NULL;

  gtk_widget_set_visible (self->box, shown);
  if (!shown || !(change & (TS_CHANGE_PLAN | TS_CHANGE_RESULTS | TS_CHANGE_SELECTION)))
    return;
  self->updating = TRUE;
  show_paints (self, ts_surface_result_get_paints (result));
  show_accents (self, surface);
  update_add (self);
  self->updating = FALSE;
}

static void
ts_accents_box_dispose (GObject *object)
{
  g_clear_pointer (&TS_ACCENTS_BOX (object)->paint_rows, ts_paint_set_unref);
  g_clear_pointer (&TS_ACCENTS_BOX (object)->key, g_free);
  G_OBJECT_CLASS (ts_accents_box_parent_class)->dispose (object);
}

static void
ts_accents_box_class_init (TsAccentsBoxClass *class)
{
  G_OBJECT_CLASS (class)->dispose = ts_accents_box_dispose;
  TS_VIEW_CLASS (class)->update = ts_accents_box_update;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BIN_LAYOUT);
}

static void
add_line (TsAccentsBox *self)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);

  self->name = gtk_entry_new ();
  self->paint =
    gtk_drop_down_new (NULL, gtk_property_expression_new (GTK_TYPE_STRING_OBJECT, NULL, "string"));
  self->add = gtk_button_new_with_label (_ ("Add"));
  gtk_drop_down_set_enable_search (GTK_DROP_DOWN (self->paint), TRUE);
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->name), _ ("lip, glint…"));
  gtk_editable_set_width_chars (GTK_EDITABLE (self->name), 8);
  gtk_widget_set_hexpand (self->name, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->name), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Name of the accent"), -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->add), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Add the accent"), -1);
  ts_accessible_name_inner (self->paint, _ ("Paint that comes to the mix"));
  g_signal_connect_swapped (self->name, "changed", G_CALLBACK (update_add), self);
  g_signal_connect_swapped (self->name, "activate", G_CALLBACK (on_add), self);
  g_signal_connect_swapped (self->paint, "notify::selected", G_CALLBACK (update_add), self);
  g_signal_connect_swapped (self->add, "clicked", G_CALLBACK (on_add), self);
  gtk_box_append (GTK_BOX (line), self->name);
  gtk_box_append (GTK_BOX (line), gtk_label_new ("+"));
  gtk_box_append (GTK_BOX (line), self->paint);
  gtk_box_append (GTK_BOX (line), self->add);
  gtk_box_append (GTK_BOX (self->box), line);
}

static void
ts_accents_box_init (TsAccentsBox *self)
{
  self->updating = TRUE;
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  self->rows = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_box_append (GTK_BOX (self->box), gtk_separator_new (GTK_ORIENTATION_HORIZONTAL));
  gtk_box_append (GTK_BOX (self->box), new_label (_ ("Accents"), "heading", FALSE));
  gtk_box_append (
    GTK_BOX (self->box),
    new_label (_ ("This mix and something more: a lip, a glint, what is mirrored from beside."),
               "small", TRUE));
  gtk_box_append (GTK_BOX (self->box), self->rows);
  add_line (self);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  self->updating = FALSE;
}
