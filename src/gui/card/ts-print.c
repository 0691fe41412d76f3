/* ts-print.c: the mixing card and the swatch sheet of a document, on paper
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/card/ts-print.h"

#include <glib/gi18n.h>
#include <gtk/gtkunixprint.h>

#include "gui/card/ts-card-job.h"

/**
 * ts_print_new_brief_card:
 * @document: a document with a plan
 *
 * Returns: (transfer full): the client's card as it is now
 */
TsBriefCard *
ts_print_new_brief_card (TsDocument *document)
{
  g_autoptr (GArray) results = ts_document_get_brief_results (document);
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  g_autofree char *date = g_date_time_format (now, _ ("%-d %B %Y"));

  return ts_brief_card_new (results, ts_document_get_plan (document)->title, date,
                            ts_card_job_get_paper ());
}

/**
 * ts_print_new_sheet:
 * @document: the document
 *
 * Returns: (transfer full): a sheet to paint swatches on, a box for each of the paints; without
 *   paints one with lines to write names on
 */
TsSheetTemplate *
ts_print_new_sheet (TsDocument *document)
{
  TsPaintSet *paints = ts_document_get_paints (document);
  const char *const nobody[] = { NULL };
  g_auto (GStrv) names = paints != NULL ? ts_sheet_template_dup_names (paints) : NULL;

  return ts_sheet_template_new (names != NULL ? (const char *const *) names : nobody, NULL,
                                ts_card_job_get_paper ());
}

/* Puts a page of that many points on the paper. */
static cairo_t *
fit_to_paper (GtkPrintContext *context, double width, double height)
{
  cairo_t *cr = gtk_print_context_get_cairo_context (context);
  double scale = MIN (gtk_print_context_get_width (context) / width,
                      gtk_print_context_get_height (context) / height);

  cairo_scale (cr, scale, scale);
  return cr;
}

static void
on_draw_card (GtkPrintOperation *operation, GtkPrintContext *context, int page, TsCard *card)
{
  double width, height;

  ts_card_get_size (card, &width, &height);
  ts_card_draw (card, (guint) page, fit_to_paper (context, width, height));
}

static void
on_draw_sheet (GtkPrintOperation *operation, GtkPrintContext *context, int page,
               TsSheetTemplate *sheet)
{
  double width, height;

  ts_sheet_template_get_size (sheet, &width, &height);
  ts_sheet_template_draw (sheet, (guint) page, fit_to_paper (context, width, height));
}

static gboolean
pass_by (GtkPrinter *printer, gpointer user_data)
{
  return FALSE;
}

/**
 * ts_print_prepare:
 *
 * Has what knows the printers loaded while nobody waits: it takes some 15 ms, which the print
 * dialog would add to its own. Once is enough.
 */
void
ts_print_prepare (void)
{
  static gsize once;

  if (!g_once_init_enter (&once))
    return;
  gtk_enumerate_printers (pass_by, NULL, NULL, FALSE);
  g_once_init_leave (&once, 1);
}

static char *
dup_printer_path (void)
{
  return g_build_filename (g_get_user_state_dir (), "tonestair", "printer", NULL);
}

/* The printer that was taken last time is chosen already. */
static void
recall_printer (GtkPrintOperation *operation, const char *job)
{
  g_autofree char *path = dup_printer_path (), *name = NULL;
  g_autoptr (GtkPrintSettings) settings = gtk_print_settings_new ();

  if (g_file_get_contents (path, &name, NULL, NULL))
    gtk_print_settings_set_printer (settings, name);
  /* What a file would be called that it is printed to. */
  gtk_print_settings_set (settings, GTK_PRINT_SETTINGS_OUTPUT_BASENAME, job);
  gtk_print_operation_set_print_settings (operation, settings);
}

/* Where that cannot be kept, the next time asks as the first did. */
static void
keep_printer (GtkPrintOperation *operation)
{
  GtkPrintSettings *settings = gtk_print_operation_get_print_settings (operation);
  const char *name = settings != NULL ? gtk_print_settings_get_printer (settings) : NULL;
  g_autofree char *path = dup_printer_path (), *folder = g_path_get_dirname (path);

  if (name != NULL && g_mkdir_with_parents (folder, 0700) == 0)
    g_file_set_contents (path, name, -1, NULL);
}

static gboolean
print_pages (GtkWindow *parent, const char *name, guint n_pages, GCallback draw_page,
             gpointer user_data, GError **error)
{
  g_autoptr (GtkPrintOperation) operation = gtk_print_operation_new ();
  GtkPrintOperationResult result;

  gtk_print_operation_set_n_pages (operation, (int) n_pages);
  gtk_print_operation_set_job_name (operation, name);
  gtk_print_operation_set_use_full_page (operation, TRUE);
  g_signal_connect (operation, "draw-page", draw_page, user_data);
  recall_printer (operation, name);
  result =
    gtk_print_operation_run (operation, GTK_PRINT_OPERATION_ACTION_PRINT_DIALOG, parent, error);
  if (result != GTK_PRINT_OPERATION_RESULT_APPLY &&
      result != GTK_PRINT_OPERATION_RESULT_IN_PROGRESS)
    return FALSE;
  keep_printer (operation);
  return TRUE;
}

/**
 * ts_print_card:
 * @parent: the window
 * @card: the card
 * @error: a #GtkPrintError
 *
 * Asks for a printer and prints the mixing card.
 *
 * Returns: whether it was printed; %FALSE without @error where the painter gave up
 */
gboolean
ts_print_card (GtkWindow *parent, TsCard *card, GError **error)
{
  return print_pages (parent, _ ("Mixing card"), ts_card_get_n_pages (card),
                      G_CALLBACK (on_draw_card), card, error);
}

/**
 * ts_print_sheet:
 * @parent: the window
 * @document: the document
 * @error: a #GtkPrintError
 *
 * Asks for a printer and prints a sheet to paint swatches on.
 *
 * Returns: whether it was printed; %FALSE without @error where the painter gave up
 */
gboolean
ts_print_sheet (GtkWindow *parent, TsDocument *document, GError **error)
{
  g_autoptr (TsSheetTemplate) sheet = ts_print_new_sheet (document);

  return print_pages (parent, _ ("Swatch sheet"), ts_sheet_template_get_n_pages (sheet),
                      G_CALLBACK (on_draw_sheet), sheet, error);
}
