/* ts-texture.c: a picture's pixels as cairo surfaces, made on another thread
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-texture.h"

#include <math.h>

#include "colour/ts-colour-convert.h"

#define TILE 1024
#define FIRST_LEVEL 1024 /* the coarsest copy is no larger than this */
#define MAX_LEVELS 16

/* One reduced copy, cut in tiles. It never changes once made. */
typedef struct
{
  guint factor; /* pixels of the picture to one of the copy, each way */
  guint n_columns, n_rows;
  cairo_surface_t **tiles; /* owned */
} Level;

struct _TsTexture
{
  GObject parent_instance;

  /* Owned */
  GPtrArray *levels; /* Level, finest last */
  GCancellable *cancellable;
};

/* Counted: the thread and each delivery hold it. Only the main thread looks at @texture. */
typedef struct
{
  GWeakRef texture;
  TsImage *image; /* owned */
  TsLook look;
  GCancellable *cancellable; /* owned */
} Job;

typedef struct
{
  Job *job;     /* owned */
  Level *level; /* owned */
} Delivery;

enum
{
  CHANGED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (TsTexture, ts_texture, G_TYPE_OBJECT)

static void
level_free (Level *level)
{
  if (level == NULL)
    return;
  for (guint i = 0; i < level->n_columns * level->n_rows; i++)
    g_clear_pointer (&level->tiles[i], cairo_surface_destroy);
  g_free (level->tiles);
  g_free (level);
}

static void
job_clear (Job *job)
{
  g_weak_ref_clear (&job->texture);
  ts_image_unref (job->image);
  g_object_unref (job->cancellable);
}

static void
job_unref (Job *job)
{
  g_atomic_rc_box_release_full (job, (GDestroyNotify) job_clear);
}

static void
delivery_free (Delivery *delivery)
{
  job_unref (delivery->job);
  level_free (delivery->level);
  g_free (delivery);
}

/* Grey of the same lightness, of an sRGB word. */
static guint32
grey_of (guint32 word, const double *linear)
{
  double Y = 0.2126 * linear[word >> 16 & 0xFF] + 0.7152 * linear[word >> 8 & 0xFF] +
             0.0722 * linear[word & 0xFF]; /* IEC 61966-2-1 */
  guint32 grey = (guint32) lround (255.0 * CLAMP (ts_srgb_encode (Y), 0.0, 1.0));

  return grey << 16 | grey << 8 | grey;
}

static void
make_grey (guint32 *words, gsize n)
{
  double linear[256];

  for (guint i = 0; i < 256; i++)
    linear[i] = ts_srgb_decode (i / 255.0);
  for (gsize i = 0; i < n; i++)
    words[i] = grey_of (words[i], linear);
}

static cairo_surface_t *
make_tile (TsImage *image, TsLook look, guint x, guint y)
{
  guint width = MIN (TILE, ts_image_get_width (image) - x);
  guint height = MIN (TILE, ts_image_get_height (image) - y);
  cairo_surface_t *surface =
    cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int) width, (int) height);
  guint32 *words = (guint32 *) (void *) cairo_image_surface_get_data (surface);
  gsize stride = (gsize) cairo_image_surface_get_stride (surface) / sizeof *words;

  if (words == NULL) /* no memory: the coarser copies stay */
    return surface;
  ts_image_read_screen (image, x, y, width, height, words, stride);
  if (look == TS_LOOK_VALUES)
    make_grey (words, stride * height);
  cairo_surface_mark_dirty (surface);
  return surface;
}

static Level *
make_level (TsImage *image, guint factor, TsLook look, GCancellable *cancellable)
{
  Level *level = g_new0 (Level, 1);

  level->factor = factor;
  level->n_columns = (ts_image_get_width (image) + TILE - 1) / TILE;
  level->n_rows = (ts_image_get_height (image) + TILE - 1) / TILE;
  level->tiles = g_new0 (cairo_surface_t *, level->n_columns * level->n_rows);
  for (guint i = 0; i < level->n_columns * level->n_rows; i++)
    {
      if (g_cancellable_is_cancelled (cancellable))
        break;
      level->tiles[i] =
        make_tile (image, look, i % level->n_columns * TILE, i / level->n_columns * TILE);
    }
  return level;
}

static gboolean
deliver (gpointer user_data)
{
  Delivery *delivery = user_data;
  g_autoptr (TsTexture) self = g_weak_ref_get (&delivery->job->texture);

  if (self == NULL || self->cancellable != delivery->job->cancellable)
    return G_SOURCE_REMOVE;
  g_ptr_array_add (self->levels, g_steal_pointer (&delivery->level));
  g_signal_emit (self, signals[CHANGED], 0);
  return G_SOURCE_REMOVE;
}

static void
send_level (Job *job, Level *level)
{
  Delivery *delivery = g_new0 (Delivery, 1);

  delivery->job = g_atomic_rc_box_acquire (job);
  delivery->level = level;
  g_idle_add_full (G_PRIORITY_DEFAULT, deliver, delivery, (GDestroyNotify) delivery_free);
}

