/* ts-decode-jpeg.c: pictures in JPEG (ITU-T T.81), through libjpeg-turbo
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "image/ts-decode-private.h"

#include <glib/gi18n.h>
#include <setjmp.h>
#include <stdio.h>
#include <string.h>

#include <jpeglib.h>
#include <jerror.h>

#include "base/ts-error.h"
#include "image/ts-exif-private.h"
#include "image/ts-jpeg-means-private.h"
#include "image/ts-jpeg-store-private.h"

/* A progressive picture needs about ten scans; 190 where each coefficient has its own. A hostile
 * one repeats tiny scans to cost hours. */
#define MAX_SCANS 200
/* Huffman coding spends a bit or more on every block of 8 x 8. */
#define PIXELS_A_BYTE (64 * 8)
#define EXIF_MARKER (JPEG_APP0 + 1)
#define ICC_MARKER (JPEG_APP0 + 2)
#define EXIF_HEADER_SIZE 6
/* Share of the work that goes into the scans of a progressive picture, before its first row. */
#define SCANS_SHARE 0.6
/* Rows decoded at a time: so many pixels in a row where a picture on its side is turned. */
#define ROWS 16
/* Of MCUs, before the one that is shown, whose coefficients are still looked at */
#define KEPT_ROWS 4
/* A first view at 1/8 of a picture with fewer pixels would be too coarse. */
#define LEAST_MEANS 150000

typedef struct
{
  struct jpeg_decompress_struct cinfo;
  struct jpeg_error_mgr errors;
  struct jpeg_source_mgr input;
  jmp_buf jump;

  TsDecode *decode; /* borrowed */
  GError *error;
  TsJpegMeans *means; /* where they are enough for a preview */
  guint8 *rows;       /* %ROWS of them, where they are not decoded in their place */
  TsJpegStore *store; /* of the coefficients of a picture in several scans */

  gboolean ended;     /* the file was used up before its end marker */
  gboolean cut_short; /* and data were wanted from beyond its end */
  gboolean profile_refused;
  guint n_damages;
  guint damage_row;
} Reader;

static void G_GNUC_NORETURN
leave (Reader *self)
{
  longjmp (self->jump, 1);
}

static void
set_cut_short (Reader *self)
{
  const char *what = self->decode->source->what;

  if (self->cinfo.output_height == 0)
    g_set_error (&self->error, TS_ERROR, TS_ERROR_FORMAT,
                 _ ("%s: the JPEG file ends within its header; copy it again"), what);
  else
    g_set_error (&self->error, TS_ERROR, TS_ERROR_FORMAT,
                 _ ("%s: the JPEG file ends early, after about row %u of %u; copy it again"), what,
                 (guint) self->cinfo.output_scanline, (guint) self->cinfo.output_height);
}

static void
set_damaged (Reader *self)
{
  const char *what = self->decode->source->what;
  char text[JMSG_LENGTH_MAX];

  self->errors.format_message ((j_common_ptr) &self->cinfo, text);
  switch (self->errors.msg_code)
    {
    case JERR_BAD_PRECISION:
      g_set_error (
        &self->error, TS_ERROR, TS_ERROR_UNSUPPORTED,
        _ ("%s: is a JPEG with %d bits a sample, and 8 are read; save it as 8-bit JPEG or "
           "16-bit PNG"),
        what, self->cinfo.data_precision);
      break;
    case JERR_SOF_UNSUPPORTED:
      g_set_error (&self->error, TS_ERROR, TS_ERROR_UNSUPPORTED,
                   _ ("%s: is a lossless or hierarchical JPEG, which is not read; save it as plain "
                      "JPEG or PNG"),
                   what);
      break;
    case JERR_OUT_OF_MEMORY:
      g_set_error (&self->error, TS_ERROR, TS_ERROR_TOO_LARGE,
                   _ ("%s: there is no memory for the picture; close others or scale it down"),
                   what);
      break;
    default:
      g_set_error (&self->error, TS_ERROR, TS_ERROR_FORMAT,
                   _ ("%s: the JPEG data are damaged (%s); export or copy the picture again"), what,
                   text);
      break;
    }
}

