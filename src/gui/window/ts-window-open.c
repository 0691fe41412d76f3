/* ts-window-open.c: what the window takes in: pictures, plans and paints, chosen, dropped or pasted
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/window/ts-window-private.h"

#include <glib/gi18n.h>

#include "gui/widgets/ts-data.h"
#include "gui/widgets/ts-file-dialogs.h"

static void on_opened (GObject *source, GAsyncResult *result, gpointer user_data);

/* Of what was opened together the first is shown, and the second beside it. */
static void
show_together (TsWindow *self)
{
  int first = self->together[0], second = self->together[1];

  self->together[0] = self->together[1] = -1;
  if (first < 0 || second < 0 || first == second)
    return;
  ts_document_show_picture (self->document, (guint) first);
  ts_picture_place_show_beside_it (self->picture, (guint) second);
}

/* What went wrong with an earlier one stays in the bar. */
static void
open_next (TsWindow *self)
{
  g_autofree char *path = g_queue_pop_head (&self->waiting);

  if (path != NULL)
    ts_document_open (self->document, path, on_opened, g_object_ref (self));
  else
    show_together (self);
}

static void
on_opened (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (TsWindow) self = user_data;
  g_autoptr (GError) error = NULL;

  if (ts_document_open_finish (TS_DOCUMENT (source), result, &error))
    {
      int *place = self->together[0] < 0 ? &self->together[0] : &self->together[1];

      if (*place < 0)
        *place = (int) ts_document_get_shown_picture (self->document);
      g_action_group_activate_action (G_ACTION_GROUP (self), "place",
                                      g_variant_new_string ("picture"));
    }
  else if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    ts_window_show_message (self, error->message, NULL, NULL);
  open_next (self);
}

void
ts_window_open_now (TsWindow *self, const char *path)
{
  gtk_widget_set_visible (self->message_bar, FALSE);
  self->together[0] = self->together[1] = -1;
  ts_document_open (self->document, path, on_opened, g_object_ref (self));
}

/**
 * ts_window_open:
 * @self: the window
 * @path: a picture or a plan
 *
 * Opens a file; what goes wrong is said in the bar of messages. A plan takes the place of the one
 * that is open, which may have to be saved first.
 */
void
ts_window_open (TsWindow *self, const char *path)
{
  g_return_if_fail (TS_IS_WINDOW (self));

  g_queue_clear_full (&self->waiting, g_free);
  if (g_str_has_suffix (path, ".tonestair"))
    ts_window_leave (self, TS_LEAVE_FOR_ANOTHER, path);
  else
    ts_window_open_now (self, path);
}

/* A plan has a window of its own. */
static void
open_elsewhere (GFile *file)
{
  g_application_open (g_application_get_default (), &file, 1, "another");
}

/**
 * ts_window_open_files:
 * @self: the window
 * @files: (array length=n_files): pictures and plans
 * @n_files: how many
 *
 * Opens what a painter has chosen together: the pictures, one after the other, are all of one plan,
 * which is the first of the plans where there are any; the first is shown and the second beside it.
 * Each further plan gets a window. What has no path on this machine is passed over.
 */
void
ts_window_open_files (TsWindow *self, GFile **files, int n_files)
{
  g_autofree char *plan = NULL;
  g_autoptr (GPtrArray) pictures = g_ptr_array_new_with_free_func (g_free);

  g_return_if_fail (TS_IS_WINDOW (self));

  for (int i = 0; i < n_files; i++)
    {
      g_autofree char *path = g_file_get_path (files[i]);
      gboolean is_plan = path != NULL && g_str_has_suffix (path, ".tonestair");

      if (is_plan && plan != NULL)
        open_elsewhere (files[i]);
      else if (is_plan)
        plan = g_steal_pointer (&path);
      else if (path != NULL)
        g_ptr_array_add (pictures, g_steal_pointer (&path));
    }
  if (plan == NULL && pictures->len > 0)
    plan = g_ptr_array_steal_index (pictures, 0);
  if (plan == NULL)
    return;
  ts_window_open (self, plan);
  /* They wait for it: an opening ends in a later turn of the loop. */
  while (pictures->len > 0)
    g_queue_push_tail (&self->waiting, g_ptr_array_steal_index (pictures, 0));
}

static void
on_finished_opened (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (TsWindow) self = user_data;
  g_autoptr (GError) error = NULL;

  if (ts_document_open_finish (TS_DOCUMENT (source), result, &error))
    g_action_group_activate_action (G_ACTION_GROUP (self), "place",
                                    g_variant_new_string ("finish"));
  else if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    ts_window_show_message (self, error->message, NULL, NULL);
}

