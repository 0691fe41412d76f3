/* ts-empty-view.c: what a window without a plan shows
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/window/ts-empty-view.h"

#include <glib/gi18n.h>

#include "gui/widgets/ts-accessible.h"
#include "gui/widgets/ts-promise.h"
#include "gui/window/ts-recent.h"

#define MAX_RECENT 4

struct _TsEmptyView
{
  GtkWidget parent_instance;

  /* Template children */
  GtkWidget *scroller, *title, *open, *recent_box, *recent;
};

G_DEFINE_FINAL_TYPE (TsEmptyView, ts_empty_view, GTK_TYPE_WIDGET)

/* "today", "yesterday", "14 November". */
static char *
format_day (GDateTime *day)
{
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  g_autoptr (GDateTime) local = g_date_time_to_local (day);
  g_autoptr (GDateTime) yesterday = g_date_time_add_days (now, -1);
  int date = g_date_time_get_year (local) * 366 + g_date_time_get_day_of_year (local);

  if (date == g_date_time_get_year (now) * 366 + g_date_time_get_day_of_year (now))
    return g_strdup (_ ("today"));
  if (date == g_date_time_get_year (yesterday) * 366 + g_date_time_get_day_of_year (yesterday))
    return g_strdup (_ ("yesterday"));
  return g_date_time_format (local, _ ("%-d %B"));
}

static GtkWidget *
new_row (GtkRecentInfo *info)
{
  GtkWidget *button = gtk_button_new (), *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 16);
  g_autofree char *day = format_day (gtk_recent_info_get_modified (info));
  const char *what = gtk_recent_info_get_description (info);
  g_autofree char *about =
    what != NULL ? g_strdup_printf (_ ("%s, %s"), what, day) : g_strdup (day);
  g_autofree char *name = ts_recent_dup_title (info);
  GtkWidget *title = gtk_label_new (name), *when = gtk_label_new (about);

  gtk_label_set_xalign (GTK_LABEL (title), 0.0F);
  gtk_label_set_ellipsize (GTK_LABEL (title), PANGO_ELLIPSIZE_MIDDLE);
  ts_accessible_may_be_cut (title);
  gtk_widget_set_hexpand (title, TRUE);
  gtk_widget_add_css_class (title, "body");
  gtk_widget_add_css_class (when, "small");
  gtk_widget_add_css_class (when, "dim");
  gtk_widget_add_css_class (button, "flat");
  gtk_widget_add_css_class (button, "recent");
  gtk_box_append (GTK_BOX (box), title);
  gtk_box_append (GTK_BOX (box), when);
  gtk_button_set_child (GTK_BUTTON (button), box);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, about, -1);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), "win.open-uri");
  gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "s", gtk_recent_info_get_uri (info));
  return button;
}

static void
show_recent (TsEmptyView *self)
{
  g_autoptr (GPtrArray) plans = ts_recent_find (MAX_RECENT);
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (self->recent)) != NULL)
    gtk_box_remove (GTK_BOX (self->recent), child);
  for (guint i = 0; i < plans->len; i++)
    gtk_box_append (GTK_BOX (self->recent), new_row (g_ptr_array_index (plans, i)));
  gtk_widget_set_visible (self->recent_box, plans->len > 0);
}

static void
ts_empty_view_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), TS_TYPE_EMPTY_VIEW);
  G_OBJECT_CLASS (ts_empty_view_parent_class)->dispose (object);
}

static void
ts_empty_view_class_init (TsEmptyViewClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ts_empty_view_dispose;
  g_type_ensure (TS_TYPE_PROMISE);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/io/github/tonestair/Tonestair/ts-empty-view.ui");
  gtk_widget_class_bind_template_child (widget_class, TsEmptyView, scroller);
  gtk_widget_class_bind_template_child (widget_class, TsEmptyView, title);
  gtk_widget_class_bind_template_child (widget_class, TsEmptyView, open);
  gtk_widget_class_bind_template_child (widget_class, TsEmptyView, recent_box);
  gtk_widget_class_bind_template_child (widget_class, TsEmptyView, recent);
}

static void
ts_empty_view_init (TsEmptyView *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  show_recent (self);
  g_signal_connect_object (gtk_recent_manager_get_default (), "changed", G_CALLBACK (show_recent),
                           self, G_CONNECT_SWAPPED);
}

/**
 * ts_empty_view_set_dropping:
 * @self: the view
 * @dropping: whether something hovers that would be opened
 *
 * Says what letting go will do.
 */
void
ts_empty_view_set_dropping (TsEmptyView *self, gboolean dropping)
{
  g_return_if_fail (TS_IS_EMPTY_VIEW (self));

  gtk_label_set_label (GTK_LABEL (self->title),
                       dropping ? _ ("Let go to open it") : _ ("Drop a picture here"));
}