static void
on_error (j_common_ptr cinfo)
{
  Reader *self = cinfo->client_data;

  if (self->error == NULL)
    {
      if (self->ended)
        set_cut_short (self);
      else
        set_damaged (self);
    }
  leave (self);
}

static void
on_message (j_common_ptr cinfo, int level)
{
  Reader *self = cinfo->client_data;

  if (level >= 0)
    return;
  switch (cinfo->err->msg_code)
    {
    case JWRN_BOGUS_ICC:
      self->profile_refused = TRUE;
      break;
    case JWRN_ADOBE_XFORM:
    case JWRN_JFIF_MAJOR:
    case JWRN_TOO_MUCH_DATA:
      break; /* nothing is lost */
    default:
      if (self->ended)
        self->cut_short = TRUE;
      else if (self->n_damages++ == 0)
        self->damage_row = self->cinfo.output_scanline;
      break;
    }
}

static void
on_output (j_common_ptr cinfo)
{
}

static void
on_source (j_decompress_ptr cinfo)
{
}

static boolean
fill_input (j_decompress_ptr cinfo)
{
  static const JOCTET end_marker[] = { 0xff, JPEG_EOI };
  Reader *self = cinfo->client_data;
  TsSource *source = self->decode->source;

  if (source->available == 0 && !ts_source_fill (source, &self->error))
    leave (self);

  if (source->available > 0)
    {
      self->input.next_input_byte = source->next;
      self->input.bytes_in_buffer = source->available;
      source->available = 0;
    }
  else
    {
      self->ended = TRUE;
      self->input.next_input_byte = end_marker;
      self->input.bytes_in_buffer = sizeof end_marker;
    }
  return TRUE;
}

static void
skip_input (j_decompress_ptr cinfo, long n)
{
  Reader *self = cinfo->client_data;

  while (n > (long) self->input.bytes_in_buffer && !self->ended)
    {
      n -= (long) self->input.bytes_in_buffer;
      fill_input (cinfo);
    }
  n = MIN (n, (long) self->input.bytes_in_buffer);
  if (self->ended || n <= 0)
    return; /* the end marker stays */
  self->input.next_input_byte += n;
  self->input.bytes_in_buffer -= (size_t) n;
}

static void
set_up (Reader *self)
{
  struct jpeg_decompress_struct *cinfo = &self->cinfo;

  jpeg_create_decompress (cinfo);
  self->input.init_source = on_source;
  self->input.fill_input_buffer = fill_input;
  self->input.skip_input_data = skip_input;
  self->input.resync_to_restart = jpeg_resync_to_restart;
  self->input.term_source = on_source;
  cinfo->src = &self->input;
  jpeg_save_markers (cinfo, EXIF_MARKER, 0xffff);
  jpeg_save_markers (cinfo, ICC_MARKER, 0xffff);
}

static gboolean
choose_format (Reader *self, TsPixelFormat *format)
{
  struct jpeg_decompress_struct *cinfo = &self->cinfo;

  switch (cinfo->jpeg_color_space)
    {
    case JCS_GRAYSCALE:
      cinfo->out_color_space = JCS_GRAYSCALE;
      *format = TS_PIXEL_GREY8;
      return TRUE;
    case JCS_YCbCr:
    case JCS_RGB:
      cinfo->out_color_space = JCS_RGB;
      *format = TS_PIXEL_RGB8;
      return TRUE;
    case JCS_CMYK:
    case JCS_YCCK:
      cinfo->out_color_space = JCS_CMYK;
      *format = TS_PIXEL_CMYK8;
      return TRUE;
    default:
      g_set_error (&self->error, TS_ERROR, TS_ERROR_UNSUPPORTED,
                   _ ("%s: is a JPEG with %d channels of unknown meaning; save it as RGB"),
                   self->decode->source->what, cinfo->num_components);
      return FALSE;
    }
}

/* Scaling in the inverse DCT leaves out the work for what is not kept. */
static void
choose_scale (Reader *self)
{
  struct jpeg_decompress_struct *cinfo = &self->cinfo;

  cinfo->scale_num = 1;
  for (cinfo->scale_denom = 1; cinfo->scale_denom <= 8; cinfo->scale_denom *= 2)
    {
      jpeg_calc_output_dimensions (cinfo);
      if (self->decode->max_pixels == 0 ||
          (guint64) cinfo->output_width * cinfo->output_height <= self->decode->max_pixels ||
          cinfo->scale_denom == 8)
        break;
    }
}

