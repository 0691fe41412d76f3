/* ts-tiler.c: tiles of a picture as the screen shows them, made on another thread
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Every fourth factor has a reduced copy of the picture in the file's own encoding, a fifteenth of
 * its memory in all; a tile between two of them is averaged when it is made. Colours are converted
 * tile by tile, so that only what is looked at is.
 */
#include "gui/pixels/ts-tiler.h"

#include <math.h>
#include <string.h>

#include "colour/ts-colour-convert.h"

#define COPY_STEP 4
#define MAX_COPIES 8
#define LEAST_SIDE 16  /* of the coarsest copy, pixels */
#define MAX_WISHES 256 /* older ones are for what is not seen any more */
#define GREY_STEPS                                                                                 \
  8192 /* of linear light; the curve of sRGB takes 3295 for a code where it is steepest */

struct _TsTiler
{
  /* Never changed */
  TsLook look;
  gboolean has_steps;
  guint8 steps[256]; /* greys in place of greys */
  guint finest, coarsest;
  TsTilerFunc func;
  GWeakRef owner; /* only the main thread looks at it */

  /* The thread's alone; the first copy is there from the start */
  TsImage *copies[MAX_COPIES];
  GBytes *monitor; /* NULL: sRGB */
  TsProfileScreen *screen;

  GMutex lock;
  GArray *wishes; /* TsTileKey, the next last */
  gboolean working, stopped;
};

typedef struct
{
  TsTiler *tiler; /* owned */
  TsTileKey key;
  cairo_surface_t *tile; /* owned */
} Delivery;

static void
tiler_clear (gpointer data)
{
  TsTiler *self = data;

  for (guint i = 0; i < MAX_COPIES; i++)
    g_clear_pointer (&self->copies[i], ts_image_unref);
  g_clear_pointer (&self->monitor, g_bytes_unref);
  g_clear_pointer (&self->screen, ts_profile_screen_unref);
  g_array_unref (self->wishes);
  g_mutex_clear (&self->lock);
  g_weak_ref_clear (&self->owner);
}

void
ts_tiler_unref (TsTiler *self)
{
  g_atomic_rc_box_release_full (self, tiler_clear);
}

TsTiler *
ts_tiler_new (TsImage *image, TsLook look, GBytes *monitor, TsTilerFunc func, GObject *owner)
{
  TsTiler *self = g_atomic_rc_box_new0 (TsTiler);
  guint side = MAX (ts_image_get_width (image), ts_image_get_height (image));

  self->copies[0] = ts_image_ref (image);
  self->monitor = monitor != NULL ? g_bytes_ref (monitor) : NULL;
  self->look = look;
  self->func = func;
  self->finest = 1;
  while (self->finest * ts_image_get_width (image) < ts_image_get_full_width (image) ||
         self->finest * ts_image_get_height (image) < ts_image_get_full_height (image))
    self->finest *= 2;
  for (self->coarsest = self->finest; side > LEAST_SIDE; side = (side + 1) / 2)
    self->coarsest *= 2;
  g_weak_ref_init (&self->owner, owner);
  g_mutex_init (&self->lock);
  self->wishes = g_array_new (FALSE, FALSE, sizeof (TsTileKey));
  return self;
}

/* Before the first tile is wanted. */
void
ts_tiler_set_steps (TsTiler *self, const guint8 *codes)
{
  memcpy (self->steps, codes, sizeof self->steps);
  self->has_steps = TRUE;
}

guint
ts_tiler_get_finest (const TsTiler *self)
{
  return self->finest;
}

guint
ts_tiler_get_coarsest (const TsTiler *self)
{
  return self->coarsest;
}

void
ts_tiler_stop (TsTiler *self)
{
  g_mutex_lock (&self->lock);
  self->stopped = TRUE;
  g_array_set_size (self->wishes, 0);
  g_mutex_unlock (&self->lock);
}

static gboolean
is_stopped (TsTiler *self)
{
  gboolean stopped;

  g_mutex_lock (&self->lock);
  stopped = self->stopped;
  g_mutex_unlock (&self->lock);
  return stopped;
}

/* Grey of the same lightness, of an sRGB word: Y of IEC 61966-2-1. */
static void
make_grey (guint32 *words, gsize n, const guint8 *steps)
{
  double red[256], green[256], blue[256];
  guint8 code[GREY_STEPS + 1];

  for (guint i = 0; i < 256; i++)
    {
      double linear = ts_srgb_decode (i / 255.0);

      red[i] = 0.2126 * GREY_STEPS * linear;
      green[i] = 0.7152 * GREY_STEPS * linear;
      blue[i] = 0.0722 * GREY_STEPS * linear;
    }
  for (guint i = 0; i <= GREY_STEPS; i++)
    code[i] = (guint8) lround (255.0 * ts_srgb_encode ((double) i / GREY_STEPS));
  for (gsize i = 0; i < n; i++)
    {
      double Y = red[words[i] >> 16 & 0xff] + green[words[i] >> 8 & 0xff] + blue[words[i] & 0xff];
      guint32 grey = code[(guint) (Y + 0.5)];

      if (steps != NULL)
        grey = steps[grey];
      words[i] = grey << 16 | grey << 8 | grey;
    }
}

/* The copy that a factor is made from, and how many of its pixels make one of the tile's. */
static TsImage *
find_copy (TsTiler *self, guint factor, guint *step)
{
  guint left = factor / self->finest;
  guint i = 0;

  for (; left >= COPY_STEP && i + 1 < MAX_COPIES; i++, left /= COPY_STEP)
    if (self->copies[i + 1] == NULL)
      self->copies[i + 1] = ts_image_reduce (self->copies[i], COPY_STEP);
  *step = left;
  return self->copies[i];
}

