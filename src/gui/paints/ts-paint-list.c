/* ts-paint-list.c: the paints of a set, to be found, ordered and chosen
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/paints/ts-paint-list.h"

#include <glib/gi18n.h>

#include "gui/widgets/ts-accessible.h"
#include "gui/paints/ts-paint-item.h"
#include "gui/paints/ts-paint-row.h"
#include "gui/paints/ts-paint-words.h"

struct _TsPaintList
{
  GtkWidget parent_instance;

  /* Owned */
  GListStore *items; /* TsPaintItem, in the order of the set */
  GtkFilter *filter;
  GtkSorter *sorter;
  GtkSingleSelection *selection;
  GtkSizeGroup *column; /* of what each paint is, in all rows */
  char **words;         /* what is looked for, casefolded, or NULL */

  TsPaintOrder order;
  gboolean updating; /* the selection is being put right */

  /* Template children */
  GtkWidget *box, *search, *order_choice, *found, *view;
};

enum
{
  CHOSEN,
  ACTIVATED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (TsPaintList, ts_paint_list, GTK_TYPE_WIDGET)

static gboolean
is_found (gpointer item, gpointer user_data)
{
  TsPaintList *self = user_data;

  return self->words == NULL || ts_paint_item_matches (item, self->words);
}

static int
compare (gconstpointer one, gconstpointer other, gpointer user_data)
{
  return ts_paint_item_compare (TS_PAINT_ITEM ((gpointer) one), TS_PAINT_ITEM ((gpointer) other),
                                TS_PAINT_LIST (user_data)->order);
}

static void
show_found (TsPaintList *self)
{
  guint n = g_list_model_get_n_items (G_LIST_MODEL (self->selection));
  g_autofree char *words = NULL;

  if (self->words != NULL && n == 0)
    words = g_strdup (_ ("nothing found"));
  else if (self->words != NULL)
    words = g_strdup_printf (ngettext ("%u found", "%u found", n), n);
  gtk_label_set_label (GTK_LABEL (self->found), words != NULL ? words : "");
}

static void
on_search_changed (TsPaintList *self)
{
  g_autofree char *text = g_utf8_casefold (gtk_editable_get_text (GTK_EDITABLE (self->search)), -1);

  g_strstrip (text);
  g_clear_pointer (&self->words, g_strfreev);
  if (*text != '\0')
    self->words = g_strsplit (text, " ", -1);
  gtk_filter_changed (self->filter, GTK_FILTER_CHANGE_DIFFERENT);
  show_found (self);
}

static void
on_search_stopped (TsPaintList *self)
{
  gtk_editable_set_text (GTK_EDITABLE (self->search), "");
  gtk_widget_grab_focus (self->view);
}

/* Return in the search goes to the first that was found. */
static void
on_search_activated (TsPaintList *self)
{
  if (g_list_model_get_n_items (G_LIST_MODEL (self->selection)) == 0)
    return;
  gtk_single_selection_set_selected (self->selection, 0);
  gtk_widget_grab_focus (self->view);
}

static void
on_order_changed (TsPaintList *self)
{
  self->order = (TsPaintOrder) gtk_drop_down_get_selected (GTK_DROP_DOWN (self->order_choice));
  gtk_sorter_changed (self->sorter, GTK_SORTER_CHANGE_DIFFERENT);
}

static void
on_selected (TsPaintList *self)
{
  TsPaintItem *item = gtk_single_selection_get_selected_item (self->selection);

  if (!self->updating && item != NULL)
    g_signal_emit (self, signals[CHOSEN], 0, ts_paint_item_get_index (item));
}

static void
on_activated (TsPaintList *self, guint position)
{
  g_autoptr (TsPaintItem) item = g_list_model_get_item (G_LIST_MODEL (self->selection), position);

  if (item != NULL)
    g_signal_emit (self, signals[ACTIVATED], 0, ts_paint_item_get_index (item));
}

/* Before it is seen for the first time it has no places to scroll to. */
static gboolean
scroll_to_selected (gpointer user_data)
{
  TsPaintList *self = TS_PAINT_LIST (user_data);
  guint place = self->selection != NULL ? gtk_single_selection_get_selected (self->selection) : 0;

  if (self->view != NULL && self->selection != NULL && place != GTK_INVALID_LIST_POSITION)
    gtk_widget_activate_action (self->view, "list.scroll-to-item", "u", place);
  return G_SOURCE_REMOVE;
}

static void
on_mapped (TsPaintList *self)
{
  g_idle_add_full (G_PRIORITY_LOW, scroll_to_selected, g_object_ref (self), g_object_unref);
}

static void
on_setup (GtkListItemFactory *factory, GtkListItem *cell, gpointer user_data)
{
  gtk_list_item_set_child (cell, ts_paint_row_new (TS_PAINT_LIST (user_data)->column));
}

static void
on_bind (GtkListItemFactory *factory, GtkListItem *cell, gpointer user_data)
{
  TsPaintItem *item = TS_PAINT_ITEM (gtk_list_item_get_item (cell));
  GtkWidget *row = gtk_list_item_get_child (cell);
  TsPaint *paint = ts_paint_item_get_paint (item);
  g_autofree char *about = ts_paint_words_summary (paint);
  TsStock stock = ts_paint_get_stock (paint);

  ts_paint_row_show (TS_PAINT_ROW (row), item);
  if (stock != TS_STOCK_FULL)
    {
      g_autofree char *alone = g_steal_pointer (&about);

      about = g_strdup_printf (_ ("%s, stock %s"), alone, ts_paint_words_stock (stock));
    }
  gtk_accessible_update_property (GTK_ACCESSIBLE (gtk_widget_get_parent (row)),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, ts_paint_get_name (paint),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, about, -1);
}

static void
ts_paint_list_dispose (GObject *object)
{
  TsPaintList *self = TS_PAINT_LIST (object);

  if (self->selection != NULL)
    g_signal_handlers_disconnect_by_data (self->selection, self);
  gtk_widget_dispose_template (GTK_WIDGET (self), TS_TYPE_PAINT_LIST);
  g_clear_object (&self->column);
  G_OBJECT_CLASS (ts_paint_list_parent_class)->dispose (object);
}

static void
ts_paint_list_finalize (GObject *object)
{
  TsPaintList *self = TS_PAINT_LIST (object);

  g_clear_object (&self->selection);
  g_clear_object (&self->filter);
  g_clear_object (&self->sorter);
  g_clear_object (&self->items);
  g_strfreev (self->words);
  G_OBJECT_CLASS (ts_paint_list_parent_class)->finalize (object);
}

static void
ts_paint_list_class_init (TsPaintListClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  object_class->dispose = ts_paint_list_dispose;
  object_class->finalize = ts_paint_list_finalize;
  signals[CHOSEN] = g_signal_new ("chosen", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                  NULL, NULL, G_TYPE_NONE, 1, G_TYPE_UINT);
  signals[ACTIVATED] = g_signal_new ("activated", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                                     NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_UINT);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/io/github/tonestair/Tonestair/ts-paint-list.ui");
  gtk_widget_class_bind_template_child (widget_class, TsPaintList, box);
  gtk_widget_class_bind_template_child (widget_class, TsPaintList, search);
  gtk_widget_class_bind_template_child_full (widget_class, "order", FALSE,
                                             G_STRUCT_OFFSET (TsPaintList, order_choice));
  gtk_widget_class_bind_template_child (widget_class, TsPaintList, found);
  gtk_widget_class_bind_template_child (widget_class, TsPaintList, view);
  gtk_widget_class_bind_template_callback (widget_class, on_search_changed);
  gtk_widget_class_bind_template_callback (widget_class, on_search_stopped);
  gtk_widget_class_bind_template_callback (widget_class, on_search_activated);
  gtk_widget_class_bind_template_callback (widget_class, on_order_changed);
  gtk_widget_class_bind_template_callback (widget_class, on_activated);
}

static void
ts_paint_list_init (TsPaintList *self)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
  GtkFilterListModel *filtered;
  GtkSortListModel *sorted;

