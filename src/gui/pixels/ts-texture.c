/* ts-texture.c: a picture of any size on the screen, from tiles made as they are looked at
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/pixels/ts-texture.h"

#include <math.h>
#include <string.h>

#include "gui/widgets/ts-screen.h"
#include "gui/pixels/ts-tiler.h"

#define KEEP_BYTES (16 * 1024 * 1024) /* of tiles that may be looked at again */
#define STAND_IN_SIDE 1024            /* the coarse copy that is always kept is no larger */

typedef struct
{
  TsTileKey key;
  cairo_surface_t *surface; /* owned */
  guint generation;         /* of the picture and look it was made for */
  guint64 drawn;            /* number of the drawing */
} Tile;

struct _TsTexture
{
  GObject parent_instance;

  /* Owned */
  TsImage *image;
  TsScreen *screen;
  TsTiler *tiler;    /* NULL until the first drawing */
  GHashTable *tiles; /* Tile, a set */
  GArray *wishes;    /* TsTileKey: what the drawing under way lacks */

  TsLook look;
  gboolean has_steps;
  guint8 steps[256]; /* greys in place of greys */
  guint generation;
  guint64 drawing;
  gsize bytes, bytes_drawn; /* of all tiles, of those in the last drawing */
  gboolean sharp;
};

/* What one drawing sees. */
typedef struct
{
  guint factor;
  guint first_column, last_column, first_row, last_row;
} Sight;

enum
{
  CHANGED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (TsTexture, ts_texture, G_TYPE_OBJECT)

static guint
hash_tile (gconstpointer data)
{
  const TsTileKey *key = data;

  return (key->factor * 31 + key->column) * 1009 + key->row;
}

static gboolean
equal_tiles (gconstpointer one, gconstpointer other)
{
  const TsTileKey *a = one, *b = other;

  return a->factor == b->factor && a->column == b->column && a->row == b->row;
}

static gsize
count_bytes (const Tile *tile)
{
  return (gsize) cairo_image_surface_get_stride (tile->surface) *
         (gsize) cairo_image_surface_get_height (tile->surface);
}

static void
free_tile (gpointer data)
{
  Tile *tile = data;

  cairo_surface_destroy (tile->surface);
  g_free (tile);
}

static Tile *
find_tile (TsTexture *self, guint factor, guint column, guint row)
{
  const TsTileKey key = { factor, column, row };

  return g_hash_table_lookup (self->tiles, &key);
}

static void
drop_tiles (TsTexture *self)
{
  g_hash_table_remove_all (self->tiles);
  self->bytes = 0;
}

static void
stop (TsTexture *self)
{
  if (self->tiler == NULL)
    return;
  ts_tiler_stop (self->tiler);
  g_clear_pointer (&self->tiler, ts_tiler_unref);
}

static void
ts_texture_dispose (GObject *object)
{
  TsTexture *self = TS_TEXTURE (object);

  stop (self);
  drop_tiles (self);
  g_clear_pointer (&self->image, ts_image_unref);
  g_clear_object (&self->screen);
  G_OBJECT_CLASS (ts_texture_parent_class)->dispose (object);
}

static void
ts_texture_finalize (GObject *object)
{
  TsTexture *self = TS_TEXTURE (object);

  g_hash_table_unref (self->tiles);
  g_array_unref (self->wishes);
  G_OBJECT_CLASS (ts_texture_parent_class)->finalize (object);
}

static void
ts_texture_class_init (TsTextureClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);

  object_class->dispose = ts_texture_dispose;
  object_class->finalize = ts_texture_finalize;
  signals[CHANGED] = g_signal_new ("changed", TS_TYPE_TEXTURE, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                   NULL, G_TYPE_NONE, 0);
}

