/* ts-linalg.c: vectors of three and 3x3 matrices, as plain values
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/ts-linalg.h"

#include <math.h>

/**
 * ts_mat3_identity:
 *
 * Returns: the matrix that changes nothing
 */
TsMat3
ts_mat3_identity (void)
{
  return (TsMat3){ .m = { { 1.0, 0.0, 0.0 }, { 0.0, 1.0, 0.0 }, { 0.0, 0.0, 1.0 } } };
}

/**
 * ts_mat3_apply:
 * @self: a matrix
 * @v: a column vector
 *
 * Returns: @self times @v
 */
TsVec3
ts_mat3_apply (const TsMat3 *self, TsVec3 v)
{
  TsVec3 out;

  for (int i = 0; i < 3; i++)
    out.v[i] = self->m[i][0] * v.v[0] + self->m[i][1] * v.v[1] + self->m[i][2] * v.v[2];
  return out;
}

/**
 * ts_mat3_multiply:
 * @left: a matrix
 * @right: the matrix that acts first
 *
 * Returns: @left times @right
 */
TsMat3
ts_mat3_multiply (const TsMat3 *left, const TsMat3 *right)
{
  TsMat3 out;

  for (int i = 0; i < 3; i++)
    for (int j = 0; j < 3; j++)
      out.m[i][j] = left->m[i][0] * right->m[0][j] + left->m[i][1] * right->m[1][j] +
                    left->m[i][2] * right->m[2][j];
  return out;
}

static double
cofactor (const TsMat3 *self, int row, int column)
{
  int r1 = (row + 1) % 3, r2 = (row + 2) % 3;
  int c1 = (column + 1) % 3, c2 = (column + 2) % 3;

  return self->m[r1][c1] * self->m[r2][c2] - self->m[r1][c2] * self->m[r2][c1];
}

/* Product of the lengths of the rows: the determinant of the same rows at right angles. */
static double
row_volume (const TsMat3 *self)
{
  double volume = 1.0;

  for (int i = 0; i < 3; i++)
    volume *= hypot (hypot (self->m[i][0], self->m[i][1]), self->m[i][2]);
  return volume;
}

/**
 * ts_mat3_invert:
 * @self: a matrix
 * @inverse: (out): its inverse; untouched on failure
 *
 * Inverts by cofactors. A matrix counts as singular where its determinant is under 1e-12 of that of
 * the same rows at right angles, so that the scale of the numbers does not matter.
 *
 * Returns: %TRUE, or %FALSE for a singular matrix or one that is not finite
 */
gboolean
ts_mat3_invert (const TsMat3 *self, TsMat3 *inverse)
{
  double determinant = 0.0;
  TsMat3 out;

  for (int j = 0; j < 3; j++)
    determinant += self->m[0][j] * cofactor (self, 0, j);
  if (!(isfinite (determinant) && fabs (determinant) > 1e-12 * row_volume (self)))
    return FALSE;

  for (int i = 0; i < 3; i++)
    for (int j = 0; j < 3; j++)
      {
        out.m[i][j] = cofactor (self, j, i) / determinant;
        if (!isfinite (out.m[i][j]))
          return FALSE;
      }
  *inverse = out;
  return TRUE;
}
