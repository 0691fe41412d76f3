/* ts-sheet-marks.c: the four rings at the corners of a printed sheet, found in its photograph
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "sheet/ts-sheet-marks.h"

#include <glib/gi18n.h>
#include <math.h>
#include <stdlib.h>

#include "base/ts-error.h"
#include "correction/ts-quad.h"

#define LONGEST_SIDE 2400 /* pixels that are enough to see a ring */
#define DARK 0.55         /* of the light about it */
#define WINDOW 24         /* a place's surroundings: the longest side by this */
#define SMALLEST 7        /* pixels across a ring */
#define LARGEST 16        /* the longest side by this, across a ring */
#define MOST_RINGS 64
/* The dot's area beside its ring's box: pi / 4 times TS_SHEET_MARK_DOT or _FIRST squared is 0.14 or
 * 0.04; between them lies what tells one from the other. */
#define BETWEEN_DOTS 0.08
#define LEAST_DOT 0.01
#define MOST_DOT 0.25

/* A patch of touching dark pixels. */
typedef struct
{
  guint left, top, right, bottom;
  double x, y; /* middle of its pixels */
  guint area;
} Patch;

typedef struct
{
  double x, y;
  double dot; /* share of the box that its dot fills */
} Ring;

/* A picture small enough to look through, as luminance. */
typedef struct
{
  guint width, height, factor;
  float *Y;
  guint8 *dark;
} View;

