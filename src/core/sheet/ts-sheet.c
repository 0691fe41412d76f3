/* ts-sheet.c: a photographed sheet of painted swatches, read cell by cell
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "sheet/ts-sheet.h"

#include <glib/gi18n.h>
#include <math.h>

#include "base/ts-error.h"
#include "colour/ts-colour-convert.h"
#include "colour/ts-difference.h"
#include "colour/ts-object-solid.h"
#include "correction/ts-quad.h"
#include "correction/ts-sample.h"
#include "sheet/ts-sheet-light.h"

#define PARTS 3          /* each way, of an area, to tell how even it is */
#define INNER 0.28       /* half of the measured part of a cell or half, either way */
#define MOST_PIXELS 2000 /* of one part: more say nothing new */
#define FEWEST_PIXELS 6  /* of one part */
#define MOST_CLIPPED 0.1 /* as for a chart's patches */
#define UNEVEN_FROM 3.0  /* CIEDE2000: streaks that can be seen (common practice, no source) */
#define EMPTY_WITHIN 3.0 /* CIEDE2000 of the bare card, over white and over black alike */
#define BARE_HALF 0.035  /* half of a sample of bare card between the cells, share of a cell */
#define BARE_PIXELS 400
#define FEWEST_BARE_PIXELS 6
#define NORMAL_95 1.96
#define LEAST_MARGIN 2e-4 /* inside the solid of surface colours; 0.1 CIELAB in the middle */
#define DARKEST 0.5       /* L*, likewise */
#define LIGHTEST 99.5

struct _TsSheet
{
  /* Owned */
  TsSheetCell *cells;

  TsSheetCard card;
  guint n_cells;
};

/* A sheet being read. */
typedef struct
{
  const TsImage *image;
  const TsCorrection *correction;
  const TsSheetGrid *grid;
  TsMat3 map;
  gboolean has_light;
  TsSheetLight light;
  double level; /* logarithm of the light that needs no evening */
} Reader;

/* A piece of the grid, in cells: its middle, and half its sides. */
typedef struct
{
  double u, v, du, dv;
} Piece;

static TsQuad
quad_of (const Reader *self, Piece piece)
{
  static const double side[4][2] = { { -1, -1 }, { 1, -1 }, { 1, 1 }, { -1, 1 } };
  TsQuad quad;

  for (int k = 0; k < 4; k++)
    ts_quad_place (&self->map, (piece.u + piece.du * side[k][0]) / self->grid->n_columns,
                   (piece.v + piece.dv * side[k][1]) / self->grid->n_rows, &quad.x[k], &quad.y[k]);
  return quad;
}

static gboolean
check_grid (const TsSheetGrid *grid, GError **error)
{
  if (!(grid->n_rows >= 1 && grid->n_rows <= TS_SHEET_MAX_SIDE && grid->n_columns >= 1 &&
        grid->n_columns <= TS_SHEET_MAX_SIDE))
    {
      g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE,
                   _ ("A sheet of %u rows and %u columns cannot be read; choose 1 to %d of each"),
                   grid->n_rows, grid->n_columns, TS_SHEET_MAX_SIDE);
      return FALSE;
    }
  if (!(grid->bare >= 0.0 && grid->bare <= 0.5))
    {
      g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE,
                   _ ("%g is no share of a cell that can be bare; choose 0 to 0.5"), grid->bare);
      return FALSE;
    }
  return TRUE;
}

static gboolean
check_corners (Reader *self, GError **error)
{
  const double (*corner)[2] = self->grid->corner;

  for (int k = 0; k < 4; k++)
    if (!(corner[k][0] >= 0.0 && corner[k][0] <= ts_image_get_width (self->image) &&
          corner[k][1] >= 0.0 && corner[k][1] <= ts_image_get_height (self->image)))
      {
        g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE,
                     _ ("The corner at %g, %g lies outside the picture of %u × %u pixels; move it "
                        "inside"),
                     corner[k][0], corner[k][1], ts_image_get_width (self->image),
                     ts_image_get_height (self->image));
        return FALSE;
      }
  if (ts_quad_find_perspective (corner, &self->map))
    return TRUE;
  g_set_error (
    error, TS_ERROR, TS_ERROR_BAD_VALUE,
    _ ("The four corners do not go round the sheet; mark the outer corners of its corner "
       "cells in turn"));
  return FALSE;
}

