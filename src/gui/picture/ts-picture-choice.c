/* ts-picture-choice.c: which of several references is shown
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/picture/ts-picture-choice.h"

#include <glib/gi18n.h>

#include "gui/widgets/ts-accessible.h"

#define MOST_LETTERS 24 /* of a name: the bar has no room for more */

struct _TsPictureChoice
{
  TsView parent_instance;

  GArray *pictures; /* owned, guint: index of each choice's picture */
  GtkWidget *choice;
  gboolean updating; /* choices are shown, not made */
};

G_DEFINE_FINAL_TYPE (TsPictureChoice, ts_picture_choice, TS_TYPE_VIEW)

static void
on_chosen (TsPictureChoice *self)
{
  guint chosen = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->choice));

  if (!self->updating && chosen < self->pictures->len)
    ts_document_show_picture (ts_view_get_document (TS_VIEW (self)),
                              g_array_index (self->pictures, guint, chosen));
}

/* A long name keeps its beginning and its end. */
static char *
dup_short_name (const char *path)
{
  g_autofree char *name = g_filename_display_basename (path);
  glong n = g_utf8_strlen (name, -1);
  g_autofree char *start = NULL;

  if (n <= MOST_LETTERS)
    return g_steal_pointer (&name);
  start = g_utf8_substring (name, 0, MOST_LETTERS / 2 - 1);
  return g_strconcat (start, "…", g_utf8_offset_to_pointer (name, n - MOST_LETTERS / 2), NULL);
}

static GtkStringList *
list_references (TsPictureChoice *self, const TsPlan *plan)
{
  GtkStringList *names = gtk_string_list_new (NULL);

  g_array_set_size (self->pictures, 0);
  for (guint i = 0; plan != NULL && i < plan->pictures->len; i++)
    {
      const TsPicture *picture = ts_plan_get_picture (plan, i);
      g_autofree char *name = dup_short_name (picture->path);

      if (picture->role != TS_ROLE_REFERENCE)
        continue;
      gtk_string_list_append (names, name);
      g_array_append_val (self->pictures, i);
    }
  return names;
}

static gboolean
is_the_same (GListModel *one, GListModel *other)
{
  guint n = g_list_model_get_n_items (other);

  if (one == NULL || g_list_model_get_n_items (one) != n)
    return FALSE;
  for (guint i = 0; i < n; i++)
    if (g_strcmp0 (gtk_string_list_get_string (GTK_STRING_LIST (one), i),
                   gtk_string_list_get_string (GTK_STRING_LIST (other), i)) != 0)
      return FALSE;
  return TRUE;
}

static void
ts_picture_choice_update (TsView *view, TsChange change)
{
  TsPictureChoice *self = TS_PICTURE_CHOICE (view);
  TsDocument *document = ts_view_get_document (view);
  guint shown = ts_document_get_shown_picture (document);
  g_autoptr (GtkStringList) names = NULL;

  if (!(change & (TS_CHANGE_PLAN | TS_CHANGE_PICTURE)))
    return;
  self->updating = TRUE;
  names = list_references (self, ts_document_get_plan (document));
  /* This may be the answer to a choice, and what is chosen from must outlive that. */
  if (!is_the_same (gtk_drop_down_get_model (GTK_DROP_DOWN (self->choice)), G_LIST_MODEL (names)))
    gtk_drop_down_set_model (GTK_DROP_DOWN (self->choice), G_LIST_MODEL (names));
  for (guint i = 0; i < self->pictures->len; i++)
    if (g_array_index (self->pictures, guint, i) == shown)
      gtk_drop_down_set_selected (GTK_DROP_DOWN (self->choice), i);
  self->updating = FALSE;
  gtk_widget_set_visible (GTK_WIDGET (self), self->pictures->len > 1);
}

static void
ts_picture_choice_finalize (GObject *object)
{
  g_array_unref (TS_PICTURE_CHOICE (object)->pictures);
  G_OBJECT_CLASS (ts_picture_choice_parent_class)->finalize (object);
}

static void
ts_picture_choice_class_init (TsPictureChoiceClass *class)
{
  G_OBJECT_CLASS (class)->finalize = ts_picture_choice_finalize;
  TS_VIEW_CLASS (class)->update = ts_picture_choice_update;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BIN_LAYOUT);
}

static void
ts_picture_choice_init (TsPictureChoice *self)
{
  self->pictures = g_array_new (FALSE, FALSE, sizeof (guint));
  self->choice = gtk_drop_down_new (NULL, NULL);
  ts_accessible_name_inner (self->choice, _ ("Which reference is shown"));
  gtk_widget_set_valign (self->choice, GTK_ALIGN_CENTER);
  gtk_widget_set_parent (self->choice, GTK_WIDGET (self));
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
  g_signal_connect_swapped (self->choice, "notify::selected", G_CALLBACK (on_chosen), self);
}
