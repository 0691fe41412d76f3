/* ts-outline.c: a whole surface read at once, from lit to shadow
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "spots/ts-outline.h"

#include <glib/gi18n.h>
#include <math.h>

#include "base/ts-error.h"
#include "colour/ts-colour-convert.h"
#include "spots/ts-tone-path.h"

/* A surface is read in so many square cells; the mean of each tells its tone without its grain. */
#define USUAL_CELLS 8000.0
/* Rows and columns of pixels that are read of each: 16 pixels tell a mean well enough. */
#define READ_SIDE 4
/* A cell across an edge is less even than others: by so many times, and by L*. */
#define UNEVEN 3.0
#define UNEVEN_L 1.5
/* The lightest and the darkest share: glints and cracks (common practice, no source). */
#define TRIMMED 0.001
#define LEAST_ERROR_L 0.1
#define LEAST_CELLS (2 * TS_OUTLINE_TONES)

typedef struct
{
  TsLab lab;
  double spread; /* of L* within the cell */
} Cell;

typedef struct
{
  const TsImage *image;
  const TsCorrection *correction;
  const TsPoint *points;
  guint n_points;
  guint x, y, width, height; /* the box around the outline */
  guint side;                /* of a cell, pixels */
  guint step;                /* from one pixel that is read to the next */
} Reading;

/**
 * ts_outline_get_area:
 * @points: (array length=n_points): corners in order, upright pixels
 * @n_points: how many
 *
 * Returns: the area within, in square pixels; 0 for fewer than three corners
 */
double
ts_outline_get_area (const TsPoint *points, guint n_points)
{
  double twice = 0.0;

  for (guint i = 0, j = n_points - 1; i < n_points; j = i++)
    twice += points[j].x * points[i].y - points[i].x * points[j].y;
  return 0.5 * fabs (twice);
}

/**
 * ts_outline_contains:
 * @points: (array length=n_points): corners in order, upright pixels
 * @n_points: how many
 * @place: any place
 *
 * Returns: whether a line from @place to the right crosses the outline an odd number of times
 */
gboolean
ts_outline_contains (const TsPoint *points, guint n_points, TsPoint place)
{
  gboolean inside = FALSE;

  for (guint i = 0, j = n_points - 1; i < n_points; j = i++)
    {
      TsPoint a = points[i], b = points[j];

      if ((a.y > place.y) != (b.y > place.y) &&
          place.x < a.x + (b.x - a.x) * (place.y - a.y) / (b.y - a.y))
        inside = !inside;
    }
  return inside;
}

static gboolean
begin (Reading *self, GError **error)
{
  double left = G_MAXDOUBLE, top = G_MAXDOUBLE, right = 0.0, bottom = 0.0;
  double area = ts_outline_get_area (self->points, self->n_points);

  for (guint i = 0; i < self->n_points; i++)
    {
      left = MIN (left, self->points[i].x);
      top = MIN (top, self->points[i].y);
      right = MAX (right, self->points[i].x);
      bottom = MAX (bottom, self->points[i].y);
    }
  left = MAX (floor (left), 0.0);
  top = MAX (floor (top), 0.0);
  right = MIN (ceil (right), ts_image_get_width (self->image));
  bottom = MIN (ceil (bottom), ts_image_get_height (self->image));
  if (self->n_points < 3 || !(area >= LEAST_CELLS) || !(right > left && bottom > top))
    {
      g_set_error (error, TS_ERROR, TS_ERROR_TOO_FEW,
                   _ ("The outline holds too little to be read; draw it around the whole surface"));
      return FALSE;
    }
  self->x = (guint) left;
  self->y = (guint) top;
  self->width = (guint) (right - left);
  self->height = (guint) (bottom - top);
  self->side = MAX ((guint) ceil (sqrt (area / USUAL_CELLS)), 1);
  self->step = MAX (self->side / READ_SIDE, 1);
  return TRUE;
}

