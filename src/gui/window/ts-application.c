/* ts-application.c: the program: its windows, its keys, its style
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/window/ts-application.h"

#include <glib/gi18n.h>

#include "gui/widgets/ts-data.h"
#include "gui/help/ts-help-window.h"
#include "gui/widgets/ts-palette.h"
#include "gui/window/ts-preferences.h"
#include "gui/window/ts-settings.h"
#include "gui/window/ts-window.h"

struct _TsApplication
{
  GtkApplication parent_instance;

  TsSettings *settings; /* owned */
  GtkWidget *help;      /* nullable: the manual, while it is open */
};

G_DEFINE_FINAL_TYPE (TsApplication, ts_application, GTK_TYPE_APPLICATION)

typedef struct
{
  const char *action;
  const char *keys[3];
} Keys;

static const Keys all_keys[] = {
  { "win.open", { "<Control>o" } },
  { "win.save", { "<Control>s" } },
  { "win.save-as", { "<Control><Shift>s" } },
  { "win.undo", { "<Control>z" } },
  { "win.redo", { "<Control><Shift>z" } },
  { "win.print", { "<Control>p" } },
  { "win.paste", { "<Control>v" } },
  { "win.find", { "<Control>f" } },
  { "win.place::picture", { "<Alt>1" } },
  { "win.place::paints", { "<Alt>2" } },
  { "win.place::brief", { "<Alt>3" } },
  { "win.place::finish", { "<Alt>4" } },
  { "win.place::card", { "<Alt>5" } },
  { "win.next-area(false)", { "F6" } },
  { "win.next-area(true)", { "<Shift>F6" } },
  { "app.help", { "F1" } },
  { "win.show-help-overlay", { "<Control>question" } },
  { "window.close", { "<Control>w" } },
  { "app.preferences", { "<Control>comma" } },
  { "app.new-window", { "<Control>n" } },
  { "app.quit", { "<Control>q" } },
};

/* The demo's paints, until the painter has their own. */
static void
give_paints (GtkWidget *window)
{
  g_autofree char *path = ts_data_dup_path ("demo/lighthouse-paints.csv");
  g_autoptr (TsPaintSet) paints = path != NULL ? ts_paint_set_load (path, NULL) : NULL;

  if (paints != NULL)
    ts_document_set_default_paints (ts_window_get_document (TS_WINDOW (window)), paints,
                                    _ ("Demo paints"));
}

static GtkWidget *
new_window (TsApplication *self)
{
  GtkWidget *window = ts_window_new (GTK_APPLICATION (self));

  give_paints (window);
  ts_settings_greet (self->settings, TS_WINDOW (window));
  gtk_window_present (GTK_WINDOW (window));
  return window;
}

static void
ts_application_activate (GApplication *application)
{
  ts_window_offer_kept (TS_WINDOW (new_window (TS_APPLICATION (application))));
}

static void
ts_application_open (GApplication *application, GFile **files, int n_files, const char *hint)
{
  GtkWidget *window = new_window (TS_APPLICATION (application));

  ts_window_open_files (TS_WINDOW (window), files, n_files);
  /* Once is enough: "another" is one more plan of those that were opened together. */
  if (g_strcmp0 (hint, "another") != 0)
    ts_window_offer_kept (TS_WINDOW (window));
}

static void
new_window_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  new_window (TS_APPLICATION (user_data));
}

/* Each window asks before anything is lost. */
static void
quit_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  g_autoptr (GList) windows =
    g_list_copy (gtk_application_get_windows (GTK_APPLICATION (user_data)));

  for (GList *l = windows; l != NULL; l = l->next)
    gtk_window_close (GTK_WINDOW (l->data));
}

static void
preferences_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  TsApplication *self = TS_APPLICATION (user_data);
  GtkWindow *parent = gtk_application_get_active_window (GTK_APPLICATION (self));
  GSettings *keys = ts_settings_get_keys (self->settings);

  if (keys != NULL)
    gtk_window_present (GTK_WINDOW (ts_preferences_new (parent, keys)));
}

