/* ts-chart-make.c: which make of the chart it is, or a file with its values
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/correction/ts-chart-make.h"

#include <glib/gi18n.h>

#include "gui/widgets/ts-accessible.h"
#include "gui/widgets/ts-file-dialogs.h"

enum
{
  LATER,
  EARLIER,
  FILE_OF_ITS_OWN
};

struct _TsChartMake
{
  GtkWidget parent_instance;

  char *chart; /* owned */
  gboolean updating;

  GtkWidget *choice;
};

enum
{
  CHOSEN,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (TsChartMake, ts_chart_make, GTK_TYPE_WIDGET)

static guint
get_place (const char *chart)
{
  return g_strcmp0 (chart, "later") == 0     ? LATER
         : g_strcmp0 (chart, "earlier") == 0 ? EARLIER
                                             : FILE_OF_ITS_OWN;
}

/* The third line is the file that is in use, or the way to one. */
static void
show_chart (TsChartMake *self)
{
  guint place = get_place (self->chart);
  g_autofree char *file = place == FILE_OF_ITS_OWN ? g_filename_display_basename (self->chart)
                                                   : g_strdup (_ ("Values from a file…"));
  const char *const names[] = { _ ("Later make (from November 2014)"), _ ("Earlier make"), file,
                                NULL };
  GtkDropDown *choice = GTK_DROP_DOWN (self->choice);
  GListModel *model = gtk_drop_down_get_model (choice);
  g_autoptr (GtkStringList) list = gtk_string_list_new (names);

  self->updating = TRUE;
  if (model == NULL || g_list_model_get_n_items (model) != G_N_ELEMENTS (names) - 1 ||
      g_strcmp0 (gtk_string_list_get_string (GTK_STRING_LIST (model), FILE_OF_ITS_OWN), file) != 0)
    gtk_drop_down_set_model (choice, G_LIST_MODEL (list));
  if (gtk_drop_down_get_selected (choice) != place)
    gtk_drop_down_set_selected (choice, place);
  self->updating = FALSE;
}

static void
take (TsChartMake *self, const char *chart)
{
  ts_chart_make_set (self, chart);
  g_signal_emit (self, signals[CHOSEN], 0);
}

static void
take_file (const char *path, gpointer user_data)
{
  take (TS_CHART_MAKE (user_data), path);
}

/* The file is in force once it is chosen; until then the choice stays what it was. */
static gboolean
ask_for_file (gpointer user_data)
{
  TsChartMake *self = TS_CHART_MAKE (user_data);
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));

  if (self->choice == NULL || root == NULL)
    return G_SOURCE_REMOVE;
  show_chart (self);
  ts_file_dialog_open (GTK_WINDOW (root), _ ("Open the Values of a Chart"), TS_FILES_CHART,
                       take_file, G_OBJECT (self));
  return G_SOURCE_REMOVE;
}

static void
on_selected (TsChartMake *self)
{
  guint place = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->choice));

  if (self->updating)
    return;
  if (place == FILE_OF_ITS_OWN)
    g_idle_add_full (G_PRIORITY_DEFAULT, ask_for_file, g_object_ref (self), g_object_unref);
  else
    take (self, place == LATER ? "later" : "earlier");
}

static void
ts_chart_make_dispose (GObject *object)
{
  g_clear_pointer (&TS_CHART_MAKE (object)->choice, gtk_widget_unparent);
  G_OBJECT_CLASS (ts_chart_make_parent_class)->dispose (object);
}

static void
ts_chart_make_finalize (GObject *object)
{
  g_free (TS_CHART_MAKE (object)->chart);
  G_OBJECT_CLASS (ts_chart_make_parent_class)->finalize (object);
}

static void
ts_chart_make_class_init (TsChartMakeClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ts_chart_make_dispose;
  G_OBJECT_CLASS (class)->finalize = ts_chart_make_finalize;
  signals[CHOSEN] = g_signal_new ("chosen", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                  NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
}

static void
ts_chart_make_init (TsChartMake *self)
{
  self->chart = g_strdup ("later");
  self->choice = gtk_drop_down_new (NULL, NULL);
  gtk_widget_set_parent (self->choice, GTK_WIDGET (self));
  ts_accessible_name_inner (self->choice, _ ("Make of the chart"));
  show_chart (self);
  g_signal_connect_swapped (self->choice, "notify::selected", G_CALLBACK (on_selected), self);
}

/**
 * ts_chart_make_get:
 * @self: the widget
 *
 * Returns: (transfer none): "later", "earlier", or the path of a CGATS file with the values
 */
const char *
ts_chart_make_get (TsChartMake *self)
{
  g_return_val_if_fail (TS_IS_CHART_MAKE (self), NULL);

  return self->chart;
}

/**
 * ts_chart_make_set:
 * @self: the widget
 * @chart: "later", "earlier", or the path of a CGATS file with the values
 *
 * Shows that choice; "chosen" is not emitted.
 */
void
ts_chart_make_set (TsChartMake *self, const char *chart)
{
  char *copy;

  g_return_if_fail (TS_IS_CHART_MAKE (self) && chart != NULL);

  copy = g_strdup (chart);
  g_free (self->chart);
  self->chart = copy;
  show_chart (self);
}