static void
open_finished_path (const char *path, gpointer user_data)
{
  TsWindow *self = TS_WINDOW (user_data);

  gtk_widget_set_visible (self->message_bar, FALSE);
  ts_document_open_finished (self->document, path, on_finished_opened, g_object_ref (self));
}

static gboolean
is_finish_place (TsWindow *self)
{
  return g_strcmp0 (gtk_stack_get_visible_child_name (GTK_STACK (self->stack)), "finish") == 0;
}

/* What is dropped or pasted on the finish check is the finished figure. */
static void
take_path (TsWindow *self, const char *path)
{
  if (is_finish_place (self) && !g_str_has_suffix (path, ".tonestair"))
    open_finished_path (path, self);
  else
    ts_window_open (self, path);
}

static void
open_finished_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  ts_file_dialog_open (GTK_WINDOW (user_data), _ ("Open a Photo of the Finished Figure"),
                       TS_FILES_PICTURES_AND_PLANS, open_finished_path, G_OBJECT (user_data));
}

static void
open_path (const char *path, gpointer user_data)
{
  ts_window_open (TS_WINDOW (user_data), path);
}

static void
open_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  ts_file_dialog_open (GTK_WINDOW (user_data), _ ("Open a Picture or a Plan"),
                       TS_FILES_PICTURES_AND_PLANS, open_path, G_OBJECT (user_data));
}

static void
open_uri_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  g_autofree char *path = g_filename_from_uri (g_variant_get_string (parameter, NULL), NULL, NULL);

  if (path != NULL)
    ts_window_open (TS_WINDOW (user_data), path);
}

static void
open_demo_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  TsWindow *self = TS_WINDOW (user_data);
  g_autofree char *plan = ts_data_dup_path ("demo/lighthouse.tonestair");
  g_autofree char *picture = ts_data_dup_path ("demo/lighthouse.jpg");

  if (plan != NULL || picture != NULL)
    ts_window_open (self, plan != NULL ? plan : picture);
  else
    ts_window_show_message (self, _ ("The demo is not installed."), NULL, NULL);
}

static void
take_paints (const char *path, gpointer user_data)
{
  TsWindow *self = TS_WINDOW (user_data);
  g_autoptr (GError) error = NULL;
  g_autoptr (TsPaintSet) paints = ts_paint_set_load (path, &error);
  g_autofree char *name = NULL;
  char *dot;

  if (paints == NULL)
    {
      ts_window_show_message (self, error->message, NULL, NULL);
      return;
    }
  name = g_filename_display_basename (path);
  dot = strrchr (name, '.');
  if (dot != NULL)
    *dot = '\0';
  /* New plans start with them too, unless that is all there is to change. */
  if (ts_document_get_has_plan (self->document))
    ts_document_set_default_paints (self->document, paints, name);
  ts_document_set_paints (self->document, paints, name);
}

static void
demo_paints_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  TsWindow *self = TS_WINDOW (user_data);
  g_autofree char *path = ts_data_dup_path ("demo/lighthouse-paints.csv");
  g_autoptr (TsPaintSet) paints = path != NULL ? ts_paint_set_load (path, NULL) : NULL;

  if (paints != NULL)
    ts_document_set_paints (self->document, paints, _ ("Demo paints"));
  else
    ts_window_show_message (self, _ ("The demo is not installed."), NULL, NULL);
}

static void
open_paints_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  ts_file_dialog_open (GTK_WINDOW (user_data), _ ("Choose Paints"), TS_FILES_PAINTS, take_paints,
                       G_OBJECT (user_data));
}

static void
on_texture_pasted (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (TsWindow) self = user_data;
  g_autoptr (GError) error = NULL;
  g_autoptr (GdkTexture) texture =
    gdk_clipboard_read_texture_finish (GDK_CLIPBOARD (source), result, &error);
  g_autofree char *folder = g_build_filename (g_get_user_data_dir (), "tonestair", "pasted", NULL);
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  g_autofree char *name = g_date_time_format (now, "pasted-%Y%m%d-%H%M%S-%f.png");
  g_autofree char *path = g_build_filename (folder, name, NULL);

  if (texture == NULL)
    ts_window_show_message (self, _ ("There is no picture to paste."), NULL, NULL);
  else if (g_mkdir_with_parents (folder, 0700) == 0 && gdk_texture_save_to_png (texture, path))
    take_path (self, path);
  else
    ts_window_show_message (self, _ ("The pasted picture cannot be kept: is the disk full?"), NULL,
                            NULL);
}

