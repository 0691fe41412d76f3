/* ts-preferences.c: the window in which the painter's preferences are set
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/window/ts-preferences.h"

#include <glib/gi18n.h>
#include <math.h>

#include "gui/widgets/ts-accessible.h"
#include "gui/widgets/ts-distance.h"
#include "gui/widgets/ts-file-dialogs.h"
#include "gui/widgets/ts-format.h"

#define MM_PER_CM 10.0
/* As the key's range. */
#define LEAST_CM 5
#define MOST_CM 1000

struct _TsPreferences
{
  GtkWindow parent_instance;

  GSettings *keys;   /* owned */
  gboolean updating; /* the distance is shown, not made */

  /* Template children */
  GtkWidget *content, *profile, *forget, *scheme, *lengths, *distance_name, *distance;
  GtkAdjustment *paints, *parts, *height, *spot;
};

G_DEFINE_FINAL_TYPE (TsPreferences, ts_preferences, GTK_TYPE_WINDOW)

static void
show_profile (TsPreferences *self)
{
  g_autofree char *path = g_settings_get_string (self->keys, "monitor-profile");
  g_autofree char *name = *path != '\0' ? g_path_get_basename (path) : NULL;
  g_autofree char *shown = name != NULL ? g_filename_display_name (name) : NULL;

  gtk_label_set_label (GTK_LABEL (self->profile), shown != NULL ? shown : _ ("none, sRGB"));
  gtk_widget_set_tooltip_text (self->profile, name != NULL ? path : _ ("none, sRGB"));
  gtk_widget_set_sensitive (self->forget, name != NULL);
}

static void
take_profile (const char *path, gpointer user_data)
{
  g_settings_set_string (TS_PREFERENCES (user_data)->keys, "monitor-profile", path);
}

static void
on_choose_clicked (TsPreferences *self)
{
  ts_file_dialog_open (GTK_WINDOW (self), _ ("Choose the Monitor’s Colour Profile"),
                       TS_FILES_PROFILE, take_profile, G_OBJECT (self));
}

static void
on_forget_clicked (TsPreferences *self)
{
  g_settings_reset (self->keys, "monitor-profile");
}

static void
on_scheme_chosen (TsPreferences *self)
{
  guint chosen = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->scheme));

  if (self->keys != NULL && chosen != GTK_INVALID_LIST_POSITION)
    g_settings_set_enum (self->keys, "colour-scheme", (int) chosen);
}

static void
show_scheme (TsPreferences *self)
{
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->scheme),
                              (guint) g_settings_get_enum (self->keys, "colour-scheme"));
}

static void
on_lengths_chosen (TsPreferences *self)
{
  guint chosen = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->lengths));

  if (self->keys != NULL && chosen != GTK_INVALID_LIST_POSITION)
    g_settings_set_enum (self->keys, "lengths", (int) chosen);
}

static void
on_distance (TsPreferences *self)
{
  if (self->keys != NULL && !self->updating)
    g_settings_set_int (
      self->keys, "viewing-distance",
      (int) CLAMP (lround (ts_distance_get (self->distance) / MM_PER_CM), LEAST_CM, MOST_CM));
}

static void
show_distance (TsPreferences *self)
{
  TsLengthUnit unit = ts_format_get_length_unit ();

  self->updating = TRUE;
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->lengths), unit);
  gtk_label_set_label (GTK_LABEL (self->distance_name), unit == TS_LENGTH_INCHES
                                                          ? _ ("Distance from the eye, inches")
                                                          : _ ("Distance from the eye, cm"));
  ts_distance_show (self->distance,
                    MM_PER_CM * g_settings_get_int (self->keys, "viewing-distance"));
  self->updating = FALSE;
}

static void
ts_preferences_dispose (GObject *object)
{
  TsPreferences *self = TS_PREFERENCES (object);

  /* Its titlebar, a child of the template, is the window's to let go: GTK 4.8 would do so twice. */
  g_clear_object (&self->keys);
  G_OBJECT_CLASS (ts_preferences_parent_class)->dispose (object);
}

static void
ts_preferences_class_init (TsPreferencesClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ts_preferences_dispose;
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/io/github/tonestair/Tonestair/ts-preferences.ui");
  gtk_widget_class_bind_template_child (widget_class, TsPreferences, content);
  gtk_widget_class_bind_template_child (widget_class, TsPreferences, profile);
  gtk_widget_class_bind_template_child (widget_class, TsPreferences, forget);
  gtk_widget_class_bind_template_child (widget_class, TsPreferences, scheme);
  gtk_widget_class_bind_template_child (widget_class, TsPreferences, paints);
  gtk_widget_class_bind_template_child (widget_class, TsPreferences, parts);
  gtk_widget_class_bind_template_child (widget_class, TsPreferences, lengths);
  gtk_widget_class_bind_template_child (widget_class, TsPreferences, distance_name);
  gtk_widget_class_bind_template_child (widget_class, TsPreferences, distance);
  gtk_widget_class_bind_template_child (widget_class, TsPreferences, height);
  gtk_widget_class_bind_template_child (widget_class, TsPreferences, spot);
  gtk_widget_class_bind_template_callback (widget_class, on_lengths_chosen);
  gtk_widget_class_bind_template_callback (widget_class, on_distance);
  gtk_widget_class_bind_template_callback (widget_class, on_choose_clicked);
  gtk_widget_class_bind_template_callback (widget_class, on_forget_clicked);
  gtk_widget_class_bind_template_callback (widget_class, on_scheme_chosen);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "window.close", NULL);
}

static void
ts_preferences_init (TsPreferences *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  ts_accessible_name_inner (self->scheme, _ ("Light or dark"));
  ts_accessible_name_inner (self->lengths, _ ("Distances in"));
}

static void
bind_keys (TsPreferences *self)
{
  g_settings_bind (self->keys, "paints-a-mix", self->paints, "value", G_SETTINGS_BIND_DEFAULT);
  g_settings_bind (self->keys, "parts-a-mix", self->parts, "value", G_SETTINGS_BIND_DEFAULT);
  g_settings_bind (self->keys, "figure-height", self->height, "value", G_SETTINGS_BIND_DEFAULT);
  g_settings_bind (self->keys, "spot-width", self->spot, "value", G_SETTINGS_BIND_DEFAULT);
  g_signal_connect_object (self->keys, "changed::monitor-profile", G_CALLBACK (show_profile), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (self->keys, "changed::colour-scheme", G_CALLBACK (show_scheme), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (self->keys, "changed::lengths", G_CALLBACK (show_distance), self,
                           G_CONNECT_SWAPPED);
}

/**
 * ts_preferences_new:
 * @parent: (nullable): the window it stands over
 * @keys: the preferences
 *
 * Every choice is in force at once; there is nothing to confirm.
 *
 * Returns: (transfer none): the window
 */
GtkWidget *
ts_preferences_new (GtkWindow *parent, GSettings *keys)
{
  TsPreferences *self = g_object_new (TS_TYPE_PREFERENCES, "transient-for", parent, NULL);
  int scheme;

  scheme = g_settings_get_enum (keys, "colour-scheme");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->scheme), (guint) scheme);
  self->keys = g_object_ref (keys);
  bind_keys (self);
  show_profile (self);
  show_distance (self);
  return GTK_WIDGET (self);
}
