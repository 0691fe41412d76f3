/* ts-sheet-grid.c: where the cells of a swatch sheet lie in its photograph
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "sheet/ts-sheet-grid.h"

#include "correction/ts-quad.h"

/**
 * ts_sheet_grid_get_cell:
 * @self: a grid
 * @row: from 0
 * @column: from 0
 * @x: (out): corners of that cell, upright pixels, in turn
 * @y: (out): the same
 *
 * Returns: %FALSE where the grid's corners do not go round a convex area
 */
gboolean
ts_sheet_grid_get_cell (const TsSheetGrid *self, guint row, guint column, double x[4], double y[4])
{
  static const guint across[] = { 0, 1, 1, 0 }, down[] = { 0, 0, 1, 1 };
  TsMat3 map;

  if (!ts_quad_find_perspective (self->corner, &map))
    return FALSE;
  for (guint k = 0; k < 4; k++)
    ts_quad_place (&map, (double) (column + across[k]) / self->n_columns,
                   (double) (row + down[k]) / self->n_rows, &x[k], &y[k]);
  return TRUE;
}

/**
 * ts_sheet_grid_find_cell:
 * @self: a grid
 * @x: a place in the picture, upright pixels
 * @y: the same
 *
 * Returns: index of the cell that it lies in, row by row from 0; -1 where it lies in none, or where
 * the grid's corners do not go round a convex area
 */
int
ts_sheet_grid_find_cell (const TsSheetGrid *self, double x, double y)
{
  TsMat3 map, back;
  TsVec3 at;
  double u, v;

  if (!ts_quad_find_perspective (self->corner, &map) || !ts_mat3_invert (&map, &back))
    return -1;
  at = ts_mat3_apply (&back, (TsVec3){ { x, y, 1.0 } });
  u = at.v[0] / at.v[2] * self->n_columns;
  v = at.v[1] / at.v[2] * self->n_rows;
  /* Beyond the horizon of a tilted sheet nothing lies, and NaN lies nowhere. */
  if (!(at.v[2] > 0.0 && u >= 0.0 && u < self->n_columns && v >= 0.0 && v < self->n_rows))
    return -1;
  return (int) ((guint) v * self->n_columns + (guint) u);
}