/* The mean in linear light of those of a cell's pixels that are not clipped; FALSE where half of
 * them are. @row is one of the rows that were read, @width pixels each. */
static gboolean
read_cell (const Reading *self, const TsXyz *xyz, const guint8 *clipped, guint n_rows, guint column,
           Cell *cell)
{
  guint to = MIN (column + self->side, self->width), n = 0, of = 0;
  double light = 0.0, squares = 0.0;
  TsXyz sum = { 0.0, 0.0, 0.0 };

  for (guint row = 0; row < n_rows; row++)
    for (guint i = column; i < to; i += self->step)
      {
        gsize at = (gsize) row * self->width + i;

        of++;
        if (clipped[at])
          continue;
        n++;
        sum = (TsXyz){ sum.X + xyz[at].X, sum.Y + xyz[at].Y, sum.Z + xyz[at].Z };
        light += xyz[at].Y;
        squares += xyz[at].Y * xyz[at].Y;
      }
  if (2 * n <= of)
    return FALSE;
  sum = (TsXyz){ sum.X / n, sum.Y / n, sum.Z / n };
  light /= n;
  cell->lab = ts_lab_from_xyz (ts_correction_apply (self->correction, sum));
  cell->spread =
    ts_lightness_from_luminance (light + sqrt (fmax (squares / n - light * light, 0.0))) -
    ts_lightness_from_luminance (light);
  return TRUE;
}

static void
read_row_of_cells (const Reading *self, guint top, TsXyz *xyz, guint8 *clipped, GArray *cells)
{
  guint n_rows = 0;

  for (guint row = top; row < MIN (top + self->side, self->height); row += self->step, n_rows++)
    ts_image_read_xyz (self->image, self->x, self->y + row, self->width, 1,
                       xyz + (gsize) n_rows * self->width, clipped + (gsize) n_rows * self->width);
  for (guint column = 0; column < self->width; column += self->side)
    {
      TsPoint middle = { self->x + column + 0.5 * self->side, self->y + top + 0.5 * self->side };
      Cell cell;

      if (ts_outline_contains (self->points, self->n_points, middle) &&
          read_cell (self, xyz, clipped, n_rows, column, &cell))
        g_array_append_val (cells, cell);
    }
}

static GArray *
read_cells (const Reading *self, GCancellable *cancellable, GError **error)
{
  g_autoptr (GArray) cells = g_array_new (FALSE, FALSE, sizeof (Cell));
  gsize rows = self->side / self->step + 1;
  g_autofree TsXyz *xyz = g_new (TsXyz, rows * self->width);
  g_autofree guint8 *clipped = g_new (guint8, rows * self->width);

  for (guint top = 0; top < self->height; top += self->side)
    {
      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return NULL;
      read_row_of_cells (self, top, xyz, clipped, cells);
    }
  return g_steal_pointer (&cells);
}

static int
compare_spread (gconstpointer one, gconstpointer other)
{
  const Cell *a = one, *b = other;

  return (a->spread > b->spread) - (a->spread < b->spread);
}

static int
compare_lightness (gconstpointer one, gconstpointer other)
{
  const Cell *a = one, *b = other;

  return (a->lab.L < b->lab.L) - (a->lab.L > b->lab.L);
}

/* Cells across an edge are not of one surface. */
static void
drop_uneven (GArray *cells)
{
  double limit;
  guint n = 0;

  if (cells->len == 0)
    return;
  g_array_sort (cells, compare_spread);
  limit = UNEVEN * g_array_index (cells, Cell, cells->len / 2).spread + UNEVEN_L;
  while (n < cells->len && g_array_index (cells, Cell, n).spread <= limit)
    n++;
  g_array_set_size (cells, n);
}

