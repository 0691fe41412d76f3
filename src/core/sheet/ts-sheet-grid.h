/* ts-sheet-grid.h: where the cells of a swatch sheet lie in its photograph
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define TS_SHEET_MAX_SIDE 50 /* rows, columns */

/* How the painter laid the grid. */
typedef struct
{
  double   corner[4][2]; /* outer corners of the corner cells, upright pixels, in turn: the first row
                            runs from the first to the second; the sheet may be tilted or turned */
  guint    n_rows;       /* 1 to TS_SHEET_MAX_SIDE */
  guint    n_columns;
  gboolean halves;       /* each cell is half black, half white card, side by side along its row */
  double   bare;         /* share of each cell's height, at its top, left unpainted: 0 to 0.5 */
} TsSheetGrid;

/* Corners of a cell, for drawing the grid; FALSE where @self's corners go round nothing. */
gboolean ts_sheet_grid_get_cell  (const TsSheetGrid  *self,
                                  guint               row,
                                  guint               column,
                                  double              x[4],
                                  double              y[4]);
/* The cell at a place of the picture, row by row, or -1. */
int      ts_sheet_grid_find_cell (const TsSheetGrid  *self,
                                  double              x,
                                  double              y);

G_END_DECLS