/* A small piece that may be bare card; FALSE where it is too small to say. */
static gboolean
sample_piece (const Reader *self, Piece piece, TsSheetSample *sample)
{
  g_autoptr (GArray) xyz = g_array_new (FALSE, FALSE, sizeof (TsXyz));
  g_autoptr (GByteArray) clipped = g_byte_array_new ();
  TsQuad quad = quad_of (self, piece);
  TsSample mean;

  if (!ts_quad_lies_inside (&quad, self->image))
    return FALSE;
  ts_quad_collect (&quad, self->image, BARE_PIXELS, xyz, clipped);
  if (xyz->len < FEWEST_BARE_PIXELS)
    return FALSE;
  mean = ts_sample_trim ((TsXyz *) (void *) xyz->data, clipped->data, xyz->len);
  if (mean.clipped_share > MOST_CLIPPED)
    return FALSE;
  *sample =
    (TsSheetSample){ piece.u / self->grid->n_columns, piece.v / self->grid->n_rows, mean.mean };
  return TRUE;
}

static void
add_sample (const Reader *self, GArray *samples, Piece piece)
{
  TsSheetSample sample;

  if (sample_piece (self, piece, &sample))
    g_array_append_val (samples, sample);
}

/* The strip that was left bare: the middle of each half, or of the whole cell. */
static void
sample_strips (const Reader *self, GArray *samples)
{
  const TsSheetGrid *grid = self->grid;
  guint n = grid->halves ? 2 : 1;

  for (guint row = 0; row < grid->n_rows; row++)
    for (guint half = 0; half < n * grid->n_columns; half++)
      add_sample (self, samples,
                  (Piece){ (half + 0.5) / n, row + 0.5 * grid->bare, 0.25 / n, 0.2 * grid->bare });
}

/* Without one, card may show on the lines between the cells. */
static void
sample_lines (const Reader *self, GArray *samples)
{
  const TsSheetGrid *grid = self->grid;
  guint n = grid->halves ? 2 : 1;

  for (guint line = 0; line <= grid->n_rows; line++)
    for (guint half = 0; half < n * grid->n_columns; half++)
      add_sample (self, samples,
                  (Piece){ (half + 0.5) / n, CLAMP (line, BARE_HALF, grid->n_rows - BARE_HALF),
                           0.15 / n, BARE_HALF });
  for (guint line = 0; line <= grid->n_columns; line++)
    for (guint row = 0; row < grid->n_rows; row++)
      add_sample (self, samples,
                  (Piece){ CLAMP (line, BARE_HALF, grid->n_columns - BARE_HALF), row + 0.5,
                           BARE_HALF, 0.15 });
}

/* Where in the grid, 0..1 across and down, a place of the picture lies. */
static gboolean
place_in_grid (const Reader *self, const double *at, double *u, double *v)
{
  TsMat3 back;
  TsVec3 p;

  if (!ts_mat3_invert (&self->map, &back))
    return FALSE;
  p = ts_mat3_apply (&back, (TsVec3){ { at[0], at[1], 1.0 } });
  if (!(fabs (p.v[2]) > 0.0))
    return FALSE;
  *u = p.v[0] / p.v[2];
  *v = p.v[1] / p.v[2];
  return isfinite (*u) && isfinite (*v);
}

static double
level_of_cell (const Reader *self, guint row, guint column)
{
  return ts_sheet_light_get (&self->light, (column + 0.5) / self->grid->n_columns,
                             (row + 0.5) / self->grid->n_rows);
}

/* Only a card or chart near the sheet says how its light compares. */
#define NEAR_THE_SHEET 0.6