/* A preview is wanted at once rather than fine. */
static void
choose_means (Reader *self)
{
  struct jpeg_decompress_struct *cinfo = &self->cinfo;

  if ((guint64) cinfo->image_width * cinfo->image_height < LEAST_MEANS * DCTSIZE2)
    return;
  self->means = ts_jpeg_means_new (cinfo);
  if (self->means == NULL)
    return;
  cinfo->scale_denom = DCTSIZE;
  jpeg_calc_output_dimensions (cinfo);
}

static guint
find_orientation (const struct jpeg_decompress_struct *cinfo)
{
  for (jpeg_saved_marker_ptr m = cinfo->marker_list; m != NULL; m = m->next)
    if (m->marker == EXIF_MARKER && m->data_length > EXIF_HEADER_SIZE &&
        memcmp (m->data, "Exif\0", EXIF_HEADER_SIZE - 1) == 0)
      return ts_exif_get_orientation (m->data + EXIF_HEADER_SIZE,
                                      m->data_length - EXIF_HEADER_SIZE);
  return TS_EXIF_UPRIGHT;
}

static void
take_profile (Reader *self)
{
  JOCTET *icc = NULL;
  unsigned int n = 0;

  if (jpeg_read_icc_profile (&self->cinfo, &icc, &n))
    {
      ts_decode_take_icc (self->decode, icc, n);
      free (icc); /* it comes from malloc () */
    }
  else if (self->profile_refused)
    ts_decode_take_profile (self->decode, NULL, NULL);
}

static gboolean
read_header (Reader *self)
{
  struct jpeg_decompress_struct *cinfo = &self->cinfo;
  TsPixelFormat format;

  set_up (self);
  jpeg_read_header (cinfo, TRUE);
  /* Arithmetic coding has no least size. */
  if (!ts_decode_check_size (self->decode, cinfo->image_width, cinfo->image_height,
                             cinfo->arith_code ? G_MAXDOUBLE : PIXELS_A_BYTE, &self->error) ||
      !choose_format (self, &format))
    return FALSE;

  choose_scale (self);
  /* Several scans need their coefficients, all of them and once more. */
  if (self->decode->preview && (cinfo->scale_denom == 1 || jpeg_has_multiple_scans (cinfo)))
    return ts_decode_refuse_preview (self->decode, &self->error);
  if (self->decode->preview)
    choose_means (self);
  return ts_decode_begin (self->decode, cinfo->output_width, cinfo->output_height, format,
                          find_orientation (cinfo), &self->error);
}

static jvirt_barray_ptr
request_blocks (j_common_ptr cinfo, int pool, boolean zeroed, JDIMENSION width, JDIMENSION height,
                JDIMENSION most_rows)
{
  Reader *self = cinfo->client_data;
  jvirt_barray_ptr array = ts_jpeg_store_request (self->store, width, height, most_rows);

  if (array == NULL)
    ERREXIT1 (cinfo, JERR_OUT_OF_MEMORY, 0);
  return array;
}

static JBLOCKARRAY
access_blocks (j_common_ptr cinfo, jvirt_barray_ptr array, JDIMENSION first, JDIMENSION n,
               boolean writable)
{
  JBLOCKARRAY rows = ts_jpeg_store_access (array, first, n, writable);

  if (rows == NULL)
    ERREXIT (cinfo, JERR_BAD_VIRTUAL_ACCESS);
  return rows;
}

/* Where several scans make the picture all of them are read before its first row. Each call takes a
 * row of MCUs, so that a stop is heard at once. */
