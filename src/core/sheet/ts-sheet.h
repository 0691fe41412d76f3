/* ts-sheet.h: a photographed sheet of painted swatches, read cell by cell
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "correction/ts-correction.h"
#include "image/ts-image.h"
#include "paint/ts-paint-set.h"
#include "sheet/ts-sheet-grid.h"

G_BEGIN_DECLS

/* One painted area: a cell, or half of one. */
typedef struct
{
  TsLab  lab;           /* corrected, evened, D50; held where a surface can be */
  double uneven;        /* root mean square CIEDE2000 of its nine parts from the whole */
  double clipped_share; /* 0..1 */
  double within;        /* 95 % radius of the reading, CIEDE2000 */
  double x[4], y[4];    /* corners of the measured area, upright pixels, in turn */
} TsSheetArea;

typedef struct
{
  guint       row, column;
  TsSheetArea white;        /* over white, or the one area of an undivided cell */
  TsSheetArea black;        /* over black; only where the sheet has halves */
  double      contrast;     /* Y over black / Y over white (ISO 6504-3), or not a number */
  gboolean    usable;       /* good enough for a paint */
  const char *why;          /* "clipped", "uneven", "empty", "too small", or %NULL; untranslated */
} TsSheetCell;

/* What the sheet told besides its cells. */
typedef struct
{
  gboolean evened;       /* bare card was seen between the swatches, and uneven light taken out */
  double   light_ratio;  /* most over least light on the cells, at least 1; 1 where not evened */
  gboolean has_white;    /* the bare card's own colours were measured */
  TsLab    white;
  gboolean has_black;
  TsLab    black;
  gboolean black_first;  /* the black half comes first along a row */
} TsSheetCard;

/* A sheet as it was read. It never changes; threads may share it. */
typedef struct _TsSheet TsSheet;

/* @light_at (nullable): x, y of the card or chart that @correction comes from, where the light is
 * taken as it should be. */
TsSheet           *ts_sheet_read         (const TsImage       *image,
                                          const TsCorrection  *correction,
                                          const TsSheetGrid   *grid,
                                          const double        *light_at,
                                          GError             **error);
TsSheet           *ts_sheet_ref          (TsSheet             *self);
void               ts_sheet_unref        (TsSheet             *self);
guint              ts_sheet_get_n_cells  (const TsSheet       *self);
/* Row by row. */
const TsSheetCell *ts_sheet_get_cell     (const TsSheet       *self,
                                          guint                index);
const TsSheetCard *ts_sheet_get_card     (const TsSheet       *self);
/* The usable cells as rows of a paint set, named in order; a cell with an empty name is left out. */
char              *ts_sheet_to_csv       (const TsSheet       *self,
                                          const char *const   *names);
/* How many cells have a name and can be used. */
guint              ts_sheet_count_taken  (const TsSheet       *self,
                                          const char *const   *names);
/* @set (nullable: a new one) and those paints at its end. */
TsPaintSet        *ts_sheet_add_to_set   (const TsSheet       *self,
                                          const TsPaintSet    *set,
                                          const char *const   *names,
                                          GError             **error);
/* Names from text: one a line, in the order of the cells; a line may be empty, the last ones are
 * dropped. A table with a column called name will do as well. */
GStrv              ts_sheet_parse_names  (const char          *text,
                                          gssize               length);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsSheet, ts_sheet_unref)

G_END_DECLS
