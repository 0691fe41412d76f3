/* ts-window-kept.c: offers what was kept when the program ended without saving
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/window/ts-window-private.h"

#include <glib/gi18n.h>

/* "14:05" today, else with its day. */
static char *
dup_time (gint64 seconds)
{
  g_autoptr (GDateTime) then = g_date_time_new_from_unix_local (seconds);
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  gboolean today = g_date_time_get_year (then) == g_date_time_get_year (now) &&
                   g_date_time_get_day_of_year (then) == g_date_time_get_day_of_year (now);

  return g_date_time_format (then, today ? "%H:%M" : "%x %H:%M");
}

/**
 * ts_window_offer_kept:
 * @self: a new window
 *
 * Asks what to do with the latest that a program which is gone has kept. Nothing is said where
 * there is none; it is offered again at the next start while there is no answer.
 */
void
ts_window_offer_kept (TsWindow *self)
{
  g_autofree char *folder = ts_journal_dup_folder ();
  g_autoptr (GPtrArray) kept = ts_journal_find_kept (folder);
  g_autofree char *time = NULL, *text = NULL;
  const TsKept *latest;

  if (kept->len == 0)
    return;
  latest = g_ptr_array_index (kept, 0);
  g_clear_pointer (&self->kept, ts_kept_free);
  self->kept = ts_kept_copy (latest);
  time = dup_time (latest->time);
  if (latest->origin != NULL)
    {
      g_autofree char *name = g_filename_display_basename (latest->origin);

      text = g_strdup_printf (_ ("Tonestair ended without saving %s. Open what was kept at %s?"),
                              name, time);
    }
  else
    text = g_strdup_printf (_ ("Tonestair ended without saving. Open what was kept at %s?"), time);
  ts_window_ask (self, text, "win.open-kept", _ ("Open"), "win.discard-kept", _ ("Discard"));
}

/* Takes what was offered out of the window, so that it is answered once. */
static TsKept *
take_kept (TsWindow *self)
{
  return g_steal_pointer (&self->kept);
}

void
ts_window_open_kept (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  TsWindow *self = TS_WINDOW (user_data);
  g_autoptr (TsKept) kept = take_kept (self);

  /* What is open by now must not be lost for it. */
  if (kept == NULL)
    return;
  if (!ts_document_get_saved (self->document))
    {
      self->kept = g_steal_pointer (&kept);
      ts_window_ask (self, _ ("Save or close this plan first; then what was kept can be opened."),
                     "win.open-kept", _ ("Open"), "win.discard-kept", _ ("Discard"));
      return;
    }
  ts_journal_open (self->journal, kept);
  g_action_group_activate_action (G_ACTION_GROUP (self), "place", g_variant_new_string ("picture"));
}

void
ts_window_discard_kept (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  TsWindow *self = TS_WINDOW (user_data);
  g_autoptr (TsKept) kept = take_kept (self);

  if (kept != NULL)
    ts_journal_discard (kept);
}