static gboolean
read_scans (Reader *self)
{
  struct jpeg_decompress_struct *cinfo = &self->cinfo;
  TsSource *source = self->decode->source;

  self->store = ts_jpeg_store_new ();
  cinfo->mem->request_virt_barray = request_blocks;
  cinfo->mem->access_virt_barray = access_blocks;
  cinfo->buffered_image = TRUE;
  jpeg_start_decompress (cinfo);
  while (jpeg_consume_input (cinfo) != JPEG_REACHED_EOI)
    {
      double read = (double) source->offset / (double) MAX (source->size, 1);

      if (cinfo->input_scan_number > MAX_SCANS)
        {
          g_set_error (&self->error, TS_ERROR, TS_ERROR_FORMAT,
                       _ ("%s: the JPEG file has more than %d scans, as only a damaged one has; "
                          "export the picture again"),
                       source->what, MAX_SCANS);
          return FALSE;
        }
      if (!ts_decode_advance (self->decode, SCANS_SHARE * MIN (read, 1.0), &self->error))
        return FALSE;
    }
  jpeg_start_output (cinfo, cinfo->input_scan_number);
  return TRUE;
}

/* Coefficients of rows that are done are not looked at again; their memory goes back as that of the
 * pixels is taken. Smoothing looks at two rows of MCUs before its own. */
static void
release_coefficients (Reader *self, guint n_rows)
{
  struct jpeg_decompress_struct *cinfo = &self->cinfo;
  guint done = n_rows / (guint) (cinfo->max_v_samp_factor * cinfo->min_DCT_scaled_size);

  if (self->store == NULL || done <= KEPT_ROWS)
    return;
  for (int i = 0; i < cinfo->num_components; i++)
    ts_jpeg_store_release (self->store, (guint) i,
                           (done - KEPT_ROWS) * (guint) cinfo->comp_info[i].v_samp_factor);
}

/* Files that carry Adobe's marker hold 255 for no ink, others 0 (libjpeg.txt, "Special color
 * spaces"). */
static void
set_ink_upright (Reader *self, guint8 *samples, gsize n)
{
  if (self->cinfo.out_color_space == JCS_CMYK && self->cinfo.saw_Adobe_marker)
    for (gsize i = 0; i < n; i++)
      samples[i] = (guint8) (255 - samples[i]);
}

/* Up to %ROWS of them from @y on, where they belong; returns how many. Those that lie in the file
 * as in the picture are decoded in their place. */
static guint
read_some_rows (Reader *self, guint y, gsize row_size)
{
  struct jpeg_decompress_struct *cinfo = &self->cinfo;
  guint wanted = MIN (ROWS, cinfo->output_height - y), n = 0;
  guint8 *rows[ROWS];

  for (guint i = 0; i < wanted; i++)
    {
      guint8 *place = ts_decode_find_row (self->decode, y + i);

      rows[i] = place != NULL ? place : self->rows + i * row_size;
    }
  while (n < wanted && !self->cut_short)
    n += jpeg_read_scanlines (cinfo, rows + n, wanted - n);
  for (guint i = 0; i < n; i++)
    set_ink_upright (self, rows[i], row_size);
  if (rows[0] == self->rows)
    ts_decode_put_rows (self->decode, self->rows, y, n);
  return n;
}

static gboolean
read_rows (Reader *self)
{
  struct jpeg_decompress_struct *cinfo = &self->cinfo;
  gsize row_size = (gsize) cinfo->output_width * (gsize) cinfo->output_components;
  double begun = self->store != NULL ? SCANS_SHARE : 0.0;

  if (ts_decode_find_row (self->decode, 0) == NULL)
    self->rows = g_malloc (row_size * ROWS);
  for (guint y = 0; y < cinfo->output_height;)
    {
      if (!ts_decode_advance (self->decode, begun + (1.0 - begun) * y / cinfo->output_height,
                              &self->error))
        return FALSE;
      y += read_some_rows (self, y, row_size);
      if (self->cut_short)
        {
          set_cut_short (self);
          return FALSE;
        }
      release_coefficients (self, y);
    }
  return TRUE;
}

/* Damage is left to the one who reads the whole picture. */
static gboolean
read_means (Reader *self)
{
  guint n = ts_jpeg_means_get_steps (self->means);

  for (guint i = 0; i < n; i++)
    {
      if (!ts_decode_advance (self->decode, (double) i / n, &self->error))
        return FALSE;
      if (!ts_jpeg_means_read (self->means))
        return ts_decode_refuse_preview (self->decode, &self->error);
    }
  self->rows =
    g_malloc ((gsize) self->decode->width * ts_pixel_format_get_size (self->decode->format));
  for (guint y = 0; y < self->decode->height; y++)
    {
      ts_jpeg_means_get_row (self->means, y, self->rows);
      ts_decode_put_rows (self->decode, self->rows, y, 1);
    }
  take_profile (self);
  return TRUE;
}