static void
on_files_pasted (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (TsWindow) self = user_data;
  const GValue *value = gdk_clipboard_read_value_finish (GDK_CLIPBOARD (source), result, NULL);
  g_autoptr (GSList) files = NULL;
  g_autofree char *path = NULL;

  if (value != NULL && G_VALUE_HOLDS (value, GDK_TYPE_FILE_LIST))
    files = gdk_file_list_get_files (g_value_get_boxed (value));
  path = files != NULL ? g_file_get_path (files->data) : NULL;
  if (path != NULL)
    take_path (self, path);
}

/* Where something is being typed, what is pasted goes into that. */
static gboolean
paste_into_text (TsWindow *self)
{
  GtkWidget *focus = gtk_root_get_focus (GTK_ROOT (self));

  if (!GTK_IS_TEXT (focus) && !GTK_IS_TEXT_VIEW (focus))
    return FALSE;
  return gtk_widget_activate_action (focus, "clipboard.paste", NULL);
}

static void
paste_activated (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  TsWindow *self = TS_WINDOW (user_data);
  GdkClipboard *clipboard = gtk_widget_get_clipboard (GTK_WIDGET (self));
  GdkContentFormats *formats = gdk_clipboard_get_formats (clipboard);
  const char *place = gtk_stack_get_visible_child_name (GTK_STACK (self->stack));

  if (paste_into_text (self))
    return;
  if (strcmp (place, "brief") == 0)
    gtk_widget_activate_action (gtk_stack_get_visible_child (GTK_STACK (self->stack)),
                                "brief.paste", NULL);
  else if (gdk_content_formats_contain_gtype (formats, GDK_TYPE_FILE_LIST))
    gdk_clipboard_read_value_async (clipboard, GDK_TYPE_FILE_LIST, G_PRIORITY_DEFAULT, NULL,
                                    on_files_pasted, g_object_ref (self));
  else
    gdk_clipboard_read_texture_async (clipboard, NULL, on_texture_pasted, g_object_ref (self));
}

static gboolean
on_drop (GtkDropTarget *target, const GValue *value, double x, double y, TsWindow *self)
{
  g_autoptr (GSList) files = NULL;
  g_autoptr (GPtrArray) pictures = g_ptr_array_new ();

  ts_empty_view_set_dropping (self->empty, FALSE);
  if (!G_VALUE_HOLDS (value, GDK_TYPE_FILE_LIST))
    return FALSE;
  files = gdk_file_list_get_files (g_value_get_boxed (value));
  for (GSList *l = files; l != NULL; l = l->next)
    {
      g_autofree char *path = g_file_get_path (l->data);

      if (path == NULL)
        continue;
      if (g_str_has_suffix (path, ".csv"))
        take_paints (path, self);
      else if (is_finish_place (self) && !g_str_has_suffix (path, ".tonestair"))
        open_finished_path (path, self);
      else
        g_ptr_array_add (pictures, l->data);
    }
  if (pictures->len > 0)
    ts_window_open_files (self, (GFile **) pictures->pdata, (int) pictures->len);
  return TRUE;
}

static GdkDragAction
on_drop_enter (GtkDropTarget *target, double x, double y, TsWindow *self)
{
  ts_empty_view_set_dropping (self->empty, TRUE);
  return GDK_ACTION_COPY;
}

static void
on_drop_leave (GtkDropTarget *target, TsWindow *self)
{
  ts_empty_view_set_dropping (self->empty, FALSE);
}

/**
 * ts_window_add_drop:
 * @self: a new window
 *
 * Lets files be dropped anywhere.
 */
void
ts_window_add_drop (TsWindow *self)
{
  GtkDropTarget *target = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);

  g_signal_connect (target, "drop", G_CALLBACK (on_drop), self);
  g_signal_connect (target, "enter", G_CALLBACK (on_drop_enter), self);
  g_signal_connect (target, "leave", G_CALLBACK (on_drop_leave), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (target));
}

/**
 * ts_window_add_open_actions:
 * @self: a new window
 *
 * Adds the actions that take something in.
 */
void
ts_window_add_open_actions (TsWindow *self)
{
  const GActionEntry entries[] = {
    { "open", open_activated },
    { "open-finished", open_finished_activated },
    { "open-uri", open_uri_activated, "s" },
    { "open-demo", open_demo_activated },
    { "open-paints", open_paints_activated },
    { "demo-paints", demo_paints_activated },
    { "paste", paste_activated },
  };

  g_action_map_add_action_entries (G_ACTION_MAP (self), entries, G_N_ELEMENTS (entries), self);
}
