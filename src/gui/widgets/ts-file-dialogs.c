/* ts-file-dialogs.c: choosing files, and the one question before something is lost
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/widgets/ts-file-dialogs.h"

#include <glib/gi18n.h>

typedef struct
{
  GtkNativeDialog *native; /* owned, or NULL */
  TsFileFunc file_func;
  TsAnswerFunc answer_func;
  GObject *user_data; /* owned */
} Request;

static void
request_free (Request *request)
{
  g_clear_object (&request->native);
  g_clear_object (&request->user_data);
  g_free (request);
}

static void
add_filter (GtkFileChooser *chooser, const char *name, const char *const *patterns)
{
  g_autoptr (GtkFileFilter) filter = gtk_file_filter_new ();

  gtk_file_filter_set_name (filter, name);
  for (; *patterns != NULL; patterns++)
    gtk_file_filter_add_suffix (filter, *patterns);
  gtk_file_chooser_add_filter (chooser, filter);
}

static void
add_filters (GtkFileChooser *chooser, TsFiles files)
{
  const char *const both[] = { "png", "jpg", "jpeg", "tonestair", NULL };
  const char *const plan[] = { "tonestair", NULL };
  const char *const table[] = { "csv", "txt", "cgats", NULL };
  const char *const chart[] = { "txt", "cgats", NULL };
  const char *const profile[] = { "icc", "icm", NULL };
  const char *const pdf[] = { "pdf", "svg", "png", "csv", NULL };
  const char *const pages[] = { "pdf", "svg", "png", NULL };

  switch (files)
    {
    case TS_FILES_PICTURES_AND_PLANS:
      add_filter (chooser, _ ("Pictures and plans"), both);
      break;
    case TS_FILES_PLAN:
      add_filter (chooser, _ ("Plans"), plan);
      break;
    case TS_FILES_PAINTS:
      add_filter (chooser, _ ("Paint sets"), table);
      break;
    case TS_FILES_BRIEF:
      add_filter (chooser, _ ("Lists of colours"), table);
      break;
    case TS_FILES_PDF:
      add_filter (chooser, _ ("Mixing cards"), pdf);
      break;
    case TS_FILES_PAGES:
      add_filter (chooser, _ ("Pages to print"), pages);
      break;
    case TS_FILES_CHART:
      add_filter (chooser, _ ("Values of a chart, CGATS text"), chart);
      break;
    case TS_FILES_PROFILE:
      add_filter (chooser, _ ("Colour profiles"), profile);
      break;
    default:
      g_assert_not_reached ();
    }
}

static void
on_file_response (GtkNativeDialog *native, int response, Request *request)
{
  g_autoptr (GFile) file = NULL;
  g_autofree char *path = NULL;

  if (response == GTK_RESPONSE_ACCEPT)
    file = gtk_file_chooser_get_file (GTK_FILE_CHOOSER (native));
  path = file != NULL ? g_file_get_path (file) : NULL;
  gtk_native_dialog_hide (native);
  if (path != NULL)
    request->file_func (path, request->user_data);
  request_free (request);
}

/* What a window is about to show, so that a key pressed twice shows one. */
#define ABOUT_TO_SHOW "ts-file-chooser"

static gboolean
show_in_time (gpointer user_data)
{
  Request *request = user_data;
  GtkWindow *parent = gtk_native_dialog_get_transient_for (request->native);

  if (parent != NULL)
    g_object_set_data (G_OBJECT (parent), ABOUT_TO_SHOW, NULL);
  if (parent != NULL && gtk_widget_get_mapped (GTK_WIDGET (parent)))
    gtk_native_dialog_show (request->native);
  else
    request_free (request);
  return G_SOURCE_REMOVE;
}

/* GTK takes some 25 ms to make its chooser and as long to show it: the window answers in between.
 */
static void
show_chooser (GtkWindow *parent, const char *title, GtkFileChooserAction action, TsFiles files,
              const char *name, TsFileFunc func, GObject *user_data)
{
  GtkFileChooserNative *native;
  Request *request;

  if (g_object_get_data (G_OBJECT (parent), ABOUT_TO_SHOW) != NULL)
    return;
  native = gtk_file_chooser_native_new (title, parent, action, NULL, NULL);
  if (action != GTK_FILE_CHOOSER_ACTION_SELECT_FOLDER)
    add_filters (GTK_FILE_CHOOSER (native), files);
  if (name != NULL)
    gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (native), name);
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (native), TRUE);
  request = g_new0 (Request, 1);
  request->native = GTK_NATIVE_DIALOG (native);
  request->file_func = func;
  request->user_data = g_object_ref (user_data);
  g_signal_connect (native, "response", G_CALLBACK (on_file_response), request);
  g_object_set_data (G_OBJECT (parent), ABOUT_TO_SHOW, native);
  g_idle_add (show_in_time, request);
}

