/* ts-finish-pane-private.h: what the files of the Finish check share
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/finish/ts-finish-pane.h"
#include "gui/finish/ts-finish-view.h"
#include "gui/widgets/ts-layout.h"

G_BEGIN_DECLS

struct _TsFinishPane
{
  TsView parent_instance;

  /* Owned */
  GHashTable *done; /* char *: titles of the repairs that are ticked off */
  char *shown;      /* what the list of repairs says */
  GSimpleActionGroup *actions;
  gboolean updating;

  TsLook look; /* of both pictures; by lightness alone the colours of steps are greys as well */

  /* Template children */
  GtkWidget *stack, *photo_button, *note, *over, *own_zoom, *no_card, *copy, *list_scroller, *list, *repairs, *name, *range, *steps;
  TsLayout *layout;
  TsFinishView *reference, *finished;
};

/* The index of the finished figure's photograph, or -1. */
int  ts_finish_pane_find_photo   (TsFinishPane  *self);
/* Shows everything anew. */
void ts_finish_pane_show         (TsFinishPane  *self);
void ts_finish_pane_enable       (TsFinishPane  *self,
                                  const char    *name,
                                  gboolean       enabled);
/* What can be done, and how the pictures are looked at: see ts-finish-pane-actions.c. */
void ts_finish_pane_add_actions  (TsFinishPane  *self);
void ts_finish_pane_show_zoom    (TsFinishPane  *self);

G_END_DECLS
