/* ts-card-text.c: words and lines on the card
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include <pango/pangocairo.h>

#include "card/ts-card-private.h"

#define FAMILY "Cantarell, Noto Sans, DejaVu Sans, Sans"
#define MOST_CHARACTERS 2000 /* of one text; breaking lines takes the square of it */

static void
set_text (PangoLayout *layout, const char *text)
{
  const char *end = text;
  g_autofree char *cut = NULL;

  for (int i = 0; i < MOST_CHARACTERS && *end != '\0'; i++)
    end = g_utf8_next_char (end);
  if (*end != '\0')
    cut = g_strdup_printf ("%.*s…", (int) (end - text), text);
  pango_layout_set_text (layout, cut != NULL ? cut : text, -1);
}

static PangoLayout *
make_layout (cairo_t *cr, const char *text, double width, double size, gboolean bold)
{
  PangoLayout *layout = pango_cairo_create_layout (cr);
  PangoFontDescription *font = pango_font_description_from_string (FAMILY);
  PangoAttrList *attributes = pango_attr_list_new ();
  cairo_font_options_t *options = cairo_font_options_create ();

  /* The same on paper at any size: no rounding to the pixels of a screen. */
  cairo_font_options_set_hint_style (options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics (options, CAIRO_HINT_METRICS_OFF);
  pango_cairo_context_set_font_options (pango_layout_get_context (layout), options);
  pango_cairo_context_set_resolution (pango_layout_get_context (layout), 72.0);
  pango_context_set_round_glyph_positions (pango_layout_get_context (layout), FALSE);
  pango_layout_context_changed (layout);
  pango_font_description_set_absolute_size (font, size * PANGO_SCALE);
  pango_font_description_set_weight (font, bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
  pango_layout_set_font_description (layout, font);
  pango_attr_list_insert (attributes, pango_attr_font_features_new ("tnum=1"));
  pango_layout_set_attributes (layout, attributes);
  if (width >= 0.0)
    {
      pango_layout_set_width (layout, (int) (width * PANGO_SCALE));
      pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
    }
  set_text (layout, text);
  cairo_font_options_destroy (options);
  pango_attr_list_unref (attributes);
  pango_font_description_free (font);
  return layout;
}

double
ts_card_text (cairo_t *cr, const char *text, double x, double y, double width, double size,
              gboolean bold, double grey, TsCardAlign align)
{
  static const PangoAlignment alignments[] = { PANGO_ALIGN_LEFT, PANGO_ALIGN_RIGHT,
                                               PANGO_ALIGN_CENTER };
  g_autoptr (PangoLayout) layout = make_layout (cr, text, width, size, bold);
  int height;

  pango_layout_set_alignment (layout, alignments[align]);
  pango_layout_get_size (layout, NULL, &height);
  cairo_set_source_rgb (cr, grey, grey, grey);
  cairo_move_to (cr, x, y);
  /* On pixels letters would be set to whole ones, and words fall apart at the size of a screen. */
  if (cairo_surface_get_type (cairo_get_group_target (cr)) == CAIRO_SURFACE_TYPE_IMAGE)
    {
      pango_cairo_layout_path (cr, layout);
      cairo_fill (cr);
    }
  else
    pango_cairo_show_layout (cr, layout);
  /* A layout leaves a current point, from which the next arc would draw a line. */
  cairo_new_path (cr);
  return (double) height / PANGO_SCALE;
}

double
ts_card_text_width (cairo_t *cr, const char *text, double size, gboolean bold)
{
  g_autoptr (PangoLayout) layout = make_layout (cr, text, -1.0, size, bold);
  int width;

  pango_layout_get_size (layout, &width, NULL);
  return (double) width / PANGO_SCALE;
}

void
ts_card_append_sentence (char **text, const char *sentence)
{
  char *longer = *text != NULL ? g_strconcat (*text, " ", sentence, NULL) : g_strdup (sentence);

  g_free (*text);
  *text = longer;
}

void
ts_card_rule (cairo_t *cr, double x, double y, double width)
{
  cairo_set_source_rgb (cr, 0.62, 0.62, 0.62);
  cairo_rectangle (cr, x, y, width, 0.6);
  cairo_fill (cr);
}
