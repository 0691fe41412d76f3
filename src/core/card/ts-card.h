/* ts-card.h: the mixing card: what it says, laid out on pages, and saved
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <cairo.h>

#include "base/ts-length.h"
#include "image/ts-image.h"
#include "plan/ts-surface-result.h"

G_BEGIN_DECLS

typedef enum
{
  TS_PAPER_A4,
  TS_PAPER_LETTER
} TsPaper;

/* Holds all it draws; it never changes; threads may share it. */
typedef struct _TsCard TsCard;

/* @results as ts_pipeline_run() gives them; @image (nullable) is the reference, shown small. @date
 * is shown as it stands, or left out where %NULL. The distance it is looked at from is told in @unit. */
TsCard   *ts_card_new         (const TsPlan      *plan,
                               const GPtrArray   *results,
                               const TsImage     *image,
                               const char        *date,
                               TsPaper            paper,
                               TsLengthUnit       unit);
TsCard   *ts_card_ref         (TsCard            *self);
void      ts_card_unref       (TsCard            *self);
guint     ts_card_get_n_pages (const TsCard      *self);
/* In points of 1/72 inch. */
void      ts_card_get_size    (const TsCard      *self,
                               double            *width,
                               double            *height);
void      ts_card_draw        (const TsCard      *self,
                               guint              page,
                               cairo_t           *cr);
/* PDF, SVG, PNG (page by page: NAME-2.png ...) or CSV by the ending of @path; whole or not at all. */
gboolean  ts_card_save        (const TsCard      *self,
                               const char        *path,
                               GError           **error);
/* Recipes as a table: surface,step,role,L,a,b,recipe,... */
char     *ts_card_to_csv      (const TsCard      *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsCard, ts_card_unref)

G_END_DECLS