static void
work (GTask *task, gpointer source, gpointer task_data, GCancellable *cancellable)
{
  Job *job = task_data;
  TsImage *copies[MAX_LEVELS] = { ts_image_ref (job->image) };
  guint n = 1;

  while (n < MAX_LEVELS && !g_cancellable_is_cancelled (job->cancellable) &&
         MAX (ts_image_get_width (copies[n - 1]), ts_image_get_height (copies[n - 1])) >
           FIRST_LEVEL)
    {
      copies[n] = ts_image_reduce (copies[n - 1], 2);
      n++;
    }
  while (n-- > 0)
    {
      if (!g_cancellable_is_cancelled (job->cancellable))
        send_level (job, make_level (copies[n], 1U << n, job->look, job->cancellable));
      ts_image_unref (copies[n]);
    }
  g_task_return_boolean (task, TRUE);
}

static void
ts_texture_dispose (GObject *object)
{
  TsTexture *self = TS_TEXTURE (object);

  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  G_OBJECT_CLASS (ts_texture_parent_class)->dispose (object);
}

static void
ts_texture_finalize (GObject *object)
{
  g_ptr_array_unref (TS_TEXTURE (object)->levels);
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

static void
ts_texture_init (TsTexture *self)
{
  self->levels = g_ptr_array_new_with_free_func ((GDestroyNotify) level_free);
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

/**
 * ts_texture_set_image:
 * @self: the texture
 * @image: (nullable): the picture
 * @look: how it is to be shown
 *
 * Starts to make the picture's copies; those of the same picture in another look stay until then.
 */
void
ts_texture_set_image (TsTexture *self, TsImage *image, TsLook look)
{
  g_autoptr (GTask) task = NULL;
  Job *job;

  g_return_if_fail (TS_IS_TEXTURE (self));

  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_ptr_array_set_size (self->levels, 0);
  g_signal_emit (self, signals[CHANGED], 0);
  if (image == NULL)
    return;

  self->cancellable = g_cancellable_new ();
  job = g_atomic_rc_box_new0 (Job);
  g_weak_ref_init (&job->texture, self);
  job->image = ts_image_ref (image);
  job->look = look;
  job->cancellable = g_object_ref (self->cancellable);
  task = g_task_new (NULL, NULL, NULL, NULL);
  g_task_set_task_data (task, job, (GDestroyNotify) job_unref);
  g_task_run_in_thread (task, work);
}

/* The coarsest copy that still has a pixel for each of the screen's, else the finest there is. */
static Level *
choose_level (TsTexture *self, double scale, guint coarsest)
{
  for (guint i = 0; i < self->levels->len; i++)
    {
      Level *level = g_ptr_array_index (self->levels, i);

      if (level->factor <= coarsest && level->factor * scale <= 1.0 + 1e-6)
        return level;
    }
  return self->levels->len > 0 ? g_ptr_array_index (self->levels, self->levels->len - 1) : NULL;
}

static void
draw_tile (cairo_t *cr, cairo_surface_t *tile, double x, double y, cairo_filter_t filter)
{
  int width = cairo_image_surface_get_width (tile), height = cairo_image_surface_get_height (tile);

  cairo_save (cr);
  cairo_translate (cr, x, y);
  cairo_set_source_surface (cr, tile, 0, 0);
  cairo_pattern_set_filter (cairo_get_source (cr), filter);
  cairo_pattern_set_extend (cairo_get_source (cr), CAIRO_EXTEND_PAD); /* no seams between tiles */
  cairo_rectangle (cr, 0, 0, width, height);
  cairo_fill (cr);
  cairo_restore (cr);
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
 * @coarsest: the largest factor to draw from, or %G_MAXUINT
 *
 * Draws the part of the picture that is to be seen, from the copy that suits the scale.
 */
void
ts_texture_draw (TsTexture *self, cairo_t *cr, double x, double y, double width, double height,
                 double scale, guint coarsest)
{
  Level *level;
  cairo_filter_t filter;
  double factor, size;

  g_return_if_fail (TS_IS_TEXTURE (self));

  level = choose_level (self, scale, coarsest);
  if (level == NULL)
    return;
  factor = level->factor;
  size = TILE * factor;
  filter =
    factor * scale >= 2.0 && level->factor == 1 ? CAIRO_FILTER_NEAREST : CAIRO_FILTER_BILINEAR;

  cairo_save (cr);
  cairo_set_antialias (cr, CAIRO_ANTIALIAS_NONE);
  cairo_scale (cr, factor, factor);
  for (guint i = 0; i < level->n_columns * level->n_rows; i++)
    {
      double left = i % level->n_columns * size, top = i / level->n_columns * size;

      if (level->tiles[i] == NULL || left > x + width || top > y + height || left + size < x ||
          top + size < y)
        continue;
      draw_tile (cr, level->tiles[i], left / factor, top / factor, filter);
    }
  cairo_restore (cr);
}
