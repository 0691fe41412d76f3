/* ts-help-image.c: a picture of the manual, as large as it is, or smaller where there is less
 * room
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * GtkPicture asks for the height that it would have at the full width of the page.
 */
#include "gui/help/ts-help-image.h"

#define LEAST_WIDTH 120

struct _TsHelpImage
{
  GtkWidget parent_instance;

  GdkTexture *texture; /* owned, or NULL where it could not be read */
};

G_DEFINE_FINAL_TYPE (TsHelpImage, ts_help_image, GTK_TYPE_WIDGET)

static GtkSizeRequestMode
ts_help_image_get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
ts_help_image_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                       int *natural, int *minimum_baseline, int *natural_baseline)
{
  GdkTexture *texture = TS_HELP_IMAGE (widget)->texture;
  int width = texture != NULL ? gdk_texture_get_width (texture) : 0;
  int height = texture != NULL ? gdk_texture_get_height (texture) : 0;

  *minimum = MIN (width, LEAST_WIDTH);
  *natural = width;
  if (orientation == GTK_ORIENTATION_VERTICAL)
    *minimum = *natural =
      for_size >= 0 && for_size < width ? MAX (1, height * for_size / width) : height;
}

static void
ts_help_image_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  GdkTexture *texture = TS_HELP_IMAGE (widget)->texture;

  if (texture != NULL)
    gdk_paintable_snapshot (GDK_PAINTABLE (texture), snapshot, gtk_widget_get_width (widget),
                            gtk_widget_get_height (widget));
}

static void
ts_help_image_finalize (GObject *object)
{
  g_clear_object (&TS_HELP_IMAGE (object)->texture);
  G_OBJECT_CLASS (ts_help_image_parent_class)->finalize (object);
}

static void
ts_help_image_class_init (TsHelpImageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = ts_help_image_finalize;
  widget_class->get_request_mode = ts_help_image_get_request_mode;
  widget_class->measure = ts_help_image_measure;
  widget_class->snapshot = ts_help_image_snapshot;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
ts_help_image_init (TsHelpImage *self)
{
  gtk_widget_set_halign (GTK_WIDGET (self), GTK_ALIGN_START);
}

/**
 * ts_help_image_new:
 * @path: a file
 * @words: what it shows, for those who do not see it
 *
 * A pixel of the file is one of the window's, whatever the scale of the screen.
 *
 * Returns: (transfer floating): the picture, of no size where the file cannot be read
 */
GtkWidget *
ts_help_image_new (const char *path, const char *words)
{
  TsHelpImage *self = g_object_new (TS_TYPE_HELP_IMAGE, NULL);

  self->texture = gdk_texture_new_from_filename (path, NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
  return GTK_WIDGET (self);
}