  self->items = g_list_store_new (TS_TYPE_PAINT_ITEM);
  self->filter = GTK_FILTER (gtk_custom_filter_new (is_found, self, NULL));
  self->sorter = GTK_SORTER (gtk_custom_sorter_new (compare, self, NULL));
  sorted = gtk_sort_list_model_new (G_LIST_MODEL (g_object_ref (self->items)),
                                    g_object_ref (self->sorter));
  filtered = gtk_filter_list_model_new (G_LIST_MODEL (sorted), g_object_ref (self->filter));
  self->selection = gtk_single_selection_new (G_LIST_MODEL (filtered));
  gtk_single_selection_set_autoselect (self->selection, FALSE);
  gtk_single_selection_set_can_unselect (self->selection, TRUE);

  gtk_widget_init_template (GTK_WIDGET (self));
  self->column = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);
  ts_accessible_name_inner (self->order_choice, _ ("Order of the paints"));
  g_signal_connect (factory, "setup", G_CALLBACK (on_setup), self);
  g_signal_connect (factory, "bind", G_CALLBACK (on_bind), self);
  gtk_list_view_set_factory (GTK_LIST_VIEW (self->view), factory);
  gtk_list_view_set_model (GTK_LIST_VIEW (self->view), GTK_SELECTION_MODEL (self->selection));
  g_object_unref (factory);
  g_signal_connect_swapped (self->view, "map", G_CALLBACK (on_mapped), self);
  g_signal_connect_swapped (self->selection, "notify::selected-item", G_CALLBACK (on_selected),
                            self);
}

