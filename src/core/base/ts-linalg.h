/* ts-linalg.h: vectors of three and 3x3 matrices, as plain values
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct
{
  double v[3];
} TsVec3;

typedef struct
{
  double m[3][3]; /* row, column */
} TsMat3;

TsMat3   ts_mat3_identity (void);
TsVec3   ts_mat3_apply    (const TsMat3 *self,
                           TsVec3        v);
TsMat3   ts_mat3_multiply (const TsMat3 *left,
                           const TsMat3 *right);
gboolean ts_mat3_invert   (const TsMat3 *self,
                           TsMat3       *inverse);

G_END_DECLS
