/* ts-card-job.h: all that the mixing card of a document is made of, as it was at one moment
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "card/ts-card.h"
#include "document/ts-document.h"

G_BEGIN_DECLS

/* Holds its own; any thread may make the card of it. */
typedef struct _TsCardJob TsCardJob;

/* NULL without a plan. */
TsCardJob *ts_card_job_new       (TsDocument           *document);
void       ts_card_job_free      (TsCardJob            *self);
TsCard    *ts_card_job_make      (const TsCardJob      *self);
/* The card, made by a thread, and written to @path where that is not NULL; consumes the job. */
void       ts_card_job_run       (TsCardJob            *self,
                                  const char           *path,
                                  GAsyncReadyCallback   callback,
                                  gpointer              user_data);
TsCard    *ts_card_job_finish    (GAsyncResult         *result,
                                  GError              **error);
/* The paper that is usual where the painter lives. */
TsPaper    ts_card_job_get_paper (void);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsCardJob, ts_card_job_free)

G_END_DECLS
