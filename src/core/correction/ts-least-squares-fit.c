/* ts-least-squares-fit.c: small linear least squares
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "correction/ts-least-squares-fit.h"

#include <math.h>

#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>

typedef gsl_matrix Matrix;
typedef gsl_vector Vector;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Matrix, gsl_matrix_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Vector, gsl_vector_free)

/* A column that the others nearly make up leaves next to nothing on the diagonal. */
static gboolean
has_full_rank (const Matrix *qr)
{
  double most = 0.0, least = G_MAXDOUBLE;

  for (gsize i = 0; i < qr->size2; i++)
    {
      double pivot = fabs (gsl_matrix_get (qr, i, i));

      most = fmax (most, pivot);
      least = fmin (least, pivot);
    }
  return isfinite (most) && least > 1e-10 * most;
}

/**
 * ts_least_squares_solve:
 * @a: (array): @n_rows rows of @n_unknowns coefficients
 * @b: (array length=n_rows): right-hand side
 * @n_rows: how many equations, at least @n_unknowns
 * @n_unknowns: how many unknowns
 * @x: (out) (array length=n_unknowns): the solution; untouched on failure
 *
 * Least squares by Householder's QR decomposition (GSL). Time grows with @n_rows times the square
 * of
 * @n_unknowns.
 *
 * Returns: %TRUE, or %FALSE where the equations do not settle every unknown
 */
gboolean
ts_least_squares_solve (const double *a, const double *b, gsize n_rows, gsize n_unknowns, double *x)
{
  g_autoptr (Matrix) qr = NULL;
  g_autoptr (Vector) tau = NULL;
  g_autoptr (Vector) solution = NULL;
  g_autoptr (Vector) rest = NULL;
  gsl_vector_const_view right = gsl_vector_const_view_array (b, n_rows);
  gsl_matrix_const_view left = gsl_matrix_const_view_array (a, n_rows, n_unknowns);

  if (n_rows < n_unknowns)
    return FALSE;
  gsl_set_error_handler_off ();
  qr = gsl_matrix_alloc (n_rows, n_unknowns);
  tau = gsl_vector_alloc (n_unknowns);
  solution = gsl_vector_alloc (n_unknowns);
  rest = gsl_vector_alloc (n_rows);
  gsl_matrix_memcpy (qr, &left.matrix);
  if (gsl_linalg_QR_decomp (qr, tau) != GSL_SUCCESS || !has_full_rank (qr) ||
      gsl_linalg_QR_lssolve (qr, tau, &right.vector, solution, rest) != GSL_SUCCESS)
    return FALSE;
  for (gsize i = 0; i < n_unknowns; i++)
    if (!isfinite (gsl_vector_get (solution, i)))
      return FALSE;
  for (gsize i = 0; i < n_unknowns; i++)
    x[i] = gsl_vector_get (solution, i);
  return TRUE;
}
