/* ts-document-paints.h: verbs of the document that edit its paints
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "document/ts-document.h"
#include "paint/ts-paint-set-edit.h"

G_BEGIN_DECLS

/* They edit the plan's copy of the set, or without a plan the set that new plans start with; both can
 * be undone. Where something is refused all stays as it was, and the error is for the painter. */

/* Columns and what they are to hold; ends with %NULL. "name" is followed by locked mixes, and by the
 * test swatches. */
gboolean ts_document_edit_paint      (TsDocument          *self,
                                      guint                paint,
                                      const char *const   *cells,
                                      const char          *name,
                                      GError             **error);
/* A new paint of these cells, at the end. */
gboolean ts_document_add_paint       (TsDocument          *self,
                                      const char *const   *cells,
                                      GError             **error);
/* Without the last one there are no paints. */
gboolean ts_document_remove_paint    (TsDocument          *self,
                                      guint                paint,
                                      GError             **error);
/* Another set in the place of the one that is there. */
void     ts_document_take_paints     (TsDocument          *self,
                                      TsPaintSet          *paints,
                                      const char          *set_name,
                                      const char          *name);
gboolean ts_document_add_swatch      (TsDocument          *self,
                                      const TsTestSwatch  *swatch,
                                      GError             **error);
void     ts_document_remove_swatch   (TsDocument          *self,
                                      guint                swatch);
/* Writes the set as a table; the one that new plans start with from now on. */
gboolean ts_document_save_paints     (TsDocument          *self,
                                      const char          *path,
                                      GError             **error);

G_END_DECLS
