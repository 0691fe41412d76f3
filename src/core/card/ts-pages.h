/* ts-pages.h: drawn pages saved as PDF, SVG or PNG
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <cairo.h>
#include <glib.h>

G_BEGIN_DECLS

/* Draws one page in points, its top left corner at 0, 0. */
typedef void (*TsPagesDraw) (gconstpointer  self,
                             guint          page,
                             cairo_t       *cr);

typedef struct
{
  const char    *title;
  double         width, height; /* points of 1/72 inch */
  guint          n_pages;
  TsPagesDraw    draw;
  gconstpointer  self;
} TsPages;

/* By the ending of @path; SVG and PNG page by page (NAME-2.png ...); whole or not at all. @others
 * names further endings that the caller takes itself, for the message, or is "". */
gboolean ts_pages_save (const TsPages  *self,
                        const char     *path,
                        const char     *others,
                        GError        **error);

G_END_DECLS