static void
find_light (Reader *self, const GArray *samples, const double *light_at, TsSheetCard *card)
{
  double least = G_MAXDOUBLE, most = -G_MAXDOUBLE, sum = 0.0, u, v;

  self->has_light = ts_sheet_light_find (
    &self->light, (const TsSheetSample *) (const void *) samples->data, samples->len);
  card->light_ratio = 1.0;
  if (!self->has_light)
    return;
  for (guint row = 0; row < self->grid->n_rows; row++)
    for (guint column = 0; column < self->grid->n_columns; column++)
      {
        double level = level_of_cell (self, row, column);

        least = MIN (least, level);
        most = MAX (most, level);
        sum += level;
      }
  self->level = sum / (self->grid->n_rows * self->grid->n_columns);
  if (light_at != NULL && place_in_grid (self, light_at, &u, &v))
    self->level =
      ts_sheet_light_get (&self->light, CLAMP (u, -NEAR_THE_SHEET, 1.0 + NEAR_THE_SHEET),
                          CLAMP (v, -NEAR_THE_SHEET, 1.0 + NEAR_THE_SHEET));
  card->evened = TRUE;
  card->light_ratio = exp (most - least);
}

static TsXyz
scale (TsXyz xyz, double factor)
{
  return (TsXyz){ xyz.X * factor, xyz.Y * factor, xyz.Z * factor };
}

static TsLab
correct (const Reader *self, TsXyz xyz)
{
  return ts_lab_from_xyz (ts_correction_apply (self->correction, xyz));
}

/* What evens the light at a place of the grid, 0..1 across and down. */
static double
evening (const Reader *self, double u, double v)
{
  return self->has_light ? exp (self->level - ts_sheet_light_get (&self->light, u, v)) : 1.0;
}

/* The bare card's colours: its white from the light, its black from the dark strips. */
static void
find_card (const Reader *self, const GArray *samples, TsSheetCard *card)
{
  TsXyz black = { 0.0, 0.0, 0.0 };
  guint n = 0;

  if (!self->has_light)
    return;
  card->has_white = TRUE;
  card->white = correct (self, scale (self->light.white, exp (self->level)));
  if (!self->grid->halves || !(self->grid->bare > 0.0))
    return;
  for (guint i = 0; i < samples->len; i++)
    {
      const TsSheetSample *sample = &g_array_index (samples, TsSheetSample, i);
      TsXyz even = scale (sample->xyz, evening (self, sample->u, sample->v));

      if (even.Y < 0.25 * self->light.white.Y * exp (self->level))
        {
          black = (TsXyz){ black.X + even.X, black.Y + even.Y, black.Z + even.Z };
          n++;
        }
    }
  if (n < 3)
    return;
  card->has_black = TRUE;
  card->black = correct (self, scale (black, 1.0 / n));
}

/* One of the nine parts: its mean, evened; adds its pixels to @all. FALSE where it is too small. */
static gboolean
read_part (const Reader *self, Piece piece, GArray *all, GByteArray *flags, TsLab *lab)
{
  g_autoptr (GArray) xyz = g_array_new (FALSE, FALSE, sizeof (TsXyz));
  g_autoptr (GByteArray) clipped = g_byte_array_new ();
  TsQuad quad = quad_of (self, piece);
  double factor = evening (self, piece.u / self->grid->n_columns, piece.v / self->grid->n_rows);
  TsSample sample;

  ts_quad_collect (&quad, self->image, MOST_PIXELS, xyz, clipped);
  if (xyz->len < FEWEST_PIXELS)
    return FALSE;
  for (guint i = 0; i < xyz->len; i++)
    {
      TsXyz *pixel = &g_array_index (xyz, TsXyz, i);

      *pixel = scale (*pixel, factor);
    }
  g_array_append_vals (all, xyz->data, xyz->len);
  g_byte_array_append (flags, clipped->data, clipped->len);
  sample = ts_sample_trim ((TsXyz *) (void *) xyz->data, clipped->data, xyz->len);
  *lab = correct (self, sample.mean);
  return TRUE;
}

static gboolean
is_possible (TsLab lab)
{
  return ts_object_solid_margin (ts_xyz_from_lab (lab), TS_LIGHT_D50) >= LEAST_MARGIN;
}

/* A reading may err to where no surface can be; the nearest that can, towards grey. */
static TsLab
hold_possible (TsLab lab)
{
  TsLab held = { CLAMP (lab.L, DARKEST, LIGHTEST), lab.a, lab.b };
  double low = 0.0, high = 1.0;

  if (is_possible (held))
    return held;
  for (int i = 0; i < 40; i++)
    {
      double share = 0.5 * (low + high);

      if (is_possible ((TsLab){ held.L, share * lab.a, share * lab.b }))
        low = share;
      else
        high = share;
    }
  return (TsLab){ held.L, low * lab.a, low * lab.b };
}