static void
view_clear (View *self)
{
  g_free (self->Y);
  g_free (self->dark);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (View, view_clear)

static void
read_view (View *self, const TsImage *image)
{
  guint longest = MAX (ts_image_get_width (image), ts_image_get_height (image));
  g_autoptr (TsImage) small = NULL;
  g_autofree TsXyz *line = NULL;

  self->factor = MAX (1, (longest + LONGEST_SIDE - 1) / LONGEST_SIDE);
  small =
    self->factor > 1 ? ts_image_reduce (image, self->factor) : ts_image_ref ((TsImage *) image);
  self->width = ts_image_get_width (small);
  self->height = ts_image_get_height (small);
  self->Y = g_new (float, (gsize) self->width * self->height);
  line = g_new (TsXyz, self->width);
  for (guint y = 0; y < self->height; y++)
    {
      ts_image_read_xyz (small, 0, y, self->width, 1, line, NULL);
      for (guint x = 0; x < self->width; x++)
        self->Y[(gsize) y * self->width + x] = (float) line[x].Y;
    }
}

/* Dark is what lies well below the mean of its surroundings, so that uneven light does not matter;
 * sums over a window from a table of sums (Crow 1984). */
static void
find_dark (View *self)
{
  gsize w = self->width, h = self->height;
  g_autofree double *sums = g_new0 (double, (w + 1) * (h + 1));
  gint64 reach = MAX (self->width, self->height) / WINDOW;

  self->dark = g_new (guint8, w * h);
  for (gsize y = 0; y < h; y++)
    for (gsize x = 0; x < w; x++)
      sums[(y + 1) * (w + 1) + x + 1] = (double) self->Y[y * w + x] + sums[y * (w + 1) + x + 1] +
                                        sums[(y + 1) * (w + 1) + x] - sums[y * (w + 1) + x];
  for (gint64 y = 0; y < (gint64) h; y++)
    for (gint64 x = 0; x < (gint64) w; x++)
      {
        gint64 x0 = MAX (x - reach, 0), x1 = MIN (x + reach + 1, (gint64) w);
        gint64 y0 = MAX (y - reach, 0), y1 = MIN (y + reach + 1, (gint64) h);
        gint64 row = (gint64) w + 1;
        double mean =
          (sums[y1 * row + x1] - sums[y0 * row + x1] - sums[y1 * row + x0] + sums[y0 * row + x0]) /
          (double) ((x1 - x0) * (y1 - y0));

        self->dark[y * (gint64) w + x] = (double) self->Y[y * (gint64) w + x] < DARK * mean;
      }
}

/* One patch, its pixels taken away from the view; a stack in the place of recursion. */
static Patch
take_patch (View *self, GArray *stack, guint x, guint y)
{
  Patch patch = { x, y, x, y, 0.0, 0.0, 0 };
  guint at = y * self->width + x;

  g_array_set_size (stack, 0);
  g_array_append_val (stack, at);
  self->dark[at] = FALSE;
  while (stack->len > 0)
    {
      at = g_array_index (stack, guint, stack->len - 1);
      g_array_set_size (stack, stack->len - 1);
      x = at % self->width;
      y = at / self->width;
      patch.left = MIN (patch.left, x);
      patch.right = MAX (patch.right, x);
      patch.top = MIN (patch.top, y);
      patch.bottom = MAX (patch.bottom, y);
      patch.x += x;
      patch.y += y;
      patch.area++;
      for (int k = 0; k < 4; k++)
        {
          guint next_x = x + (k == 0) - (k == 1), next_y = y + (k == 2) - (k == 3);
          guint next = next_y * self->width + next_x;

          /* What steps below 0 wraps to far beyond the width. */
          if (next_x < self->width && next_y < self->height && self->dark[next])
            {
              self->dark[next] = FALSE;
              g_array_append_val (stack, next);
            }
        }
    }
  patch.x /= patch.area;
  patch.y /= patch.area;
  return patch;
}

static GArray *
take_patches (View *self)
{
  g_autoptr (GArray) stack = g_array_new (FALSE, FALSE, sizeof (guint));
  GArray *patches = g_array_new (FALSE, FALSE, sizeof (Patch));
  guint largest = MAX (self->width, self->height) / LARGEST;

  for (guint y = 0; y < self->height; y++)
    for (guint x = 0; x < self->width; x++)
      if (self->dark[y * self->width + x])
        {
          Patch patch = take_patch (self, stack, x, y);

          if (patch.right - patch.left <= largest && patch.bottom - patch.top <= largest)
            g_array_append_val (patches, patch);
        }
  return patches;
}

/* Whether @dot lies in the very middle of @outer, with light between them. */
static gboolean
make_ring (const Patch *outer, const Patch *dot, Ring *ring)
{
  double width = outer->right - outer->left + 1.0, height = outer->bottom - outer->top + 1.0;
  double middle_x = 0.5 * (outer->left + outer->right),
         middle_y = 0.5 * (outer->top + outer->bottom);

  if (!(width >= SMALLEST && height >= SMALLEST && width <= 2.5 * height && height <= 2.5 * width))
    return FALSE;
  if (!(dot->left > outer->left && dot->right < outer->right && dot->top > outer->top &&
        dot->bottom < outer->bottom))
    return FALSE;
  *ring = (Ring){ dot->x, dot->y, dot->area / (width * height) };
  return fabs (dot->x - middle_x) <= 0.12 * width && fabs (dot->y - middle_y) <= 0.12 * height &&
         fabs (outer->x - middle_x) <= 0.12 * width &&
         fabs (outer->y - middle_y) <= 0.12 * height && ring->dot >= LEAST_DOT &&
         ring->dot <= MOST_DOT;
}

static guint
find_rings (const GArray *patches, Ring rings[MOST_RINGS])
{
  guint n = 0;

  for (guint i = 0; i < patches->len && n < MOST_RINGS; i++)
    for (guint j = 0; j < patches->len; j++)
      if (i != j && make_ring (&g_array_index (patches, Patch, i),
                               &g_array_index (patches, Patch, j), &rings[n]))
        {
          n++;
          break;
        }
  return n;
}

/* The way round them as the eye sees it, from the first corner on. FALSE unless they are four, one
 * with the small dot. */
static gboolean
order_rings (Ring rings[MOST_RINGS], guint n, double corner[4][2])
{
  double x = 0.0, y = 0.0, angle[4];
  guint first = 0, n_first = 0;

  if (n != 4)
    return FALSE;
  for (guint i = 0; i < 4; i++)
    {
      x += 0.25 * rings[i].x;
      y += 0.25 * rings[i].y;
      if (rings[i].dot < BETWEEN_DOTS)
        {
          first = i;
          n_first++;
        }
    }
  if (n_first != 1)
    return FALSE;
  for (guint i = 0; i < 4; i++)
    {
      angle[i] =
        atan2 (rings[i].y - y, rings[i].x - x) - atan2 (rings[first].y - y, rings[first].x - x);
      if (angle[i] < 0.0)
        angle[i] += 2.0 * G_PI;
    }
  for (guint i = 0; i < 4; i++)
    {
      guint place = 0;

      for (guint j = 0; j < 4; j++)
        place += angle[j] < angle[i];
      corner[place][0] = rings[i].x;
      corner[place][1] = rings[i].y;
    }
  return TRUE;
}

/* From the rings' middles to the outer corners of the corner cells. */
static gboolean
set_corners (TsSheetGrid *grid, double marks[4][2], guint factor)
{
  static const guint8 at[4][2] = { { 0, 0 }, { 1, 0 }, { 1, 1 }, { 0, 1 } };
  double across = grid->n_columns + 2.0 * TS_SHEET_MARK_OUT;
  double down = grid->n_rows + 2.0 * TS_SHEET_MARK_OUT;
  double whole[4][2];
  TsMat3 map;

  /* A pixel of the view is @factor pixels; its middle counts. */
  for (int i = 0; i < 4; i++)
    for (int c = 0; c < 2; c++)
      whole[i][c] = (marks[i][c] + 0.5) * factor;
  if (!ts_quad_find_perspective ((const double (*)[2]) whole, &map))
    return FALSE;
  for (int i = 0; i < 4; i++)
    ts_quad_place (&map, (TS_SHEET_MARK_OUT + at[i][0] * grid->n_columns) / across,
                   (TS_SHEET_MARK_OUT + at[i][1] * grid->n_rows) / down, &grid->corner[i][0],
                   &grid->corner[i][1]);
  return TRUE;
}

/**
 * ts_sheet_find_marks:
 * @image: a photograph of a printed sheet
 * @grid: (inout): its rows and columns are those printed; its corners are set
 * @error: return location for an error, or %NULL
 *
 * Looks for four rings with a dot in their middle, one dot smaller than the others, on a picture of
 * at most 2400 pixels a side. The sheet may be turned and tilted. Tens of milliseconds.
 *
 * Returns: %FALSE with %TS_ERROR_NOT_FOUND set, and @grid as it was
 */
gboolean
ts_sheet_find_marks (const TsImage *image, TsSheetGrid *grid, GError **error)
{
  g_auto (View) view = { 0 };
  g_autoptr (GArray) patches = NULL;
  Ring rings[MOST_RINGS];
  double marks[4][2];
  guint n;

  g_return_val_if_fail (error == NULL || *error == NULL, FALSE);

  read_view (&view, image);
  find_dark (&view);
  patches = take_patches (&view);
  n = find_rings (patches, rings);
  if (order_rings (rings, n, marks) && set_corners (grid, marks, view.factor))
    return TRUE;
  g_set_error (
    error, TS_ERROR, TS_ERROR_NOT_FOUND,
    _ ("The four rings of a printed sheet were not found (%u of 4); mark the corners of the "
       "grid by hand"),
    n);
  return FALSE;
}