/* What is left of the cells is one surface, in falling lightness. */
static void
keep_surface (GArray *cells)
{
  g_autofree TsLab *colours = g_new (TsLab, MAX (cells->len, 1));
  g_autofree gboolean *kept = g_new (gboolean, MAX (cells->len, 1));
  guint n = 0, trimmed;

  drop_uneven (cells);
  if (cells->len == 0)
    return;
  for (guint i = 0; i < cells->len; i++)
    colours[i] = g_array_index (cells, Cell, i).lab;
  ts_tone_path_follow (colours, cells->len, kept);
  for (guint i = 0; i < cells->len; i++)
    if (kept[i])
      g_array_index (cells, Cell, n++) = g_array_index (cells, Cell, i);
  g_array_set_size (cells, n);
  g_array_sort (cells, compare_lightness);
  trimmed = (guint) (TRIMMED * n);
  if (trimmed > 0)
    {
      g_array_set_size (cells, n - trimmed);
      g_array_remove_range (cells, 0, trimmed);
    }
}

static TsTone
mean_of (const Cell *cells, guint n)
{
  TsTone tone = { { 0.0, 0.0, 0.0 }, 0.0 };
  double squares = 0.0;

  for (guint i = 0; i < n; i++)
    {
      tone.lab.L += cells[i].lab.L / n;
      tone.lab.a += cells[i].lab.a / n;
      tone.lab.b += cells[i].lab.b / n;
    }
  for (guint i = 0; i < n; i++)
    squares += (cells[i].lab.L - tone.lab.L) * (cells[i].lab.L - tone.lab.L);
  tone.standard_error = MAX (sqrt (squares / n / n), LEAST_ERROR_L);
  return tone;
}

/**
 * ts_outline_measure:
 * @image: a picture
 * @correction: how its colours are corrected
 * @points: (array length=n_points): corners of a loose outline, upright pixels
 * @n_points: 3 or more
 * @cancellable: (nullable): stops it
 * @pixels: (out): how many were read
 * @left_out: (out): share of them that seems to be something else, 0 to 1
 * @error: return location for an error, or %NULL
 *
 * Reads the surface in small cells, leaves out clipped ones, those across an edge, those that do
 * not lie on its path of colours, and the last glints and cracks, and puts the rest in order of
 * lightness. Each tone is the mean of the same share of the area.
 *
 * Returns: (transfer full) (nullable) (element-type TsTone): TS_OUTLINE_TONES tones, lightest
 *   first, or %NULL with %TS_ERROR_TOO_FEW or G_IO_ERROR_CANCELLED set
 */
GArray *
ts_outline_measure (const TsImage *image, const TsCorrection *correction, const TsPoint *points,
                    guint n_points, GCancellable *cancellable, guint *pixels, double *left_out,
                    GError **error)
{
  Reading reading = {
    .image = image, .correction = correction, .points = points, .n_points = n_points
  };
  g_autoptr (GArray) cells = NULL;
  GArray *tones;
  guint all;

  g_return_val_if_fail (error == NULL || *error == NULL, NULL);

  if (!begin (&reading, error))
    return NULL;
  cells = read_cells (&reading, cancellable, error);
  if (cells == NULL)
    return NULL;
  all = cells->len;
  keep_surface (cells);
  if (cells->len < LEAST_CELLS)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_TOO_FEW,
                   _ ("No one surface is found within the outline; draw it around one colour"));
      return NULL;
    }
  *pixels = all * reading.side * reading.side;
  *left_out = 1.0 - (double) cells->len / all;
  tones = g_array_sized_new (FALSE, FALSE, sizeof (TsTone), TS_OUTLINE_TONES);
  for (guint i = 0; i < TS_OUTLINE_TONES; i++)
    {
      guint from = i * cells->len / TS_OUTLINE_TONES, to = (i + 1) * cells->len / TS_OUTLINE_TONES;
      TsTone tone = mean_of (&g_array_index (cells, Cell, from), to - from);

      g_array_append_val (tones, tone);
    }
  return tones;
}