/* The manual, at the chapter of what is being looked at. */
static void
help_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  TsApplication *self = TS_APPLICATION (user_data);
  GtkWindow *window = gtk_application_get_active_window (GTK_APPLICATION (self));

  if (self->help == NULL)
    g_set_weak_pointer (&self->help, ts_help_window_new ());
  if (TS_IS_WINDOW (window))
    ts_help_window_show (TS_HELP_WINDOW (self->help), ts_window_get_help (TS_WINDOW (window)));
  gtk_window_present (GTK_WINDOW (self->help));
}

/* The manual alone keeps nothing open. */
static void
ts_application_window_removed (GtkApplication *application, GtkWindow *window)
{
  TsApplication *self = TS_APPLICATION (application);

  GTK_APPLICATION_CLASS (ts_application_parent_class)->window_removed (application, window);
  if (gtk_application_get_windows (application) == NULL && self->help != NULL)
    gtk_window_destroy (GTK_WINDOW (self->help));
}

static void
about_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  gtk_show_about_dialog (gtk_application_get_active_window (GTK_APPLICATION (user_data)),
                         "program-name", _ ("Tonestair"), "version", TS_VERSION, "comments",
                         _ ("From a picture to the mixes that paint it"), "logo-icon-name",
                         TS_APPLICATION_ID, "license-type", GTK_LICENSE_GPL_3_0, NULL);
}

static void
ts_application_startup (GApplication *application)
{
  const GActionEntry entries[] = {
    { "new-window", new_window_activated },
    { "quit", quit_activated },
    { "about", about_activated },
    { "help", help_activated },
    { "preferences", preferences_activated },
  };

  G_APPLICATION_CLASS (ts_application_parent_class)->startup (application);
  TS_APPLICATION (application)->settings = ts_settings_new (GTK_APPLICATION (application));
  gtk_window_set_default_icon_name (TS_APPLICATION_ID);
  ts_palette_install (gdk_display_get_default ());
  g_action_map_add_action_entries (G_ACTION_MAP (application), entries, G_N_ELEMENTS (entries),
                                   application);
  if (ts_settings_get_keys (TS_APPLICATION (application)->settings) == NULL)
    g_action_map_remove_action (G_ACTION_MAP (application), "preferences");
  for (gsize i = 0; i < G_N_ELEMENTS (all_keys); i++)
    gtk_application_set_accels_for_action (GTK_APPLICATION (application), all_keys[i].action,
                                           all_keys[i].keys);
}

static int
ts_application_handle_local_options (GApplication *application, GVariantDict *options)
{
  if (!g_variant_dict_contains (options, "version"))
    return -1;
  g_print ("tonestair %s\n", TS_VERSION);
  return 0;
}

static void
ts_application_dispose (GObject *object)
{
  g_clear_object (&TS_APPLICATION (object)->settings);
  g_clear_weak_pointer (&TS_APPLICATION (object)->help);
  G_OBJECT_CLASS (ts_application_parent_class)->dispose (object);
}

static void
ts_application_class_init (TsApplicationClass *class)
{
  GApplicationClass *application_class = G_APPLICATION_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ts_application_dispose;
  application_class->activate = ts_application_activate;
  application_class->open = ts_application_open;
  application_class->startup = ts_application_startup;
  GTK_APPLICATION_CLASS (class)->window_removed = ts_application_window_removed;
  application_class->handle_local_options = ts_application_handle_local_options;
}

static void
ts_application_init (TsApplication *self)
{
  const GOptionEntry options[] = {
    { "version", 0, 0, G_OPTION_ARG_NONE, NULL, N_ ("Print the version and exit"), NULL },
    { NULL },
  };

  g_application_add_main_option_entries (G_APPLICATION (self), options);
  g_application_set_option_context_parameter_string (G_APPLICATION (self),
                                                     _ ("[PICTURE|PLAN.tonestair]"));
}

/**
 * ts_application_new:
 *
 * Each start is a process of its own: what one window does wrong takes no other plan with it.
 *
 * Returns: (transfer full): the program
 */
TsApplication *
ts_application_new (void)
{
  return g_object_new (TS_TYPE_APPLICATION, "application-id", TS_APPLICATION_ID, "flags",
                       G_APPLICATION_HANDLES_OPEN | G_APPLICATION_NON_UNIQUE, "resource-base-path",
                       "/io/github/tonestair/Tonestair", NULL);
}
