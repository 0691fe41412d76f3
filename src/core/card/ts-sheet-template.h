/* ts-sheet-template.h: a sheet to print and paint swatches on, with black and white halves
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <cairo.h>

#include "card/ts-card.h"
#include "sheet/ts-sheet.h"

G_BEGIN_DECLS

#define TS_TEMPLATE_ROWS    8
#define TS_TEMPLATE_COLUMNS 5
#define TS_TEMPLATE_BARE    0.25 /* strip at the top of each cell that stays unpainted */

/* Holds all it draws; it never changes; threads may share it. */
typedef struct _TsSheetTemplate TsSheetTemplate;

/* One cell a name, in order; an empty name is a line to write on. */
TsSheetTemplate *ts_sheet_template_new          (const char *const      *names,
                                                 const char             *title,
                                                 TsPaper                 paper);
/* Names of a set's paints that are painted out: all but medium, varnish and primer. */
GStrv            ts_sheet_template_dup_names    (const TsPaintSet       *set);
TsSheetTemplate *ts_sheet_template_ref          (TsSheetTemplate        *self);
void             ts_sheet_template_unref        (TsSheetTemplate        *self);
guint            ts_sheet_template_get_n_pages  (const TsSheetTemplate  *self);
/* In points of 1/72 inch. */
void             ts_sheet_template_get_size     (const TsSheetTemplate  *self,
                                                 double                 *width,
                                                 double                 *height);
void             ts_sheet_template_draw         (const TsSheetTemplate  *self,
                                                 guint                   page,
                                                 cairo_t                *cr);
/* PDF, SVG or PNG by the ending of @path. */
gboolean         ts_sheet_template_save         (const TsSheetTemplate  *self,
                                                 const char             *path,
                                                 GError                **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsSheetTemplate, ts_sheet_template_unref)

G_END_DECLS
