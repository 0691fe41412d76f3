/* ts-view.h: what every part of the window is: a widget that shows one document
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

#include "document/ts-document.h"

G_BEGIN_DECLS

/* What is another than before. */
typedef enum
{
  TS_CHANGE_PLAN = 1 << 0,
  TS_CHANGE_RESULTS = 1 << 1,
  TS_CHANGE_SELECTION = 1 << 2,
  TS_CHANGE_PICTURE = 1 << 3, /* pixels of the shown picture, or which is shown */
  TS_CHANGE_BUSY = 1 << 4,
  TS_CHANGE_ALL = (1 << 5) - 1
} TsChange;

#define TS_TYPE_VIEW (ts_view_get_type ())
G_DECLARE_DERIVABLE_TYPE (TsView, ts_view, TS, VIEW, GtkWidget)

struct _TsViewClass
{
  GtkWidgetClass parent_class;

  /* Shows what is there now; draws anew where it is not overridden. */
  void (*update) (TsView   *self,
                  TsChange  change);
};

TsDocument      *ts_view_get_document (TsView      *self);
void             ts_view_set_document (TsView      *self,
                                       TsDocument  *document);
/* The selected surface and its result; %NULL without one. */
const TsSurface *ts_view_get_surface  (TsView      *self);
const TsSurface *ts_view_get_stair_surface (TsView *self);
TsSurfaceResult *ts_view_get_result   (TsView      *self);

G_END_DECLS
