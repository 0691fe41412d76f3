/* ts-clip-mask.c: where a picture has lost its lights and shadows
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/pixels/ts-clip-mask.h"

#include <math.h>

#define MOST_CELLS 2000000.0 /* of the whole picture */
#define MARKED_SHARE 0.1     /* of a cell, as of a spot */
#define HATCH 8              /* pixels from line to line */

typedef struct
{
  double x, y;                 /* of its first cell, picture pixels */
  guint factor, width, height; /* pixels to a cell; cells */
  cairo_surface_t *light, *shadow;
  double light_share, shadow_share;
} Mask;

typedef struct
{
  TsImage *image;
  guint x, y, width, height, factor; /* pixels */
} Job;

struct _TsClipMask
{
  GObject parent_instance;

  TsImage *image;            /* owned, or NULL */
  Mask *whole, *part;        /* owned, or NULL */
  GCancellable *cancellable; /* owned: of what is being made */
  gboolean running;
};

static guint changed_signal;

G_DEFINE_FINAL_TYPE (TsClipMask, ts_clip_mask, G_TYPE_OBJECT)

static void
mask_free (gpointer data)
{
  Mask *mask = data;

  cairo_surface_destroy (mask->light);
  cairo_surface_destroy (mask->shadow);
  g_free (mask);
}

static void
job_free (gpointer data)
{
  Job *job = data;

  ts_image_unref (job->image);
  g_free (job);
}

/* Adds one row of pixels to the counts of its cells. */
static void
count_row (const guint8 *clipping, guint width, guint factor, guint32 *lights, guint32 *shadows)
{
  for (guint x = 0; x < width; x++)
    {
      lights[x / factor] += clipping[x] & TS_CLIPPED_LIGHT ? 1 : 0;
      shadows[x / factor] += clipping[x] & TS_CLIPPED_SHADOW ? 1 : 0;
    }
}

static guint64
mark_row (cairo_surface_t *surface, guint row, const guint32 *counts, const Job *job, guint rows)
{
  guint8 *to =
    cairo_image_surface_get_data (surface) + row * (guint) cairo_image_surface_get_stride (surface);
  int cells = cairo_image_surface_get_width (surface);
  guint64 all = 0;

  for (int i = 0; i < cells; i++)
    {
      guint columns = MIN (job->factor, job->width - (guint) i * job->factor);

      to[i] = counts[i] > MARKED_SHARE * rows * columns ? 255 : 0;
      all += counts[i];
    }
  return all;
}

static Mask *
make_mask (const Job *job, GCancellable *cancellable)
{
  Mask *mask = g_new0 (Mask, 1);
  guint cells = mask->width = (job->width + job->factor - 1) / job->factor;
  g_autofree guint8 *line = g_new (guint8, job->width);
  g_autofree guint32 *lights = g_new (guint32, cells), *shadows = g_new (guint32, cells);
  guint64 n_lights = 0, n_shadows = 0;

  mask->height = (job->height + job->factor - 1) / job->factor;
  mask->x = job->x;
  mask->y = job->y;
  mask->factor = job->factor;
  mask->light = cairo_image_surface_create (CAIRO_FORMAT_A8, (int) cells, (int) mask->height);
  mask->shadow = cairo_image_surface_create (CAIRO_FORMAT_A8, (int) cells, (int) mask->height);
  for (guint row = 0; row < mask->height && !g_cancellable_is_cancelled (cancellable); row++)
    {
      guint first = row * job->factor, rows = MIN (job->factor, job->height - first);

      memset (lights, 0, cells * sizeof *lights);
      memset (shadows, 0, cells * sizeof *shadows);
      for (guint y = first; y < first + rows; y++)
        {
          ts_image_read_clipping (job->image, job->x, job->y + y, job->width, 1, line);
          count_row (line, job->width, job->factor, lights, shadows);
        }
      n_lights += mark_row (mask->light, row, lights, job, rows);
      n_shadows += mark_row (mask->shadow, row, shadows, job, rows);
    }
  cairo_surface_mark_dirty (mask->light);
  cairo_surface_mark_dirty (mask->shadow);
  mask->light_share = (double) n_lights / ((double) job->width * job->height);
  mask->shadow_share = (double) n_shadows / ((double) job->width * job->height);
  return mask;
}

static void
work (GTask *task, gpointer source, gpointer task_data, GCancellable *cancellable)
{
  g_task_return_pointer (task, make_mask (task_data, cancellable), mask_free);
}

