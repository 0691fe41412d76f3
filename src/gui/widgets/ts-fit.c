/* ts-fit.c: shows the first of its children that has room
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/widgets/ts-fit.h"

struct _TsFit
{
  GtkWidget parent_instance;
};

G_DEFINE_FINAL_TYPE (TsFit, ts_fit, GTK_TYPE_WIDGET)

static int
get_least (GtkWidget *child)
{
  int least;

  gtk_widget_measure (child, GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
  return least;
}

/* NULL where there are none. */
static GtkWidget *
choose (GtkWidget *self, int width)
{
  GtkWidget *last = NULL;

  for (GtkWidget *child = gtk_widget_get_first_child (self); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    if (gtk_widget_get_visible (child))
      {
        last = child;
        if (get_least (child) <= width)
          break;
      }
  return last;
}

static void
ts_fit_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  GtkWidget *chosen = choose (widget, width);

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    gtk_widget_set_child_visible (child, child == chosen);
  if (chosen != NULL)
    gtk_widget_allocate (chosen, width, height, baseline, NULL);
}

static void
ts_fit_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                int *natural, int *minimum_baseline, int *natural_baseline)
{
  gboolean across = orientation == GTK_ORIENTATION_HORIZONTAL;

  *minimum = *natural = 0;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    if (gtk_widget_get_visible (child))
      {
        int least, wanted;

        gtk_widget_measure (child, orientation, -1, &least, &wanted, NULL, NULL);
        *minimum = across ? least : MAX (*minimum, least);
        *natural = MAX (*natural, wanted);
      }
  *natural = MAX (*natural, *minimum);
}

static GtkSizeRequestMode
ts_fit_get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_CONSTANT_SIZE;
}

static void
ts_fit_dispose (GObject *object)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (object))) != NULL)
    gtk_widget_unparent (child);
  G_OBJECT_CLASS (ts_fit_parent_class)->dispose (object);
}

static void
ts_fit_class_init (TsFitClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ts_fit_dispose;
  widget_class->measure = ts_fit_measure;
  widget_class->size_allocate = ts_fit_size_allocate;
  widget_class->get_request_mode = ts_fit_get_request_mode;
}

static void
ts_fit_init (TsFit *self)
{
}