/**
 * ts_file_dialog_open:
 * @parent: the window
 * @title: what is to be chosen
 * @files: which kinds are offered
 * @func: called with the file that was chosen
 * @user_data: for @func
 *
 * Lets a file be chosen.
 */
void
ts_file_dialog_open (GtkWindow *parent, const char *title, TsFiles files, TsFileFunc func,
                     GObject *user_data)
{
  show_chooser (parent, title, GTK_FILE_CHOOSER_ACTION_OPEN, files, NULL, func, user_data);
}

/**
 * ts_file_dialog_save:
 * @parent: the window
 * @title: what is saved
 * @files: its kind
 * @name: the name that is suggested
 * @func: called with the file that was chosen
 * @user_data: for @func
 *
 * Lets a place to save be chosen; the chooser asks before a file is replaced.
 */
void
ts_file_dialog_save (GtkWindow *parent, const char *title, TsFiles files, const char *name,
                     TsFileFunc func, GObject *user_data)
{
  show_chooser (parent, title, GTK_FILE_CHOOSER_ACTION_SAVE, files, name, func, user_data);
}

/**
 * ts_file_dialog_folder:
 * @parent: the window
 * @title: what the folder is for
 * @func: called with the folder that was chosen
 * @user_data: for @func
 *
 * Lets a folder be chosen.
 */
void
ts_file_dialog_folder (GtkWindow *parent, const char *title, TsFileFunc func, GObject *user_data)
{
  show_chooser (parent, title, GTK_FILE_CHOOSER_ACTION_SELECT_FOLDER, TS_FILES_PLAN, NULL, func,
                user_data);
}

static void
on_answer (GtkDialog *dialog, int response, Request *request)
{
  TsAnswer answer = TS_ANSWER_CANCEL;

  if (response == GTK_RESPONSE_ACCEPT)
    answer = TS_ANSWER_SAVE;
  else if (response == GTK_RESPONSE_REJECT)
    answer = TS_ANSWER_DISCARD;
  /* The answer may take the window away while the key or click that gave it still holds the dialog:
   * GTK 4.8 would then ask a window that is gone. */
  gtk_window_set_transient_for (GTK_WINDOW (dialog), NULL);
  gtk_window_destroy (GTK_WINDOW (dialog));
  request->answer_func (answer, request->user_data);
  request_free (request);
}

/* GTK 4.8 says the name of a button with a mnemonic twice. */
static void
add_button (GtkDialog *dialog, const char *label, int response)
{
  GtkWidget *button = gtk_dialog_add_button (dialog, label, response);

  gtk_accessible_reset_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL);
}

/**
 * ts_file_dialog_ask:
 * @parent: the window
 * @title: what would be lost
 * @func: called with the answer
 * @user_data: for @func
 *
 * Asks whether to save, discard, or stay.
 */
void
ts_file_dialog_ask (GtkWindow *parent, const char *title, TsAnswerFunc func, GObject *user_data)
{
  Request *request = g_new0 (Request, 1);
  GtkWidget *dialog =
    gtk_message_dialog_new (parent, GTK_DIALOG_MODAL | GTK_DIALOG_DESTROY_WITH_PARENT,
                            GTK_MESSAGE_QUESTION, GTK_BUTTONS_NONE, "%s", title);

  gtk_message_dialog_format_secondary_text (GTK_MESSAGE_DIALOG (dialog),
                                            _ ("What was not saved would be lost."));
  add_button (GTK_DIALOG (dialog), _ ("Discard"), GTK_RESPONSE_REJECT);
  add_button (GTK_DIALOG (dialog), _ ("Cancel"), GTK_RESPONSE_CANCEL);
  add_button (GTK_DIALOG (dialog), _ ("Save"), GTK_RESPONSE_ACCEPT);
  gtk_dialog_set_default_response (GTK_DIALOG (dialog), GTK_RESPONSE_ACCEPT);
  request->answer_func = func;
  request->user_data = g_object_ref (user_data);
  g_signal_connect (dialog, "response", G_CALLBACK (on_answer), request);
  gtk_window_present (GTK_WINDOW (dialog));
}
