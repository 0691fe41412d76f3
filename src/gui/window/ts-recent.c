/* ts-recent.c: the plans that were opened last
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/window/ts-recent.h"

#include <string.h>

#define ENDING ".tonestair"
#define MOST_IN_MENU 8

static int
compare_day (gconstpointer a, gconstpointer b)
{
  return g_date_time_compare (gtk_recent_info_get_modified ((GtkRecentInfo *) b),
                              gtk_recent_info_get_modified ((GtkRecentInfo *) a));
}

/**
 * ts_recent_find:
 * @most: how many are wanted
 *
 * Returns: (transfer full) (element-type GtkRecentInfo): plans that are still there, the one opened
 *   last first
 */
GPtrArray *
ts_recent_find (guint most)
{
  GPtrArray *plans = g_ptr_array_new_with_free_func ((GDestroyNotify) gtk_recent_info_unref);
  GList *items = gtk_recent_manager_get_items (gtk_recent_manager_get_default ());

  items = g_list_sort (items, compare_day);
  for (GList *l = items; l != NULL && plans->len < most; l = l->next)
    if (g_str_has_suffix (gtk_recent_info_get_uri (l->data), ENDING) &&
        gtk_recent_info_exists (l->data))
      g_ptr_array_add (plans, gtk_recent_info_ref (l->data));
  g_list_free_full (items, (GDestroyNotify) gtk_recent_info_unref);
  return plans;
}

/**
 * ts_recent_dup_title:
 * @info: a plan
 *
 * Returns: (transfer full): what it is called, without the ending
 */
char *
ts_recent_dup_title (GtkRecentInfo *info)
{
  const char *name = gtk_recent_info_get_display_name (info);

  return g_str_has_suffix (name, ENDING) ? g_strndup (name, strlen (name) - strlen (ENDING))
                                         : g_strdup (name);
}

static void
fill (GtkWidget *popover, GMenu *menu)
{
  g_autoptr (GPtrArray) plans = ts_recent_find (MOST_IN_MENU);

  g_menu_remove_all (menu);
  for (guint i = 0; i < plans->len; i++)
    {
      GtkRecentInfo *info = g_ptr_array_index (plans, i);
      g_autofree char *title = ts_recent_dup_title (info);
      g_autoptr (GMenuItem) item = g_menu_item_new (title, NULL);

      g_menu_item_set_action_and_target (item, "win.open-uri", "s", gtk_recent_info_get_uri (info));
      g_menu_append_item (menu, item);
    }
}

/**
 * ts_recent_fill_menu:
 * @menu: the part of a menu that is for recent plans
 * @popover: what shows the menu
 *
 * The list of recent files is read when it is looked at: a start does not wait for it.
 */
void
ts_recent_fill_menu (GMenu *menu, GtkWidget *popover)
{
  g_signal_connect_object (popover, "show", G_CALLBACK (fill), menu, 0);
}