/* FALSE where it is too small to measure. */
static gboolean
read_area (const Reader *self, Piece piece, TsSheetArea *area)
{
  g_autoptr (GArray) all = g_array_new (FALSE, FALSE, sizeof (TsXyz));
  g_autoptr (GByteArray) flags = g_byte_array_new ();
  TsQuad quad = quad_of (self, piece);
  TsLab part[PARTS * PARTS];
  double squares = 0.0;
  TsSample sample;
  TsLab seen;

  for (int k = 0; k < 4; k++)
    {
      area->x[k] = quad.x[k];
      area->y[k] = quad.y[k];
    }
  for (int i = 0; i < PARTS * PARTS; i++)
    {
      Piece of = { piece.u + piece.du * (2.0 * (i % PARTS) / PARTS - 1.0 + 1.0 / PARTS),
                   piece.v + piece.dv * (2.0 * (i / PARTS) / PARTS - 1.0 + 1.0 / PARTS),
                   piece.du / PARTS, piece.dv / PARTS };

      if (!read_part (self, of, all, flags, &part[i]))
        return FALSE;
    }
  sample = ts_sample_trim ((TsXyz *) (void *) all->data, flags->data, all->len);
  seen = correct (self, sample.mean);
  area->lab = hold_possible (seen);
  area->clipped_share = sample.clipped_share;
  for (int i = 0; i < PARTS * PARTS; i++)
    {
      double off = ts_delta_e_2000 (part[i], area->lab);

      squares += off * off;
    }
  area->uneven = sqrt (squares / (PARTS * PARTS));
  area->within =
    hypot (ts_correction_get_error (self->correction, area->lab), NORMAL_95 * area->uneven / PARTS);
  return TRUE;
}

/* The middle of the painted part, below the bare strip; of one half where there are two. */
static Piece
painted_piece (const TsSheetGrid *grid, guint row, guint column, guint half)
{
  double n = grid->halves ? 2.0 : 1.0, painted = 1.0 - grid->bare;

  return (Piece){ column + (half + 0.5) / n, row + grid->bare + 0.5 * painted, INNER / n,
                  INNER * painted };
}

static void
read_cell (const Reader *self, TsSheetCell *cell)
{
  cell->contrast = (double) NAN;
  cell->usable =
    read_area (self, painted_piece (self->grid, cell->row, cell->column, 0), &cell->white) &&
    (!self->grid->halves ||
     read_area (self, painted_piece (self->grid, cell->row, cell->column, 1), &cell->black));
  if (!cell->usable)
    cell->why = "too small";
}

/* Paint over black is never lighter than over white, so the darker side is the black one. */
static void
order_halves (TsSheet *self)
{
  double lighter = 0.0;

  for (guint i = 0; i < self->n_cells; i++)
    if (self->cells[i].usable)
      lighter += self->cells[i].white.lab.L - self->cells[i].black.lab.L;
  self->card.black_first = lighter < 0.0;
  if (!self->card.black_first)
    return;
  for (guint i = 0; i < self->n_cells; i++)
    {
      TsSheetArea first = self->cells[i].white;

      self->cells[i].white = self->cells[i].black;
      self->cells[i].black = first;
    }
}

static gboolean
is_empty (const TsSheetCell *cell, const TsSheetCard *card, gboolean halves)
{
  if (!card->has_white || ts_delta_e_2000 (cell->white.lab, card->white) > EMPTY_WITHIN)
    return FALSE;
  /* White paint on white card looks like nothing; only the black half can tell. */
  return halves && card->has_black &&
         ts_delta_e_2000 (cell->black.lab, card->black) <= EMPTY_WITHIN;
}

static void
judge (TsSheetCell *cell, const TsSheetCard *card, gboolean halves)
{
  double clipped = cell->white.clipped_share, uneven = cell->white.uneven;

  if (!cell->usable)
    return;
  if (halves)
    {
      clipped = MAX (clipped, cell->black.clipped_share);
      uneven = MAX (uneven, cell->black.uneven);
      cell->contrast = MIN (ts_luminance_from_lightness (cell->black.lab.L) /
                              MAX (ts_luminance_from_lightness (cell->white.lab.L), 1e-6),
                            1.0);
    }
  if (clipped > MOST_CLIPPED)
    {
      cell->usable = FALSE;
      cell->why = "clipped";
    }
  else if (is_empty (cell, card, halves))
    {
      cell->usable = FALSE;
      cell->why = "empty";
    }
  else if (!(uneven <= UNEVEN_FROM))
    cell->why = "uneven";
}

