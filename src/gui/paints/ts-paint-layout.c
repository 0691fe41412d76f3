/* ts-paint-layout.c: where list, one paint and the set stand, and which folds away in a small
 * window
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/paints/ts-paint-layout.h"

#include "gui/widgets/ts-draw.h"

#define FOLD_WIDTH 1100
#define PLAY 20        /* between folding and unfolding */
#define LIST_WIDTH 420 /* wanted at least */
#define LIST_SHARE 0.36
#define SET_SHARE 0.275

enum
{
  LIST,
  ONE,
  SET,
  N_PARTS
};

static const char *const part_names[N_PARTS] = { "list", "one", "set" };

struct _TsPaintLayout
{
  GtkWidget parent_instance;

  GtkWidget *parts[N_PARTS];
  gboolean folded, show_set;
  guint idle;
};

enum
{
  FOLDED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

static void ts_paint_layout_buildable_init (GtkBuildableIface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (TsPaintLayout, ts_paint_layout, GTK_TYPE_WIDGET,
                               G_IMPLEMENT_INTERFACE (GTK_TYPE_BUILDABLE,
                                                      ts_paint_layout_buildable_init))

static int
get_least (TsPaintLayout *self, int part, GtkOrientation orientation)
{
  int least;

  gtk_widget_measure (self->parts[part], orientation, -1, &least, NULL, NULL, NULL);
  return least;
}

static gboolean
tell_folded (gpointer user_data)
{
  TsPaintLayout *self = user_data;

  self->idle = 0;
  g_signal_emit (self, signals[FOLDED], 0);
  return G_SOURCE_REMOVE;
}

static void
allocate (TsPaintLayout *self, int part, int x, int width, int height, int whole)
{
  gboolean mirror = gtk_widget_get_direction (GTK_WIDGET (self)) == GTK_TEXT_DIR_RTL;
  GtkAllocation place = { mirror ? whole - x - width : x, 0, width, height };

  if (gtk_widget_get_child_visible (self->parts[part]))
    gtk_widget_size_allocate (self->parts[part], &place, -1);
}

static gboolean
must_fold (TsPaintLayout *self, int width)
{
  int least = 0;

  for (int i = 0; i < N_PARTS; i++)
    least += get_least (self, i, GTK_ORIENTATION_HORIZONTAL);
  return width < MAX ((int) (FOLD_WIDTH * ts_draw_get_text_scale (GTK_WIDGET (self))), least) +
                   (self->folded ? PLAY : 0);
}

static void
ts_paint_layout_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  TsPaintLayout *self = TS_PAINT_LAYOUT (widget);
  gboolean folded = must_fold (self, width);
  double text = ts_draw_get_text_scale (widget);
  int least_list = get_least (self, LIST, GTK_ORIENTATION_HORIZONTAL);
  int least_one = get_least (self, ONE, GTK_ORIENTATION_HORIZONTAL);
  int least_set = get_least (self, SET, GTK_ORIENTATION_HORIZONTAL);
  int set = MAX (least_set, (int) (SET_SHARE * width));
  int beside = folded ? MAX (least_one, least_set) : least_one + set;
  int list = (int) MAX (LIST_SHARE * width, LIST_WIDTH * text);

  list = CLAMP (list, least_list, MAX (least_list, width - beside));
  set = MAX (least_set, MIN (set, width - list - least_one));
  if (folded != self->folded)
    {
      self->folded = folded;
      if (self->idle == 0)
        self->idle = g_idle_add_full (G_PRIORITY_HIGH_IDLE, tell_folded, self, NULL);
    }
  gtk_widget_set_child_visible (self->parts[ONE], !folded || !self->show_set);
  gtk_widget_set_child_visible (self->parts[SET], !folded || self->show_set);
  allocate (self, LIST, 0, list, height, width);
  allocate (self, ONE, list, width - list - (folded ? 0 : set), height, width);
  allocate (self, SET, folded ? list : width - set, folded ? width - list : set, height, width);
}

static void
ts_paint_layout_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                         int *natural, int *minimum_baseline, int *natural_baseline)
{
  TsPaintLayout *self = TS_PAINT_LAYOUT (widget);
  int list = get_least (self, LIST, orientation), one = get_least (self, ONE, orientation);
  int set = get_least (self, SET, orientation);

  *minimum =
    orientation == GTK_ORIENTATION_HORIZONTAL ? list + MAX (one, set) : MAX (list, MAX (one, set));
  *natural = *minimum;
}

static void
ts_paint_layout_add_child (GtkBuildable *buildable, GtkBuilder *builder, GObject *child,
                           const char *type)
{
  TsPaintLayout *self = TS_PAINT_LAYOUT (buildable);

  for (int i = 0; i < N_PARTS; i++)
    if (g_strcmp0 (type, part_names[i]) == 0)
      {
        self->parts[i] = GTK_WIDGET (child);
        gtk_widget_set_parent (GTK_WIDGET (child), GTK_WIDGET (self));
        return;
      }
  g_warning ("TsPaintLayout has no place of type %s", type);
}

static void
ts_paint_layout_buildable_init (GtkBuildableIface *iface)
{
  iface->add_child = ts_paint_layout_add_child;
}

static void
ts_paint_layout_dispose (GObject *object)
{
  TsPaintLayout *self = TS_PAINT_LAYOUT (object);

  g_clear_handle_id (&self->idle, g_source_remove);
  for (int i = 0; i < N_PARTS; i++)
    g_clear_pointer (&self->parts[i], gtk_widget_unparent);
  G_OBJECT_CLASS (ts_paint_layout_parent_class)->dispose (object);
}

static void
ts_paint_layout_class_init (TsPaintLayoutClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ts_paint_layout_dispose;
  widget_class->measure = ts_paint_layout_measure;
  widget_class->size_allocate = ts_paint_layout_size_allocate;
  signals[FOLDED] = g_signal_new ("folded", TS_TYPE_PAINT_LAYOUT, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                  NULL, G_TYPE_NONE, 0);
}

static void
ts_paint_layout_init (TsPaintLayout *self)
{
}

/**
 * ts_paint_layout_is_folded:
 * @self: the layout
 *
 * Returns: whether there is room for the paint or the set, and not for both
 */
gboolean
ts_paint_layout_is_folded (TsPaintLayout *self)
{
  g_return_val_if_fail (TS_IS_PAINT_LAYOUT (self), FALSE);

  return self->folded;
}

/**
 * ts_paint_layout_set_show_set:
 * @self: the layout
 * @show_set: whether the set is to be seen, where there is room for one only
 */
void
ts_paint_layout_set_show_set (TsPaintLayout *self, gboolean show_set)
{
  g_return_if_fail (TS_IS_PAINT_LAYOUT (self));

  self->show_set = show_set;
  gtk_widget_queue_allocate (GTK_WIDGET (self));
}
