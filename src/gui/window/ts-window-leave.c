/* ts-window-leave.c: leaving a plan: asks before anything is lost, and never otherwise
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/window/ts-window-private.h"

#include <glib/gi18n.h>

#include "gui/widgets/ts-file-dialogs.h"

/* What was asked for, once nothing can be lost by it. */
static void
proceed (TsWindow *self)
{
  TsLeave leave = self->leave;
  g_autofree char *path = g_steal_pointer (&self->leave_path);

  self->leave = TS_LEAVE_NOT;
  switch (leave)
    {
    case TS_LEAVE_WINDOW:
      self->may_close = TRUE;
      gtk_window_close (GTK_WINDOW (self));
      break;
    case TS_LEAVE_PLAN:
      ts_document_close (self->document);
      break;
    case TS_LEAVE_FOR_ANOTHER:
      ts_window_open_now (self, path);
      break;
    case TS_LEAVE_NOT:
    default:
      break;
    }
}

static void
save_and_proceed (const char *path, gpointer user_data)
{
  if (ts_window_save (TS_WINDOW (user_data), path))
    proceed (TS_WINDOW (user_data));
}

static void
on_answer (TsAnswer answer, gpointer user_data)
{
  TsWindow *self = TS_WINDOW (user_data);
  const char *path = ts_window_get_save_path (self);

  if (answer == TS_ANSWER_DISCARD)
    proceed (self);
  else if (answer == TS_ANSWER_SAVE && path != NULL)
    save_and_proceed (path, self);
  else if (answer == TS_ANSWER_SAVE)
    ts_window_ask_where (self, save_and_proceed);
  else
    g_queue_clear_full (&self->waiting, g_free);
}

static const char *
get_question (TsLeave leave)
{
  switch (leave)
    {
    case TS_LEAVE_PLAN:
      return _ ("Save the plan before closing it?");
    case TS_LEAVE_FOR_ANOTHER:
      return _ ("Save the plan before opening another?");
    case TS_LEAVE_NOT:
    case TS_LEAVE_WINDOW:
    default:
      return _ ("Save the plan before closing?");
    }
}

/* Leaves the plan now where it is saved, else after an answer. @path (nullable) is what to open. */
void
ts_window_leave (TsWindow *self, TsLeave leave, const char *path)
{
  char *copy = g_strdup (path);

  g_free (self->leave_path);
  self->leave_path = copy;
  self->leave = leave;
  if (!ts_document_get_has_plan (self->document) || ts_document_get_saved (self->document))
    proceed (self);
  else
    ts_file_dialog_ask (GTK_WINDOW (self), get_question (leave), on_answer, G_OBJECT (self));
}