/* Whether every component came, and where the file ends early, every bit of it. A file that only
 * lacks its end marker is whole. */
static gboolean
is_whole (Reader *self)
{
  struct jpeg_decompress_struct *cinfo = &self->cinfo;

  if (self->ended && cinfo->arith_code)
    return FALSE; /* its decoder reads nothing as zeros, without a word */
  for (int i = 0; i < cinfo->num_components; i++)
    {
      if (cinfo->comp_info[i].quant_table == NULL)
        return FALSE;
      for (int k = 0; self->ended && cinfo->progressive_mode && k < DCTSIZE2; k++)
        if (cinfo->coef_bits[i][k] != 0)
          return FALSE;
    }
  return TRUE;
}

static gboolean
read_picture (Reader *self)
{
  if (self->means != NULL)
    return read_means (self);
  if (jpeg_has_multiple_scans (&self->cinfo))
    {
      if (!read_scans (self))
        return FALSE;
    }
  else
    jpeg_start_decompress (&self->cinfo);
  if (!read_rows (self))
    return FALSE;
  if (!is_whole (self))
    {
      g_set_error (&self->error, TS_ERROR, TS_ERROR_FORMAT,
                   _ ("%s: the JPEG file ends before the picture is complete; copy it again"),
                   self->decode->source->what);
      return FALSE;
    }
  take_profile (self);
  return TRUE;
}

/* libjpeg leaves by longjmp (), so whatever @part owns stands in @self. */
static gboolean
guarded (Reader *self, gboolean (*part) (Reader *self))
{
  if (setjmp (self->jump) != 0)
    return FALSE;
  return part (self);
}

static void
note_damage (const Reader *self)
{
  if (self->n_damages == 0)
    return;
  if (self->cinfo.progressive_mode)
    ts_decode_add_note (
      self->decode, _ ("The JPEG data are damaged and colours may be wrong; get the file again."));
  else
    ts_decode_add_note (self->decode,
                        _ ("The JPEG data are damaged, and from about row %u of %u of the file on "
                           "colours may be wrong; get the file again."),
                        self->damage_row, (guint) self->cinfo.output_height);
}

/**
 * ts_decode_jpeg:
 * @decode: a run whose source stands at the beginning of a JPEG file
 * @error: return location for an error, or %NULL
 *
 * Reads grey, YCbCr, RGB, CMYK and YCCK of 8 bits, sequential or progressive. With a limit on the
 * pixels it is read at 1/2, 1/4 or 1/8 of its size, whichever is the largest within the limit, or
 * 1/8. Damage that leaves a picture becomes a note; a file that ends early is refused, since what
 * is missing would be measured as grey. A progressive picture needs its coefficients beside its
 * pixels while it is read: about a byte for each sample.
 *
 * Returns: %TRUE, or %FALSE with %TS_ERROR_FORMAT, _UNSUPPORTED, _TOO_LARGE, _IO or
 *   %G_IO_ERROR_CANCELLED set
 */
gboolean
ts_decode_jpeg (TsDecode *decode, GError **error)
{
  g_autofree Reader *self = g_new0 (Reader, 1);
  gboolean done;

  self->decode = decode;
  self->cinfo.err = jpeg_std_error (&self->errors);
  self->cinfo.client_data = self;
  self->errors.error_exit = on_error;
  self->errors.emit_message = on_message;
  self->errors.output_message = on_output;

  done = guarded (self, read_header) && guarded (self, read_picture);
  if (done)
    note_damage (self);
  jpeg_destroy_decompress (&self->cinfo);
  g_free (self->rows);
  g_clear_pointer (&self->means, ts_jpeg_means_free);
  g_clear_pointer (&self->store, ts_jpeg_store_free);
  if (!done)
    g_propagate_error (error, g_steal_pointer (&self->error));
  g_assert (self->error == NULL);
  return done;
}
