/* ts-file-dialogs.h: choosing files, and the one question before something is lost
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

typedef enum
{
  TS_FILES_PICTURES_AND_PLANS,
  TS_FILES_PLAN,
  TS_FILES_PAINTS,
  TS_FILES_BRIEF,
  TS_FILES_PDF,
  TS_FILES_PAGES,
  TS_FILES_CHART,
  TS_FILES_PROFILE
} TsFiles;

/* @path is a file that was chosen; not called where nothing was. */
typedef void (*TsFileFunc)   (const char *path,
                              gpointer    user_data);
typedef enum
{
  TS_ANSWER_CANCEL,
  TS_ANSWER_DISCARD,
  TS_ANSWER_SAVE
} TsAnswer;
typedef void (*TsAnswerFunc) (TsAnswer    answer,
                              gpointer    user_data);

/* @user_data is held while the dialog is open. */
void ts_file_dialog_open (GtkWindow    *parent,
                          const char   *title,
                          TsFiles       files,
                          TsFileFunc    func,
                          GObject      *user_data);
void ts_file_dialog_save (GtkWindow    *parent,
                          const char   *title,
                          TsFiles       files,
                          const char   *name,
                          TsFileFunc    func,
                          GObject      *user_data);
void ts_file_dialog_folder (GtkWindow  *parent,
                          const char   *title,
                          TsFileFunc    func,
                          GObject      *user_data);
/* Save, discard or stay: where closing would lose changes. */
void ts_file_dialog_ask  (GtkWindow    *parent,
                          const char   *title,
                          TsAnswerFunc  func,
                          GObject      *user_data);

G_END_DECLS