static void
sheet_clear (gpointer data)
{
  TsSheet *self = data;

  g_free (self->cells);
}

static TsSheet *
read_cells (Reader *reader, const double *light_at)
{
  const TsSheetGrid *grid = reader->grid;
  g_autoptr (GArray) samples = g_array_new (FALSE, FALSE, sizeof (TsSheetSample));
  TsSheet *self = g_atomic_rc_box_new0 (TsSheet);

  if (grid->bare > 0.0)
    sample_strips (reader, samples);
  else
    sample_lines (reader, samples);
  find_light (reader, samples, light_at, &self->card);
  find_card (reader, samples, &self->card);

  self->n_cells = grid->n_rows * grid->n_columns;
  self->cells = g_new0 (TsSheetCell, self->n_cells);
  for (guint i = 0; i < self->n_cells; i++)
    {
      self->cells[i].row = i / grid->n_columns;
      self->cells[i].column = i % grid->n_columns;
      read_cell (reader, &self->cells[i]);
    }
  if (grid->halves)
    order_halves (self);
  for (guint i = 0; i < self->n_cells; i++)
    judge (&self->cells[i], &self->card, grid->halves);
  return self;
}

/**
 * ts_sheet_read:
 * @image: a photograph of the sheet
 * @correction: how its colours are corrected
 * @grid: where the cells lie
 * @light_at: (nullable) (array fixed-size=2): x, y in the picture of the card or chart that
 *   @correction comes from
 * @error: return location for an error, or %NULL
 *
 * Measures the inner part of each cell or half, robustly. Where bare white card is seen, in the
 * strips or on the lines between the cells, the light over the sheet is taken from it and evened,
 * to what it is at @light_at. Which half is black is told by all cells together. A cell that is
 * clipped, empty or too small is marked and is not usable; an uneven one is marked and has a larger
 * error. Some tens of milliseconds.
 *
 * Returns: (transfer full) (nullable): the sheet, or %NULL with %TS_ERROR_BAD_VALUE set where the
 *   grid cannot be
 */
TsSheet *
ts_sheet_read (const TsImage *image, const TsCorrection *correction, const TsSheetGrid *grid,
               const double *light_at, GError **error)
{
  Reader reader = { .image = image, .correction = correction, .grid = grid };

  g_return_val_if_fail (error == NULL || *error == NULL, NULL);

  if (!check_grid (grid, error) || !check_corners (&reader, error))
    return NULL;
  return read_cells (&reader, light_at);
}

/**
 * ts_sheet_ref:
 * @self: a sheet
 *
 * Returns: (transfer full): @self
 */
TsSheet *
ts_sheet_ref (TsSheet *self)
{
  g_return_val_if_fail (self != NULL, NULL);

  return g_atomic_rc_box_acquire (self);
}

/**
 * ts_sheet_unref:
 * @self: (transfer full): a sheet
 */
void
ts_sheet_unref (TsSheet *self)
{
  g_return_if_fail (self != NULL);

  g_atomic_rc_box_release_full (self, sheet_clear);
}

/**
 * ts_sheet_get_n_cells:
 * @self: a sheet
 *
 * Returns: rows times columns
 */
guint
ts_sheet_get_n_cells (const TsSheet *self)
{
  return self->n_cells;
}

/**
 * ts_sheet_get_cell:
 * @self: a sheet
 * @index: which cell, row by row
 *
 * Returns: (transfer none): what was read there
 */
const TsSheetCell *
ts_sheet_get_cell (const TsSheet *self, guint index)
{
  g_return_val_if_fail (index < self->n_cells, NULL);

  return &self->cells[index];
}

/**
 * ts_sheet_get_card:
 * @self: a sheet
 *
 * Returns: (transfer none): its light and its bare card
 */
const TsSheetCard *
ts_sheet_get_card (const TsSheet *self)
{
  return &self->card;
}
