/* ts-lbfgs.c: the least value of a smooth function of many numbers
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "paint/ts-lbfgs.h"

#include <math.h>
#include <string.h>

#define N_PAIRS 20
#define MAX_TRIALS 30
#define ENOUGH_FALL 1e-4 /* Armijo */
#define ENOUGH_BEND 0.9  /* Wolfe */
#define STOP_FALL 1e-7   /* relative fall over STOP_WINDOW steps that is not worth more */
#define STOP_WINDOW 5

typedef struct
{
  guint n;
  TsLbfgsFunc function;
  gpointer user_data;

  /* Owned: x and gradient here, and at the step being tried */
  double *x;
  double *gradient;
  double *next_x;
  double *next_gradient;
  double *direction;

  /* Owned: the last N_PAIRS steps and changes of gradient, a ring of rows */
  double *steps;
  double *changes;
  double rho[N_PAIRS];
  guint n_pairs;
  guint newest;
} Lbfgs;

static double
dot (const double *one, const double *other, guint n)
{
  double sum = 0.0;

  for (guint i = 0; i < n; i++)
    sum += one[i] * other[i];
  return sum;
}

static void
add_scaled (double *to, double scale, const double *from, guint n)
{
  for (guint i = 0; i < n; i++)
    to[i] += scale * from[i];
}

static void
lbfgs_init (Lbfgs *self, guint n, TsLbfgsFunc function, gpointer user_data)
{
  *self = (Lbfgs){ .n = n, .function = function, .user_data = user_data };
  self->gradient = g_new0 (double, n);
  self->next_x = g_new0 (double, n);
  self->next_gradient = g_new0 (double, n);
  self->direction = g_new0 (double, n);
  self->steps = g_new0 (double, (gsize) n *N_PAIRS);
  self->changes = g_new0 (double, (gsize) n *N_PAIRS);
}

static void
lbfgs_clear (Lbfgs *self)
{
  g_free (self->gradient);
  g_free (self->next_x);
  g_free (self->next_gradient);
  g_free (self->direction);
  g_free (self->steps);
  g_free (self->changes);
}

/* The two loops of Liu and Nocedal (1989). */
static void
find_direction (Lbfgs *self)
{
  guint n = self->n;
  double alpha[N_PAIRS];

  for (guint i = 0; i < n; i++)
    self->direction[i] = -self->gradient[i];
  for (guint k = 0; k < self->n_pairs; k++)
    {
      guint row = (self->newest + N_PAIRS - k) % N_PAIRS;

      alpha[row] = self->rho[row] * dot (self->steps + (gsize) row * n, self->direction, n);
      add_scaled (self->direction, -alpha[row], self->changes + (gsize) row * n, n);
    }
  if (self->n_pairs > 0)
    {
      const double *change = self->changes + (gsize) self->newest * n;
      double scale = 1.0 / (self->rho[self->newest] * dot (change, change, n));

      for (guint i = 0; i < n; i++)
        self->direction[i] *= scale;
    }
  for (guint k = self->n_pairs; k > 0; k--)
    {
      guint row = (self->newest + N_PAIRS - (k - 1)) % N_PAIRS;
      double beta = self->rho[row] * dot (self->changes + (gsize) row * n, self->direction, n);

      add_scaled (self->direction, alpha[row] - beta, self->steps + (gsize) row * n, n);
    }
}

/* A step length that falls enough and bends enough (Wolfe 1969), by doubling and halving. Returns
 * the value there, or @value where no step falls. */
static double
search_line (Lbfgs *self, double value)
{
  double slope = dot (self->gradient, self->direction, self->n);
  /* Without a past, one unit of length is the only scale there is. */
  double length =
    self->n_pairs > 0 ? 1.0 : 1.0 / sqrt (dot (self->direction, self->direction, self->n));
  double low = 0.0, high = (double) INFINITY;

  for (guint trial = 0; trial < MAX_TRIALS; trial++)
    {
      double next;

      memcpy (self->next_x, self->x, self->n * sizeof *self->x);
      add_scaled (self->next_x, length, self->direction, self->n);
      next = self->function (self->next_x, self->next_gradient, self->user_data);

      if (!(next <= value + ENOUGH_FALL * length * slope))
        high = length;
      else if (dot (self->next_gradient, self->direction, self->n) < ENOUGH_BEND * slope)
        low = length;
      else
        return next;
      length = isinf (high) ? 2.0 * low : 0.5 * (low + high);
    }
  return value;
}

/* Remembers the step just made and moves there. */
static void
accept_step (Lbfgs *self)
{
  guint row = self->n_pairs == 0 ? 0 : (self->newest + 1) % N_PAIRS;
  double *step = self->steps + (gsize) row * self->n;
  double *change = self->changes + (gsize) row * self->n;
  double bend;

  for (guint i = 0; i < self->n; i++)
    {
      step[i] = self->next_x[i] - self->x[i];
      change[i] = self->next_gradient[i] - self->gradient[i];
    }
  bend = dot (step, change, self->n);
  if (bend > 0.0)
    {
      self->rho[row] = 1.0 / bend;
      self->newest = row;
      self->n_pairs = MIN (self->n_pairs + 1, N_PAIRS);
    }
  memcpy (self->x, self->next_x, self->n * sizeof *self->x);
  memcpy (self->gradient, self->next_gradient, self->n * sizeof *self->gradient);
}

/**
 * ts_lbfgs_minimise:
 * @x: (array length=n): where to start; on return the lowest place found
 * @n: how many numbers, at least 1
 * @function: (scope call): the function
 * @user_data: handed to @function
 * @max_iterations: how many steps at most
 * @cancellable: (nullable): to stop it
 * @least: (out) (optional): the value there
 * @error: return location for an error, or %NULL
 *
 * Limited-memory BFGS (Liu and Nocedal 1989). The same start gives the same result.
 *
 * Returns: %FALSE with %G_IO_ERROR_CANCELLED set when it was stopped
 */
gboolean
ts_lbfgs_minimise (double *x, guint n, TsLbfgsFunc function, gpointer user_data,
                   guint max_iterations, GCancellable *cancellable, double *least, GError **error)
{
  Lbfgs self;
  double value, window[STOP_WINDOW] = { 0.0 }; /* the values that many steps ago */
  gboolean stopped = FALSE;
  gboolean flat = FALSE;

  lbfgs_init (&self, n, function, user_data);
  self.x = x;
  value = function (x, self.gradient, user_data);
  for (guint i = 0; i < max_iterations && !stopped && !flat; i++)
    {
      double next;

      find_direction (&self);
      next = search_line (&self, value);
      if (!(next < value))
        break;
      accept_step (&self);
      flat = i >= STOP_WINDOW && window[i % STOP_WINDOW] - next < STOP_FALL * fabs (next);
      window[i % STOP_WINDOW] = value;
      value = next;
      stopped = g_cancellable_set_error_if_cancelled (cancellable, error);
    }
  lbfgs_clear (&self);
  if (least != NULL)
    *least = value;
  return !stopped;
}
