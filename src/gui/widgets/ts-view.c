/* ts-view.c: what every part of the window is: a widget that shows one document
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/widgets/ts-view.h"

typedef struct
{
  TsDocument *document; /* owned */
  GSignalGroup *signals;
  TsChange missed;   /* while the focus moved */
  guint catching_up; /* source id, or 0 */
} TsViewPrivate;

enum
{
  PROP_DOCUMENT = 1,
  N_PROPERTIES
};

static GParamSpec *properties[N_PROPERTIES];

G_DEFINE_ABSTRACT_TYPE_WITH_PRIVATE (TsView, ts_view, GTK_TYPE_WIDGET)

static void
update (TsView *self, TsChange change)
{
  TsViewPrivate *priv = ts_view_get_instance_private (self);

  if (priv->document != NULL)
    TS_VIEW_GET_CLASS (self)->update (self, change);
}

static gboolean
catch_up (gpointer user_data)
{
  TsView *self = TS_VIEW (user_data);
  TsViewPrivate *priv = ts_view_get_instance_private (self);
  TsChange missed = priv->missed;

  priv->catching_up = 0;
  priv->missed = 0;
  update (self, missed);
  return G_SOURCE_REMOVE;
}

/* While the focus moves the window has none. What loses it may change the document, and GTK 4.8
 * never ends where the widget that is about to get it is taken away meanwhile: a row that is made
 * anew. Before the next event all is shown. */
static gboolean
is_focus_moving (TsView *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));

  return root != NULL && gtk_widget_get_mapped (GTK_WIDGET (root)) &&
         gtk_root_get_focus (root) == NULL;
}

static void
follow (TsView *self, TsChange change)
{
  TsViewPrivate *priv = ts_view_get_instance_private (self);

  if (priv->catching_up == 0 && !is_focus_moving (self))
    {
      update (self, change);
      return;
    }
  priv->missed |= change;
  if (priv->catching_up == 0)
    priv->catching_up = g_idle_add_full (G_PRIORITY_HIGH, catch_up, self, NULL);
}

static void
on_plan_changed (TsView *self)
{
  follow (self, TS_CHANGE_PLAN);
}

static void
on_results_changed (TsView *self)
{
  follow (self, TS_CHANGE_RESULTS);
}

static void
on_selection_changed (TsView *self)
{
  follow (self, TS_CHANGE_SELECTION);
}

static void
on_picture_changed (TsView *self)
{
  follow (self, TS_CHANGE_PICTURE);
}

static void
on_busy_changed (TsView *self)
{
  follow (self, TS_CHANGE_BUSY);
}

static void
ts_view_real_update (TsView *self, TsChange change)
{
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
ts_view_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  if (id == PROP_DOCUMENT)
    g_value_set_object (value, ts_view_get_document (TS_VIEW (object)));
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
ts_view_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  if (id == PROP_DOCUMENT)
    ts_view_set_document (TS_VIEW (object), g_value_get_object (value));
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
ts_view_dispose (GObject *object)
{
  TsViewPrivate *priv = ts_view_get_instance_private (TS_VIEW (object));
  GtkWidget *child;

  g_clear_handle_id (&priv->catching_up, g_source_remove);
  g_signal_group_set_target (priv->signals, NULL);
  g_clear_object (&priv->document);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (object))) != NULL)
    gtk_widget_unparent (child);
  G_OBJECT_CLASS (ts_view_parent_class)->dispose (object);
}

static void
ts_view_finalize (GObject *object)
{
  TsViewPrivate *priv = ts_view_get_instance_private (TS_VIEW (object));

  g_clear_object (&priv->signals);
  G_OBJECT_CLASS (ts_view_parent_class)->finalize (object);
}

