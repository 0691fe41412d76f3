/* ts-preset-box.c: the painter's own wishes for stairs, taken by name and kept
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/stair/ts-preset-box.h"

#include <glib/gi18n.h>

#include "plan/ts-preset.h"

struct _TsPresetBox
{
  TsView parent_instance;

  GPtrArray *presets; /* owned, TsPreset */
  char *path;         /* owned */
  gboolean unread;    /* what lies there could not be read, and must not be lost */

  /* Children */
  GtkWidget *box, *rows, *entry, *problem;
};

G_DEFINE_FINAL_TYPE (TsPresetBox, ts_preset_box, TS_TYPE_VIEW)

static void fill (TsPresetBox *self);

static void
show_problem (TsPresetBox *self, const char *text)
{
  gtk_label_set_label (GTK_LABEL (self->problem), text != NULL ? text : "");
  gtk_widget_set_visible (self->problem, text != NULL);
}

/* What could not be read stays beside. */
static void
save_beside (TsPresetBox *self, GError **error)
{
  g_autofree char *backup = g_strconcat (self->path, "~", NULL);
  g_autofree char *text = NULL;

  if (!ts_presets_save (self->presets, self->path, TS_FILE_SAVE_BACKUP, error))
    return;
  self->unread = FALSE;
  text = g_strdup_printf (_ ("What could not be read is kept as %s"), backup);
  show_problem (self, text);
}

static void
save (TsPresetBox *self)
{
  g_autoptr (GError) error = NULL;

  show_problem (self, NULL);
  if (self->unread)
    save_beside (self, &error);
  else
    ts_presets_save (self->presets, self->path, TS_FILE_SAVE_PLAIN, &error);
  if (error != NULL)
    show_problem (self, error->message);
  fill (self);
}

static guint
get_index (GtkWidget *button)
{
  return GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "index"));
}

static void
on_taken (GtkWidget *button, TsPresetBox *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self));
  const TsSurface *surface = ts_view_get_stair_surface (TS_VIEW (self));
  TsStairSettings settings;

  if (surface == NULL)
    return;
  settings = surface->stair;
  ts_preset_apply (g_ptr_array_index (self->presets, get_index (button)), &settings);
  ts_document_set_stair (document, (guint) ts_document_get_selected_surface (document), &settings,
                         _ ("Change Range and Light"));
}

static void
on_forgotten (GtkWidget *button, TsPresetBox *self)
{
  g_ptr_array_remove_index (self->presets, get_index (button));
  save (self);
}

static int
find (TsPresetBox *self, const char *name)
{
  for (guint i = 0; i < self->presets->len; i++)
    if (g_str_equal (((TsPreset *) g_ptr_array_index (self->presets, i))->name, name))
      return (int) i;
  return -1;
}

/* Under a name that is there already, the new ones take the place of the old. */
static void
on_named (TsPresetBox *self)
{
  const TsSurface *surface = ts_view_get_stair_surface (TS_VIEW (self));
  g_autofree char *name =
    g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->entry))));
  int found = find (self, name);

  if (surface == NULL || *name == '\0')
    return;
  if (found >= 0)
    g_ptr_array_remove_index (self->presets, (guint) found);
  g_ptr_array_add (self->presets, ts_preset_new (name, &surface->stair));
  gtk_editable_set_text (GTK_EDITABLE (self->entry), "");
  save (self);
}

static GtkWidget *
new_row (TsPresetBox *self, guint index)
{
  const TsPreset *preset = g_ptr_array_index (self->presets, index);
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *take = gtk_button_new_with_label (preset->name);
  GtkWidget *forget = gtk_button_new_with_label (_ ("Forget"));
  g_autofree char *words = g_strdup_printf (_ ("Forget %s"), preset->name);

  g_object_set_data (G_OBJECT (take), "index", GUINT_TO_POINTER (index));
  g_object_set_data (G_OBJECT (forget), "index", GUINT_TO_POINTER (index));
  gtk_widget_set_hexpand (take, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (forget), GTK_ACCESSIBLE_PROPERTY_LABEL, words,
                                  -1);
  g_signal_connect (take, "clicked", G_CALLBACK (on_taken), self);
  g_signal_connect (forget, "clicked", G_CALLBACK (on_forgotten), self);
  gtk_box_append (GTK_BOX (row), take);
  gtk_box_append (GTK_BOX (row), forget);
  return row;
}

static void
fill (TsPresetBox *self)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (self->rows)) != NULL)
    gtk_box_remove (GTK_BOX (self->rows), child);
  for (guint i = 0; i < self->presets->len; i++)
    gtk_box_append (GTK_BOX (self->rows), new_row (self, i));
}

static void
ts_preset_box_finalize (GObject *object)
{
  TsPresetBox *self = TS_PRESET_BOX (object);

  g_ptr_array_unref (self->presets);
  g_free (self->path);
  G_OBJECT_CLASS (ts_preset_box_parent_class)->finalize (object);
}

static void
ts_preset_box_class_init (TsPresetBoxClass *class)
{
  G_OBJECT_CLASS (class)->finalize = ts_preset_box_finalize;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BIN_LAYOUT);
}

static void
ts_preset_box_init (TsPresetBox *self)
{
  g_autoptr (GError) error = NULL;

  self->path = g_build_filename (g_get_user_config_dir (), "tonestair", "wishes.json", NULL);
  self->presets = ts_presets_load (self->path, &error);
  self->unread = self->presets == NULL;
  if (self->unread)
    self->presets = g_ptr_array_new_with_free_func ((GDestroyNotify) ts_preset_free);
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  self->rows = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  self->entry = gtk_entry_new ();
  self->problem = gtk_label_new ("");
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->entry), _ ("a name, to keep range and colours"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Name to keep range and colours under"), -1);
  gtk_label_set_wrap (GTK_LABEL (self->problem), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (self->problem), 40);
  gtk_widget_add_css_class (self->problem, "small");
  g_signal_connect_swapped (self->entry, "activate", G_CALLBACK (on_named), self);
  gtk_box_append (GTK_BOX (self->box), self->rows);
  gtk_box_append (GTK_BOX (self->box), self->entry);
  gtk_box_append (GTK_BOX (self->box), self->problem);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  fill (self);
  show_problem (self, error != NULL ? error->message : NULL);
}
