/* ts-decode.c: one picture on its way from a file into memory
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "image/ts-decode-private.h"

#include <glib/gi18n.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>

#include "base/ts-error.h"
#include "image/ts-exif-private.h"
#include "image/ts-image-private.h"

/* Progress is told about thirty times a second. */
#define REPORT_EVERY (G_USEC_PER_SEC / 30)
#define TURNED_ROWS 16
#define LARGE_PAGE ((gsize) 2 * 1024 * 1024)

/* ts_decode_add_note:
 * Adds a sentence to what the painter is told. */
void
ts_decode_add_note (TsDecode *self, const char *format, ...)
{
  va_list arguments;

  if (self->note->len > 0)
    g_string_append_c (self->note, ' ');
  va_start (arguments, format);
  g_string_append_vprintf (self->note, format, arguments);
  va_end (arguments);
}

/* ts_decode_advance:
 * Tells progress and looks whether the run was stopped; cheap enough for every row. */
gboolean
ts_decode_advance (TsDecode *self, double done, GError **error)
{
  gint64 now;

  if (g_cancellable_set_error_if_cancelled (self->cancellable, error))
    return FALSE;
  if (self->progress == NULL || !(done > self->done))
    return TRUE;

  now = g_get_monotonic_time ();
  if (now - self->reported >= REPORT_EVERY)
    {
      self->done = MIN (done, 1.0);
      self->reported = now;
      self->progress (self->done, self->progress_data);
    }
  return TRUE;
}

/* ts_decode_refuse_preview:
 * For a picture without a shortcut to a smaller one. */
gboolean
ts_decode_refuse_preview (TsDecode *self, GError **error)
{
  g_set_error (error, TS_ERROR, TS_ERROR_UNSUPPORTED,
               _ ("%s: a smaller picture is not read faster than the whole; open the whole"),
               self->source->what);
  return FALSE;
}

static gboolean
check_sides (TsDecode *self, guint width, guint height, GError **error)
{
  if (width == 0 || height == 0)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_FORMAT,
                   _ ("%s: the picture is %u x %u pixels, which leaves nothing to show; export it "
                      "again"),
                   self->source->what, width, height);
      return FALSE;
    }
  if (width > TS_DECODE_MAX_SIDE || height > TS_DECODE_MAX_SIDE ||
      (guint64) width * height > TS_DECODE_MAX_PIXELS)
    {
      g_set_error (
        error, TS_ERROR, TS_ERROR_TOO_LARGE,
        _ ("%s: the picture is %u x %u pixels; at most %d megapixels and %d pixels a side "
           "are read; scale it down"),
        self->source->what, width, height, TS_DECODE_MAX_PIXELS / 1000000, TS_DECODE_MAX_SIDE);
      return FALSE;
    }
  return TRUE;
}

/* ts_decode_check_size:
 * Refuses an absurd header before anything is allocated for it. */
gboolean
ts_decode_check_size (TsDecode *self, guint width, guint height, double pixels_a_byte,
                      GError **error)
{
  if (!check_sides (self, width, height, error))
    return FALSE;
  if ((double) width * height > (double) self->source->size * pixels_a_byte)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_FORMAT,
                   _ ("%s: the file promises %u x %u pixels and is too short to hold them; copy it "
                      "again"),
                   self->source->what, width, height);
      return FALSE;
    }
  self->full_width = width;
  self->full_height = height;
  return TRUE;
}

/* Exif 2.32, tag Orientation: 5 to 8 swap rows and columns; the sets below then mirror. */
static gboolean
swaps_sides (guint orientation)
{
  return orientation >= 5;
}

static void
lay_out (TsDecode *self, guint orientation)
{
  static const gboolean flips_x[] = { FALSE, FALSE, TRUE, TRUE, FALSE, FALSE, TRUE, TRUE, FALSE };
  static const gboolean flips_y[] = { FALSE, FALSE, FALSE, TRUE, TRUE, FALSE, FALSE, TRUE, TRUE };
  gssize pixel = (gssize) ts_pixel_format_get_size (self->format);
  gssize width = swaps_sides (orientation) ? self->height : self->width;
  gssize height = swaps_sides (orientation) ? self->width : self->height;
  gssize right = flips_x[orientation] ? -pixel : pixel;
  gssize down = flips_y[orientation] ? -pixel * width : pixel * width;

  self->orientation = orientation;
  self->origin = (flips_x[orientation] ? pixel * (width - 1) : 0) +
                 (flips_y[orientation] ? pixel * width * (height - 1) : 0);
  self->step_x = swaps_sides (orientation) ? down : right;
  self->step_y = swaps_sides (orientation) ? right : down;
}

