/* ts-settings.c: the painter's preferences, and what follows from them at once
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/window/ts-settings.h"

#include <glib/gi18n.h>

#include "gui/widgets/ts-format.h"
#include "gui/widgets/ts-screen.h"
#include "gui/widgets/ts-view.h"

enum
{
  SCHEME_SYSTEM,
  SCHEME_LIGHT,
  SCHEME_DARK
};

struct _TsSettings
{
  GObject parent_instance;

  GtkApplication *application; /* borrowed: it owns this */
  GSettings *keys;             /* owned, or NULL */
  char *fault;                 /* owned: why the monitor's profile is not used, or NULL */
};

G_DEFINE_FINAL_TYPE (TsSettings, ts_settings, G_TYPE_OBJECT)

static void
tell (TsWindow *window, const char *text)
{
  g_signal_emit_by_name (ts_window_get_document (window), "message", text, NULL, NULL);
}

static void
give_defaults (TsSettings *self, TsWindow *window)
{
  const TsPlanDefaults defaults = {
    .max_paints = (guint) g_settings_get_int (self->keys, "paints-a-mix"),
    .max_parts = (guint) g_settings_get_int (self->keys, "parts-a-mix"),
    .distance = 10.0 * g_settings_get_int (self->keys, "viewing-distance"),
    .figure_height = g_settings_get_int (self->keys, "figure-height"),
    .spot_radius = 0.5 * g_settings_get_int (self->keys, "spot-width"),
  };

  ts_document_set_defaults (ts_window_get_document (window), &defaults);
}

static void
for_each_window (TsSettings *self, void (*func) (TsSettings *, TsWindow *))
{
  for (GList *l = gtk_application_get_windows (self->application); l != NULL; l = l->next)
    if (TS_IS_WINDOW (l->data))
      func (self, TS_WINDOW (l->data));
}

static void
tell_fault (TsSettings *self, TsWindow *window)
{
  if (self->fault != NULL)
    tell (window, self->fault);
}

/* What a widget has drawn is kept until it is told itself. */
static void
draw_all (GtkWidget *widget)
{
  gtk_widget_queue_draw (widget);
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    draw_all (child);
}

static void
draw_anew (TsSettings *self, TsWindow *window)
{
  draw_all (GTK_WIDGET (window));
}

static void
apply_monitor (TsSettings *self)
{
  g_autofree char *path = g_settings_get_string (self->keys, "monitor-profile");
  g_autoptr (GError) error = NULL;

  g_clear_pointer (&self->fault, g_free);
  if (!ts_screen_set_profile (ts_screen_get (gdk_display_get_default ()), path, &error))
    self->fault = g_strdup_printf (_ ("%s. Until then colours are shown as on an sRGB screen."),
                                   error->message);
  for_each_window (self, draw_anew);
  for_each_window (self, tell_fault);
}

static void
apply_scheme (TsSettings *self)
{
  GtkSettings *settings = gtk_settings_get_for_display (gdk_display_get_default ());
  int scheme = g_settings_get_enum (self->keys, "colour-scheme");

  if (scheme == SCHEME_SYSTEM)
    gtk_settings_reset_property (settings, "gtk-application-prefer-dark-theme");
  else
    g_object_set (settings, "gtk-application-prefer-dark-theme", scheme == SCHEME_DARK, NULL);
}

/* What is on the screen, told anew. */
static void
tell_views (GtkWidget *widget)
{
  if (TS_IS_VIEW (widget) && ts_view_get_document (TS_VIEW (widget)) != NULL)
    TS_VIEW_GET_CLASS (widget)->update (TS_VIEW (widget), TS_CHANGE_ALL);
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    tell_views (child);
}

static void
tell_anew (TsSettings *self, TsWindow *window)
{
  tell_views (GTK_WIDGET (window));
}

static void
apply_lengths (TsSettings *self)
{
  ts_format_set_length_unit ((TsLengthUnit) g_settings_get_enum (self->keys, "lengths"));
  for_each_window (self, tell_anew);
}

static void
on_changed (TsSettings *self, const char *key)
{
  if (g_str_equal (key, "monitor-profile"))
    apply_monitor (self);
  else if (g_str_equal (key, "colour-scheme"))
    apply_scheme (self);
  else if (g_str_equal (key, "lengths"))
    apply_lengths (self);
  else
    for_each_window (self, give_defaults);
}

static void
ts_settings_finalize (GObject *object)
{
  TsSettings *self = TS_SETTINGS (object);

  g_clear_object (&self->keys);
  g_free (self->fault);
  G_OBJECT_CLASS (ts_settings_parent_class)->finalize (object);
}

static void
ts_settings_class_init (TsSettingsClass *class)
{
  G_OBJECT_CLASS (class)->finalize = ts_settings_finalize;
}

static void
ts_settings_init (TsSettings *self)
{
}

/* GLib ends a program that asks for a schema that is not there. */
static GSettings *
find_keys (void)
{
  GSettingsSchemaSource *source = g_settings_schema_source_get_default ();
  g_autoptr (GSettingsSchema) schema = NULL;

  if (source != NULL)
    schema = g_settings_schema_source_lookup (source, TS_APPLICATION_ID, TRUE);
  return schema != NULL ? g_settings_new_full (schema, NULL, NULL) : NULL;
}

/**
 * ts_settings_new:
 * @application: the program, started, which keeps this
 *
 * Returns: (transfer full): the preferences, in force
 */
TsSettings *
ts_settings_new (GtkApplication *application)
{
  TsSettings *self = g_object_new (TS_TYPE_SETTINGS, NULL);

  self->application = application;
  self->keys = find_keys ();
  if (self->keys == NULL)
    return self;
  g_signal_connect_object (self->keys, "changed", G_CALLBACK (on_changed), self, G_CONNECT_SWAPPED);
  apply_monitor (self);
  apply_scheme (self);
  apply_lengths (self);
  return self;
}

/**
 * ts_settings_get_keys:
 * @self: the preferences
 *
 * Returns: (transfer none) (nullable): their keys, or %NULL where the schema is not installed
 */
GSettings *
ts_settings_get_keys (TsSettings *self)
{
  g_return_val_if_fail (TS_IS_SETTINGS (self), NULL);

  return self->keys;
}

/**
 * ts_settings_greet:
 * @self: the preferences
 * @window: a new window
 *
 * Tells it what a new plan starts with, and what is wrong with the monitor's profile.
 */
void
ts_settings_greet (TsSettings *self, TsWindow *window)
{
  g_return_if_fail (TS_IS_SETTINGS (self));
  g_return_if_fail (TS_IS_WINDOW (window));

  if (self->keys != NULL)
    give_defaults (self, window);
  tell_fault (self, window);
}