/**
 * ts_paint_list_get_items:
 * @self: the list
 *
 * Returns: (transfer none): all paints as TsPaintItem, in the order of the set
 */
GListModel *
ts_paint_list_get_items (TsPaintList *self)
{
  g_return_val_if_fail (TS_IS_PAINT_LIST (self), NULL);

  return G_LIST_MODEL (self->items);
}

/**
 * ts_paint_list_set_paints:
 * @self: the list
 * @paints: (nullable): a set
 *
 * Shows the paints of a set; none is chosen then.
 */
void
ts_paint_list_set_paints (TsPaintList *self, TsPaintSet *paints)
{
  guint n = paints != NULL ? ts_paint_set_get_n_paints (paints) : 0;
  g_autofree char *hint =
    g_strdup_printf (ngettext ("Find among %u paint", "Find among %u paints", n), n);
  g_autoptr (GPtrArray) items = g_ptr_array_new_with_free_func (g_object_unref);
  int white = paints != NULL ? ts_paint_set_find_white (paints) : -1;

  g_return_if_fail (TS_IS_PAINT_LIST (self));

  for (guint i = 0; i < n; i++)
    g_ptr_array_add (items, ts_paint_item_new (paints, i, white));
  self->updating = TRUE;
  g_list_store_splice (self->items, 0, g_list_model_get_n_items (G_LIST_MODEL (self->items)),
                       items->pdata, n);
  self->updating = FALSE;
  g_object_set (self->search, "placeholder-text", hint, "width-chars",
                (int) g_utf8_strlen (hint, -1), NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->search), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  hint, -1);
  show_found (self);
}

/**
 * ts_paint_list_choose:
 * @self: the list
 * @paint: index in the set, or -1
 *
 * Selects a paint and brings it into sight. One that the search leaves out is not selected.
 */
void
ts_paint_list_choose (TsPaintList *self, int paint)
{
  guint n = g_list_model_get_n_items (G_LIST_MODEL (self->selection));
  guint place = GTK_INVALID_LIST_POSITION;

  g_return_if_fail (TS_IS_PAINT_LIST (self));

  for (guint i = 0; i < n && paint >= 0; i++)
    {
      g_autoptr (TsPaintItem) item = g_list_model_get_item (G_LIST_MODEL (self->selection), i);

      if ((int) ts_paint_item_get_index (item) == paint)
        place = i;
    }
  self->updating = TRUE;
  if (gtk_single_selection_get_selected (self->selection) != place)
    gtk_single_selection_set_selected (self->selection, place);
  if (place != GTK_INVALID_LIST_POSITION)
    gtk_widget_activate_action (self->view, "list.scroll-to-item", "u", place);
  self->updating = FALSE;
}

/**
 * ts_paint_list_find:
 * @self: the list
 *
 * Gives the search the keyboard.
 */
void
ts_paint_list_find (TsPaintList *self)
{
  g_return_if_fail (TS_IS_PAINT_LIST (self));

  gtk_widget_grab_focus (self->search);
}
