/* ts-lab-grid.c: which cells of CIELAB can hold a colour near enough to a wanted one
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A cell's bound is worked out once; a table of sums over all cells below and before each (Crow
 * 1984) then tells by eight numbers whether any cell of a box counts.
 */
#include "recipes/ts-lab-grid.h"

#include "recipes/ts-lab-box.h"

#define CELLS 64 /* along each side */
#define CELL_BYTES (256 / CELLS)
#define ROOT 16          /* cells along a side that are looked at as one first */
#define EVERYWHERE 250.0 /* no colour of a surface has an a or b beyond */
#define SIDE (CELLS + 1)

struct _TsLabGrid
{
  TsLab target;
  double shift[3], scale[3];
  double known;  /* radius within which the bounds are those of single cells */
  double radius; /* that the sums were made for */
  float *bound;  /* [L][a][b] */
  guint32 *sum;  /* of cells that count, below and before */
};

TsLabGrid *
ts_lab_grid_new (TsLab target, const float *shift, const float *scale)
{
  TsLabGrid *self = g_new0 (TsLabGrid, 1);

  self->target = target;
  self->known = -1.0;
  self->radius = -1.0;
  for (guint c = 0; c < 3; c++)
    {
      self->shift[c] = (double) shift[c];
      self->scale[c] = (double) scale[c];
    }
  self->bound = g_new (float, CELLS *CELLS *CELLS);
  self->sum = g_new0 (guint32, SIDE * SIDE * SIDE);
  return self;
}

void
ts_lab_grid_free (TsLabGrid *self)
{
  if (self == NULL)
    return;
  g_free (self->bound);
  g_free (self->sum);
  g_free (self);
}

static double
bound_of (const TsLabGrid *self, const guint first[3], guint size)
{
  TsLabBox box;

  for (guint c = 0; c < 3; c++)
    {
      guint end = first[c] + size;

      box.low[c] =
        first[c] == 0 ? -EVERYWHERE : first[c] * CELL_BYTES / self->scale[c] - self->shift[c];
      box.high[c] = end == CELLS ? EVERYWHERE : end * CELL_BYTES / self->scale[c] - self->shift[c];
    }
  box.low[0] = MAX (box.low[0], 0.0);
  box.high[0] = MIN (box.high[0], 101.0);
  return box.low[0] > box.high[0] ? G_MAXDOUBLE : ts_lab_box_least_delta_e (&box, self->target);
}

static void
fill (TsLabGrid *self, const guint first[3], guint size, double bound)
{
  for (guint L = first[0]; L < first[0] + size; L++)
    for (guint a = first[1]; a < first[1] + size; a++)
      for (guint b = first[2]; b < first[2] + size; b++)
        self->bound[(L * CELLS + a) * CELLS + b] = (float) bound;
}

/* Cells in a block that is too far as a whole take the block's bound. */
static void
bound_block (TsLabGrid *self, const guint first[3], guint size, double radius)
{
  double bound = bound_of (self, first, size);

  if (bound > radius || size == 1)
    {
      /* Rounding to single precision must not push a cell out. */
      fill (self, first, size, MIN (bound, 1000.0) * (1.0 - 1e-6));
      return;
    }
  for (guint i = 0; i < 8; i++)
    {
      guint half = size / 2;
      const guint part[3] = { first[0] + half * (i >> 2), first[1] + half * ((i >> 1) & 1),
                              first[2] + half * (i & 1) };

      bound_block (self, part, half, radius);
    }
}

static void
sum_up (TsLabGrid *self, double radius)
{
  float within = (float) radius;

  for (guint L = 0; L < CELLS; L++)
    for (guint a = 0; a < CELLS; a++)
      {
        const float *bound = self->bound + (L * CELLS + a) * CELLS;
        guint32 *here = self->sum + ((L + 1) * SIDE + a + 1) * SIDE + 1;
        const guint32 *before = here - SIDE, *below = here - SIDE * SIDE;
        const guint32 *corner = below - SIDE;
        guint32 row = 0;

        for (guint b = 0; b < CELLS; b++)
          {
            row += bound[b] <= within ? 1 : 0;
            here[b] = row + before[b] + below[b] - corner[b];
          }
      }
}

void
ts_lab_grid_set_radius (TsLabGrid *self, double radius)
{
  if (radius > self->known)
    {
      for (guint L = 0; L < CELLS; L += ROOT)
        for (guint a = 0; a < CELLS; a += ROOT)
          for (guint b = 0; b < CELLS; b += ROOT)
            bound_block (self, (const guint[3]){ L, a, b }, ROOT, radius);
      self->known = radius;
    }
  sum_up (self, radius);
  self->radius = radius;
}

static guint32
sum_at (const TsLabGrid *self, guint L, guint a, guint b)
{
  return self->sum[(L * SIDE + a) * SIDE + b];
}

gboolean
ts_lab_grid_may_hold (const TsLabGrid *self, const guint8 *box, gsize stride)
{
  guint L0 = box[0] / CELL_BYTES, L1 = box[3 * stride] / CELL_BYTES + 1;
  guint a0 = box[stride] / CELL_BYTES, a1 = box[4 * stride] / CELL_BYTES + 1;
  guint b0 = box[2 * stride] / CELL_BYTES, b1 = box[5 * stride] / CELL_BYTES + 1;
  guint32 count = sum_at (self, L1, a1, b1) - sum_at (self, L0, a1, b1) -
                  sum_at (self, L1, a0, b1) - sum_at (self, L1, a1, b0) +
                  sum_at (self, L0, a0, b1) + sum_at (self, L0, a1, b0) +
                  sum_at (self, L1, a0, b0) - sum_at (self, L0, a0, b0);

  return count > 0;
}
