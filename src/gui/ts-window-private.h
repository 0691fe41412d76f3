/* ts-window-private.h: what the files of the window share
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "ts-empty-view.h"
#include "ts-picture-place.h"
#include "ts-window.h"

G_BEGIN_DECLS

struct _TsWindow
{
  GtkApplicationWindow parent_instance;

  TsDocument *document; /* owned */
  gboolean may_close;   /* what would be lost has been asked */
  char *demo;           /* owned, nullable: path of the demo's picture */

  /* Template children */
  GtkWidget *title, *saved, *places, *place_menu, *undo, *redo, *menu;
  GtkWidget *message_bar, *message, *message_action;
  GtkWidget *stack, *brief_button, *finish_button, *card_button;
  TsEmptyView *empty;
  TsPicturePlace *picture;
};

void ts_window_show_message   (TsWindow    *self,
                               const char  *text,
                               const char  *action,
                               const char  *label);
void ts_window_add_actions    (TsWindow    *self);
void ts_window_update_actions (TsWindow    *self);
void ts_window_add_drop       (TsWindow    *self);

G_END_DECLS
