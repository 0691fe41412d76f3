/* ts-paint-card.c: a paint at full strength, as a tint, and as one coat on a contrast card
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/paints/ts-paint-card.h"

#include <glib/gi18n.h>

#include "colour/ts-colour-convert.h"
#include "gui/widgets/ts-format.h"
#include "gui/widgets/ts-palette.h"

struct _TsPaintCard
{
  GtkWidget parent_instance;

  int edge;
  gboolean filled;
  TsPaintSamples samples;
};

G_DEFINE_FINAL_TYPE (TsPaintCard, ts_paint_card, GTK_TYPE_WIDGET)

/* Colours that meet without a line between them: whole pixels. @mirror turns left and right. */
typedef struct
{
  GtkSnapshot *snapshot;
  int width;
  gboolean mirror;
} Area;

static void
fill (const Area *area, TsLab lab, int x, int y, int width, int height)
{
  guint8 srgb[3];
  GdkRGBA colour = { 0.0F, 0.0F, 0.0F, 1.0F };

  ts_lab_to_srgb8 (lab, srgb);
  colour.red = (float) srgb[0] / 255.0F;
  colour.green = (float) srgb[1] / 255.0F;
  colour.blue = (float) srgb[2] / 255.0F;
  if (area->mirror)
    x = area->width - x - width;
  gtk_snapshot_append_color (
    area->snapshot, &colour,
    &GRAPHENE_RECT_INIT ((float) x, (float) y, (float) width, (float) height));
}

/* The bare card shows above and below the coat. */
static void
draw_card (TsPaintCard *self, const Area *area, int x, int y, int width, int height)
{
  int half = width / 2, bare = MAX (2, height / 6);
  const TsPaintSamples *s = &self->samples;

  fill (area, s->bare_white, x, y, half, height);
  fill (area, s->bare_black, x + half, y, width - half, height);
  fill (area, s->over_white, x, y + bare, half, height - 2 * bare);
  fill (area, s->over_black, x + half, y + bare, width - half, height - 2 * bare);
}

static void
ts_paint_card_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TsPaintCard *self = TS_PAINT_CARD (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  int edge = self->edge, third = (width - 2 * edge) / 3, inner = height - 2 * edge;
  Area area = { snapshot, width, gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL };
  TsPalette palette;

  ts_palette_get (widget, &palette);
  gtk_snapshot_append_color (snapshot, &palette.field,
                             &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height));
  if (!self->filled || third <= 0 || inner <= 0)
    return;
  fill (&area, self->samples.masstone, edge, edge, third, inner);
  fill (&area, self->samples.tint, edge + third, edge, third, inner);
  draw_card (self, &area, edge + 2 * third, edge, width - 2 * edge - 2 * third, inner);
}

static void
ts_paint_card_class_init (TsPaintCardClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  widget_class->snapshot = ts_paint_card_snapshot;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
ts_paint_card_init (TsPaintCard *self)
{
}

/**
 * ts_paint_card_new:
 * @width: pixels, or -1
 * @height: pixels, or -1
 * @edge: width of the field around the colours, pixels
 *
 * Returns: (transfer floating): a card without a paint
 */
GtkWidget *
ts_paint_card_new (int width, int height, int edge)
{
  TsPaintCard *self = g_object_new (TS_TYPE_PAINT_CARD, NULL);

  self->edge = edge;
  gtk_widget_set_size_request (GTK_WIDGET (self), width, height);
  return GTK_WIDGET (self);
}

/**
 * ts_paint_card_show:
 * @self: the card
 * @samples: colours of a paint
 * @name: what it is called
 *
 * Shows them, and says them in words.
 */
void
ts_paint_card_show (TsPaintCard *self, const TsPaintSamples *samples, const char *name)
{
  g_autofree char *full = ts_format_lab (samples->masstone);
  g_autofree char *tint = ts_format_lab (samples->tint);
  g_autofree char *words = NULL;

  g_return_if_fail (TS_IS_PAINT_CARD (self));

  self->samples = *samples;
  self->filled = TRUE;
  words = g_strdup_printf (
    _ ("full strength %s; 1 part in %d of white %s; one coat on white L* %.0f, on black L* %.0f"),
    full, TS_TINT_PARTS, tint, samples->over_white.L, samples->over_black.L);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words, -1);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