static gsize
count_bytes (const TsDecode *self)
{
  return (gsize) self->width * self->height * ts_pixel_format_get_size (self->format);
}

/* The system hands out fresh memory page by page as it is written to, which in pages of the usual
 * size costs a quarter of the time that decoding takes. For g_free(). */
static guint8 *
try_allocate (gsize n)
{
  void *block = NULL;

  if (n < LARGE_PAGE)
    return g_try_malloc (n);
  if (posix_memalign (&block, LARGE_PAGE, n) != 0)
    return NULL;
#ifdef MADV_HUGEPAGE
  madvise (block, n, MADV_HUGEPAGE); /* where it is refused nothing is lost */
#endif
  return block;
}

static guint8 *
allocate (TsDecode *self, GError **error)
{
  guint8 *pixels = try_allocate (count_bytes (self));

  if (pixels == NULL)
    g_set_error (
      error, TS_ERROR, TS_ERROR_TOO_LARGE,
      _ ("%s: there is no memory for %u x %u pixels; close other pictures or scale it down"),
      self->source->what, self->width, self->height);
  return pixels;
}

/* ts_decode_begin:
 * Makes room for @width x @height pixels in the order of the file. */
gboolean
ts_decode_begin (TsDecode *self, guint width, guint height, TsPixelFormat format, guint orientation,
                 GError **error)
{
  self->width = width;
  self->height = height;
  self->format = format;
  lay_out (self, orientation);
  self->pixels = allocate (self, error);
  return self->pixels != NULL;
}

#define PLACE(size)                                                                                \
  for (guint i = 0; i < n; i++, out += step_out, in += step_in)                                    \
  memcpy (out, in, (size))

static void
place (guint8 *out, gssize step_out, const guint8 *in, gsize step_in, guint n, guint pixel)
{
  switch (pixel) /* a size the compiler knows makes the copy a move or two */
    {
    case 1:
      PLACE (1);
      break;
    case 2:
      PLACE (2);
      break;
    case 3:
      PLACE (3);
      break;
    case 4:
      PLACE (4);
      break;
    default:
      PLACE (6);
      break;
    }
}

/* ts_decode_put_row:
 * Puts a row, or every @step-th pixel of one, where it belongs in the upright picture. */
void
ts_decode_put_row (TsDecode *self, const guint8 *row, guint y, guint x, guint step, guint n)
{
  guint8 *out = self->pixels + self->origin + y * self->step_y + x * self->step_x;
  gssize step_out = step * self->step_x;
  guint pixel = ts_pixel_format_get_size (self->format);

  if (step_out == (gssize) pixel)
    memcpy (out, row, (gsize) n * pixel);
  else
    place (out, step_out, row, pixel, n, pixel);
}

/* ts_decode_find_row:
 * Where row @y lies as it is in the file, or %NULL where the picture is turned. */
guint8 *
ts_decode_find_row (TsDecode *self, guint y)
{
  if (self->step_x != (gssize) ts_pixel_format_get_size (self->format))
    return NULL;
  return self->pixels + self->origin + y * self->step_y;
}

/* ts_decode_put_rows:
 * Puts @n whole rows, packed. On a picture that lies on its side they become columns; writing a few
 * at a time spares the processor's cache. */
void
ts_decode_put_rows (TsDecode *self, const guint8 *rows, guint y, guint n)
{
  guint pixel = ts_pixel_format_get_size (self->format);
  gsize row_size = (gsize) self->width * pixel;
  guint8 *out = self->pixels + self->origin + y * self->step_y;

  if (swaps_sides (self->orientation))
    for (guint x = 0; x < self->width; x++)
      place (out + x * self->step_x, self->step_y, rows + x * pixel, row_size, n, pixel);
  else
    for (guint i = 0; i < n; i++)
      ts_decode_put_row (self, rows + i * row_size, y + i, 0, 1, self->width);
}

/* ts_decode_turn:
 * Needs the pixels twice for a moment. */
gboolean
ts_decode_turn (TsDecode *self, guint orientation, GError **error)
{
  g_autofree guint8 *flat = self->pixels;
  gsize row = (gsize) self->width * ts_pixel_format_get_size (self->format);

  g_assert (self->orientation == TS_EXIF_UPRIGHT);

  self->pixels = allocate (self, error);
  if (self->pixels == NULL)
    return FALSE;
  lay_out (self, orientation);
  for (guint y = 0; y < self->height; y += TURNED_ROWS)
    ts_decode_put_rows (self, flat + y * row, y, MIN (TURNED_ROWS, self->height - y));
  return TRUE;
}

