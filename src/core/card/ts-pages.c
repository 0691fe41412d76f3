/* ts-pages.c: drawn pages saved as PDF, SVG or PNG
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <math.h>
#include <string.h>

#include "base/ts-error.h"

#include <glib/gi18n.h>

#include "base/ts-file.h"
#include "card/ts-pages.h"

#define PNG_SCALE (150.0 / 72.0) /* pixels a point */

static cairo_status_t
collect (void *closure, const unsigned char *data, unsigned int length)
{
  g_byte_array_append (closure, data, length);
  return CAIRO_STATUS_SUCCESS;
}

static gboolean
check_status (cairo_status_t status, const char *path, GError **error)
{
  if (status == CAIRO_STATUS_SUCCESS)
    return TRUE;
  g_set_error (error, TS_ERROR, TS_ERROR_IO, _ ("%s cannot be drawn: %s."), path,
               cairo_status_to_string (status));
  return FALSE;
}

static cairo_status_t
finish (cairo_surface_t *surface)
{
  cairo_status_t status;

  cairo_surface_finish (surface);
  status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);
  return status;
}

static gboolean
draw_pdf (const TsPages *self, GByteArray *bytes, const char *path, GError **error)
{
  cairo_surface_t *surface =
    cairo_pdf_surface_create_for_stream (collect, bytes, self->width, self->height);

  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_TITLE, self->title);
  for (guint i = 0; i < self->n_pages; i++)
    {
      cairo_t *cr = cairo_create (surface);

      self->draw (self->self, i, cr);
      cairo_show_page (cr);
      cairo_destroy (cr);
    }
  return check_status (finish (surface), path, error);
}

static gboolean
draw_svg (const TsPages *self, guint page, GByteArray *bytes, const char *path, GError **error)
{
  cairo_surface_t *surface =
    cairo_svg_surface_create_for_stream (collect, bytes, self->width, self->height);
  cairo_t *cr = cairo_create (surface);

  cairo_svg_surface_set_document_unit (surface, CAIRO_SVG_UNIT_PT);
  self->draw (self->self, page, cr);
  cairo_destroy (cr);
  return check_status (finish (surface), path, error);
}

static gboolean
draw_png (const TsPages *self, guint page, GByteArray *bytes, const char *path, GError **error)
{
  cairo_surface_t *surface =
    cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int) ceil (self->width * PNG_SCALE),
                                (int) ceil (self->height * PNG_SCALE));
  cairo_t *cr = cairo_create (surface);
  cairo_status_t status;

  cairo_scale (cr, PNG_SCALE, PNG_SCALE);
  self->draw (self->self, page, cr);
  cairo_destroy (cr);
  status = cairo_surface_write_to_png_stream (surface, collect, bytes);
  cairo_surface_destroy (surface);
  return check_status (status, path, error);
}

/* NAME.png for the first page, NAME-2.png ... for the others. */
static char *
page_path (const char *path, guint page)
{
  const char *dot = strrchr (path, '.');

  if (page == 0)
    return g_strdup (path);
  return g_strdup_printf ("%.*s-%u%s", (int) (dot - path), path, page + 1, dot);
}

static void
unref_bytes (gpointer bytes)
{
  g_byte_array_unref (bytes);
}

typedef gboolean (*DrawPage) (const TsPages *self, guint page, GByteArray *bytes, const char *path,
                              GError **error);

static gboolean
save_pages (const TsPages *self, const char *path, DrawPage draw, GError **error)
{
  g_autoptr (GPtrArray) pages = g_ptr_array_new_with_free_func (unref_bytes);

  /* All are drawn before the first is saved. */
  for (guint i = 0; i < self->n_pages; i++)
    {
      GByteArray *bytes = g_byte_array_new ();

      g_ptr_array_add (pages, bytes);
      if (!draw (self, i, bytes, path, error))
        return FALSE;
    }
  for (guint i = 0; i < self->n_pages; i++)
    {
      const GByteArray *bytes = g_ptr_array_index (pages, i);
      g_autofree char *name = page_path (path, i);

      if (!ts_file_save (name, bytes->data, bytes->len, TS_FILE_SAVE_PLAIN, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
save_pdf (const TsPages *self, const char *path, GError **error)
{
  g_autoptr (GByteArray) bytes = g_byte_array_new ();

  return draw_pdf (self, bytes, path, error) &&
         ts_file_save (path, bytes->data, bytes->len, TS_FILE_SAVE_PLAIN, error);
}

/**
 * ts_pages_save:
 * @self: the pages
 * @path: its ending chooses the format: .pdf, .svg or .png
 * @others: further endings that the caller knows, such as ", .csv", for the message
 * @error: return location for an error, or %NULL
 *
 * SVG and PNG hold one page: the others are saved beside as NAME-2 and so on.
 *
 * Returns: %FALSE with a #TsError; a file that was there is then as it was
 */
gboolean
ts_pages_save (const TsPages *self, const char *path, const char *others, GError **error)
{
  g_autofree char *lower = g_ascii_strdown (path, -1);

  if (g_str_has_suffix (lower, ".pdf"))
    return save_pdf (self, path, error);
  if (g_str_has_suffix (lower, ".svg"))
    return save_pages (self, path, draw_svg, error);
  if (g_str_has_suffix (lower, ".png"))
    return save_pages (self, path, draw_png, error);
  g_set_error (error, TS_ERROR, TS_ERROR_UNSUPPORTED,
               _ ("%s: it is saved as .pdf, .svg, .png%s. Choose one of these endings."), path,
               others);
  return FALSE;
}
