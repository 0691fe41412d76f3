/* ts-journal.h: keeps what a document has not saved, so that a crash or a power cut loses nothing
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "document/ts-document.h"

G_BEGIN_DECLS

/* Something that a program which is gone has kept. */
typedef struct
{
  char  *plan_path;   /* the kept plan */
  char  *origin;      /* the file it was opened from or saved as last; %NULL: none yet */
  gint64 time;        /* when it was kept, Unix seconds */
} TsKept;

#define TS_TYPE_JOURNAL (ts_journal_get_type ())

/* Writes the plan into @folder soon after each change while it is not saved, on another thread, and
 * takes it away once the plan is saved or closed. A lock tells the living from the dead. */
G_DECLARE_FINAL_TYPE (TsJournal, ts_journal, TS, JOURNAL, GObject)

TsJournal *ts_journal_new           (TsDocument   *document,
                                     const char   *folder);
/* Where the user's journal is. */
char      *ts_journal_dup_folder    (void);
/* What programs that are gone have kept, latest first: a new array of TsKept. */
GPtrArray *ts_journal_find_kept     (const char   *folder);
void       ts_journal_discard       (const TsKept *kept);
/* Opens what was kept in the journal's document, as not saved; it is discarded once it is kept again. */
void       ts_journal_open          (TsJournal    *self,
                                     const TsKept *kept);
/* Whether all that is not saved stands in the journal. */
gboolean   ts_journal_is_safe       (TsJournal    *self);
/* Writes what is waiting now. */
void       ts_journal_flush         (TsJournal    *self);
TsKept    *ts_kept_copy             (const TsKept *kept);
void       ts_kept_free             (TsKept       *kept);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsKept, ts_kept_free)

G_END_DECLS
