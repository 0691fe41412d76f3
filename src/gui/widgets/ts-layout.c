/* ts-layout.c: where the parts of the Picture place stand, and what folds away in a small window
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/widgets/ts-layout.h"

#include "gui/widgets/ts-draw.h"

#define PLAY 20   /* pixels past a limit before it is unfolded again */
#define HEADER 55 /* of the window, above this widget */
#define SIDE_WIDTH 330
#define SIDE_WIDTH_SMALL 274
#define LEAST_PICTURE 120
#define LEAST_BESIDE 320 /* what a wide side panel leaves for the picture */

enum
{
  PICTURE,
  BAR,
  SIDE,
  STAIR,
  N_PARTS
};

static const char *const part_names[N_PARTS] = { "picture", "bar", "side", "stair" };

struct _TsLayout
{
  GtkWidget parent_instance;

  GtkWidget *parts[N_PARTS]; /* borrowed: children */
  TsFold fold;
  int side_width;
  gboolean side_over;
  guint idle;
};

enum
{
  FOLDED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

static void ts_layout_buildable_init (GtkBuildableIface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (TsLayout, ts_layout, GTK_TYPE_WIDGET,
                               G_IMPLEMENT_INTERFACE (GTK_TYPE_BUILDABLE, ts_layout_buildable_init))

static int
get_side_width (TsLayout *self, int width)
{
  int least, wanted = self->side_width;

  if (!gtk_widget_get_visible (self->parts[SIDE]) || self->fold == TS_FOLD_TINY)
    return 0;
  if (self->fold >= TS_FOLD_SMALL && wanted == SIDE_WIDTH)
    wanted = SIDE_WIDTH_SMALL;
  gtk_widget_measure (self->parts[SIDE], GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
  return MIN (MAX (wanted, least), MAX (width / 2, width - LEAST_BESIDE));
}

static int
get_height (TsLayout *self, int part, int width)
{
  int natural;

  if (!gtk_widget_get_visible (self->parts[part]))
    return 0;
  gtk_widget_measure (self->parts[part], GTK_ORIENTATION_VERTICAL, width, NULL, &natural, NULL,
                      NULL);
  return natural;
}

static gboolean
is_below (int size, int limit, gboolean folded)
{
  return size < limit + (folded ? PLAY : 0);
}

/* Larger text needs more room: in a window of the same size more is folded. */
static TsFold
choose_fold (TsLayout *self, int width, int height)
{
  double text = ts_draw_get_text_scale (GTK_WIDGET (self));

  if (is_below (width, 800, self->fold >= TS_FOLD_TINY))
    return TS_FOLD_TINY;
  if (is_below (width, (int) (1000 * text), self->fold >= TS_FOLD_SMALL) ||
      is_below (height + HEADER, (int) (700 * text), self->fold >= TS_FOLD_SMALL))
    return TS_FOLD_SMALL;
  if (is_below (width, (int) (1200 * text), self->fold >= TS_FOLD_NARROW))
    return TS_FOLD_NARROW;
  return TS_FOLD_NONE;
}

static gboolean
tell_folded (gpointer user_data)
{
  TsLayout *self = user_data;

  self->idle = 0;
  g_signal_emit (self, signals[FOLDED], 0);
  return G_SOURCE_REMOVE;
}

static void
allocate (TsLayout *self, int part, int x, int y, int width, int height, int whole)
{
  gboolean mirror = gtk_widget_get_direction (GTK_WIDGET (self)) == GTK_TEXT_DIR_RTL;
  GtkAllocation place = { mirror ? whole - x - width : x, y, width, height };

  if (gtk_widget_get_visible (self->parts[part]) &&
      gtk_widget_get_child_visible (self->parts[part]))
    gtk_widget_size_allocate (self->parts[part], &place, -1);
}

static void
ts_layout_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  TsLayout *self = TS_LAYOUT (widget);
  TsFold fold = choose_fold (self, width, height);
  int side, bar, stair, top;

  if (fold != self->fold)
    {
      self->fold = fold;
      if (self->idle == 0)
        self->idle = g_idle_add_full (G_PRIORITY_HIGH_IDLE, tell_folded, self, NULL);
    }
  side = get_side_width (self, width);
  stair = get_height (self, STAIR, width);
  bar = get_height (self, BAR, width - side);
  top = MAX (height - stair, MIN (height, bar + LEAST_PICTURE));
  gtk_widget_set_child_visible (self->parts[PICTURE],
                                self->fold != TS_FOLD_TINY || !self->side_over);
  gtk_widget_set_child_visible (self->parts[SIDE], self->fold != TS_FOLD_TINY || self->side_over);
  allocate (self, PICTURE, 0, 0, width - side, MAX (1, top - bar), width);
  allocate (self, BAR, 0, MAX (1, top - bar), width - side, bar, width);
  if (self->fold == TS_FOLD_TINY)
    allocate (self, SIDE, 0, 0, width, MAX (1, top - bar), width);
  else
    allocate (self, SIDE, width - side, 0, side, top, width);
  allocate (self, STAIR, 0, top, width, MAX (stair, height - top), width);
}

static void
ts_layout_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                   int *natural, int *minimum_baseline, int *natural_baseline)
{
  TsLayout *self = TS_LAYOUT (widget);
  int least[N_PARTS] = { 0 };

  for (int i = 0; i < N_PARTS; i++)
    if (gtk_widget_get_visible (self->parts[i]))
      gtk_widget_measure (self->parts[i], orientation, -1, &least[i], NULL, NULL, NULL);
  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    *minimum = MAX (MAX (least[PICTURE], least[BAR]), MAX (least[SIDE], least[STAIR]));
  else
    *minimum = LEAST_PICTURE + least[BAR] + least[STAIR];
  *natural = *minimum;
}

static void
ts_layout_add_child (GtkBuildable *buildable, GtkBuilder *builder, GObject *child, const char *type)
{
  TsLayout *self = TS_LAYOUT (buildable);

  for (int i = 0; i < N_PARTS; i++)
    if (g_strcmp0 (type, part_names[i]) == 0)
      {
        self->parts[i] = GTK_WIDGET (child);
        gtk_widget_set_parent (GTK_WIDGET (child), GTK_WIDGET (self));
        return;
      }
  g_warning ("TsLayout has no place of type %s", type);
}

static void
ts_layout_buildable_init (GtkBuildableIface *iface)
{
  iface->add_child = ts_layout_add_child;
}

static void
ts_layout_dispose (GObject *object)
{
  TsLayout *self = TS_LAYOUT (object);

  g_clear_handle_id (&self->idle, g_source_remove);
  for (int i = 0; i < N_PARTS; i++)
    g_clear_pointer (&self->parts[i], gtk_widget_unparent);
  G_OBJECT_CLASS (ts_layout_parent_class)->dispose (object);
}

static void
ts_layout_class_init (TsLayoutClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ts_layout_dispose;
  widget_class->measure = ts_layout_measure;
  widget_class->size_allocate = ts_layout_size_allocate;
  signals[FOLDED] =
    g_signal_new ("folded", TS_TYPE_LAYOUT, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
ts_layout_init (TsLayout *self)
{
  self->side_width = SIDE_WIDTH;
}

/**
 * ts_layout_get_fold:
 * @self: the layout
 *
 * Returns: how much has to fold at its present size
 */
TsFold
ts_layout_get_fold (TsLayout *self)
{
  g_return_val_if_fail (TS_IS_LAYOUT (self), TS_FOLD_NONE);

  return self->fold;
}

/**
 * ts_layout_set_side_width:
 * @self: the layout
 * @width: pixels wanted for the side panel, or 0 for the usual
 *
 * Makes room for another panel.
 */
void
ts_layout_set_side_width (TsLayout *self, int width)
{
  g_return_if_fail (TS_IS_LAYOUT (self));

  self->side_width = width > 0 ? width : SIDE_WIDTH;
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

/**
 * ts_layout_set_side_over:
 * @self: the layout
 * @over: whether the side panel stands over the picture
 *
 * Chooses between picture and side panel where there is no room for both.
 */
void
ts_layout_set_side_over (TsLayout *self, gboolean over)
{
  g_return_if_fail (TS_IS_LAYOUT (self));

  self->side_over = over;
  gtk_widget_queue_allocate (GTK_WIDGET (self));
}
