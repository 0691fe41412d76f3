/* ts-window-save.c: what the window gives out: the plan, a copy with its pictures, the card
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/window/ts-window-private.h"

#include <glib/gi18n.h>

#include "gui/card/ts-card-job.h"
#include "gui/widgets/ts-data.h"
#include "gui/widgets/ts-file-dialogs.h"
#include "gui/card/ts-print.h"

/* Recent plans say how much is in them. */
static void
remember (TsWindow *self, const char *path)
{
  const TsPlan *plan = ts_document_get_plan (self->document);
  g_autofree char *uri = g_filename_to_uri (path, NULL, NULL);
  g_autofree char *about = g_strdup_printf (
    ngettext ("%u surface", "%u surfaces", plan->surfaces->len), plan->surfaces->len);
  char mime[] = "application/json", name[] = "Tonestair", exec[] = "tonestair %u";
  GtkRecentData data = {
    .description = about, .mime_type = mime, .app_name = name, .app_exec = exec
  };

  if (uri != NULL)
    gtk_recent_manager_add_full (gtk_recent_manager_get_default (), uri, &data);
}

/* FALSE where it could not be saved; the bar of messages then says why. */
gboolean
ts_window_save (TsWindow *self, const char *path)
{
  g_autofree char *with_suffix = g_str_has_suffix (path, ".tonestair")
                                   ? g_strdup (path)
                                   : g_strconcat (path, ".tonestair", NULL);
  g_autoptr (GError) error = NULL;

  if (!ts_document_save (self->document, with_suffix, &error))
    {
      g_autofree char *text =
        ts_journal_is_safe (self->journal)
          ? g_strdup_printf (_ ("%s Your changes are safe in the journal."), error->message)
          : g_strdup (error->message);

      ts_window_ask (self, text, "win.save", _ ("Try again"), "win.save-as", _ ("Save elsewhere…"));
      return FALSE;
    }
  remember (self, with_suffix);
  return TRUE;
}

static void
save_path (const char *path, gpointer user_data)
{
  ts_window_save (TS_WINDOW (user_data), path);
}

/* Where to save: @func is called with the window and the path. */
void
ts_window_ask_where (TsWindow *self, TsFileFunc func)
{
  g_autofree char *title = NULL, *name = NULL;

  g_object_get (self->document, "title", &title, NULL);
  name = g_strconcat (title != NULL && *title != '\0' ? title : _ ("Plan"), ".tonestair", NULL);
  g_strdelimit (name, "/", '-');
  ts_file_dialog_save (GTK_WINDOW (self), _ ("Save the Plan"), TS_FILES_PLAN, name, func,
                       G_OBJECT (self));
}

static void
save_as_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  ts_window_ask_where (TS_WINDOW (user_data), save_path);
}

static void
on_packed (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (TsWindow) self = user_data;
  g_autoptr (GError) error = NULL;
  g_autofree char *path = ts_document_pack_finish (TS_DOCUMENT (source), result, &error);
  g_autofree char *folder = path != NULL ? g_path_get_dirname (path) : NULL;
  g_autofree char *name = folder != NULL ? g_filename_display_name (folder) : NULL;
  g_autofree char *text = name != NULL
                            ? g_strdup_printf (_ ("A copy with its pictures is in %s."), name)
                            : g_strdup (error->message);

  ts_window_ask (self, text, NULL, NULL, NULL, NULL);
}

static void
pack_into (const char *folder, gpointer user_data)
{
  ts_document_pack (TS_WINDOW (user_data)->document, folder, on_packed, g_object_ref (user_data));
}

static void
pack_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  ts_file_dialog_folder (GTK_WINDOW (user_data), _ ("Where the Copy Goes"), pack_into,
                         G_OBJECT (user_data));
}

/* The demo stays as it is. */
const char *
ts_window_get_save_path (TsWindow *self)
{
  const char *path = ts_document_get_path (self->document);
  g_autofree char *demo = ts_data_dup_path ("demo/lighthouse.tonestair");
  g_autoptr (GFile) file = path != NULL ? g_file_new_for_path (path) : NULL;
  g_autoptr (GFile) own = demo != NULL ? g_file_new_for_path (demo) : NULL;

  return file != NULL && own != NULL && g_file_equal (file, own) ? NULL : path;
}

static void
save_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  const char *path = ts_window_get_save_path (TS_WINDOW (user_data));

  if (path != NULL)
    save_path (path, user_data);
  else
    save_as_activated (NULL, NULL, user_data);
}

static void
on_card_saved (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (TsWindow) self = user_data;
  g_autoptr (GError) error = NULL;
  g_autoptr (TsCard) card = ts_card_job_finish (result, &error);

  if (card == NULL && gtk_widget_get_mapped (GTK_WIDGET (self)))
    ts_window_show_message (self, error->message, NULL, NULL);
  g_application_release (g_application_get_default ());
}

static void
save_card (const char *path, gpointer user_data)
{
  TsWindow *self = TS_WINDOW (user_data);
  TsCardJob *job = ts_card_job_new (self->document);

  if (job == NULL)
    {
      ts_window_show_message (self, _ ("There is no card yet."), NULL, NULL);
      return;
    }
  /* A window that is closed meanwhile does not take the card with it. */
  g_application_hold (g_application_get_default ());
  ts_card_job_run (job, path, on_card_saved, g_object_ref (self));
}

static void
save_card_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  ts_file_dialog_save (GTK_WINDOW (user_data), _ ("Save the Mixing Card"), TS_FILES_PDF,
                       _ ("mixing-card.pdf"), save_card, G_OBJECT (user_data));
}

static void
on_card_made (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (TsWindow) self = user_data;
  g_autoptr (GError) error = NULL;
  g_autoptr (TsCard) card = ts_card_job_finish (result, &error);

  if (card != NULL && gtk_widget_get_mapped (GTK_WIDGET (self)))
    ts_print_card (GTK_WINDOW (self), card, &error);
  self->printing = FALSE;
  if (error != NULL && gtk_widget_get_mapped (GTK_WIDGET (self)))
    ts_window_show_message (self, error->message, NULL, NULL);
}

static void
print_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  TsWindow *self = TS_WINDOW (user_data);
  TsCardJob *job = self->printing ? NULL : ts_card_job_new (self->document);

  if (job == NULL)
    return;
  self->printing = TRUE;
  ts_card_job_run (job, NULL, on_card_made, g_object_ref (self));
}

/**
 * ts_window_add_save_actions:
 * @self: a new window
 *
 * Adds the actions that give something out.
 */
void
ts_window_add_save_actions (TsWindow *self)
{
  const GActionEntry entries[] = {
    { "save", save_activated },   { "save-as", save_as_activated },
    { "pack", pack_activated },   { "save-card", save_card_activated },
    { "print", print_activated },
  };

  g_action_map_add_action_entries (G_ACTION_MAP (self), entries, G_N_ELEMENTS (entries), self);
}
