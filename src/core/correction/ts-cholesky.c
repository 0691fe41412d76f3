/* ts-cholesky.c: factor and solutions of a small symmetric positive definite matrix
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "correction/ts-cholesky.h"

#include <math.h>

/* A pivot that has lost this much of its diagonal is nothing but rounding. */
#define LEAST_PIVOT 1e-13

/**
 * ts_cholesky_factor:
 * @a: (array) (inout): @n rows of @n; of the lower half only. Becomes L with A = L L'
 * @n: how many
 *
 * Returns: %FALSE where @a is not positive definite; @a is then spoilt
 */
gboolean
ts_cholesky_factor (double *a, gsize n)
{
  for (gsize i = 0; i < n; i++)
    for (gsize j = 0; j <= i; j++)
      {
        double sum = a[i * n + j], whole = sum;

        for (gsize k = 0; k < j; k++)
          sum -= a[i * n + k] * a[j * n + k];
        if (j < i)
          a[i * n + j] = sum / a[j * n + j];
        else if (sum > LEAST_PIVOT * whole && isfinite (sum))
          a[i * n + i] = sqrt (sum);
        else
          return FALSE;
      }
  return TRUE;
}

/**
 * ts_cholesky_forward:
 * @l: (array): a factor
 * @n: how many rows it has
 * @b: (array length=n) (inout): becomes x with L x = @b
 */
void
ts_cholesky_forward (const double *l, gsize n, double *b)
{
  for (gsize i = 0; i < n; i++)
    {
      for (gsize k = 0; k < i; k++)
        b[i] -= l[i * n + k] * b[k];
      b[i] /= l[i * n + i];
    }
}

/**
 * ts_cholesky_backward:
 * @l: (array): a factor
 * @n: how many rows it has
 * @b: (array length=n) (inout): becomes x with L' x = @b
 */
void
ts_cholesky_backward (const double *l, gsize n, double *b)
{
  for (gsize i = n; i-- > 0;)
    {
      for (gsize k = i + 1; k < n; k++)
        b[i] -= l[k * n + i] * b[k];
      b[i] /= l[i * n + i];
    }
}