static void
on_made (GObject *source, GAsyncResult *result, gpointer data)
{
  TsClipMask *self = TS_CLIP_MASK (source);
  Mask *mask = g_task_propagate_pointer (G_TASK (result), NULL);
  Mask **place = self->whole == NULL ? &self->whole : &self->part;

  if (mask == NULL) /* of another picture */
    return;
  self->running = FALSE;
  g_clear_pointer (place, mask_free);
  *place = mask;
  g_signal_emit (self, changed_signal, 0);
}

static void
start (TsClipMask *self, guint x, guint y, guint width, guint height, guint factor)
{
  g_autoptr (GTask) task = g_task_new (self, self->cancellable, on_made, NULL);
  Job *job = g_new0 (Job, 1);

  *job = (Job){ ts_image_ref (self->image), x, y, width, height, factor };
  self->running = TRUE;
  g_task_set_task_data (task, job, job_free);
  g_task_run_in_thread (task, work);
}

static void
ts_clip_mask_dispose (GObject *object)
{
  ts_clip_mask_set_image (TS_CLIP_MASK (object), NULL);
  G_OBJECT_CLASS (ts_clip_mask_parent_class)->dispose (object);
}

static void
ts_clip_mask_class_init (TsClipMaskClass *class)
{
  G_OBJECT_CLASS (class)->dispose = ts_clip_mask_dispose;
  /* There is more to draw, or something finer. */
  changed_signal = g_signal_new ("changed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                 NULL, NULL, G_TYPE_NONE, 0);
}

static void
ts_clip_mask_init (TsClipMask *self)
{
}

/**
 * ts_clip_mask_new:
 *
 * Returns: (transfer full): a mask without a picture
 */
TsClipMask *
ts_clip_mask_new (void)
{
  return g_object_new (TS_TYPE_CLIP_MASK, NULL);
}

/**
 * ts_clip_mask_set_image:
 * @self: the mask
 * @image: (nullable): the picture
 *
 * Starts to look through the whole picture, as its file has it.
 */
void
ts_clip_mask_set_image (TsClipMask *self, TsImage *image)
{
  double cells;

  g_return_if_fail (TS_IS_CLIP_MASK (self));

  if (self->image == image)
    return;
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_clear_pointer (&self->image, ts_image_unref);
  g_clear_pointer (&self->whole, mask_free);
  g_clear_pointer (&self->part, mask_free);
  self->running = FALSE;
  if (image == NULL)
    return;
  self->image = ts_image_ref (image);
  self->cancellable = g_cancellable_new ();
  cells = (double) ts_image_get_width (image) * ts_image_get_height (image);
  start (self, 0, 0, ts_image_get_width (image), ts_image_get_height (image),
         (guint) MAX (1.0, ceil (sqrt (cells / MOST_CELLS))));
}

/**
 * ts_clip_mask_get_shares:
 * @self: the mask
 * @lights: (out): share of the picture's pixels with a channel at its top, 0 to 1
 * @shadows: (out): the same for the bottom
 *
 * Returns: %FALSE until they are known
 */
gboolean
ts_clip_mask_get_shares (TsClipMask *self, double *lights, double *shadows)
{
  g_return_val_if_fail (TS_IS_CLIP_MASK (self), FALSE);

  if (self->whole == NULL)
    return FALSE;
  *lights = self->whole->light_share;
  *shadows = self->whole->shadow_share;
  return TRUE;
}

/* Lights lean one way and are dark within white, shadows the other way and white within dark: they
 * are told apart without colour, and seen on any ground. */
static cairo_pattern_t *
make_hatch (TsClipping which, int scale)
{
  cairo_surface_t *tile =
    cairo_image_surface_create (CAIRO_FORMAT_ARGB32, HATCH * scale, HATCH * scale);
  gboolean light = which == TS_CLIPPED_LIGHT;
  cairo_pattern_t *pattern;
  cairo_t *cr;

  cairo_surface_set_device_scale (tile, scale, scale);
  cr = cairo_create (tile);
  for (int i = -1; i <= 1; i++)
    {
      cairo_move_to (cr, i * HATCH - 1.0, light ? HATCH + 1.0 : -1.0);
      cairo_line_to (cr, (i + 1) * HATCH + 1.0, light ? -1.0 : HATCH + 1.0);
    }
  cairo_set_line_width (cr, 3.4);
  cairo_set_source_rgba (cr, light ? 1.0 : 0.0, light ? 1.0 : 0.0, light ? 1.0 : 0.0, 0.8);
  cairo_stroke_preserve (cr);
  cairo_set_line_width (cr, 1.5);
  cairo_set_source_rgb (cr, light ? 0.0 : 1.0, light ? 0.0 : 1.0, light ? 0.0 : 1.0);
  cairo_stroke (cr);
  cairo_destroy (cr);
  pattern = cairo_pattern_create_for_surface (tile);
  cairo_pattern_set_extend (pattern, CAIRO_EXTEND_REPEAT);
  cairo_surface_destroy (tile);
  return pattern;
}

static void
draw_hatch (cairo_t *cr, const Mask *mask, TsClipping which, double zoom, double left, double top,
            int scale)
{
  cairo_pattern_t *hatch = make_hatch (which, scale);
  cairo_pattern_t *cells =
    cairo_pattern_create_for_surface (which == TS_CLIPPED_LIGHT ? mask->light : mask->shadow);
  double size = mask->factor * zoom;
  cairo_matrix_t to_cells;

  cairo_matrix_init_scale (&to_cells, 1.0 / size, 1.0 / size);
  cairo_matrix_translate (&to_cells, -(left + mask->x * zoom), -(top + mask->y * zoom));
  cairo_pattern_set_matrix (cells, &to_cells);
  cairo_pattern_set_filter (cells, size < 1.0 ? CAIRO_FILTER_GOOD : CAIRO_FILTER_NEAREST);
  cairo_set_source (cr, hatch);
  cairo_mask (cr, cells);
  cairo_pattern_destroy (cells);
  cairo_pattern_destroy (hatch);
}

static gboolean
covers (const Mask *mask, double x, double y, double right, double bottom, guint factor)
{
  return mask != NULL && mask->factor == factor && mask->x <= x && mask->y <= y &&
         mask->x + (double) mask->width * factor >= right &&
         mask->y + (double) mask->height * factor >= bottom;
}

/* Finer cells for what is to be seen, and half as much again around it. */
static void
look_nearer (TsClipMask *self, double x, double y, double right, double bottom, guint factor)
{
  double width = ts_image_get_width (self->image), height = ts_image_get_height (self->image);
  double w = right - x, h = bottom - y;
  guint left = (guint) CLAMP (x - w / 4.0, 0.0, width - 1.0);
  guint top = (guint) CLAMP (y - h / 4.0, 0.0, height - 1.0);

  left -= left % factor;
  top -= top % factor;
  start (self, left, top, (guint) ceil (MIN (right + w / 4.0, width)) - left,
         (guint) ceil (MIN (bottom + h / 4.0, height)) - top, factor);
}

/**
 * ts_clip_mask_draw:
 * @self: the mask
 * @cr: a cairo context, its unit a pixel of the widget
 * @zoom: pixels of the widget to one of the picture
 * @left: where the picture's left edge lies in the widget
 * @top: where its top edge lies
 * @width: of the widget
 * @height: of the widget
 * @scale: device pixels to one of the widget
 *
 * Hatches what is lost, from the cells that are at hand; where finer ones are called for they come
 * with "changed".
 */
void
ts_clip_mask_draw (TsClipMask *self, cairo_t *cr, double zoom, double left, double top, int width,
                   int height, int scale)
{
  const Mask *mask;
  double x, y, right, bottom;
  guint factor;

  g_return_if_fail (TS_IS_CLIP_MASK (self));

  if (self->whole == NULL)
    return;
  factor = (guint) MAX (1.0, floor (1.0 / (zoom * scale)));
  x = MAX (0.0, -left / zoom);
  y = MAX (0.0, -top / zoom);
  right = MIN (ts_image_get_width (self->image), (width - left) / zoom);
  bottom = MIN (ts_image_get_height (self->image), (height - top) / zoom);
  mask = self->whole;
  if (factor < self->whole->factor && right > x && bottom > y)
    {
      if (covers (self->part, x, y, right, bottom, factor))
        mask = self->part;
      else if (!self->running)
        look_nearer (self, x, y, right, bottom, factor);
    }
  draw_hatch (cr, mask, TS_CLIPPED_LIGHT, zoom, left, top, scale);
  draw_hatch (cr, mask, TS_CLIPPED_SHADOW, zoom, left, top, scale);
}

/**
 * ts_clip_mask_draw_sample:
 * @cr: a cairo context
 * @which: the one hatching or the other
 * @x: left edge
 * @y: top edge
 * @width: width
 * @height: height
 * @scale: device pixels to one of the widget
 *
 * Draws a sample for a legend.
 */
void
ts_clip_mask_draw_sample (cairo_t *cr, TsClipping which, double x, double y, double width,
                          double height, int scale)
{
  cairo_pattern_t *hatch = make_hatch (which, scale);

  cairo_rectangle (cr, x, y, width, height);
  cairo_set_source_rgb (cr, 0.47, 0.47, 0.47);
  cairo_fill_preserve (cr);
  cairo_set_source (cr, hatch);
  cairo_fill (cr);
  cairo_pattern_destroy (hatch);
}
