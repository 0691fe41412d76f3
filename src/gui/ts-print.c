/* ts-print.c: the mixing card of a document, on paper
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-print.h"

#include <glib/gi18n.h>

static TsPaper
get_paper (void)
{
  return g_strcmp0 (gtk_paper_size_get_default (), GTK_PAPER_NAME_LETTER) == 0 ? TS_PAPER_LETTER
                                                                               : TS_PAPER_A4;
}

/**
 * ts_print_new_card:
 * @document: the document
 *
 * Returns: (transfer full) (nullable): its card as it is now, or %NULL without a plan
 */
TsCard *
ts_print_new_card (TsDocument *document)
{
  const TsPlan *plan = ts_document_get_plan (document);
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  g_autofree char *date = g_date_time_format (now, _ ("%-d %B %Y"));
  int reference;

  if (plan == NULL)
    return NULL;
  reference = ts_plan_find_picture (plan, TS_ROLE_REFERENCE);
  return ts_card_new (plan, ts_document_get_results (document),
                      reference >= 0 ? ts_document_get_image (document, (guint) reference) : NULL,
                      date, get_paper ());
}

static void
on_draw_page (GtkPrintOperation *operation, GtkPrintContext *context, int page, TsCard *card)
{
  cairo_t *cr = gtk_print_context_get_cairo_context (context);
  double width, height, scale;

  ts_card_get_size (card, &width, &height);
  scale = MIN (gtk_print_context_get_width (context) / width,
               gtk_print_context_get_height (context) / height);
  cairo_scale (cr, scale, scale);
  ts_card_draw (card, (guint) page, cr);
}

/**
 * ts_print_card:
 * @parent: the window
 * @document: the document
 * @error: return location for an error, or %NULL
 *
 * Asks for a printer and prints the mixing card.
 *
 * Returns: whether it was printed; %FALSE without @error where the painter gave up
 */
gboolean
ts_print_card (GtkWindow *parent, TsDocument *document, GError **error)
{
  g_autoptr (TsCard) card = ts_print_new_card (document);
  g_autoptr (GtkPrintOperation) operation = gtk_print_operation_new ();
  GtkPrintOperationResult result;

  if (card == NULL)
    return FALSE;
  gtk_print_operation_set_n_pages (operation, (int) ts_card_get_n_pages (card));
  gtk_print_operation_set_job_name (operation, _ ("Mixing card"));
  gtk_print_operation_set_use_full_page (operation, TRUE);
  g_signal_connect (operation, "draw-page", G_CALLBACK (on_draw_page), card);
  result =
    gtk_print_operation_run (operation, GTK_PRINT_OPERATION_ACTION_PRINT_DIALOG, parent, error);
  return result == GTK_PRINT_OPERATION_RESULT_APPLY ||
         result == GTK_PRINT_OPERATION_RESULT_IN_PROGRESS;
}