/* The tiles stay until those for the other monitor are there. */
static void
on_screen_changed (TsTexture *self)
{
  stop (self);
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
ts_texture_init (TsTexture *self)
{
  self->screen = g_object_ref (ts_screen_get (gdk_display_get_default ()));
  g_signal_connect_object (self->screen, "changed", G_CALLBACK (on_screen_changed), self,
                           G_CONNECT_SWAPPED);
  /* The key is the tile's first member. */
  self->tiles = g_hash_table_new_full (hash_tile, equal_tiles, free_tile, NULL);
  self->wishes = g_array_new (FALSE, FALSE, sizeof (TsTileKey));
}

/**
 * ts_texture_new:
 *
 * Returns: (transfer full): a texture without a picture
 */
TsTexture *
ts_texture_new (void)
{
  return g_object_new (TS_TYPE_TEXTURE, NULL);
}

static gboolean
is_reduced (const TsImage *image)
{
  return ts_image_get_width (image) < ts_image_get_full_width (image);
}

/* Another look at the same, or the whole picture after its reduced form. */
static gboolean
is_of_same_picture (TsTexture *self, const TsImage *image)
{
  if (self->image == NULL || image == NULL)
    return FALSE;
  return image == self->image ||
         (is_reduced (self->image) &&
          ts_image_get_full_width (image) == ts_image_get_full_width (self->image) &&
          ts_image_get_full_height (image) == ts_image_get_full_height (self->image));
}

/* The finest factor whose whole copy is small enough to be always kept. */
static guint
get_stand_in (TsTexture *self)
{
  guint side = MAX (ts_image_get_full_width (self->image), ts_image_get_full_height (self->image));
  guint factor = ts_tiler_get_finest (self->tiler);

  while (side > factor * STAND_IN_SIDE && factor < ts_tiler_get_coarsest (self->tiler))
    factor *= 2;
  return factor;
}

static guint
count_tiles (guint side, guint factor)
{
  return ((side + factor - 1) / factor + TS_TILE_SIZE - 1) / TS_TILE_SIZE;
}

static void
wish (TsTexture *self, guint factor, guint column, guint row)
{
  const TsTileKey key = { factor, column, row };
  const Tile *tile = g_hash_table_lookup (self->tiles, &key);

  if (tile == NULL || tile->generation != self->generation)
    g_array_append_val (self->wishes, key);
}

static void
wish_stand_in (TsTexture *self)
{
  guint factor = get_stand_in (self);
  guint across = count_tiles (ts_image_get_full_width (self->image), factor);
  guint down = count_tiles (ts_image_get_full_height (self->image), factor);

  g_array_set_size (self->wishes, 0);
  for (guint i = 0; i < across * down; i++)
    wish (self, factor, i % across, i / across);
}

static void
send_wishes (TsTexture *self)
{
  ts_tiler_want (self->tiler, (const TsTileKey *) (const void *) self->wishes->data,
                 self->wishes->len);
}

static void take_tile (GObject *owner, TsTiler *tiler, TsTileKey key, cairo_surface_t *surface);

static void
start (TsTexture *self)
{
  self->tiler = ts_tiler_new (self->image, self->look, ts_screen_get_profile (self->screen),
                              take_tile, G_OBJECT (self));
  if (self->has_steps)
    ts_tiler_set_steps (self->tiler, self->steps);
  self->generation++;
}

/**
 * ts_texture_set_image:
 * @self: the texture
 * @image: (nullable): the picture, whole or reduced
 * @look: how it is to be shown
 *
 * Shows a picture.
 */
void
ts_texture_set_image (TsTexture *self, TsImage *image, TsLook look)
{
  gboolean same;

  g_return_if_fail (TS_IS_TEXTURE (self));

  /* The tiler is there from the first drawing on. */
  same = self->tiler != NULL && is_of_same_picture (self, image);
  stop (self);
  if (!is_of_same_picture (self, image))
    drop_tiles (self);
  if (image != NULL)
    ts_image_ref (image);
  g_clear_pointer (&self->image, ts_image_unref);
  self->image = image;
  self->look = look;
  self->sharp = FALSE;
  /* What is looked at already need not wait for its next drawing. */
  if (same)
    {
      start (self);
      wish_stand_in (self);
      send_wishes (self);
    }
  g_signal_emit (self, signals[CHANGED], 0);
}

/**
 * ts_texture_set_steps:
 * @self: the texture
 * @codes: (nullable) (array fixed-size=256): the grey that is shown in place of each, as sRGB codes
 *
 * Shows lightness alone in fewer greys; other looks are not touched.
 */
void
ts_texture_set_steps (TsTexture *self, const guint8 *codes)
{
  g_return_if_fail (TS_IS_TEXTURE (self));

  if (codes == NULL ? !self->has_steps
                    : self->has_steps && memcmp (self->steps, codes, sizeof self->steps) == 0)
    return;
  self->has_steps = codes != NULL;
  if (codes != NULL)
    memcpy (self->steps, codes, sizeof self->steps);
  if (self->look == TS_LOOK_VALUES && self->image != NULL)
    ts_texture_set_image (self, self->image, self->look);
}

static int
compare_drawn (gconstpointer a, gconstpointer b)
{
  const Tile *one = *(const Tile *const *) a, *other = *(const Tile *const *) b;

  return one->drawn < other->drawn ? -1 : one->drawn > other->drawn;
}

/* Gives up the tiles that were drawn longest ago, down to what is in sight and some more. */
static void
drop_old_tiles (TsTexture *self)
{
  g_autofree Tile **tiles = NULL;
  gsize limit = self->bytes_drawn + KEEP_BYTES;
  guint kept, n;

  if (self->bytes <= limit)
    return;
  tiles = (Tile **) (void *) g_hash_table_get_keys_as_array (self->tiles, &n);
  qsort (tiles, n, sizeof *tiles, compare_drawn);
  kept = get_stand_in (self);
  for (guint i = 0; i < n && self->bytes > limit; i++)
    if (tiles[i]->drawn != self->drawing && tiles[i]->key.factor < kept)
      {
        self->bytes -= count_bytes (tiles[i]);
        g_hash_table_remove (self->tiles, tiles[i]);
      }
}

static void
take_tile (GObject *owner, TsTiler *tiler, TsTileKey key, cairo_surface_t *surface)
{
  TsTexture *self = TS_TEXTURE (owner);
  Tile *tile = find_tile (self, key.factor, key.column, key.row);

  if (cairo_surface_status (surface) != CAIRO_STATUS_SUCCESS) /* no memory */
    {
      cairo_surface_destroy (surface);
      return;
    }
  if (tile != NULL)
    {
      self->bytes -= count_bytes (tile);
      g_hash_table_remove (self->tiles, tile);
    }
  tile = g_new0 (Tile, 1);
  tile->key = key;
  tile->surface = surface;
  tile->generation = self->generation;
  tile->drawn = self->drawing;
  g_hash_table_add (self->tiles, tile);
  self->bytes += count_bytes (tile);
  drop_old_tiles (self);
  g_signal_emit (self, signals[CHANGED], 0);
}

/* The coarsest factor that still has a pixel for each of the screen's. */
static guint
choose_factor (TsTexture *self, double scale, guint least)
{
  guint factor = ts_tiler_get_finest (self->tiler);

  while (factor < ts_tiler_get_coarsest (self->tiler) &&
         (factor < least || 2 * factor * scale <= 1.0 + 1e-6))
    factor *= 2;
  return factor;
}

static void
find_stretch (double from, double length, guint side, guint factor, guint *first, guint *last)
{
  double tile = (double) TS_TILE_SIZE * factor;
  double end = count_tiles (side, factor) - 1.0;

  *first = (guint) CLAMP (floor (from / tile), 0.0, end);
  *last = (guint) CLAMP (floor ((from + length) / tile), 0.0, end);
}

/* First what stands in for all the rest, then what is in sight, then what lies around it. */
static void
wish_all (TsTexture *self, const Sight *sight)
{
  guint width = ts_image_get_full_width (self->image);
  guint height = ts_image_get_full_height (self->image);
  guint before;

  wish_stand_in (self);
  before = self->wishes->len;
  for (guint row = sight->first_row; row <= sight->last_row; row++)
    for (guint column = sight->first_column; column <= sight->last_column; column++)
      wish (self, sight->factor, column, row);
  self->sharp = self->wishes->len == before;
  for (guint row = MAX (sight->first_row, 1) - 1;
       row <= MIN (sight->last_row + 1, count_tiles (height, sight->factor) - 1); row++)
    for (guint column = MAX (sight->first_column, 1) - 1;
         column <= MIN (sight->last_column + 1, count_tiles (width, sight->factor) - 1); column++)
      if (row < sight->first_row || row > sight->last_row || column < sight->first_column ||
          column > sight->last_column)
        wish (self, sight->factor, column, row);
  send_wishes (self);
}

/* The part of @tile that lies in the place of tile @column, @row of @factor. */
static void
draw_tile (TsTexture *self, cairo_t *cr, Tile *tile, const TsTileKey *place, cairo_filter_t filter)
{
  double size = (double) TS_TILE_SIZE * place->factor;
  double x = place->column * size, y = place->row * size;
  cairo_pattern_t *pattern = cairo_pattern_create_for_surface (tile->surface);
  cairo_matrix_t matrix;

  cairo_matrix_init_scale (&matrix, 1.0 / tile->key.factor, 1.0 / tile->key.factor);
  matrix.x0 = -(double) tile->key.column * TS_TILE_SIZE + ts_tile_get_apron (tile->key.column);
  matrix.y0 = -(double) tile->key.row * TS_TILE_SIZE + ts_tile_get_apron (tile->key.row);
  cairo_pattern_set_matrix (pattern, &matrix);
  cairo_pattern_set_filter (pattern, filter);
  cairo_pattern_set_extend (pattern, CAIRO_EXTEND_PAD);
  cairo_set_source (cr, pattern);
  cairo_rectangle (cr, x, y, MIN (size, ts_image_get_full_width (self->image) - x),
                   MIN (size, ts_image_get_full_height (self->image) - y));
  cairo_fill (cr);
  cairo_pattern_destroy (pattern);
  if (tile->drawn != self->drawing)
    self->bytes_drawn += count_bytes (tile);
  tile->drawn = self->drawing;
}

static void
draw_place (TsTexture *self, cairo_t *cr, const TsTileKey *place, cairo_filter_t filter)
{
  guint last = ts_tiler_get_coarsest (self->tiler);

  for (guint factor = place->factor, i = 0; factor <= last; factor *= 2, i++)
    {
      Tile *tile = find_tile (self, factor, place->column >> i, place->row >> i);

      if (tile == NULL)
        continue;
      draw_tile (self, cr, tile, place, i == 0 ? filter : CAIRO_FILTER_BILINEAR);
      return;
    }
}

/**
 * ts_texture_draw:
 * @self: the texture
 * @cr: a cairo context whose unit is a pixel of the picture
 * @x: left edge of what is to be seen, picture pixels
 * @y: top edge
 * @width: width of what is to be seen
 * @height: height
 * @scale: device pixels to one of the picture
 * @least: the finest factor to draw from, a power of two
 *
 * Draws the part of the picture that is to be seen, as far as its tiles are there, and has those
 * that are not made.
 */
void
ts_texture_draw (TsTexture *self, cairo_t *cr, double x, double y, double width, double height,
                 double scale, guint least)
{
  cairo_filter_t filter;
  Sight sight;

  g_return_if_fail (TS_IS_TEXTURE (self));

  if (self->image == NULL)
    return;
  if (self->tiler == NULL)
    start (self);
  sight.factor = choose_factor (self, scale, least);
  find_stretch (x, width, ts_image_get_full_width (self->image), sight.factor, &sight.first_column,
                &sight.last_column);
  find_stretch (y, height, ts_image_get_full_height (self->image), sight.factor, &sight.first_row,
                &sight.last_row);
  filter = sight.factor == 1 && scale >= 2.0 ? CAIRO_FILTER_NEAREST : CAIRO_FILTER_BILINEAR;

  self->drawing++;
  self->bytes_drawn = 0;
  cairo_save (cr);
  cairo_set_antialias (cr, CAIRO_ANTIALIAS_NONE);
  for (guint row = sight.first_row; row <= sight.last_row; row++)
    for (guint column = sight.first_column; column <= sight.last_column; column++)
      draw_place (self, cr, &(const TsTileKey){ sight.factor, column, row }, filter);
  cairo_restore (cr);
  wish_all (self, &sight);
}

/**
 * ts_texture_is_sharp:
 * @self: the texture
 *
 * Returns: whether all that was last drawn had its own tiles
 */
gboolean
ts_texture_is_sharp (TsTexture *self)
{
  g_return_val_if_fail (TS_IS_TEXTURE (self), FALSE);

  return self->sharp;
}