/* Where a tile's pixels begin and how many there are, of @side in all, its apron with it. */
static guint
find_stretch (guint index, guint side, guint *first)
{
  guint end = MIN ((index + 1) * TS_TILE_SIZE + 1, side);

  *first = index * TS_TILE_SIZE - ts_tile_get_apron (index);
  return end - *first;
}

/* Joined here, since that takes a while. What does not fit together is shown as sRGB. */
static const TsProfileScreen *
find_screen (TsTiler *self)
{
  TsProfile *profile = ts_image_get_profile (self->copies[0]);

  if (self->screen == NULL)
    self->screen = ts_profile_screen_new (profile, self->monitor, NULL);
  if (self->screen == NULL)
    self->screen = ts_profile_screen_new (profile, NULL, NULL);
  return self->screen;
}

/* Grey is made of sRGB, and then the monitor's. */
static void
convert (TsTiler *self, const TsImage *image, guint x, guint y, guint width, guint height,
         guint32 *words, gsize stride)
{
  const TsProfileScreen *screen = find_screen (self);

  if (self->look != TS_LOOK_VALUES)
    {
      ts_image_read_through (image, screen, x, y, width, height, words, stride);
      return;
    }
  ts_image_read_screen (image, x, y, width, height, words, stride);
  make_grey (words, stride * height, self->has_steps ? self->steps : NULL);
  ts_profile_screen_adapt (screen, words, stride * height);
}

static cairo_surface_t *
make_tile (TsTiler *self, TsTileKey key)
{
  guint step, x, y, width, height;
  TsImage *copy = find_copy (self, key.factor, &step);
  g_autoptr (TsImage) part = NULL;
  cairo_surface_t *surface;
  guint32 *words;
  gsize stride;

  width = find_stretch (key.column, (ts_image_get_width (copy) + step - 1) / step, &x);
  height = find_stretch (key.row, (ts_image_get_height (copy) + step - 1) / step, &y);
  surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int) width, (int) height);
  words = (guint32 *) (void *) cairo_image_surface_get_data (surface);
  if (words == NULL) /* no memory: a coarser tile stays */
    return surface;
  stride = (gsize) cairo_image_surface_get_stride (surface) / sizeof *words;
  if (step > 1)
    {
      part = ts_image_reduce_part (
        copy, x * step, y * step, MIN (width * step, ts_image_get_width (copy) - x * step),
        MIN (height * step, ts_image_get_height (copy) - y * step), step);
      copy = part;
      x = y = 0;
    }
  convert (self, copy, x, y, width, height, words, stride);
  cairo_surface_mark_dirty (surface);
  return surface;
}

static void
delivery_free (gpointer data)
{
  Delivery *delivery = data;

  ts_tiler_unref (delivery->tiler);
  g_clear_pointer (&delivery->tile, cairo_surface_destroy);
  g_free (delivery);
}

static gboolean
deliver (gpointer data)
{
  Delivery *delivery = data;
  TsTiler *self = delivery->tiler;
  g_autoptr (GObject) owner = g_weak_ref_get (&self->owner);

  if (owner != NULL && !is_stopped (self))
    self->func (owner, self, delivery->key, g_steal_pointer (&delivery->tile));
  return G_SOURCE_REMOVE;
}

static void
send_tile (TsTiler *self, TsTileKey key, cairo_surface_t *tile)
{
  Delivery *delivery = g_new (Delivery, 1);

  delivery->tiler = g_atomic_rc_box_acquire (self);
  delivery->key = key;
  delivery->tile = tile;
  g_idle_add_full (G_PRIORITY_DEFAULT, deliver, delivery, delivery_free);
}

/* FALSE where nothing is wanted any more; then the thread's work is over. */
static gboolean
take_wish (TsTiler *self, TsTileKey *key)
{
  gboolean found;

  g_mutex_lock (&self->lock);
  found = self->wishes->len > 0;
  if (found)
    {
      *key = g_array_index (self->wishes, TsTileKey, self->wishes->len - 1);
      g_array_set_size (self->wishes, self->wishes->len - 1);
    }
  self->working = found;
  g_mutex_unlock (&self->lock);
  return found;
}

static void
work (GTask *task, gpointer source, gpointer task_data, GCancellable *cancellable)
{
  TsTiler *self = task_data;
  TsTileKey key;

  while (take_wish (self, &key))
    send_tile (self, key, make_tile (self, key));
  g_task_return_boolean (task, TRUE);
}

static gboolean
is_same (TsTileKey one, TsTileKey other)
{
  return one.factor == other.factor && one.column == other.column && one.row == other.row;
}

static void
add_wish (TsTiler *self, TsTileKey key)
{
  for (guint i = 0; i < self->wishes->len; i++)
    if (is_same (g_array_index (self->wishes, TsTileKey, i), key))
      {
        g_array_remove_index (self->wishes, i);
        break;
      }
  g_array_append_val (self->wishes, key);
}

void
ts_tiler_want (TsTiler *self, const TsTileKey *keys, guint n)
{
  g_autoptr (GTask) task = NULL;
  gboolean start;

  g_mutex_lock (&self->lock);
  while (n-- > 0)
    add_wish (self, keys[n]);
  if (self->wishes->len > MAX_WISHES)
    g_array_remove_range (self->wishes, 0, self->wishes->len - MAX_WISHES);
  start = !self->working && self->wishes->len > 0;
  self->working |= start;
  g_mutex_unlock (&self->lock);
  if (!start)
    return;
  task = g_task_new (NULL, NULL, NULL, NULL);
  g_task_set_task_data (task, g_atomic_rc_box_acquire (self), (GDestroyNotify) ts_tiler_unref);
  g_task_run_in_thread (task, work);
}
