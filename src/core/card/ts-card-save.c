/* ts-card-save.c: the mixing card as a file
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include <string.h>

#include "base/ts-file.h"
#include "card/ts-card-private.h"
#include "card/ts-pages.h"

static void
draw (gconstpointer self, guint page, cairo_t *cr)
{
  ts_card_draw (self, page, cr);
}

/**
 * ts_card_save:
 * @self: a card
 * @path: its ending chooses the format: .pdf, .svg, .png or .csv
 * @error: return location for an error, or %NULL
 *
 * SVG and PNG hold one page: the others are saved beside as NAME-2 and so on.
 *
 * Returns: %FALSE with a #TsError; a file that was there is then as it was
 */
gboolean
ts_card_save (const TsCard *self, const char *path, GError **error)
{
  TsPages pages = { self->title, self->width, self->height, self->n_pages, draw, self };
  g_autofree char *lower = g_ascii_strdown (path, -1);

  if (g_str_has_suffix (lower, ".csv"))
    return ts_file_save (path, self->csv, strlen (self->csv), TS_FILE_SAVE_PLAIN, error);
  return ts_pages_save (&pages, path, ", .csv", error);
}
