/* ts-correction-overlay-private.h: what the files of the overlay share
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/correction/ts-correction-overlay.h"

G_BEGIN_DECLS

#define TS_CORNER_RADIUS 13.0 /* pixels of the widget */
#define TS_LEAST_RING 7.0

typedef enum
{
  TS_HOLD_NOTHING,
  TS_HOLD_CORNER,
  TS_HOLD_CHART,     /* all four corners */
  TS_HOLD_DISC,
  TS_HOLD_NEW_CHART, /* from corner to corner */
  TS_HOLD_NEW_DISC   /* from its middle */
} TsHold;

struct _TsCorrectionOverlay
{
  GtkWidget parent_instance;

  TsImageView *image_view;  /* borrowed: the parent */
  TsCorrectionDraft *draft; /* owned, or NULL */
  GtkWidget *corner[4], *disc[TS_N_DISCS]; /* borrowed: children */

  /* What a drag holds */
  TsHold hold;
  guint index;
  gboolean moved;
  TsPoint start, last; /* upright pixels */
};

/* Whether a disc is to be seen in the picture that is shown. */
gboolean ts_correction_overlay_shows_disc  (TsCorrectionOverlay *self,
                                            TsDraftDisc          disc);
gboolean ts_correction_overlay_shows_chart (TsCorrectionOverlay *self);
double   ts_correction_overlay_get_radius  (TsCorrectionOverlay *self,
                                            TsDraftDisc          disc);
void     ts_correction_overlay_add_pointer (TsCorrectionOverlay *self);
void     ts_correction_overlay_draw        (TsCorrectionOverlay *self,
                                            cairo_t             *cr);

G_END_DECLS
