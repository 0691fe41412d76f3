/* ts-flow.c: a row that goes on in a next line where there is no room
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/widgets/ts-flow.h"

struct _TsFlow
{
  GtkWidget parent_instance;

  int spacing;
};

enum
{
  PROP_SPACING = 1,
  N_PROPERTIES
};

static GParamSpec *properties[N_PROPERTIES];

G_DEFINE_FINAL_TYPE (TsFlow, ts_flow, GTK_TYPE_WIDGET)

/* A child and its room in a line. */
typedef struct
{
  GtkWidget *widget;
  GtkRequestedSize size; /* minimum_size becomes its width */
} Part;

static GArray *
gather (TsFlow *self)
{
  GArray *parts = g_array_new (FALSE, FALSE, sizeof (Part));

  for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self)); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    if (gtk_widget_should_layout (child))
      {
        Part part = { .widget = child };

        gtk_widget_measure (child, GTK_ORIENTATION_HORIZONTAL, -1, &part.size.minimum_size,
                            &part.size.natural_size, NULL, NULL);
        g_array_append_val (parts, part);
      }
  return parts;
}

/* How many from @first on stand in one line; one at least. */
static guint
count_in_line (TsFlow *self, GArray *parts, guint first, int width)
{
  int used = 0;
  guint n = 0;

  for (guint i = first; i < parts->len; i++, n++)
    {
      used += g_array_index (parts, Part, i).size.minimum_size + (n > 0 ? self->spacing : 0);
      if (n > 0 && used > width)
        break;
    }
  return MAX (n, 1);
}

/* Least widths grow to what is wanted, then those that expand share the rest. */
static void
share_line (TsFlow *self, Part *parts, guint n, int width)
{
  g_autofree GtkRequestedSize *sizes = g_new (GtkRequestedSize, n);
  int left = width - self->spacing * ((int) n - 1);
  guint expanding = 0;

  for (guint i = 0; i < n; i++)
    {
      sizes[i] = parts[i].size;
      left -= sizes[i].minimum_size;
      expanding += gtk_widget_compute_expand (parts[i].widget, GTK_ORIENTATION_HORIZONTAL) ? 1 : 0;
    }
  left = gtk_distribute_natural_allocation (MAX (left, 0), n, sizes);
  for (guint i = 0; i < n; i++)
    {
      parts[i].size.minimum_size = sizes[i].minimum_size;
      if (gtk_widget_compute_expand (parts[i].widget, GTK_ORIENTATION_HORIZONTAL))
        {
          int more = left / (int) expanding--;

          parts[i].size.minimum_size += more;
          left -= more;
        }
    }
}

static int
get_line_height (const Part *parts, guint n)
{
  int height = 0;

  for (guint i = 0; i < n; i++)
    {
      int wanted;

      gtk_widget_measure (parts[i].widget, GTK_ORIENTATION_VERTICAL, parts[i].size.minimum_size,
                          NULL, &wanted, NULL, NULL);
      height = MAX (height, wanted);
    }
  return height;
}

static void
allocate_line (TsFlow *self, const Part *parts, guint n, int y, int width, int height)
{
  gboolean mirror = gtk_widget_get_direction (GTK_WIDGET (self)) == GTK_TEXT_DIR_RTL;
  int x = 0;

  for (guint i = 0; i < n; i++)
    {
      int wide = parts[i].size.minimum_size;
      GtkAllocation place = { mirror ? width - x - wide : x, y, wide, height };

      gtk_widget_size_allocate (parts[i].widget, &place, -1);
      x += wide + self->spacing;
    }
}

/* Goes through the lines; gives each its place where @allocate. Returns the height of all. */
static int
lay_out (TsFlow *self, int width, int height, gboolean allocate)
{
  g_autoptr (GArray) parts = gather (self);
  int y = 0;

  for (guint first = 0, n; first < parts->len; first += n)
    {
      Part *line = &g_array_index (parts, Part, first);
      int high;

      n = count_in_line (self, parts, first, width);
      share_line (self, line, n, width);
      high = get_line_height (line, n);
      if (first == 0 && n == parts->len) /* one line: all the height there is */
        high = MAX (high, height);
      y += first > 0 ? self->spacing : 0;
      if (allocate)
        allocate_line (self, line, n, y, width, high);
      y += high;
    }
  return y;
}

static void
ts_flow_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  lay_out (TS_FLOW (widget), width, height, TRUE);
}

static void
measure_width (TsFlow *self, int *minimum, int *natural)
{
  g_autoptr (GArray) parts = gather (self);

  *minimum = 0;
  *natural = parts->len > 0 ? self->spacing * ((int) parts->len - 1) : 0;
  for (guint i = 0; i < parts->len; i++)
    {
      const Part *part = &g_array_index (parts, Part, i);

      *minimum = MAX (*minimum, part->size.minimum_size);
      *natural += part->size.natural_size;
    }
}

static void
ts_flow_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                 int *natural, int *minimum_baseline, int *natural_baseline)
{
  TsFlow *self = TS_FLOW (widget);

  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    measure_width (self, minimum, natural);
  else
    {
      if (for_size < 0)
        measure_width (self, minimum, &for_size);
      *minimum = *natural = lay_out (self, for_size, 0, FALSE);
    }
}

static GtkSizeRequestMode
ts_flow_get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
ts_flow_compute_expand (GtkWidget *widget, gboolean *across, gboolean *down)
{
  *across = TRUE;
  *down = FALSE;
}

static void
ts_flow_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  if (id != PROP_SPACING)
    {
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
      return;
    }
  TS_FLOW (object)->spacing = g_value_get_int (value);
  gtk_widget_queue_resize (GTK_WIDGET (object));
}

static void
ts_flow_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  if (id == PROP_SPACING)
    g_value_set_int (value, TS_FLOW (object)->spacing);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
ts_flow_dispose (GObject *object)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (object))) != NULL)
    gtk_widget_unparent (child);
  G_OBJECT_CLASS (ts_flow_parent_class)->dispose (object);
}

static void
ts_flow_class_init (TsFlowClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  object_class->set_property = ts_flow_set_property;
  object_class->get_property = ts_flow_get_property;
  object_class->dispose = ts_flow_dispose;
  widget_class->measure = ts_flow_measure;
  widget_class->size_allocate = ts_flow_size_allocate;
  widget_class->get_request_mode = ts_flow_get_request_mode;
  widget_class->compute_expand = ts_flow_compute_expand;
  properties[PROP_SPACING] =
    g_param_spec_int ("spacing", NULL, NULL, 0, 100, 0, G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPERTIES, properties);
}

static void
ts_flow_init (TsFlow *self)
{
}
