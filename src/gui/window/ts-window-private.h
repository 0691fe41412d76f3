/* ts-window-private.h: what the files of the window share
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/window/ts-empty-view.h"
#include "gui/window/ts-picture-place.h"
#include "gui/widgets/ts-file-dialogs.h"
#include "gui/window/ts-window.h"

#include "document/ts-journal.h"

G_BEGIN_DECLS

/* Why the plan is left. */
typedef enum
{
  TS_LEAVE_NOT,
  TS_LEAVE_WINDOW,
  TS_LEAVE_PLAN,
  TS_LEAVE_FOR_ANOTHER
} TsLeave;

struct _TsWindow
{
  GtkApplicationWindow parent_instance;

  TsDocument *document; /* owned */
  TsJournal *journal;   /* owned */
  TsKept *kept;         /* owned, nullable: what is offered */
  gboolean may_close;   /* what would be lost has been asked */
  gboolean printing;    /* the card is made for the printer, or asked about */
  guint told_of;        /* how many changes there were when one was told of, 0: another message */
  TsLeave leave;        /* what waits for an answer */
  char *leave_path;     /* owned, nullable */
  GQueue waiting;       /* char *, owned: pictures to open after the one that opens */
  int together[2];      /* pictures that were opened at once, -1: none yet */
  char *demo;           /* owned, nullable: path of the demo's picture */

  /* Template children */
  GtkWidget *title, *saved, *place_menu, *undo, *redo, *undo_icon, *redo_icon, *menu;
  GMenu *recent_menu;
  GtkWidget *message_bar, *message, *message_action, *message_other;
  GtkWidget *stack, *brief_button, *finish_button, *card_button;
  TsEmptyView *empty;
  TsPicturePlace *picture;
};

void ts_window_show_message   (TsWindow    *self,
                               const char  *text,
                               const char  *action,
                               const char  *label);
/* A question with two answers; closing the bar gives neither. */
void ts_window_ask            (TsWindow    *self,
                               const char  *text,
                               const char  *action,
                               const char  *label,
                               const char  *other_action,
                               const char  *other_label);
void ts_window_open_kept      (GSimpleAction *action,
                               GVariant    *parameter,
                               gpointer     user_data);
void ts_window_discard_kept   (GSimpleAction *action,
                               GVariant    *parameter,
                               gpointer     user_data);
void ts_window_leave          (TsWindow    *self,
                               TsLeave      leave,
                               const char  *path);
void ts_window_open_now       (TsWindow    *self,
                               const char  *path);
gboolean ts_window_save       (TsWindow    *self,
                               const char  *path);
/* NULL where a place has to be asked for: never saved, or the demo. */
const char *
     ts_window_get_save_path  (TsWindow    *self);
void ts_window_ask_where      (TsWindow    *self,
                               TsFileFunc   func);
void ts_window_add_actions    (TsWindow    *self);
void ts_window_add_open_actions (TsWindow  *self);
void ts_window_add_save_actions (TsWindow  *self);
void ts_window_update_actions (TsWindow    *self);
void ts_window_add_drop       (TsWindow    *self);

G_END_DECLS
