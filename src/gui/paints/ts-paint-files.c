/* ts-paint-files.c: paints read from files, and written to them
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/paints/ts-paint-files.h"

#include <glib/gi18n.h>
#include <string.h>

#include "base/ts-cgats.h"
#include "base/ts-file.h"
#include "document/ts-document-paints.h"
#include "paint/ts-paint-cgats.h"
#include "gui/widgets/ts-file-dialogs.h"
#include "gui/card/ts-print.h"

#define MAX_BYTES (16u << 20)

static void
tell (TsDocument *document, const char *text)
{
  g_signal_emit_by_name (document, "message", text, NULL, NULL);
}

static char *
dup_set_name (const char *path)
{
  char *name = g_filename_display_basename (path), *dot = strrchr (name, '.');

  if (dot != NULL && dot != name)
    *dot = '\0';
  return name;
}

/* @set (nullable) and the paints of a file behind its own. */
static TsPaintSet *
read_into (const TsPaintSet *set, const char *path, GError **error)
{
  g_autofree char *what = g_filename_display_basename (path);
  g_autofree char *table = NULL;
  g_autoptr (GBytes) bytes = ts_file_read (path, MAX_BYTES, error);
  gsize length;
  const char *text;

  if (bytes == NULL)
    return NULL;
  text = g_bytes_get_data (bytes, &length);
  if (ts_cgats_looks_like (text, (gssize) length))
    {
      table = ts_paint_cgats_to_csv (text, (gssize) length, what, error);
      return table != NULL ? ts_paint_set_with_rows (set, table, -1, what, error) : NULL;
    }
  return ts_paint_set_with_rows (set, text, (gssize) length, what, error);
}

static void
import_path (const char *path, gpointer user_data)
{
  TsDocument *document = TS_DOCUMENT (user_data);
  TsPaintSet *old = ts_document_get_paints (document);
  guint n = old != NULL ? ts_paint_set_get_n_paints (old) : 0;
  g_autoptr (GError) error = NULL;
  g_autoptr (TsPaintSet) paints = read_into (old, path, &error);
  g_autofree char *text = NULL, *name = NULL;

  if (paints == NULL)
    {
      tell (document, error->message);
      return;
    }
  n = ts_paint_set_get_n_paints (paints) - n;
  name = old != NULL ? g_strdup (ts_document_get_paints_name (document)) : dup_set_name (path);
  text = g_strdup_printf (ngettext ("%u paint is added.", "%u paints are added.", n), n);
  ts_document_take_paints (document, paints, name, _ ("Read Paints"));
  g_signal_emit_by_name (document, "message", text, "win.undo", _ ("Undo"));
}

/**
 * ts_paint_files_import:
 * @widget: a widget of the window
 * @document: the document
 *
 * Adds the paints of a file to those that are there. A name that is there already refuses the file.
 */
void
ts_paint_files_import (GtkWidget *widget, TsDocument *document)
{
  ts_file_dialog_open (GTK_WINDOW (gtk_widget_get_root (widget)), _ ("Read Paints"),
                       TS_FILES_PAINTS, import_path, G_OBJECT (document));
}

static void
save_cgats_path (const char *path, gpointer user_data)
{
  TsDocument *document = TS_DOCUMENT (user_data);
  g_autofree char *name = g_filename_display_basename (path);
  g_autofree char *cgats = ts_paint_set_to_cgats (ts_document_get_paints (document));
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;

  if (ts_file_save (path, cgats, strlen (cgats), TS_FILE_SAVE_PLAIN, &error))
    text = g_strdup_printf (_ ("The paints are written as %s."), name);
  tell (document, text != NULL ? text : error->message);
}

static void
save_path (const char *path, gpointer user_data)
{
  TsDocument *document = TS_DOCUMENT (user_data);
  g_autofree char *name = g_filename_display_basename (path);
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;

  if (ts_document_save_paints (document, path, &error))
    text = g_strdup_printf (_ ("The paints are saved as %s. New plans start with them."), name);
  tell (document, text != NULL ? text : error->message);
}

static void
ask_where (GtkWidget *widget, TsDocument *document, const char *title, const char *suffix,
           TsFileFunc func)
{
  const char *set = ts_document_get_paints_name (document);
  g_autofree char *name = g_strconcat (set != NULL ? set : _ ("Paints"), suffix, NULL);

  g_strdelimit (name, "/", '-');
  ts_file_dialog_save (GTK_WINDOW (gtk_widget_get_root (widget)), title, TS_FILES_PAINTS, name,
                       func, G_OBJECT (document));
}

/**
 * ts_paint_files_save:
 * @widget: a widget of the window
 * @document: the document, with paints
 *
 * Writes the paints as a table (CSV), which holds all that is known of them.
 */
void
ts_paint_files_save (GtkWidget *widget, TsDocument *document)
{
  ask_where (widget, document, _ ("Save the Paints"), ".csv", save_path);
}

/**
 * ts_paint_files_save_cgats:
 * @widget: a widget of the window
 * @document: the document, with paints
 *
 * Writes their spectra and colours as CGATS text (ISO 28178), for other programs.
 */
void
ts_paint_files_save_cgats (GtkWidget *widget, TsDocument *document)
{
  ask_where (widget, document, _ ("Save the Paints as CGATS Text"), ".txt", save_cgats_path);
}

static void
save_sheet_path (const char *path, gpointer user_data)
{
  TsDocument *document = TS_DOCUMENT (user_data);
  g_autofree char *name = g_filename_display_basename (path);
  g_autoptr (TsSheetTemplate) sheet = ts_print_new_sheet (document);
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;

  if (ts_sheet_template_save (sheet, path, &error))
    text = g_strdup_printf (_ ("%s is written. Print it at 100 %% on matt white card."), name);
  tell (document, text != NULL ? text : error->message);
}

/**
 * ts_paint_files_save_sheet:
 * @widget: a widget of the window
 * @document: the document
 *
 * Writes a sheet to paint swatches on as PDF, SVG or PNG.
 */
void
ts_paint_files_save_sheet (GtkWidget *widget, TsDocument *document)
{
  ts_file_dialog_save (GTK_WINDOW (gtk_widget_get_root (widget)), _ ("Save a Sheet for Swatches"),
                       TS_FILES_PAGES, _ ("swatch-sheet.pdf"), save_sheet_path,
                       G_OBJECT (document));
}

/**
 * ts_paint_files_print_sheet:
 * @widget: a widget of the window
 * @document: the document
 *
 * Prints a sheet to paint swatches on.
 */
void
ts_paint_files_print_sheet (GtkWidget *widget, TsDocument *document)
{
  g_autoptr (GError) error = NULL;

  if (!ts_print_sheet (GTK_WINDOW (gtk_widget_get_root (widget)), document, &error) &&
      error != NULL)
    tell (document, error->message);
}