static void
ts_view_class_init (TsViewClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);

  object_class->get_property = ts_view_get_property;
  object_class->set_property = ts_view_set_property;
  object_class->dispose = ts_view_dispose;
  object_class->finalize = ts_view_finalize;
  class->update = ts_view_real_update;

  properties[PROP_DOCUMENT] =
    g_param_spec_object ("document", NULL, NULL, TS_TYPE_DOCUMENT,
                         G_PARAM_READWRITE | G_PARAM_EXPLICIT_NOTIFY | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPERTIES, properties);
}

static void
ts_view_init (TsView *self)
{
  TsViewPrivate *priv = ts_view_get_instance_private (self);
  GSignalGroup *group = priv->signals = g_signal_group_new (TS_TYPE_DOCUMENT);

  g_signal_group_connect_swapped (group, "plan-changed", G_CALLBACK (on_plan_changed), self);
  g_signal_group_connect_swapped (group, "results-changed", G_CALLBACK (on_results_changed), self);
  g_signal_group_connect_swapped (group, "image-changed", G_CALLBACK (on_picture_changed), self);
  g_signal_group_connect_swapped (group, "notify::picture", G_CALLBACK (on_picture_changed), self);
  g_signal_group_connect_swapped (group, "notify::busy", G_CALLBACK (on_busy_changed), self);
  g_signal_group_connect_swapped (group, "notify::opening", G_CALLBACK (on_busy_changed), self);
  g_signal_group_connect_swapped (group, "notify::busy-text", G_CALLBACK (on_busy_changed), self);
  g_signal_group_connect_swapped (group, "notify::selected-surface",
                                  G_CALLBACK (on_selection_changed), self);
  g_signal_group_connect_swapped (group, "notify::selected-step", G_CALLBACK (on_selection_changed),
                                  self);
}

/**
 * ts_view_get_document:
 * @self: the view
 *
 * Returns: (transfer none) (nullable): what it shows
 */
TsDocument *
ts_view_get_document (TsView *self)
{
  TsViewPrivate *priv = ts_view_get_instance_private (self);

  g_return_val_if_fail (TS_IS_VIEW (self), NULL);

  return priv->document;
}

/**
 * ts_view_set_document:
 * @self: the view
 * @document: (nullable): what it shall show
 *
 * Shows a document and follows its changes.
 */
void
ts_view_set_document (TsView *self, TsDocument *document)
{
  TsViewPrivate *priv = ts_view_get_instance_private (self);

  g_return_if_fail (TS_IS_VIEW (self));

  if (!g_set_object (&priv->document, document))
    return;
  g_signal_group_set_target (priv->signals, document);
  update (self, TS_CHANGE_ALL);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_DOCUMENT]);
}

/**
 * ts_view_get_surface:
 * @self: the view
 *
 * Returns: (transfer none) (nullable): the selected surface of its document
 */
const TsSurface *
ts_view_get_surface (TsView *self)
{
  TsDocument *document = ts_view_get_document (self);
  int index = document != NULL ? ts_document_get_selected_surface (document) : -1;

  return index >= 0 ? ts_plan_get_surface (ts_document_get_plan (document), (guint) index) : NULL;
}

/**
 * ts_view_get_stair_surface:
 * @self: the view
 *
 * Returns: (transfer none) (nullable): the surface whose stair the selected one has: itself, or
 *   another
 */
const TsSurface *
ts_view_get_stair_surface (TsView *self)
{
  TsDocument *document = ts_view_get_document (self);
  int index = document != NULL ? ts_document_get_selected_surface (document) : -1;

  return index >= 0 ? ts_plan_get_stair_source (ts_document_get_plan (document), (guint) index)
                    : NULL;
}

/**
 * ts_view_get_result:
 * @self: the view
 *
 * Returns: (transfer none) (nullable): what follows from the selected surface
 */
TsSurfaceResult *
ts_view_get_result (TsView *self)
{
  TsDocument *document = ts_view_get_document (self);
  int index = document != NULL ? ts_document_get_selected_surface (document) : -1;

  return index >= 0 ? ts_document_get_result (document, (guint) index) : NULL;
}