static const char *
name_assumed (TsPixelFormat format)
{
  switch (format)
    {
    case TS_PIXEL_GREY8:
    case TS_PIXEL_GREY16:
      return _ ("sRGB's grey is assumed");
    case TS_PIXEL_CMYK8:
      return _ ("a plain ink model is assumed, so its colours are rough");
    default:
      return _ ("sRGB is assumed");
    }
}

/* ts_decode_take_profile:
 * @profile: (transfer full) (nullable): what the file says its numbers mean
 * @error: (nullable): why there is none */
void
ts_decode_take_profile (TsDecode *self, TsProfile *profile, const GError *error)
{
  if (profile == NULL)
    {
      ts_decode_add_note (self, _ ("%s. Until then %s."),
                          error != NULL
                            ? error->message
                            : _ ("The colour profile in the picture is damaged; save the "
                                 "picture with an sRGB profile"),
                          name_assumed (self->format));
      profile = ts_profile_new_assumed (self->format);
    }
  g_clear_pointer (&self->profile, ts_profile_unref);
  self->profile = profile;
}

/* ts_decode_take_icc:
 * @icc: (array length=n): an embedded profile */
void
ts_decode_take_icc (TsDecode *self, const void *icc, gsize n)
{
  g_autoptr (GBytes) bytes = g_bytes_new (icc, n);
  g_autoptr (GError) local_error = NULL;
  TsProfile *profile = ts_profile_new_from_icc (bytes, self->format, &local_error);

  ts_decode_take_profile (self, profile, local_error);
}

static gboolean
read_to_end (TsDecode *self, GError **error)
{
  do
    {
      self->source->available = 0;
      if (!ts_decode_advance (self, self->done, error) || !ts_source_fill (self->source, error))
        return FALSE;
    }
  while (self->source->available > 0);
  return TRUE;
}

static TsImage *
make_image (TsDecode *self)
{
  TsImage *image = g_atomic_rc_box_new0 (TsImage);
  gboolean swap = swaps_sides (self->orientation);
  gsize n = count_bytes (self);

  image->width = swap ? self->height : self->width;
  image->height = swap ? self->width : self->height;
  image->full_width = swap ? self->full_height : self->full_width;
  image->full_height = swap ? self->full_width : self->full_height;
  image->format = self->format;
  image->pixels = g_bytes_new_take (g_steal_pointer (&self->pixels), n);
  image->profile = g_steal_pointer (&self->profile);
  image->note = self->note->len > 0 ? g_strdup (self->note->str) : NULL;
  image->sha256 = ts_source_dup_sha256 (self->source);
  image->file_size = self->source->offset;
  return image;
}

static gboolean
decode (TsDecode *self, GError **error)
{
  TsDecodeFunc reader;

  if (!ts_decode_advance (self, 0.0, error) || !ts_source_fill (self->source, error))
    return FALSE;
  reader =
    ts_decode_recognise (self->source->next, self->source->available, self->source->what, error);
  if (reader == NULL || !reader (self, error) || (!self->preview && !read_to_end (self, error)))
    return FALSE;

  if (self->profile == NULL)
    {
      self->profile = ts_profile_new_assumed (self->format);
      ts_decode_add_note (self, _ ("No colour profile in the picture; %s."),
                          name_assumed (self->format));
    }
  if (self->progress != NULL)
    self->progress (1.0, self->progress_data);
  return TRUE;
}

/**
 * ts_decode:
 * @source: a file from its beginning
 * @max_pixels: how many pixels are enough; 0 wants them all
 * @preview: whether none are wanted where fewer are not read faster
 * @cancellable: (nullable): stops the run between rows
 * @progress: (nullable): told how far it is
 * @progress_data: for @progress
 * @error: return location for an error, or %NULL
 *
 * Recognises the format and reads the picture, upright, with the profile its colours need.
 *
 * Returns: (transfer full) (nullable): the picture, or %NULL with an error of %TS_ERROR or
 *   %G_IO_ERROR_CANCELLED set
 */
TsImage *
ts_decode (TsSource *source, guint64 max_pixels, gboolean preview, GCancellable *cancellable,
           TsProgressFunc progress, gpointer progress_data, GError **error)
{
  TsDecode self = { 0 };
  TsImage *image = NULL;

  self.source = source;
  self.max_pixels = max_pixels;
  self.preview = preview;
  self.cancellable = cancellable;
  self.progress = progress;
  self.progress_data = progress_data;
  self.note = g_string_new (NULL);

  if (decode (&self, error))
    image = make_image (&self);

  g_free (self.pixels);
  g_clear_pointer (&self.profile, ts_profile_unref);
  g_string_free (self.note, TRUE);
  return image;
}
