/* ts-print.h: the mixing card and the swatch sheet of a document, on paper
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

#include "card/ts-brief-card.h"
#include "card/ts-card.h"
#include "card/ts-sheet-template.h"
#include "document/ts-document.h"

G_BEGIN_DECLS

/* The client's card. */
TsBriefCard *
          ts_print_new_brief_card (TsDocument *document);
/* A sheet to paint swatches on, with the names of the paints, or with lines to write them on. */
TsSheetTemplate *
          ts_print_new_sheet (TsDocument  *document);
/* Once a card is looked at: the print dialog then opens sooner. */
void      ts_print_prepare   (void);
/* FALSE with @error set where it failed, without where the painter gave up. */
gboolean  ts_print_card      (GtkWindow   *parent,
                              TsCard      *card,
                              GError     **error);
gboolean  ts_print_sheet     (GtkWindow   *parent,
                              TsDocument  *document,
                              GError     **error);

G_END_DECLS
